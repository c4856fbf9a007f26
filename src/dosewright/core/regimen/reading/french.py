"""French as written in France, Canada, Belgium and Switzerland: words and their senses.

Rows are `TERMINAL value flags : spellings` (see `lexicon`). Source: pharmacy practice, from memory. "déjeuner" is lunch in France and
breakfast in Canada; in Belgium and Switzerland it is either, so it is asked.
"""

__all__ = ["GRAMMAR", "INSTRUCTIONS", "REASONS", "WORDS"]

GRAMMAR = """
%extend clock: AT number HOURS -> at_hour
    | number HOURS -> loose_hour
    | AT? number HOURS AMPM -> hour_half
%extend every: (SLASH | PER) number TIMEUNIT -> slash_hours
%extend days: _pre? WEEKDAY DASH WEEKDAY (DASH WEEKDAY)+ -> weekday_list
%extend cycle_days: OF DAYNO number -> on_day
%extend reason: AGAINST REASONW+
%extend for_how_long: _pre number TIMEUNIT COURSE -> for_number
    | FOR THE number TIMEUNIT COURSE -> for_number
%extend month_days: _pre? number FIRST TIMEUNIT -> first_days
    | _pre number OF EVERY TIMEUNIT -> day_of_month
    | (_pre number (COMMA | AND))+ _pre number OF EVERY TIMEUNIT -> of_month
    | _pre number (OF | IN | FROM) TIMEUNIT -> day_of_month
    | (FROM | IN | OF) ORD TO NUM -> month_run
    | (FROM | IN | OF) ORD TO ORD -> month_run
%declare AGAINST
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
OFSIZE : à | a | dosé à | dosés à | dosée à
THE : le | la | les | l' | votre | vos
OF : de | du | sur | d'un cycle de | de chaque cycle de | d'

UNIT tablet : comprimé | comprimés | cp | cps | cpr | cprs | comp | comps | cpé | comprimé(s)
UNIT tablet in=CA,BE : co | cos
UNIT tablet : (comprimé|cp|comp|cpr) (effervescent|pelliculé|sécable|orodispersible|gastro-résistant|quadrisécable|lp|à croquer|enrobé)
UNIT tablet : (comprimés|cps|cp|comp|cpr) (effervescents|pelliculés|sécables|orodispersibles|gastro-résistants|quadrisécables|enrobés)
UNIT tablet : compr | comprs | cachet | cachets
UNIT tablet : dragée | dragées
UNIT pill : pilule | pilules
UNIT vial : flacon | flacons
UNIT pessary : ovule | ovules
UNIT spoonful : (cuillerée|cuillerées) de 5 ml
UNIT mmol : mmol
UNIT piece : pièce | pièces
UNIT capsule ask=read.abbreviation : gel
UNIT capsule : gélule | gélules | gél | capsule | capsules | caps | gélule(s) | gellule | gellules
UNIT capsule : gélule gastro-résistante | gélules gastro-résistantes
UNIT lozenge : pastille | pastilles
UNIT sachet : sachet | sachets | sach
UNIT patch : patch | patchs | timbre | timbres
UNIT drop : goutte | gouttes | gtte | gttes
UNIT puff : bouffée | bouffées | inhalation | inhalations
UNIT spray : pulvérisation | pulvérisations
UNIT suppository : suppositoire | suppositoires | suppo | suppos
UNIT ampoule : ampoule | ampoules | amp | ampoule buvable | ampoules buvables
UNIT teaspoonful : c. à café | c. à c | cuil à café | cuil. à café | c.à café
UNIT tablespoonful : c. à soupe | c. à s | cuil à soupe | cuil. à soupe | c.à soupe
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
TIMES : fois | prises
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
EVERYX 3/d : un jour sur (trois|3) | 1 jour sur (3|trois) | 1 j/3 | 1j/3 | 1 j sur 3
EVERYX 3/mo : trimestriel | trimestrielle | trimestriellement | chaque trimestre | par trimestre
EVERYX 6/mo : semestriel | semestrielle | tous les semestres | par semestre
EVERYX 1/a : annuel | annuelle | annuellement
EVERYX 4/d : un jour sur (quatre|4) | 1 jour sur 4 | 1 j/4
EVERYX 2/wk about : une semaine sur (deux|2) | 1 semaine sur 2 | 1 sem sur 2
EVERYX 3/wk about : une semaine sur (trois|3) | 1 semaine sur 3
EVERYX 4/wk about : une semaine sur (quatre|4) | 1 semaine sur 4
# "tous les 15 jours" is said for every two weeks, "tous les 8 jours" for every week: asked.
EVERYX 15/d : (tous les|aux|chaque) (15|quinze) jours | tous les 15 j | par quinzaine | chaque quinzaine | toutes les quinzaines
EVERYX 2/wk : (tous les|aux|chaque) (15|quinze) jours | tous les 15 j | par quinzaine | chaque quinzaine | toutes les quinzaines
EVERYX 8/d : (tous les|aux|chaque) (8|huit) jours | tous les 8 j
EVERYX 1/wk : (tous les|aux|chaque) (8|huit) jours | tous les 8 j
EVERY : ts les | tous les | toutes les | tous | toutes | chaque | aux | ttes les | tts les | q
ORD 1 : 1er | premier | 1ère
ORD 2 : deuxième | 2e | 2ème
ORD 3 : troisième | 3e | 3ème
FIRST : premiers | premières | premier | première | 1er | 1ère
TIMEUNIT min : minute | minutes | min | mn
TIMEUNIT h : heure | heures | h
TIMEUNIT d : jour | jours | j | jr | jrs
DAYNO : jour | jours | j | à j | au j
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
WHENX CD : (au milieu du|au cours du|pendant le|au début du|à la fin du) repas (de|du) midi
WHENX CV : (au milieu du|au cours du|pendant le|au début du|à la fin du) repas du soir
WHENX CM : (au milieu du|au cours du|pendant le|au début du|à la fin du) repas du matin
WHENX MORN 2 : un matin sur (deux|2) | 1 matin sur 2
WHENX EVE 2 : un soir sur (deux|2) | 1 soir sur 2
DAYPART MORN in=CA : am | a.m.
DAYPART PM in=CA : pm | p.m.
AMPM am in=CA : am | a.m.
AMPM pm in=CA : pm | p.m.
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
REL C : à l'heure du | à l'heure de | avec | pendant | durant | au cours de
REL AC : avant chaque
REL AC in=CA : ac
REL PC in=CA : pc
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
WEEKDAY mon : lundi | lundis | lun | lun.
WEEKDAY tue : mardi | mardis | mar | mar.
WEEKDAY wed : mercredi | mercredis | mer | mer. | merc | merc.
WEEKDAY thu : jeudi | jeudis | jeu | jeu.
WEEKDAY fri : vendredi | vendredis | ven | ven. | vend | vend.
WEEKDAY sat : samedi | samedis | sam | sam.
WEEKDAY sun : dimanche | dimanches | dim | dim.
WEEKDAYSET sat,sun : week-end | week-ends | weekend | weekends
WEEKDAYSET sat,sun in=CA : fin de semaine | fins de semaine
WEEKDAYSET sat,sun not=CA ask=read.word : fin de semaine | fins de semaine
WEEKDAYSET mon,tue,wed,thu,fri : jours de semaine | en semaine | jours ouvrables de la semaine | jours ouvrables | jours ouvrés
WEEKDAYSET mon,tue,wed,thu,fri,sat : jours ouvrables de la semaine | jours ouvrables
OTHERDAYS : les autres jours | autres jours | tous les autres jours | le reste de la semaine | le reste du temps
EXCEPT : sauf | excepté | hormis | à l'exception (du|de|des) | à l'exception du | mais pas | pas | ne pas prendre | sauf le | sauf les
EXCEPT : excepté le
UNTIL : jusqu'au | jusqu'à | jusqu'au et y compris | au plus tard le
UNTIL ask=read.last-day : fin le
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
TO : au | à j | au j
CYCLE : cycle
COURSE : suivants | suivantes
FOR : pendant | pour | durant | x | sur une durée de | pdt | pour une durée de | pendant une durée de | pendant les prochains
OFF : d'arrêt | de pause | sans | d'interruption | arrêt | pause | sans traitement | de repos
ONWORD : de traitement | de prise | avec | de prise continue
STOPTAKING : arrêter | stop | arrêt | et arrêter | cesser
AGAIN : et recommencer | puis recommencer | recommencer | et ainsi de suite | puis reprendre | à répéter | répéter

WANTED : si besoin | au besoin | si nécessaire | en cas de besoin | prn | selon les besoins | à la demande | sur demande | si b
WANTED : si besoin seulement | seulement si besoin | si nécéssaire
WANTED in=CH : en réserve | réserve
WANTEDFOR : en cas de | si | en cas d' | en cas
AGAINST : contre
STAT : immédiatement | tout de suite | stat | d'emblée | maintenant
SINGLE at-once : en une seule prise | en une prise | en 1 prise | en une fois | en 1 fois | en une seule fois | à la fois
SINGLE : en une prise unique | en une seule dose | une dose unique | en prise unique | dose unique | une fois seulement | prise unique
SINGLE : en dose unique | une seule fois
MAX : maximum | max | au maximum | ne pas dépasser | sans dépasser | pas plus de | dose maximale de | au plus | maximum de
MAX : jusqu'à un maximum de | avec un maximum de | ne pas prendre plus de | dose maximale | sans jamais dépasser | ne jamais dépasser
MAX : ne prenez pas plus de | maxi
CEILING : maximum | max | maxi | au maximum | au plus | au max
ATLEAST : au moins | minimum
TIMEUNIT h : d'heure
SUPPLY : qsp | q.s.p. | quantité suffisante pour
TOTAL : total | au total | soit au total | dose totale

VERB : à changer | changer | coller | à coller | prendre | à prendre | prenez | prise de | avaler | donner | administrer | prise | prends
VERB : utiliser | appliquer | instiller
VERB : injecter | inhaler | mettre | croquer | sucer | posologie | dissoudre | faire | veuillez prendre
ROUTE : par la bouche | par voie orale | per os | po | voie orale | oral | orale | sous la langue | sublingual | en sublinguale
ROUTE : par voie rectale | en sous-cutané | sc | sous cutané | par bouche
ALSO : par prise | ensemble | en même temps | inclus | compris | uniquement | de préférence | préférentiellement | seul
SPLIT : en | réparti en | répartie en | répartis en | réparties en | à répartir en | répartir en | divisé en | divisés en | à diviser en
SPLIT : à prendre en | fractionné en | fractionnés en
INTAKE : prises | doses | fois | prises dans la journée
ALSO added : également
ALSO : environ | seulement | exactement | régulièrement | en continu | de façon continue | systématiquement
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
ASKED divided : à répartir | en plusieurs prises | répartis | réparties
ASKED divided : répartir | en prises fractionnées
ASKED midnight : minuit
ASKED both-sides : dans chaque (oeil|œil|narine|oreille) | dans les deux (yeux|oreilles|narines) | dans l'œil | dans l'oeil
ASKED quantity : plusieurs | quelques
"""

