"""English words that stand beside a schedule and leave it as it is: instructions and cautions, and what a medicine is for.

Rows as in `english`. Source: pharmacy practice, from memory; cautions in the manner of the recommended cautionary labels of the BNF.
"""

__all__ = ["INSTRUCTIONS", "REASONS"]

# Pieces that stand side by side: "do not crush" | "or chew" | "with food" | "on an empty stomach".
INSTRUCTIONS = """
ATLEAST : at least
INSTR how : (1|one|an) hour before [food] or (2|two) hours after (food|meals|eating)
INSTR how : (1|one|an) hour before (food|meals) or on an empty stomach
INSTR how : swallow whole | swallowed whole | to be swallowed whole | swallow [(it|them)] whole | must be swallowed whole | whole
INSTR how : swallow the (tablet|tablets|capsule|capsules) whole | (tablet|tablets|capsule|capsules) to be swallowed whole
INSTR how : (do not|don't|not to be|without) (crush|chew|break|split|cut|open|halve|suck|crushed|chewed|broken|crushing|chewing|breaking)
INSTR how : [(do not|don't)] (crush|chew|break|split|cut|open) the (tablet|tablets|capsule|capsules) | crush | chew | break
INSTR how : crushed
INSTR how : chewed | sucked | chew well | well chewed | chewed before swallowing | sucked or chewed | before swallowing
INSTR how : with [a] [(full|large|small|whole)] (glass|cup|drink) of [(cold|plain|warm)] (water|milk|juice)
INSTR how : with [(plenty of|lots of|a little|some|cold|warm|plain)] (water|fluid|fluids|liquid|milk) | with (a drink|juice|orange juice)
INSTR how : with food or (milk|drink|water|snack) | with a small amount of (food|water) | with (yoghurt|yogurt|applesauce|a snack|a meal)
INSTR how : with food or milk | with or after food | with or just after food | with or without food | with or immediately after food
INSTR how : (just|immediately|right|soon) (before|after) (food|meals|eating) | half an hour before (food|meals)
INSTR how : (dissolved|dispersed|mixed|stirred|diluted) [(before taking|first)] | dissolve | disperse | mix | stir | dilute
INSTR how : in [(a|half a)] [(full|large|little)] [(glass|cup)] [of] (water|juice|food|yoghurt|yogurt|applesauce)
INSTR how : in (some|a little|plenty of) water
INSTR how : dissolve (under|on) the tongue | allow to dissolve [(under|on) the tongue] | on the tongue
INSTR fasting : on an empty stomach
INSTR how : while (sitting|standing|sitting or standing) [(or standing)] [upright] | sitting upright
INSTR : remain upright | stay upright
INSTR : do not lie down for [at least] (30|thirty) minutes | do not lie down | remain upright for [at least] (30|thirty) minutes
INSTR : avoid (alcohol|alcoholic drink|alcoholic drinks|grapefruit|grapefruit juice|driving|antacids|milk|dairy|dairy products|sunlight)
INSTR : avoid (exposure to sunlight|exposure to direct sunlight|direct sunlight|sun exposure|sun beds|sunbeds) [or sun lamps]
INSTR thing : (alcohol|grapefruit|antacids|milk|dairy products|sun lamps|iron|zinc|calcium|machinery)
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
INSTR how : shake well [before use] | shake the bottle | shake [the] bottle well | shake before use
INSTR : keep in the fridge | refrigerate
INSTR : store in (a|the) (refrigerator|fridge) | finish the course | finish all medication | finish all medicine | keep taking
INSTR : complete the course | complete course | finish the prescribed course | protect from (light|sunlight)
INSTR : keep out of (reach|the reach|the sight and reach) of children | protect [your] skin from sunlight
INSTR : even on a bright but cloudy day
INSTR how : [at] the same time (each|every) day | at the same time [of [the] day] | [at] [about] same time (each|every) day
INSTR : do not use sun lamps
INSTR how : (preferably|ideally) [with (food|water)]
INSTR spaced : (spread|spaced) evenly (through|throughout) the day | evenly spaced | space the doses evenly throughout the day
INSTR spaced : at regular intervals | at evenly spaced intervals
INSTR how : slowly | gently | carefully
INSTR how : repeat prescription | repeat medication | long term | longterm | ongoing | lifelong | for life
INSTR : rinse mouth [after use]
INSTR how : indefinitely | as long term treatment | until told otherwise | regular medication | as usual | for oral use | brand only
INSTR how : generic
INSTR how : (in|for) blister [pack] | for packing | in pack | please pack | pack
INSTR : counsel patient | no substitution
INSTR how : (all|both) together
INSTR step : (reducing|tapering) (course|dose)
INSTR : no refills | refills | refill
# The cautionary and advisory labels of the BNF, in full; wording from memory.
INSTR : this medicine (may make|makes) you (sleepy|drowsy) | do not drink alcohol
INSTR : if this happens[,] do not drive or use tools or machines
INSTR : if you still feel sleepy the next day[,] do not drive or use tools or machines
INSTR : do not take (anything|any medicines|any medicine) [else] containing (aspirin|paracetamol|ibuprofen) [while taking this medicine]
INSTR : do not take indigestion remedies[,] or medicines containing (iron or zinc|iron)[,] 2 hours before or after you take this medicine
INSTR : do not take milk, indigestion remedies, or medicines containing iron or zinc, 2 hours before or after you take this medicine
INSTR : do not take (milk|antacids|iron|iron tablets) [within] 2 hours before or after [taking] [you take] this medicine
INSTR : keep taking this medicine until the course is finished[,] [unless you are told to stop]
INSTR : complete the [prescribed] course [of treatment] unless otherwise directed | unless otherwise directed
INSTR : read the additional information given with this medicine | follow the printed instructions [given with this medicine]
INSTR : protect your skin from sunlight[,] even on a bright but cloudy day | do not use sunbeds | this is harmless
INSTR how : dissolve or mix with water [before taking] | dissolve the tablet under your tongue[,] do not swallow
INSTR how : dissolve this medicine under your tongue
INSTR how : take with or just after food[,] or a meal | with or just after food[,] or a meal
INSTR how : this means an hour before food or 2 hours after food | [take] this medicine when your stomach is empty
INSTR how : when your stomach is empty
INSTR how : suck or chew this medicine | (swallow|swallow this) [this] medicine whole | swallow this (tablet|capsule) whole
INSTR : talk to a doctor at once if you take too much of this medicine[,] [even if you feel well]
# The auxiliary labels of North America; from memory.
INSTR : may cause (drowsiness or dizziness|drowsiness and dizziness) | avoid prolonged (sun exposure|exposure to sunlight)
INSTR : drink plenty of (water|fluids)
INSTR : finish all [of] [this] (medication|medicine) [unless otherwise directed [by (prescriber|doctor)]]
INSTR : do not take (dairy products|antacids|iron) within (1 hour|one hour|2 hours|two hours) of [taking] this (medication|medicine)
INSTR how : do not chew or crush[,] [swallow whole]
INSTR : may discolor [your] urine | may cause discoloration of urine
INSTR : do not operate heavy machinery
INSTR : may impair [your] ability to drive [or operate machinery] | use caution when driving | do not skip doses | avoid smoking
INSTR : limit alcohol
INSTR : (stay|remain|sit|stand|keep) upright for [at least] (30|thirty|60) (minutes|mins|min) [after taking [it]]
INSTR how : open and sprinkle on food | sprinkle on food
INSTR how : sprinkled on food
INSTR : apply to (clean|dry|clean dry|clean, dry) skin | rotate sites | monitor blood pressure
"""

