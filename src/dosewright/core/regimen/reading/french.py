"""French as written in France, Canada, Belgium and Switzerland: words and their senses.

Rows are `TERMINAL value flags : spellings` (see `lexicon`). Source: pharmacy practice, from memory. "déjeuner" is lunch in France and
breakfast in Canada; in Belgium and Switzerland it is either, so it is asked.
"""

__all__ = ["GRAMMAR", "INSTRUCTIONS", "REASONS", "WORDS"]

GRAMMAR = """
%extend clock: AT number HOURS -> at_hour
    | number HOURS -> at_hour
"""

WORDS = """
AND : et | & | ainsi que | et aussi
OR : ou
COMMA : ,
STOP : . | !
SEMI : ;
COLON : : | = | soit
DASH : -
LPAR : (
RPAR : )
PLUS : +
THEN : [et] puis | ensuite | et ensuite | puis ensuite | suivi de | suivis de | après quoi
BUT : mais
SLASH : /

NUMW 1 : un | une
NUMW 2 : deux
NUMW 3 : trois
NUMW 4 : quatre
NUMW 5 : cinq
NUMW 6 : six
NUMW 7 : sept
NUMW 8 : huit
NUMW 9 : neuf
NUMW 10 : dix
NUMW 11 : onze
NUMW 12 : douze
NUMW 14 : quatorze
NUMW 15 : quinze
NUMW 20 : vingt
NUMW 21 : vingt et un
NUMW 24 : vingt quatre
NUMW 28 : vingt huit
NUMW 30 : trente
NUMW 48 : quarante huit
FRACW 1/2 : demi | demie | un demi | une demi | une demie | la moitié d'un | la moitié d'une | une moitié de | la moitié de
FRACW 1/4 : un quart de | un quart d'un | un quart d'une | quart de | le quart d'un | un quart
FRACW 3/4 : trois quarts de | trois quarts d'un | trois quarts d'une | trois quarts | 3 quarts de
TO : à | a
UPTO : jusqu'à | au maximum | jusque
PER : par
THE : le | la | les | l' | votre | vos
OF : de | du | sur | d'un cycle de | de chaque cycle de | d'

UNIT tablet : comprimé | comprimés | cp | cps | cpr | cprs | comp | comps | cpé | comprimé(s)
UNIT tablet in=CA : co | cos
UNIT tablet : comprimé (effervescent|pelliculé|sécable|orodispersible|gastro-résistant)
UNIT tablet : comprimés (effervescents|pelliculés|sécables|orodispersibles)
UNIT dragée : dragée | dragées
UNIT capsule : gélule | gélules | gel | gél | capsule | capsules | caps | gélule(s)
UNIT lozenge : pastille | pastilles
UNIT sachet : sachet | sachets | sach
UNIT patch : patch | patchs | timbre | timbres
UNIT drop : goutte | gouttes | gtte | gttes
UNIT puff : bouffée | bouffées | inhalation | inhalations
UNIT spray : pulvérisation | pulvérisations
UNIT suppository : suppositoire | suppositoires | suppo | suppos
UNIT ampoule : ampoule | ampoules | amp
UNIT teaspoonful : cuillère à café | cuillères à café | cuillerée à café | cuillerées à café | cuiller à café | c à c | càc | cac
UNIT tablespoonful : cuillère à soupe | cuillères à soupe | cuillerée à soupe | cuillerées à soupe | c à s | càs
UNIT measure : cuillère mesure | cuillères mesure | dose mesure
UNIT application : application | applications
UNIT dose : dose | doses | prise unitaire
UNIT unit : unité | unités
UNIT unit ask=read.unit-abbreviation : u | ui
UNIT mg : mg | milligramme | milligrammes
UNIT microgram : microgramme | microgrammes | mcg
UNIT microgram note=read.error-prone : µg | μg | ug
UNIT g : g | gramme | grammes
UNIT mL : ml | millilitre | millilitres
UNIT mL note=read.error-prone : cc

ADVTIMES 1 : une seule fois
TIMES : fois
BY_X : x
ADVPERIOD 1/d a : quotidien | quotidienne | quotidiennement | journalier | journellement
ADVPERIOD 1/wk : hebdomadaire | hebdomadairement
ADVPERIOD 1/mo : mensuel | mensuellement
FREQ 2 in 1/d : bid
FREQ 3 in 1/d : tid
FREQ 4 in 1/d : qid
FREQ 1 in 1/d : 1 fois die | die
EVERYX 2/d : un jour sur deux | 1 jour sur 2 | un jour sur 2 | 1 jour / 2 | 1 j sur 2 | 1 j/2 | 1j/2 | 1jour/2 | tous les deux jours
EVERYX 2/d : tous les 2 jours | tous les 2 j | aux deux jours | aux 2 jours | chaque deuxième jour
EVERYX 3/d : un jour sur trois | 1 jour sur 3 | 1 j/3 | 1j/3
EVERYX 2/wk : une semaine sur deux | 1 semaine sur 2
EVERY : tous les | toutes les | tous | toutes | chaque | aux | ttes les | tts les
ORD 1 : 1er | premier | 1ère
ORD 2 : deuxième | 2e | 2ème
ORD 3 : troisième | 3e | 3ème
FIRST : premiers | premières | premier | première
TIMEUNIT min : minute | minutes | min | mn
TIMEUNIT h : heure | heures | h
TIMEUNIT d : jour | jours | j | jr | jrs
DAYNO : jour | jours | j
TIMEUNIT wk : semaine | semaines | sem
TIMEUNIT mo : mois
TIMEUNIT a : an | ans | année | années
HOURS : heures | heure | h

DAYPART MORN : matin | matins | matinée
DAYPART NOON : midi | midis
DAYPART EVE : soir | soirs | soirée
DAYPART HS : coucher | avant (le|de) (coucher|se coucher|dormir) | avant de vous coucher | au moment du coucher | à l'heure du coucher
DAYPART HS : au lit | avant de dormir | avant d'aller au lit
DAYPART AFT : après-midi | après midi | l'après-midi | l'après midi
DAYPART WAKE : réveil | lever | se réveillant
DAYPART NIGHT : nuit | nuits
WHENX HS : hs
MEAL M : petit-déjeuner | petit déjeuner | p'tit déjeuner | petit déj | ptit déjeuner
MEAL D in=FR,LU,MC,MA,TN,DZ,SN,CI : déjeuner
MEAL M in=CA : déjeuner
MEAL D not=FR,CA,LU,MC,MA,TN,DZ,SN,CI : déjeuner
MEAL M not=FR,CA,LU,MC,MA,TN,DZ,SN,CI : déjeuner
MEAL V in=FR,LU,MC,MA,TN,DZ,SN,CI : dîner
MEAL D in=CA : dîner
MEAL D not=FR,CA,LU,MC,MA,TN,DZ,SN,CI : dîner
MEAL V not=FR,CA,LU,MC,MA,TN,DZ,SN,CI : dîner
MEAL V in=CA,BE,CH : souper
MEAL V not=CA,BE,CH ask=read.word : souper
MEAL D : repas de midi | repas du midi
MEAL V : repas du soir
MEAL M : repas du matin
REL AC : avant | juste avant
REL PC : après | juste après
REL C : avec | pendant | durant | au cours de
REL AC : avant chaque
MEALANY meals : repas | principaux repas | 3 repas | trois repas
MEALANY food : un repas | une collation | manger | la nourriture | nourriture | un aliment | des aliments
MEALSX AC before food : ac
MEALSX PC after food : pc
EACHMEAL C : aux (3|trois) repas | aux (3|trois) principaux repas | pendant les (3|trois) repas
EACHMEAL AC : avant les (3|trois) repas
EACHMEAL PC : après les (3|trois) repas
EACHMEAL AC : avant chaque repas | avant chacun des repas | avant chacun des 3 repas
EACHMEAL PC : après chaque repas | après chacun des repas
EACHMEAL C : à chaque repas | avec chaque repas | pendant chaque repas | au cours de chaque repas | à chacun des repas
EACHMEAL C : au moment de chaque repas
MEALSX C : aux repas | au moment des repas | au cours des repas | lors des repas
MEALSX AC : avant les repas
AT : à | a | vers
IN : en | au cours de | dans | par période de | au | du
AT : aux alentours de
ON : le | les | au
WEEKDAY mon : lundi | lundis | lun
WEEKDAY tue : mardi | mardis | mar
WEEKDAY wed : mercredi | mercredis | mer
WEEKDAY thu : jeudi | jeudis | jeu
WEEKDAY fri : vendredi | vendredis | ven
WEEKDAY sat : samedi | samedis | sam
WEEKDAY sun : dimanche | dimanches | dim
WEEKDAYSET sat,sun : week-end | week-ends | weekend | weekends | fin de semaine | fins de semaine
WEEKDAYSET mon,tue,wed,thu,fri : jours de semaine
OTHERDAYS : les autres jours | autres jours | tous les autres jours | le reste de la semaine
EXCEPT : sauf | excepté | hormis | à l'exception (du|de|des) | à l'exception du | mais pas | pas | ne pas prendre | sauf le | sauf les
EXCEPT : excepté le
UNTIL : jusqu'au | jusqu'à | jusqu'au et y compris | au plus tard le | fin le
FROM : à partir du | dès le | à compter du | du | débuter le | commencer le | à commencer le | depuis le
MONTHNAME 1 : janvier
MONTHNAME 2 : février
MONTHNAME 3 : mars
MONTHNAME 4 : avril
MONTHNAME 5 : mai
MONTHNAME 6 : juin
MONTHNAME 7 : juillet
MONTHNAME 8 : août
MONTHNAME 9 : septembre
MONTHNAME 10 : octobre
MONTHNAME 11 : novembre
MONTHNAME 12 : décembre
TO : au
CYCLE : cycle
FOR : pendant | pour | durant | x | sur une durée de | pdt | pour une durée de | pendant une durée de | pendant les prochains
OFF : d'arrêt | de pause | sans | d'interruption | arrêt | pause | sans traitement | de repos
ONWORD : de traitement | de prise | avec | de prise continue
STOPTAKING : arrêter | stop | arrêt | et arrêter | cesser
AGAIN : et recommencer | puis recommencer | recommencer | et ainsi de suite | puis reprendre | à répéter | répéter

WANTED : si besoin | au besoin | si nécessaire | en cas de besoin | prn | selon les besoins | à la demande | sur demande | si b
WANTED : si besoin seulement | seulement si besoin | si nécéssaire
WANTEDFOR : en cas de | si | contre
STAT : immédiatement | tout de suite | stat | d'emblée | maintenant
SINGLE at-once : en une seule prise | en une prise | en 1 prise | en une fois
SINGLE : en prise unique | dose unique | une fois seulement | prise unique | en dose unique
MAX : maximum | max | au maximum | ne pas dépasser | sans dépasser | pas plus de | dose maximale de | au plus | maximum de
MAX : jusqu'à un maximum de | avec un maximum de | ne pas prendre plus de | dose maximale | sans jamais dépasser | ne jamais dépasser
MAX : ne prenez pas plus de | maxi
TOTAL : total | au total | soit au total | dose totale

VERB : prendre | à prendre | prenez | prise de | avaler | donner | administrer | prise | prends | utiliser | appliquer | instiller
VERB : injecter | inhaler | mettre | croquer | sucer | posologie | dissoudre | faire | veuillez prendre
ROUTE : par la bouche | par voie orale | per os | po | voie orale | oral | orale | sous la langue | sublingual | en sublinguale
ROUTE : par voie rectale | en sous-cutané | sc | sous cutané | par bouche
ALSO : environ | également | seulement | exactement | régulièrement | en continu | de façon continue | systématiquement
DIRECTED : suivre (le|un) (schéma|protocole) | suivre (les instructions|la prescription|l'ordonnance)
DIRECTED : selon (prescription|avis médical|ordonnance|indication|indications|le protocole|les indications|inr)
DIRECTED : comme (prescrit|indiqué|convenu) | suivant prescription | tel que prescrit | selon avis (du médecin|médical) | selon l'inr
DIRECTED : selon schéma | selon protocole | comme prescrit par le médecin | selon les instructions | selon les directives
COND : si | sauf si | lorsque | quand | tant que | selon | en fonction | dès que | < | > | < | > | ≤ | ≥ | à condition
COND : jusqu'à amélioration | jusqu'à disparition | jusqu'à nouvel ordre | en cas d'absence | suivant
NEG : ne | pas | aucun | aucune | jamais | sans | non | ne pas
STEP : augmenter | diminuer | réduire | doubler | réduction | augmentation | diminution | dégressif | décroissant | en augmentant
STEP : en diminuant | paliers | par paliers
ASKED relative : demain | aujourd'hui | hier | ce soir | ce matin | cette nuit | la semaine prochaine
ASKED alternating : en alternance | alternativement | alterner
ASKED divided : à répartir | en plusieurs prises | répartis | réparties | en 2 prises | en 3 prises | en deux prises | en trois prises
ASKED divided : répartir | en prises fractionnées
ASKED midnight : minuit
ASKED both-sides : dans chaque (oeil|œil|narine|oreille) | dans les deux (yeux|oreilles|narines) | dans l'œil | dans l'oeil
ASKED quantity : plusieurs | quelques
"""