INSTRUCTIONS = """
INSTR how : au cours (du|d'un) repas | au milieu (du|des) repas | en mangeant | pendant (le|un) repas | au moment du repas
INSTR how : au début du repas
INSTR fasting : à jeun | l'estomac vide
INSTR how : dans un peu d'eau | dans de l'eau | dans un verre d'eau | dans de l'eau sucrée
INSTR how : avec [(un|1|un grand|1 grand)] [verre] [(d'eau|d')] eau | avec un [(grand|plein)] verre d'eau | avec un peu d'eau
INSTR how : avec de l'eau | avec beaucoup d'eau | à distance des repas | en dehors des repas
INSTR how : avec ou sans nourriture | avec ou sans aliment | avec de la nourriture | avec des aliments | avec du lait
INSTR how : avaler (entier|entière|entiers|entières) [sans (croquer|mâcher)]
INSTR how : sans (croquer|mâcher|écraser|les croquer|le croquer|la croquer) [ni (croquer|mâcher|écraser)]
INSTR how : ne pas (croquer|mâcher|écraser|couper|ouvrir) [(ni|ou) (croquer|mâcher|écraser|couper|ouvrir)] | entier | entière
INSTR how : dans un [(grand|demi)] verre d'eau | à dissoudre dans [(un verre d'|de l'|un peu d')]eau | dissous dans un verre d'eau
INSTR how : dilué dans de l'eau | à dissoudre dans un verre d'eau | à croquer | à sucer | à laisser fondre | laisser fondre sous la langue
INSTR how : avec une boisson | avec une collation | avec nourriture
INSTR how : assis ou debout | rester debout | en position assise
INSTR : éviter (l'alcool|le soleil|le pamplemousse|la conduite|l'exposition au soleil) | pas d'alcool | ne pas boire d'alcool
INSTR : ne pas conduire | peut (causer|provoquer|entraîner) (de la|une|la) somnolence | attention | terminer le traitement
INSTR how : traitement de fond | à heure fixe | à heures fixes
INSTR : finir le traitement | ne pas arrêter sans avis médical
INSTR how : toujours à la même heure | à la même heure [chaque jour] | agiter avant emploi | bien agiter | traitement au long cours
INSTR : ne pas s'allonger (après la prise|pendant 30 minutes|dans les 30 minutes) | ne pas se recoucher
INSTR : ne pas s'allonger
INSTR : ne pas arrêter brutalement | ne pas arrêter sans avis
INSTR how : au début (du|des|d'un) repas | en début de repas | en fin de repas | à la fin (du|des) repas | sans ouvrir | sans l'ouvrir
INSTR how : à avaler (entier|entière|entiers|entières) [(sans (croquer|mâcher|ouvrir|écraser)|avec un verre d'eau|avec de l'eau)]
INSTR how : sans (les|la|le) (croquer|ouvrir|mâcher|écraser) | ne pas (ouvrir|sucer|avaler) | à laisser fondre sous la langue
INSTR how : avec un repas | avec un repas léger | avec un aliment
GONE : jusqu'à la fin [du traitement] | jusqu'à la fin de la boîte
INSTR how : avec un peu de nourriture | avec du jus d'orange | loin des repas | à distance (du|d'un) repas | l'estomac plein
INSTR how : loin (du|des) (lait|produits laitiers) | à distance des antiacides | espacé des antiacides
INSTR : éviter les produits laitiers
INSTR how : traitement chronique | avec beaucoup d'eau
INSTR : ne pas interrompre | bien hydrater | bien boire | boire beaucoup d'eau
INSTR : assis (ou|et) debout pendant 30 minutes | rester (debout|assis) 30 minutes | sans se recoucher
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
REASONW : vertiges | les vertiges | crampes | les crampes | spasmes | les spasmes | démangeaisons | les démangeaisons | oppression
REASONW : crise | crise de goutte | crise d'angoisse | crise d'asthme | crise de migraine | ballonnements | rhume | toux sèche | mal de tête
REASONW : mal de gorge | mal au ventre | maux de ventre | douleurs abdominales | douleur thoracique | douleurs intenses | douleur intense
REASONW : douleur forte | douleurs fortes | angine de poitrine | constipation opiniâtre | selles liquides | hyperthermie | allergies
REASONW : les allergies
REASONW : les brûlures d'estomac | les douleurs | les maux de tête | les migraines | l'anémie | l'épilepsie | l'arthrose | l'allergie
REASONW : les os | l'ostéoporose | ostéoporose | parkinson | le parkinson | la circulation | rétention d'eau | le potassium | les reins
REASONW anxiété : d'anxiété
REASONW angoisse : d'angoisse
REASONW insomnie : d'insomnie
REASONW allergie : d'allergie
REASONW agitation : d'agitation
REASONW asthme : d'asthme
REASONW hypertension : d'hypertension
REASONW oppression : d'oppression
REASONW essoufflement : d'essoufflement | essoufflement
REASONW angine de poitrine : d'angine de poitrine
REASONW infection : d'infection
REASONW hyperacidité : d'hyperacidité | hyperacidité
"""
