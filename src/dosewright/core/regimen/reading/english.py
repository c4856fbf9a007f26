"""English as written in the United Kingdom, Ireland, the United States, Canada, Australia and New Zealand: words and their senses.

Rows are `TERMINAL value flags : spellings` (see `lexicon`). Latin and Roman abbreviations: pharmacy practice, from memory. Which of them
are marked or asked about: the published lists of error-prone abbreviations (ISMP; Joint Commission; Australian Commission on Safety and
Quality in Health Care).
"""

__all__ = ["GRAMMAR", "INSTRUCTIONS", "REASONS", "WORDS"]

GRAMMAR = ""

WORDS = """
# joints
AND : and | & | plus
OR : or
COMMA : , | "
STOP : . | !
SEMI : ;
COLON : : | = | is
DASH : -
LPAR : (
RPAR : )
PLUS : +
THEN : [and] then | [and] thereafter | [and] after that | followed by | and afterwards | afterwards | then [(reduce|increase)] to
THEN : then take
BUT : but
SLASH : /

# numbers
NUMW 1 : one | single
NUMW 2 : two | a couple of | couple of
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
UPTO : up to | a maximum of | maximum of | at most | no more than | not more than | upto
A : a | an
PER : per
THE : the | your | his | her | their | my
OF : of | out of

# units
UNIT tablet : tablet | tablets | tab | tabs | tablet(s) | tabl | tbs
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
UNIT unit : unit | units
UNIT unit ask=read.unit-abbreviation : u | iu
UNIT mg : mg | mgs | milligram | milligrams | milligramme | milligrammes
UNIT microgram : microgram | micrograms | mcg | mcgs | microgramme | microgrammes
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
FREQ 1 in 1/d note=read.error-prone : qd
FREQ 1 in 1/d : oad
FREQ 2 in 1/d : bd | bid | bds
FREQ 3 in 1/d : tds | tid | td
FREQ 4 in 1/d : qds | qid
FREQ 5 in 1/d : 5xd
FREQ 3 in 1/wk note=read.error-prone : tiw
FREQ 2 in 1/wk ask=read.abbreviation : biw | biweekly | bi weekly
FREQ 1 in 2/wk ask=read.abbreviation : biw | biweekly | bi weekly
FREQ 1 in 1/wk note=read.error-prone : qw | qwk
FREQ 1 in 1/wk : q week | q wk
FREQ 1 in 1/mo : q month | q mo
FREQ 2 in 1/mo ask=read.abbreviation : bimonthly | bi monthly
FREQ 1 in 2/mo ask=read.abbreviation : bimonthly | bi monthly
EVERYX 2/d note=read.error-prone : qod | eod
EVERYX 2/d : alt die | alt dies | alternis die | alternis diebus | alt days | alternate daily | every other day | every second day
EVERYX 2/d : alternate days | on alternate days | every alternate day | each alternate day | alternate-day
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
TIMEUNIT d : day | days | d | dy | day's | days'
DAYNO : day | days
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
DAYPART HS : going to bed
DAYPART HS : (on|when) you go to bed | last thing [at night] | at night (before|on going to) (bed|sleep) | at night at bedtime
DAYPART HS : the last thing at night
DAYPART HS : at bedtime (every|each) (night|day) | sleep
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
ON_NOCTE HS note=read.error-prone : on
WHENX HS 1 : nightly | every night | each night | nightly at bedtime | every night at bedtime | each night at bedtime
WHENX PM : qpm | q pm | every pm
WHENX EVE : vesper | vespere
WHENX NOON : meridie
MEAL M : breakfast | breakfast time | breakfasttime | brekfast | morning meal | bfast
MEAL D : lunch | lunchtime | lunch time | luncheon | midday meal | noon meal | mid day meal
MEAL V : evening meal | supper time in the evening
MEAL V in=US,CA,AU,NZ : dinner | dinnertime | dinner time
MEAL V not=US,CA,AU,NZ : dinner | dinnertime | dinner time
MEAL D not=US,CA,AU,NZ : dinner | dinnertime | dinner time
MEAL V in=US,CA : supper | suppertime | supper time
MEAL V not=US,CA ask=read.word : supper | suppertime | supper time
MEAL V in=GB,IE,AU,NZ : tea | teatime | tea time | tea-time
REL AC : before
REL PC : after | following
REL C : with | during
REL AC : prior to
MEALANY meals : meals | main meals
MEALANY food : meal | a meal | eating | you eat | each meal time
MEALANY food : food
MEALSX AC before food : ac | ante cibum
MEALSX PC after food : pc | post cibum
MEALSX C with food : cum cibo
INSTR : (just|immediately|right|soon) (before|after) (food|meals|eating) | half an hour before (food|meals)
INSTR : with (or immediately after) food
AT : at | @ | around | about | approximately
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
WEEKDAYSET mon,wed,fri : mwf | m w f | m/w/f | m-w-f
WEEKDAYSET tue,thu,sat : tts | t th s
WEEKDAYSET tue,thu : tth | t th
OTHERDAYS : [all] [the] other days [of the week] | [all] [the] remaining days [of the week] | the rest of the week
OTHERDAYS : every other day of the week | all other days
OTHERDAYS : on all other days | the other days | other days of the week | rest of week
EXCEPT : except [for] | excluding | but not | and not | not | omit | omitting | omitted | skip | skipping | apart from | other than
EXCEPT : do not take | don't take | do not give | miss | with no dose | no dose | no tablets | no tablet | none | leave out
DAYNO : day | days
UNTIL : until | till | until and including | up to and including | ending | end date | to and including | stop on | through | finish on
UNTIL : last dose | ends | stopping on
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
WANTED : (if|when|as) you need (it|them|to) | sos | s.o.s. | prn only
WANTED : (as|when|if|only when|only if) (needed|required) only | if wanted | when wanted
STAT : stat | at once | immediately | straight away | now | right away | straightaway
SINGLE : as a single dose | as one dose | single dose | once only | one dose only | one time only | one-off | for one dose | x 1 dose
SINGLE : as a one off dose | for 1 dose
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
VERB : sig | sig: | rx | dose | dose: | directions: | directions
ROUTE : by mouth | orally | oral | po | p.o. | per os | sublingually | under the tongue | sl | s.l. | by oral route | via mouth | peg
ROUTE : via peg | per rectum | pr | rectally | vaginally | pv | topically | subcutaneously | subcut | sc | im | iv | intramuscularly
SITE : (to|in|into) the (left|right) (eye|ear|nostril) | in (left|right) (eye|ear)
ALSO : also | please | approx | exactly | regularly | regular | only | continuously | routinely
ASKED abbreviation : os | ou | as directed od | au | ad | ddd
ASKED both-sides : (to|in|into) [the] (both|each|affected) (eyes|eye|ears|ear|nostril|nostrils|area|areas)
DIRECTED : as directed | mdu | uad | ud | as instructed | as advised | as prescribed
DIRECTED : as per (protocol|instructions|consultant|hospital|sheet|schedule|plan|anticoagulant clinic|specialist) | as per (gp|doctor)
DIRECTED : use as directed | take as directed | asd | to be taken as directed
DIRECTED : as directed by (your|the) (doctor|prescriber|physician|gp|consultant|specialist|hospital|clinic|pharmacist|nurse)
DIRECTED : as directed by (your|the) anticoagulant clinic
DIRECTED : according to (instructions|directions|protocol|schedule|inr) | as per inr | per inr | sliding scale | per protocol
DIRECTED : as before | as discussed | see instructions | see leaflet
COND : if | unless | when | whenever | hold | withhold | depending | according | provided | in case | until finished
COND : until (gone|complete|completed|all taken|all gone|course complete|review|reviewed|further notice|better|symptoms resolve)
COND : as tolerated | subject to | while | once stable | should | where | titrate | adjust
COND : < | > | < | > | ≥ | ≤ | as long as | till finished | until the course is (finished|complete|completed)
COND : until all (taken|gone|finished|used)
NEG : no | never | without | none | don't | do not | nil | zero | cannot | must not
STEP : start with | commence with | begin with | increase | increasing | increased | reduce | reducing | reduced | decrease | decreasing
STEP : taper | tapering | double | halve
STEP : step down | titrating | wean | weaning | doubling | raise | lower | lowering
ASKED relative : tomorrow | today | tonight | yesterday | tomorrow morning | this (morning|evening|afternoon|week)
ASKED relative : next (week|month|dose|morning) | previous | later | last dose
ASKED alternating : alternating | alternate | alternately
ASKED midnight : midnight
ASKED divided : divided | divided doses | in divided doses | in (2|two|3|three|4|four) divided doses
ASKED quantity : several | some | few | a few | many | various | multiple
"""

