"""English as written in the United Kingdom, Ireland, the United States, Canada, Australia and New Zealand: words and their senses.

Rows are `TERMINAL value flags : spellings` (see `lexicon`). Latin and Roman abbreviations: pharmacy practice, from memory. Which of them
are marked or asked about: the published lists of error-prone abbreviations (ISMP; Joint Commission; Australian Commission on Safety and
Quality in Health Care).
"""

from dosewright.core.regimen.reading.english_beside import INSTRUCTIONS, REASONS

__all__ = ["GRAMMAR", "INSTRUCTIONS", "REASONS", "WORDS"]

GRAMMAR = ""

WORDS = """
# joints
AND : and | plus
AND note=read.error-prone : &
OR : or
COMMA : , | "
STOP : . | !
SEMI : ;
COLON : : | = | is
DASH : -
LPAR : (
RPAR : )
PLUS note=read.error-prone : +
THEN : [and] then | [and] thereafter | [and] after that | followed by | and afterwards | afterwards | then [(reduce|increase)] to
THEN : then take
BUT : but
THEN : (increasing|increase|reducing|reduce|increased|reduced|decreasing|decrease|decreased) to | after which [take]
THEN : then (increasing|reducing|decreasing|decrease) to
SLASH note=read.error-prone : /

# numbers
NUMW 1 : one | single
NUMW 2 : two
NUMW 3 : three
NUMW 4 : four
NUMW 5 : five
NUMW 6 : six
NUMW 7 : seven
NUMW 8 : eight
NUMW 9 : nine
NUMW 10 : ten
NUMW 11 : eleven
NUMW 12 : twelve
NUMW 13 : thirteen
NUMW 14 : fourteen
NUMW 15 : fifteen
NUMW 16 : sixteen
NUMW 18 : eighteen
NUMW 20 : twenty
NUMW 21 : twenty one
NUMW 24 : twenty four
NUMW 28 : twenty eight
NUMW 30 : thirty
NUMW 40 : forty
NUMW 48 : forty eight
NUMW 50 : fifty
NUMW 60 : sixty
FRACW 1/2 : half [of] [(a|an|one|the)] | (a|one|an) half [of] [(a|an|one)]
FRACW 1/4 : quarter [of] [(a|an|one|the)] | (a|one) quarter [of] [(a|an|one)]
FRACW 3/4 : (three|3) quarters [of] [(a|an|one)] | three quarter
ROMAN 1 note=read.roman : i
ROMAN 2 note=read.roman : ii
ROMAN 3 note=read.roman : iii
ROMAN T note=read.roman : t
ROMAN TT note=read.roman : tt
ROMAN TTT note=read.roman : ttt
TO : to | through | thru
UPTO : up to | a maximum of | maximum of | at most | upto
NOMORE : no more than | not more than
A : a | an
PER : per
THE : the | your | his | her | their | my
OF : of | out of

# units
UNIT tablet : tablet | tablets | tab | tabs | tablet(s) | tabl
UNIT tablet ask=read.abbreviation : tbs
UNIT tablet : (mr|m/r|sr|s/r|xl|er|xr|ec|e/c|dr|cr|la|gr) (tablet|tablets|tab|tabs)
UNIT tablet : (modified|prolonged|extended|slow|sustained|delayed|controlled) release (tablet|tablets|tab|tabs)
UNIT tablet : (film|enteric|sugar) coated (tablet|tablets|tab|tabs) | gastro resistant (tablet|tablets)
UNIT tablet : (effervescent|dispersible|soluble|chewable|oral) (tablet|tablets|tab|tabs)
UNIT tablet : (orodispersible|disintegrating|sublingual|buccal|scored) (tablet|tablets|tab|tabs)
UNIT capsule : (mr|m/r|sr|s/r|xl|er|xr|ec|e/c|dr|cr|la|gr) (capsule|capsules|cap|caps) | (hard|soft|oral) (capsule|capsules)
UNIT capsule : (modified|prolonged|extended|slow|sustained|delayed|controlled) release (capsule|capsules|cap|caps)
UNIT capsule : gastro resistant (capsule|capsules)
UNIT capsule : capsule | capsules | cap | caps | capsule(s)
UNIT caplet : caplet | caplets
UNIT pill : pill | pills
UNIT lozenge : lozenge | lozenges
UNIT pastille : pastille | pastilles
UNIT sachet : sachet | sachets | packet | packets
UNIT patch : patch | patches
UNIT drop : drop | drops | gtt | gtts
UNIT puff : puff | puffs | inhalation | inhalations | actuation | actuations
UNIT spray : spray | sprays
UNIT suppository : suppository | suppositories
UNIT pessary : pessary | pessaries
UNIT spoonful : spoonful | spoonfuls | spoon | spoons | spoonsful | 5 ml spoon | 5 ml spoonful | 5 ml spoonfuls | 5 ml spoons
UNIT teaspoonful : teaspoon | teaspoons | teaspoonful | teaspoonfuls | tsp
UNIT tablespoonful : tablespoon | tablespoons | tablespoonful | tablespoonfuls | tbsp
UNIT ampoule : ampoule | ampoules | amp | amps | ampule | ampules
UNIT vial : vial | vials
UNIT application : application | applications
UNIT dose : dose | doses
UNIT piece : piece | pieces
UNIT measure : measure | measures
UNIT unit : unit | units | international unit | international units
UNIT unit ask=read.unit-abbreviation : u | iu
UNIT mg : mg | mgs | milligram | milligrams | milligramme | milligrammes
UNIT microgram : microgram | micrograms | microgramme | microgrammes | microg | microgs
UNIT microgram in=US,CA : mcg | mcgs
UNIT microgram not=US,CA note=read.error-prone : mcg | mcgs
UNIT microgram note=read.error-prone : µg | μg | ug
UNIT g : g | gram | grams | gramme | grammes | gm | gms
UNIT mL : ml | mls | millilitre | millilitres | milliliter | milliliters
UNIT mL note=read.error-prone : cc | ccs
UNIT mmol : mmol | mmols
UNIT mEq : meq

# how often
ADVTIMES 1 : once | one time | 1 time | a single time
ADVTIMES 2 : twice
ADVTIMES 3 : thrice
TIMES : times | time
BY_X : x
ADVPERIOD 1/d : daily | dly | everyday
ADVPERIOD 1/wk : weekly
ADVPERIOD 2/wk : fortnightly | a fortnight | per fortnight | every fortnight | each fortnight
ADVPERIOD 1/mo : monthly
FREQ 1 in 1/d in=GB,IE,AU,NZ note=read.error-prone : od
FREQ 1 in 1/d not=GB,IE,AU,NZ ask=read.abbreviation : od
FREQ 1 in 1/d note=read.error-prone : qd | q1d
FREQ 1 in 1/d : oad | qday | qdaily | q daily | oncedaily
FREQ 2 in 1/d : bd | bid | bds | b d | b i d | twicedaily
FREQ 3 in 1/d : tds | tid | t d s | t i d
FREQ 3 in 1/d not=US,CA : td
FREQ 3 in 1/d in=US,CA ask=read.abbreviation : td
FREQ 4 in 1/d : qds | qid | q d s | q i d
FREQ 5 in 1/d : 5xd
FREQ 3 in 1/wk note=read.error-prone : tiw
FREQ 2 in 1/wk ask=read.abbreviation : biw | biweekly | bi weekly
FREQ 1 in 2/wk ask=read.abbreviation : biw | biweekly | bi weekly
FREQ 1 in 1/wk note=read.error-prone : qw | qwk
FREQ 1 in 1/wk : q week | q wk | qweek | qweekly | q weekly
FREQ 1 in 1/mo : q month | q mo | qmonth | qmonthly | q monthly
FREQ 2 in 1/mo ask=read.abbreviation : bimonthly | bi monthly
FREQ 1 in 2/mo ask=read.abbreviation : bimonthly | bi monthly
EVERYX 2/d note=read.error-prone : qod | eod
EVERYX 2/d : alt die | alt dies | alternis die | alternis diebus | alt days | alternate daily | every other day | every second day
EVERYX 2/d : alternate days | on alternate days | every alternate day | each alternate day | alternate-day
EVERYX 2/d : alternate-daily | on alternative days | on alt days
EVERYX 2/d in=AU,NZ : second daily | 2nd daily
EVERYX 3/d in=AU,NZ : third daily | 3rd daily
SAMEDAY wk : [(on|at)] [the] same day (each|every|of the|of each|of every) week | [on] [the] same day weekly
SAMEDAY mo : [on] [the] same (day|date) (each|every|of the|of each|of every) month | [on] [the] same (day|date) monthly
EVERY : every | each | q
OTHER : other | alternate | alternative
ORD 1 : 1st
ORD 2 : second | 2nd
ORD 3 : third | 3rd
ORD 4 : fourth | 4th
ORD 5 : fifth | 5th
ORD 6 : sixth | 6th
ORD 7 : seventh | 7th
ORD 8 : eighth | 8th
ORD 9 : 9th
ORD 10 : tenth | 10th
ORD 11 : 11th
ORD 12 : 12th
ORD 13 : 13th
ORD 14 : fourteenth | 14th
ORD 15 : fifteenth | 15th
ORD 16 : 16th
ORD 17 : 17th
ORD 18 : 18th
ORD 19 : 19th
ORD 20 : 20th
ORD 21 : 21st
ORD 22 : 22nd
ORD 23 : 23rd
ORD 24 : 24th
ORD 25 : 25th
ORD 26 : 26th
ORD 27 : 27th
ORD 28 : 28th
ORD 29 : 29th
ORD 30 : 30th
ORD 31 : 31st
FIRST : first
ORD 1 : first
TIMEUNIT min : minute | minutes | min | mins
TIMEUNIT h : hour | hours | hr | hrs | h | hour's
TIMEUNIT d : day | days | dy | day's | days'
TIMEUNIT d note=read.error-prone : d
DAYNO : day | days | d
WEEKNO : week | weeks | wk | wks
ONWARDS : onwards | onward | and onwards | and after | and thereafter
TIMEUNIT wk : week | weeks | wk | wks | w | week's | weeks'
TIMEUNIT mo : month | months | mo | mos | mth | mths | month's
TIMEUNIT a : year | years | yr | yrs
HOURLY : hourly | hrly | hly
HOURS : hours | hrs | h | hr | hours'

# when in the day
DAYPART MORN : morning | mornings | am | a.m. | morn
DAYPART NOON : noon | midday | mid day | 12 noon | noontime | 12 midday | mid-day
DAYPART EVE : evening | evenings | eve | eves
DAYPART HS : night | nights | bedtime | bed time | bed | night time | nighttime | nightime
DAYPART HS : before (bed|bedtime|going to bed|sleep|retiring|you go to bed|bed time) | (on|when|upon) (retiring|going to bed)
ANHOUR : an hour
DAYPART WAKE : (immediately|straight away) (on|upon|after) waking | 1st thing [in the morning]
DAYPART HS : (just|immediately|right|shortly|directly) before (bed|bedtime|going to bed|sleep)
ASKED which-meals : (morning|afternoon|high) tea
BEFOREBED HS : before (bed|bedtime|going to bed|sleep|retiring|you go to bed|bed time)
DAYPART HS : going to bed
DAYPART HS : (on|when) you go to bed | last thing [at night] | at night (before|on going to) (bed|sleep) | at night at bedtime
DAYPART HS : the last thing at night
DAYPART HS : at bedtime (every|each) (night|day)
DAYPART AFT : afternoon | afternoons | mid afternoon
DAYPART WAKE : (on|upon|when|after) (waking|waking up|rising|getting up|awakening|arising) | when you wake [up] | waking | first thing
DAYPART WAKE : first thing in the morning | wake up
DAYPART PM : pm | p.m.
AMPM am : am | a.m.
AMPM pm : pm | p.m.
OCLOCK : o'clock | oclock
WHENX MORN : mane | om | o.m. | qam | qd am | omni mane | in the am | primo mane
WHENX MORN 1 : every am | each am
WHENX HS : nocte | noct | omni nocte | qnoct
WHENX HS note=read.error-prone : qhs | hs | qn | q hs
ON_NOCTE HS not=US,CA note=read.error-prone : on
WHENX HS ask=read.night : in the night | during the night
WHENX HS 1 : nightly | every night | each night | nightly at bedtime | every night at bedtime | each night at bedtime
WHENX PM : qpm | q pm | every pm
WHENX EVE : vesper | vespere
WHENX NOON : meridie
MEAL M : first meal of the day | the first meal of the day
MEAL M : breakfast | breakfast time | breakfasttime | brekfast | brekkie | bkfst | morning meal | bfast
MEAL D : lunch | lunchtime | lunch time | luncheon | midday meal | noon meal | mid day meal
MEAL V : evening meal | supper time in the evening
MEAL V in=US,CA,AU,NZ : dinner | dinnertime | dinner time
MEAL V not=US,CA,AU,NZ : dinner | dinnertime | dinner time
MEAL D not=US,CA,AU,NZ : dinner | dinnertime | dinner time
MEAL V in=US,CA : supper | suppertime | supper time
MEAL V not=US,CA ask=read.word : supper | suppertime | supper time
MEAL V in=GB,IE,AU,NZ : tea | teatime | tea time | tea-time
REL AC : [(just|immediately|right|directly|shortly)] before | prior to
REL PC : [(just|immediately|right|directly|shortly|soon|straight)] after | following
REL C : with | during | with or [(just|immediately)] after
REL C note=read.error-prone : w/
MEALSX C with food : wf
REL AC note=read.error-prone : ac
REL PC note=read.error-prone : pc
MEALANY meals : meals | main meals | main meal
MEALSX C with meals : (at|with) (mealtimes|meal times|meal-times|mealtime) | at meals
MEALSX C note=read.error-prone : c meals | cc meals
EACHMEAL C : (at|with) (each|every) (mealtime|meal time|meal-time) | (each|every) (mealtime|meal time|meal-time)
INSTR note=read.error-prone : c food | c water | c milk
MEALANY food : meal | a meal | eating | you eat | each meal time
MEALANY food : food
MEALSX AC before food : ac | ante cibum
MEALSX PC after food : pc | post cibum
MEALSX C with food : cum cibo
INSTR : (just|immediately|right|soon) (before|after) (food|meals|eating) | half an hour before (food|meals)
INSTR : with (or immediately after) food
AT : at | around | about | approximately | at (around|about|approximately|approx)
AT note=read.error-prone : @
IN : in | in any | in each | within | within any | over | in any one | per each
ON : on

# which days
WEEKDAY mon : monday | mondays | mon | monday's
WEEKDAY tue : tu | tuesday | tuesdays | tue | tues
WEEKDAY wed : wednesday | wednesdays | wed | weds
WEEKDAY thu : th | thursday | thursdays | thu | thur | thurs
WEEKDAY fri : friday | fridays | fri
WEEKDAY sat : saturday | saturdays | sat | sats
WEEKDAY sun : sunday | sundays | sun | suns
WEEKDAYSET mon,tue,wed,thu,fri : weekday | weekdays | week days
WEEKDAYSET sat,sun : weekend | weekends | the weekend | week ends
WEEKDAYSET mon,wed,fri : mwf | m w f | m/w/f | m-w-f | m,w,f | m, w and f | m w and f | m, w & f
WEEKDAYSET tue,thu,sat,sun : tthss | tthsasu | t th s s
WEEKDAYSET tue,thu,sat ask=read.abbreviation : tts | t th s
WEEKDAYSET tue,thu : tth | t th
OTHERDAYS : [all] [the] other days [of the week] | [all] [the] remaining days [of the week] | the rest of the week
OTHERDAYS : every other day of the week | all other days
OTHERDAYS : on all other days | the other days | other days of the week | rest of week
EXCEPT : except [for] | excluding | but not | and not | not | omit | omitting | omitted | skip | skipping | apart from | other than
EXCEPT : do not take | don't take | do not give | miss | with no dose | no dose | no tablets | no tablet | none | leave out
DAYNO : day | days
UNTIL : until | till | until and including | up to and including | to and including | through
UNTIL : last dose | ends | end | end on | end date | ending | finish on | finish date | finishing on | finishing
UNTIL ask=read.last-day : stop on | stopping on | stop date | stop
UNTIL : last dose on
FROM : start date | first dose on | date started
FROM : from | starting | starting from | start | start on | starting on | commencing | commence | beginning | begin | commence on
FROM : commencing on | beginning on | effective | as of | from and including
MONTHNAME 1 : january | jan
MONTHNAME 2 : february | feb
MONTHNAME 3 : march | mar
MONTHNAME 4 : april | apr
MONTHNAME 5 : may
MONTHNAME 6 : june | jun
MONTHNAME 7 : july | jul
MONTHNAME 8 : august | aug
MONTHNAME 9 : september | sept | sep
MONTHNAME 10 : october | oct
MONTHNAME 11 : november | nov
MONTHNAME 12 : december | dec
CYCLE : cycle

# how long
FOR : for | during
COURSE : course
MORE : more
NEXT : the next | next | a further | another | a total of | the following | a period of
OFF : off | without | break | rest | free | pill free | drug free | treatment free | not taken
ONWORD : on
STOPTAKING : stop | then stop | and stop | then discontinue | and then stop | stop taking
AGAIN : repeat | and repeat | then repeat | repeat cycle | and repeat cycle | then repeat cycle | repeating | repeated | and so on
AGAIN : then restart | restart | repeat the cycle | in repeating cycles | then repeat the cycle

# on demand, at most
WANTED : prn | as needed | as required | when needed | when required | if needed | if required | if necessary | when necessary
WANTED : as necessary
WANTED : (only if|only when) (needed|required|necessary) | whenever needed | as and when [required|needed] | on demand
WANTED : (if|when|as) you need (it|them|to) | prn only
WANTED note=read.error-prone : sos | s.o.s.
WANTED : (as|when|if|only when|only if) (needed|required) only | if wanted | when wanted
BETWEEN : between doses | apart | between each dose | between (two|2) doses | between each
ATLEAST : about | approximately | approx | around
ATLEAST : leave at least | leaving at least | minimum | minimum of | a minimum of | leave | allow at least | with at least
STAT : stat | at once | immediately | straight away | now | right away | straightaway
SINGLE only : once only | only once | one dose only | one time only | one-off | for one dose | for 1 dose | as a one off dose
SINGLE : as a single dose | as one dose | single dose
MAX : max | maximum | maximum of | max of | maximum dose | max dose | maximum dose of | not more than | no more than | do not exceed
MAX : not to exceed | don't exceed | nte | do not take more than | never more than | up to a maximum of
MAX : to a maximum of | (do not|don't) (take|use|have|exceed) more than | never take more than | up to max | up to maximum
MAX : with a maximum of | max daily dose | limit | not exceeding | maximum daily dose | with max | to a max of | up to a max of
MAX : and no more than
TOTAL : total | in total | total of | total daily dose | total dose | = total | a total of | total daily dose of | making | equals

# what does not touch the schedule
VERB : take | to be taken | taken | takes | taking | give | to be given | given | swallow | to be swallowed | use | to use | have
VERB : administer | to take | please take | patient to take | suck | drink | consume
VERB : inject | apply | instil | instill | insert | inhale | place | put | spray | to be chewed | to be sucked | to be dissolved
VERB : must be taken | should be taken | is to be taken | are to be taken | continue
VERB : continue with | needs to take
VERB : kindly | pls | plz | patient takes | kindly take | pls take | to have | patient should take | you should take | continue taking
VERB : kindly give | to continue | must take | please give
VERB : sig | sig: | rx | dose | dose: | directions: | directions
ROUTE note=read.error-prone : per os | sc
ROUTE : by mouth | orally | oral | po | p.o. | sublingually | under the tongue | sl | s.l. | by oral route | via mouth | peg
ROUTE : via [the] (peg tube|ng tube|nasogastric tube|feeding tube|nebuliser|nebulizer) | (by|per) (ng tube|peg|ng) | buccally | sublingual
ROUTE : buccal | nebulised | nebulized | topical | in the cheek | per oral | by subcutaneous injection | rectal | vaginal
ROUTE note=read.error-prone : sq | sub q
ROUTE : via peg | per rectum | pr | rectally | vaginally | pv | topically | subcutaneously | subcut | im | iv | intramuscularly
SITE : (to|in|into) the (left|right) (eye|ear|nostril) | in (left|right) (eye|ear)
ALSO added : also
ALSO : please | approx | exactly | regularly | regular | only | continuously | routinely
ASKED abbreviation : os | ou | as directed od | au | ad | ddd
ASKED both-sides : (to|in|into) [the] (both|each|affected) (eyes|eye|ears|ear|nostril|nostrils|area|areas)
DIRECTED : as directed | mdu | uad | ud | as instructed | as advised | as prescribed
DIRECTED : as per (protocol|instructions|consultant|hospital|sheet|schedule|plan|anticoagulant clinic|specialist) | as per (gp|doctor)
DIRECTED : use as directed | take as directed | asd | to be taken as directed
DIRECTED : [(use|take|to be taken)] as directed by (your|the) (doctor|prescriber|physician|gp|consultant|specialist)
DIRECTED : [(use|take|to be taken)] as directed by (your|the) (hospital|clinic|pharmacist|nurse)
DIRECTED : [(use|take|to be taken)] as directed by (your|the) anticoagulant clinic
DIRECTED : according to (instructions|directions|protocol|schedule|inr) | as per inr | per inr | sliding scale | per protocol
DIRECTED : as before | as discussed | see instructions | see leaflet
GONE : until (finished|gone|complete|completed|all taken|all gone|course complete) | until all (taken|gone|finished|used) | till finished
GONE : until the course is (finished|complete|completed) | until course (finished|complete|completed) | until (stopped|none left|all used)
COND : if | unless | when | whenever | hold | withhold | depending | according | provided | in case
COND : until (review|reviewed|further notice|better|symptoms resolve)
COND : as tolerated | subject to | while | once stable | should | where | titrate | adjust
COND : < | > | ≥ | ≤ | as long as
NEG : no | never | without | none | don't | do not | nil | zero | cannot | must not
STARTWITH : start with | commence with | begin with | starting with | start by taking | initially | start at | to start with
STEP : increase | increasing | increased | reduce | reducing | reduced | decrease | decreasing
STEP : taper | tapering | double | halve
STEPDOWN : (reducing|reduce|reduced|decrease|decreasing|decreased|taper|tapering|lower|lowering|step down) [(dose|the dose)] by
STEPUP : (increasing|increase|increased|raise|titrate up) [(dose|the dose)] by
STEPDOWN : then (reduce|decrease|taper) [(dose|the dose)] by
STEPUP : then increase [(dose|the dose)] by
TOZERO : (to|until) (zero|nil|nothing|finished|stopped|none left|off) | down to (zero|nil|nothing) | until (stopped|finished|complete)
DOWNTO : down to | up to a maximum of | until reaching | up to a dose of
STEP : step down | titrating | wean | weaning | doubling | raise | lower | lowering
ASKED relative : tomorrow | today | tonight | yesterday | tomorrow morning | this (morning|evening|afternoon|week)
ASKED relative : next (week|month|dose|morning) | previous | later | last dose
ASKED alternating : alternating | alternate | alternately
ASKED midnight : midnight
ASKED divided : split | divided | divided doses | in divided doses | in (2|two|3|three|4|four) divided doses
SUPPLY : supply | supplied | qty | quantity | disp | dispense | mitte | dispensed
INDICATION : indication | indications | indicated for | diagnosis | dx | reason | reason for use | used for
ASKED quantity : a couple of | couple of | several | some | few | a few | many | various | multiple
"""