REASONS = """
TOVERB : to [help] (prevent|control|reduce|lower|treat|relieve|ease|manage|protect|improve|support) [(the|your)] | to help with [(the|your)]
REASONW : prevention of | treatment of | relief of | control of | management of | prophylaxis of
REASONW : muscle spasms | bone health | stomach upset | chest pain | angina attacks | anxiety attacks | low blood pressure
PURPOSE : to prevent (gout attacks|angina|chest pain|heart failure|blood clots|rejection|seizures|fits|malaria|sickness|vomiting|anaemia)
PURPOSE : to prevent (dvt|cramps|urinary infections|further strokes|asthma attacks|heart burn|heartburn|indigestion|ulcers|bleeding)
PURPOSE : to help [(prevent|control|with|reduce|lower)] [(your|the)] (pain|nausea|cholesterol|blood pressure|asthma|anxiety|sleep|mood)
PURPOSE : to (settle|line|protect) [(your|the)] (stomach|nerves) | to help (breathing|memory|concentration|bones|bladder|bowels|heart)
PURPOSE : to (replace|supplement) (thyroid hormone|potassium|iron|calcium|vitamin d|folic acid) | to ease (pain|breathing|constipation)
PURPOSE : to (reduce|lower|control) [(your|the)] (uric acid|heart rate|swelling|fluid|cholesterol level|blood sugars|risk of stroke)
PURPOSE : to (regulate|steady|slow) [(your|the)] (heart|heart beat|heartbeat|heart rhythm|mood)
PURPOSE : to stop (sickness|nausea|vomiting|cramps)
REASONW : irregular heartbeat | heartbeat | palpitations | angina pain | circulation | cramps | leg cramps | muscle cramps
REASONW : ankle swelling
REASONW : ankles | fluid on the lungs | lungs | chest | throat | sore throat | runny nose | nose | eyes | ear | ears | mouth
REASONW : mouth ulcers
REASONW : teeth | gum | gums | bladder control | overactive bladder | incontinence | urge | prostate problems | enlarged prostate
REASONW : erectile
REASONW : low mood | panic | panic attacks | stress | nerves | tension headache | cluster | tics | hallucinations | confusion | delirium
REASONW : low iron | low potassium | low thyroid | low vitamin d | low calcium | low sodium | potassium | calcium | sodium | magnesium
REASONW : folic acid
REASONW : thin bones | brittle bones | weak bones | joint pain | back pain | neck pain | knee pain | hip pain | shoulder pain
REASONW : period pain | periods
REASONW : heavy periods | hormones | hormone replacement | hot flashes | osteopenia | lupus | crohn's | colitis | ulcerative colitis | ibs
REASONW : irritable bowel | irritable bowel syndrome | wind | bloating | gas | diverticular | piles | haemorrhoids | bowel spasm
REASONW : stomach cramps
REASONW : stomach pain | stomach ulcer | stomach ulcers | gastric | gastritis | oesophagitis | travel sickness | motion sickness | hiccups
REASONW : copd flare | breathing problems | chest tightness | phlegm | mucus | catarrh | hay | sneezing | urticaria | itchy skin
REASONW : dry skin
REASONW : type 2 | type 1 | sugar control | sugar levels | high blood sugar | high sugar | high potassium | kidney disease
REASONW : kidney protection
REASONW : kidney problems | liver disease | fluid overload | hypothyroid | hyperthyroid | overactive thyroid | goitre | thyroid problem
REASONW : enlarged heart | heart protection | heart health | heart attack prevention | after heart attack | chest pains | blood clot
REASONW : dvt | pe
REASONW : clot prevention | stroke risk | af stroke prevention | trembling | shaking | parkinson | ms | multiple sclerosis | spasticity
REASONW : neuralgia
REASONW : shingles pain | nerve damage | diabetic neuropathy | sciatica | withdrawal | alcohol withdrawal | smoking cessation | cravings
REASONW : addiction
REASONW : skin infection | tooth infection | dental infection | water infection | urine infection | urinary tract infection
REASONW : kidney infection
REASONW : sinus infection | lyme disease | acid indigestion | severe pain | mild pain | moderate pain | fever or pain | organ transplant
REASONW : rejection
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