# Pieces that stand side by side: "do not crush" | "or chew" | "with food" | "on an empty stomach".
INSTRUCTIONS = """
ATLEAST : at least
INSTR : (1|one|an) hour before [food] or (2|two) hours after (food|meals|eating) | (1|one|an) hour before (food|meals) or on an empty stomach
INSTR : swallow whole | swallowed whole | to be swallowed whole | swallow [(it|them)] whole | must be swallowed whole | whole
INSTR : swallow the (tablet|tablets|capsule|capsules) whole | (tablet|tablets|capsule|capsules) to be swallowed whole
INSTR : (do not|don't|not to be|without) (crush|chew|break|split|cut|open|halve|suck|crushed|chewed|broken|crushing|chewing|breaking)
INSTR : [(do not|don't)] (crush|chew|break|split|cut|open) the (tablet|tablets|capsule|capsules) | crush | chew | break | split | crushed
INSTR : chewed | sucked | chew well | well chewed | chewed before swallowing | sucked or chewed | before swallowing
INSTR : with [a] [(full|large|small|whole)] (glass|cup|drink) of [(cold|plain|warm)] (water|milk|juice)
INSTR : with [(plenty of|lots of|a little|some|cold|warm|plain)] (water|fluid|fluids|liquid|milk) | with (a drink|juice|orange juice)
INSTR : with food or (milk|drink|water|snack) | with a small amount of (food|water) | with (yoghurt|yogurt|applesauce|a snack|a meal)
INSTR : with food or milk | with or after food | with or just after food | with or without food | with or immediately after food
INSTR : (just|immediately|right|soon) (before|after) (food|meals|eating) | half an hour before (food|meals)
INSTR : (dissolved|dispersed|mixed|stirred|diluted) [(before taking|first)] | dissolve | disperse | mix | stir | dilute
INSTR : in [(a|half a)] [(full|large|little)] [(glass|cup)] [of] (water|juice|food|yoghurt|yogurt|applesauce)
INSTR : in (some|a little|plenty of) water
INSTR : dissolve (under|on) the tongue | allow to dissolve [(under|on) the tongue] | on the tongue | on an empty stomach
INSTR : while (sitting|standing|sitting or standing) [(or standing)] [upright] | sitting upright | remain upright | stay upright
INSTR : do not lie down for [at least] (30|thirty) minutes | do not lie down | remain upright for [at least] (30|thirty) minutes
INSTR : avoid (alcohol|alcoholic drink|alcoholic drinks|grapefruit|grapefruit juice|driving|antacids|milk|dairy|dairy products|sunlight)
INSTR : avoid (exposure to sunlight|exposure to direct sunlight|direct sunlight|sun exposure|sun beds|sunbeds) [or sun lamps]
INSTR : (alcohol|grapefruit|antacids|milk|dairy products|sun lamps|iron|zinc|calcium|machinery)
INSTR : may cause (drowsiness|dizziness|sleepiness|stomach upset|nausea|discolouration of urine)
INSTR : this medicine may make you (sleepy|drowsy|feel sleepy|dizzy) | may make you (sleepy|drowsy|feel sleepy|dizzy)
INSTR : [this medicine] may colour [your] urine | [this medicine] may color [your] urine | this may colour your urine
INSTR : if (affected|this happens|sleepy|drowsy) do not drive [or] [(operate|use)] [(machinery|machines|tools or machines)]
INSTR : do not drive [or] [(operate|use)] [(machinery|machines|tools or machines)] [(if affected|if sleepy|if drowsy)]
INSTR : (do not|don't) (drink|take) [any] alcohol | warning | caution | important
INSTR : contains (paracetamol|aspirin|ibuprofen|acetaminophen|an aspirin-like medicine)
INSTR : do not take with any other paracetamol [products]
INSTR : do not take with (other paracetamol products|other paracetamol containing products)
INSTR : do not take anything else containing (paracetamol|ibuprofen|aspirin) [while taking this medicine]
INSTR : do not take with (alcohol|milk|antacids|grapefruit juice|grapefruit|indigestion remedies|iron|calcium|dairy|dairy products)
INSTR : do not take (indigestion remedies|antacids|milk|iron|zinc|calcium) [at the same time] [of day] [as this medicine]
INSTR : do not take indigestion remedies 2 hours before or after you take this medicine
INSTR : do not stop [taking] [this medicine] [suddenly] [abruptly] | do not stop taking this medicine except on your doctor's advice
INSTR : do not stop taking [this medicine] (unless your doctor tells you to [stop]|without medical advice|without talking to your doctor)
INSTR : shake well [before use] | shake the bottle | shake [the] bottle well | shake before use | keep in the fridge | refrigerate
INSTR : store in (a|the) (refrigerator|fridge) | finish the course | finish all medication | finish all medicine | keep taking
INSTR : complete the course | complete course | finish the prescribed course | protect from (light|sunlight)
INSTR : keep out of (reach|the reach|the sight and reach) of children | protect [your] skin from sunlight
INSTR : even on a bright but cloudy day
INSTR : [at] the same time (each|every) day | at the same time [of [the] day] | same time (each|every) day | do not use sun lamps
INSTR : (preferably|ideally) [with (food|water)] | (spread|spaced) evenly (through|throughout) the day | evenly spaced
INSTR : space the doses evenly throughout the day | at regular intervals | at evenly spaced intervals | slowly | gently | carefully
INSTR : rinse mouth [after use] | repeat prescription | repeat medication | long term | longterm | ongoing | lifelong | for life
INSTR : indefinitely | as long term treatment | until told otherwise | regular medication | as usual | for oral use | brand only | generic
INSTR : (in|for) (blister|dosette|webster) [pack] | for packing | in pack | please pack | pack | counsel patient | no substitution
INSTR : (reducing|tapering) (course|dose) | on the same day (each|every|of the) week | (all|both) together | no refills | refills | refill
"""