INSTRUCTIONS = """
INSTR : au cours (du|d'un) repas | au milieu (du|des) repas | en mangeant | pendant (le|un) repas | au moment du repas | au début du repas
INSTR : dans un peu d'eau | dans de l'eau | dans un verre d'eau | dans de l'eau sucrée
INSTR : avec [(un|1|un grand|1 grand)] [verre] [(d'eau|d')] eau | avec un [(grand|plein)] verre d'eau | avec un peu d'eau
INSTR : avec de l'eau | avec beaucoup d'eau | à jeun | l'estomac vide | à distance des repas | en dehors des repas
INSTR : avec ou sans nourriture | avec ou sans aliment | avec de la nourriture | avec des aliments | avec du lait
INSTR : avaler (entier|entière|entiers|entières) [sans (croquer|mâcher)]
INSTR : sans (croquer|mâcher|écraser|les croquer|le croquer|la croquer) [ni (croquer|mâcher|écraser)]
INSTR : ne pas (croquer|mâcher|écraser|couper|ouvrir) [(ni|ou) (croquer|mâcher|écraser|couper|ouvrir)] | entier | entière
INSTR : dans un [(grand|demi)] verre d'eau | à dissoudre dans [(un verre d'|de l'|un peu d')]eau | dissous dans un verre d'eau
INSTR : dilué dans de l'eau | à dissoudre dans un verre d'eau | à croquer | à sucer | à laisser fondre | laisser fondre sous la langue
INSTR : avec une boisson | avec une collation | avec nourriture
INSTR : assis ou debout | rester debout | en position assise
INSTR : éviter (l'alcool|le soleil|le pamplemousse|la conduite|l'exposition au soleil) | pas d'alcool | ne pas boire d'alcool
INSTR : ne pas conduire | peut (causer|provoquer|entraîner) (de la|une|la) somnolence | attention | terminer le traitement
INSTR : finir le traitement | ne pas arrêter sans avis médical | traitement de fond | à heure fixe | à heures fixes
INSTR : toujours à la même heure | à la même heure [chaque jour] | agiter avant emploi | bien agiter | traitement au long cours
INSTR : ne pas s'allonger | ne pas arrêter brutalement
"""

REASONS = """
REASONW : douleur | douleurs | fièvre | la douleur | la fièvre | l'hypertension | hypertension | tension | la tension | le coeur | coeur
REASONW : cœur | le cœur | cholestérol | le cholestérol | diabète | le diabète | sommeil | dormir | l'insomnie | insomnie | anxiété
REASONW : l'anxiété | angoisse | nausée | nausées | les nausées | vomissements | constipation | la constipation | diarrhée | estomac
REASONW : l'estomac | reflux | le reflux | thyroïde | la thyroïde
REASONW : migraine | migraines | maux de tête | toux | la toux | allergie | allergies | asthme | l'asthme | infection | l'infection
REASONW : arthrose | goutte | la goutte | épilepsie | dépression | la dépression | prostate | la prostate | anémie | fer | carence
REASONW : prévention | œdèmes | oedèmes | agitation | dyspnée | spasmes | brûlures d'estomac | insuffisance cardiaque
REASONW : fluidifier le sang | hypertension artérielle | pression artérielle | la pression artérielle | haute pression
"""