REASONS = """
PURPOSE : to prevent (gout attacks|angina|chest pain|heart failure|blood clots|rejection|seizures|fits|malaria|sickness|vomiting|anaemia)
PURPOSE : to prevent (dvt|cramps|urinary infections|further strokes|asthma attacks|heart burn|heartburn|indigestion|ulcers|bleeding)
PURPOSE : to help [(prevent|control|with|reduce|lower)] [(your|the)] (pain|nausea|cholesterol|blood pressure|asthma|anxiety|sleep|mood|sugar)
PURPOSE : to (settle|line|protect) [(your|the)] (stomach|nerves) | to help (breathing|memory|concentration|bones|bladder|bowels|heart)
PURPOSE : to (replace|supplement) (thyroid hormone|potassium|iron|calcium|vitamin d|folic acid) | to ease (pain|breathing|constipation)
PURPOSE : to (reduce|lower|control) [(your|the)] (uric acid|heart rate|swelling|fluid|cholesterol level|blood sugars|risk of stroke|symptoms)
PURPOSE : to (regulate|steady|slow) [(your|the)] (heart|heart beat|heartbeat|heart rhythm|mood) | to stop (sickness|nausea|vomiting|cramps)
REASONW : irregular heartbeat | heartbeat | palpitations | angina pain | circulation | cramps | leg cramps | muscle cramps | ankle swelling
REASONW : ankles | fluid on the lungs | lungs | chest | throat | sore throat | runny nose | nose | eyes | ear | ears | mouth | mouth ulcers
REASONW : teeth | gum | gums | bladder control | overactive bladder | incontinence | urge | prostate problems | enlarged prostate | erectile
REASONW : low mood | panic | panic attacks | stress | nerves | tension headache | cluster | tics | hallucinations | confusion | delirium
REASONW : low iron | low potassium | low thyroid | low vitamin d | low calcium | low sodium | potassium | calcium | sodium | magnesium | folic acid
REASONW : thin bones | brittle bones | weak bones | joint pain | back pain | neck pain | knee pain | hip pain | shoulder pain | period pain | periods
REASONW : heavy periods | hormones | hormone replacement | hot flashes | osteopenia | lupus | crohn's | colitis | ulcerative colitis | ibs
REASONW : irritable bowel | irritable bowel syndrome | wind | bloating | gas | diverticular | piles | haemorrhoids | bowel spasm | stomach cramps
REASONW : stomach pain | stomach ulcer | stomach ulcers | gastric | gastritis | oesophagitis | travel sickness | motion sickness | hiccups
REASONW : copd flare | breathing problems | chest tightness | phlegm | mucus | catarrh | hay | sneezing | urticaria | itchy skin | dry skin
REASONW : type 2 | type 1 | sugar control | sugar levels | high blood sugar | high sugar | high potassium | kidney disease | kidney protection
REASONW : kidney problems | liver disease | fluid overload | hypothyroid | hyperthyroid | overactive thyroid | goitre | thyroid problem
REASONW : enlarged heart | heart protection | heart health | heart attack prevention | after heart attack | chest pains | blood clot | dvt | pe
REASONW : clot prevention | stroke risk | af stroke prevention | trembling | shaking | parkinson | ms | multiple sclerosis | spasticity | neuralgia
REASONW : shingles pain | nerve damage | diabetic neuropathy | sciatica | withdrawal | alcohol withdrawal | smoking cessation | cravings | addiction
REASONW : skin infection | tooth infection | dental infection | water infection | urine infection | urinary tract infection | kidney infection
REASONW : sinus infection | lyme disease | acid indigestion | severe pain | mild pain | moderate pain | fever or pain | organ transplant | rejection
PURPOSE : to help (you|) (sleep|relax) | to help with (sleep|pain|breathing|anxiety|bowels)
PURPOSE : to prevent (stroke|strokes|clots|blood clots|gout|infection|heart attack|heart attacks|migraine|osteoporosis|constipation|nausea)
PURPOSE : to (lower|reduce|control) [(your|the)] (blood pressure|cholesterol|blood sugar|blood glucose|pain|inflammation|stomach acid|acid)
PURPOSE : to (protect|help|slow|strengthen) [(your|the)] (stomach|heart|heart rate|bones|kidneys|bladder|memory|mood)
PURPOSE : to thin [(your|the)] blood | to treat (infection|pain|high blood pressure|an infection|depression|anxiety|gout)
PURPOSE : to relieve pain | to keep [your] bones strong | to remove [excess] (fluid|water)
REASONW : pain | pains | mild | moderate | severe | mild to moderate | moderate to severe | breakthrough | back | neck | knee | chest
REASONW : abdominal | leg | muscle | joint | tooth | nerve | bone | high | low | blood | pressure | cholesterol | heart | failure | rate
REASONW : rhythm | disease | condition | problems | problem | attack | attacks
REASONW : hypertension | diabetes | type 2 diabetes | type 1 diabetes | angina | asthma | copd | arthritis | rheumatoid | osteoarthritis
REASONW : osteoporosis | gout | depression | anxiety | mood | agitation | sleep | sleeplessness | insomnia | sleeping | nausea
REASONW : vomiting | sickness | dizziness | vertigo | allergy | allergies | hayfever | hay fever | itch | itching | rash | hives
REASONW : constipation | diarrhoea | diarrhea | indigestion | heartburn | reflux | acid | acid reflux | stomach | ulcer | ulcers | gerd
REASONW : gord | bowel | bowels | bladder | urinary | urine | infection | infections | uti | chest infection | prostate | bph | thyroid
REASONW : hypothyroidism | underactive | overactive | underactive thyroid | epilepsy | seizures | seizure | fits | migraine | migraines
REASONW : headache | headaches
REASONW : fever | temperature | cough | cold | congestion | breathlessness | wheeze | wheezing | shortness of breath | breathing | spasm
REASONW : spasms | cramps | cramp | stiffness | swelling | oedema | edema | fluid | water | water retention | fluid retention
REASONW : inflammation | anaemia | anemia | iron | iron deficiency | deficiency | vitamin d deficiency | vitamin | folate | bones
REASONW : kidney | kidneys | liver | skin | acne | eczema | psoriasis
REASONW : stroke | stroke prevention | prevention | clots | blood clots | clot | atrial fibrillation | af | fibrillation | thinning
REASONW : control | parkinson's | parkinsons | parkinson's disease | alzheimer's | dementia | memory | schizophrenia | bipolar
REASONW : psychosis | adhd | restless legs | restless | tremor | neuropathy | neuropathic | fibromyalgia | muscle spasm | sugar
REASONW : blood sugar | glucose | immune | transplant | hormone | contraception | menopause | hot flushes | hrt | cancer | supplement
REASONW : deficiencies
REASONW : high blood pressure | high cholesterol | blood pressure | heart failure | heart disease | heart rate | blood thinning
REASONW : nerve pain | stomach protection | protection | stomach acid | relief | pain relief | symptoms | symptom | treatment
REASONW : maintenance | prophylaxis | hiv | malaria | tb | tuberculosis | h pylori | worms | thrush | shingles | herpes | flu
REASONW : influenza | sinusitis | tonsillitis | bronchitis | pneumonia | cellulitis | wound | dental | ear infection | throat infection
"""
