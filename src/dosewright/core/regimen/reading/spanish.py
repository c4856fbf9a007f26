"""Spanish as written in Spain, Mexico, South America and the United States: words and their senses.

Rows are `TERMINAL value flags : spellings` (see `lexicon`). Source: pharmacy practice, from memory. "por la noche" is with supper or at
bedtime, "por la tarde" afternoon or evening, "almuerzo" lunch or a mid-morning meal: each is asked where the country does not settle it.
"""

__all__ = ["GRAMMAR", "INSTRUCTIONS", "REASONS", "WORDS"]

GRAMMAR = """
%extend clock: AT number HOURS -> at_hour
    | AT number HOURS AMPM -> hour_half
"""

WORDS = """
AND : y | e | &
OR : o | u
COMMA : ,
STOP : . | !
SEMI : ;
COLON : : | =
DASH : -
LPAR : (
RPAR : )
PLUS : + | más
THEN : [y] luego | [y] después | posteriormente | a continuación | seguido de | y a continuación
BUT : pero
SLASH : /

NUMW 1 : un | una | uno | otro | otra
NUMW 2 : dos
NUMW 3 : tres
NUMW 4 : cuatro
NUMW 5 : cinco
NUMW 6 : seis
NUMW 7 : siete
NUMW 8 : ocho
NUMW 9 : nueve
NUMW 10 : diez
NUMW 11 : once
NUMW 12 : doce
NUMW 14 : catorce
NUMW 15 : quince
NUMW 20 : veinte
NUMW 21 : veintiuno | veintiún
NUMW 24 : veinticuatro
NUMW 28 : veintiocho
NUMW 30 : treinta
NUMW 48 : cuarenta y ocho
FRACW 1/2 : medio | media | la mitad de un | la mitad de una | mitad de un
FRACW 1/4 : un cuarto de | cuarto de | una cuarta parte de un | un cuarto
FRACW 3/4 : tres cuartos de | tres cuartos
TO : a
UPTO : hasta | como máximo | un máximo de
PER : por | al | a la
THE : el | la | los | las | su
OF : de | del | de un ciclo de | de cada ciclo de

UNIT tablet : comprimido | comprimidos | comp | comps | cp | tableta | tabletas | tab | tabs | tabl | comprimido(s) | tableta(s)
UNIT tablet : gragea | grageas
UNIT capsule : cápsula | cápsulas | cáps | cáp | cap | caps | cápsula(s)
UNIT pill : pastilla | pastillas | píldora | píldoras
UNIT sachet : sobre | sobres | sobrecito | sobrecitos
UNIT patch : parche | parches
UNIT drop : gota | gotas
UNIT puff : inhalación | inhalaciones | puff | puffs | pulsación | pulsaciones
UNIT suppository : supositorio | supositorios
UNIT ampoule : ampolla | ampollas
UNIT teaspoonful : cucharadita | cucharaditas
UNIT tablespoonful : cucharada | cucharadas
UNIT application : aplicación | aplicaciones
UNIT dose : dosis
UNIT unit : unidad | unidades
UNIT unit ask=read.unit-abbreviation : u | ui
UNIT mg : mg | miligramo | miligramos
UNIT microgram : microgramo | microgramos | mcg
UNIT microgram note=read.error-prone : µg | μg | ug
UNIT g : g | gramo | gramos | gr
UNIT mL : ml | mililitro | mililitros
UNIT mL note=read.error-prone : cc

ADVTIMES 1 : una sola vez | una única vez
TIMES : veces | vez
BY_X : x
ADVPERIOD 1/d a : diario | diaria | diarios | diarias | diariamente | a diario
ADVPERIOD 1/wk : semanal | semanales | semanalmente
ADVPERIOD 1/mo : mensual | mensualmente
EVERYX 2/d : días alternos | en días alternos | a días alternos | un día sí y otro no | un día sí, otro no | un día sí y un día no
EVERYX 2/d : un día de por medio | día por medio | cada tercer día mexicano | cada dos días | un día sí otro no | día sí día no
EVERYX 2/wk : cada quincena | semanas alternas | en semanas alternas
EVERY : c/ | cada | todos los | todas las
EVERYX 3/d ask=read.abbreviation in=MX : cada tercer día
EVERYX 2/d ask=read.abbreviation in=MX : cada tercer día
ORD 1 : primero | 1º | primer
FIRST : primeros | primeras
TIMEUNIT min : minuto | minutos | min
TIMEUNIT h : hora | horas | h | hs | hrs | hr
TIMEUNIT d : día | días | d
DAYNO : día | días
TIMEUNIT wk : semana | semanas | sem
TIMEUNIT mo : mes | meses
TIMEUNIT a : año | años
HOURS : horas | h | hs | hrs

DAYPART MANANA : mañana
DAYPART MORN : mañanas
DAYPART NOON : mediodía | medio día
DAYPART EVE : atardecer | anochecer
DAYPART HS : acostarse | acostarte | antes de (acostarse|dormir|ir a la cama|irse a dormir|ir a dormir) | al ir a dormir
DAYPART HS : al ir a la cama | hora de dormir | la hora de dormir | la hora de acostarse | hora de acostarse | momento de acostarse
DAYPART HS : el momento de acostarse
DAYPART TARDE : tarde | tardes
DAYPART NOCHE : noche | noches
DAYPART WAKE : levantarse | despertar | despertarse | levantarte
WHENX MORN 1 : todas las mañanas
AMPM am : am | a. m. | de la mañana
AMPM pm : pm | p. m. | de la tarde | de la noche
MEAL M : desayuno | desayunar
MEAL D in=ES,MX : comida | comer
MEAL D not=ES,MX ask=read.word : comida | comer
MEAL D in=MX,AR,CL,CO,PE,EC,VE,UY,PY,BO,CR,GT,PA,DO,CU,US : almuerzo | almorzar
MEAL D not=MX,AR,CL,CO,PE,EC,VE,UY,PY,BO,CR,GT,PA,DO,CU,US ask=read.word : almuerzo | almorzar
MEAL V : cena | cenar
REL AC : antes (del|de la|de) | antes
REL PC : después (del|de la|de) | después | tras | tras el | tras la
REL C : con | durante | en | junto con | con el | con la | en el | en la
MEALANY meals : comidas | las comidas | principales comidas | las principales comidas
MEALANY food : alimentos | alimento | los alimentos | comida alguna | algo de comida | comer algo
MEALSX AC : antes de las comidas | antes de comidas
MEALSX PC : después de las comidas | tras las comidas | después de comidas
MEALSX C : con las comidas | en las comidas | durante las comidas | con comidas
EACHMEAL AC : antes de cada comida | antes de las tres comidas | antes de las principales comidas
EACHMEAL PC : después de cada comida | tras cada comida
EACHMEAL C : con cada comida | en cada comida
AT : a las | a la | sobre las
IN : por la | por las | en la | en las | en | al | a la | por
ON : los | el | las
WEEKDAY mon : lunes | lun
WEEKDAY tue : martes | mar
WEEKDAY wed : miércoles | mié
WEEKDAY thu : jueves | jue
WEEKDAY fri : viernes | vie
WEEKDAY sat : sábado | sábados | sáb
WEEKDAY sun : domingo | domingos | dom
WEEKDAYSET sat,sun : fines de semana | fin de semana
WEEKDAYSET mon,tue,wed,thu,fri : días laborables | entre semana | días de semana
OTHERDAYS : los demás días | el resto de [los] días | el resto de la semana | los otros días | resto de días
EXCEPT : excepto | salvo | menos | no tomar | pero no | no | exceptuando | descansar | excepto los | descanso | excluyendo | descansando
UNTIL : hasta el | hasta | hasta el día
FROM : a partir del | desde el | empezando el | a partir de | desde | comenzando el | del | iniciar el
MONTHNAME 1 : enero | de enero de | de enero del
MONTHNAME 2 : febrero | de febrero de | de febrero del
MONTHNAME 3 : marzo | de marzo de | de marzo del
MONTHNAME 4 : abril | de abril de | de abril del
MONTHNAME 5 : mayo | de mayo de | de mayo del
MONTHNAME 6 : junio | de junio de | de junio del
MONTHNAME 7 : julio | de julio de | de julio del
MONTHNAME 8 : agosto | de agosto de | de agosto del
MONTHNAME 9 : septiembre | de septiembre de | de septiembre del | setiembre
MONTHNAME 10 : octubre | de octubre de | de octubre del
MONTHNAME 11 : noviembre | de noviembre de | de noviembre del
MONTHNAME 12 : diciembre | de diciembre de | de diciembre del
TO : al | hasta el
CYCLE : ciclo
FOR : durante | por | x | por un período de | por espacio de | para | durante los próximos
OFF : de descanso | descanso | sin | de pausa | sin tomar
ONWORD : de tratamiento | tomando | de toma
STOPTAKING : suspender | parar | y suspender | y parar | y luego suspender | dejar de tomar
AGAIN : y repetir | repetir | y volver a empezar | y así sucesivamente | luego repetir | y luego repetir

WANTED : si precisa | si es necesario | si necesario | si lo necesita | si necesita | cuando sea necesario | según necesidad | a demanda
WANTED : en caso necesario | en caso de necesidad | prn | si es preciso | según sea necesario | si fuera necesario | cuando lo necesite
WANTED : sos | si se necesita | si fuese necesario
WANTEDFOR : si | en caso de | si hay | si tiene
STAT : inmediatamente | ahora | de inmediato | stat | ya
SINGLE at-once : en una sola toma | en una única toma | en una toma | de una vez
SINGLE : dosis única | en dosis única | toma única | en una sola dosis | una sola dosis
MAX : máximo | máx | no más de | no tomar más de | no exceder | no exceder de | no sobrepasar | sin superar | no superar
MAX : hasta un máximo de | dosis máxima | como máximo | máximo de | sin exceder | no superar los
TOTAL : total | en total | dosis total

VERB : tomar | tome | tómese | tomarse | administrar | dar | tragar | toma | ingerir | usar | aplicar | inyectar | inhalar | poner
VERB : chupar | masticar | utilizar | instilar | beber | tómelo | para tomar | disolver
ROUTE : por vía oral | vía oral | por la boca | oral | vo | v.o. | po | por boca | sublingual | bajo la lengua | debajo de la lengua
ROUTE : vía rectal | vía subcutánea
ALSO : aproximadamente | también | solo | sólo | solamente | regularmente | de forma continua | siempre
DIRECTED : según (indicación|indicaciones|prescripción|pauta|indicación médica|pauta médica|criterio médico|lo indicado|inr|protocolo)
DIRECTED : como (se le indicó|indicado|prescrito|le indicó su médico|indique su médico|le indique su médico)
DIRECTED : según indicaciones médicas | según instrucciones | según lo prescrito | según pauta adjunta
COND : si | salvo si | cuando | mientras | según | hasta que | en función | siempre que | < | > | < | > | ≤ | ≥ | a menos que
COND : hasta mejoría | hasta nueva orden | dependiendo
NEG : nunca | ningún | ninguno | sin | jamás | ninguna | no
STEP : aumentar | reducir | disminuir | subir | bajar | doblar | duplicar | aumentando | reduciendo | disminuyendo | ir bajando
STEP : pauta descendente
ASKED relative : hoy | ayer | esta noche | esta mañana | mañana por la mañana | mañana por la noche | la próxima semana | esta tarde
ASKED alternating : alternando | alternar | alternativamente
ASKED divided : repartidos | repartidas | en dosis divididas | repartir | en 2 tomas | en 3 tomas | en dos tomas | en tres tomas
ASKED divided : dividido en | divididos en
ASKED midnight : medianoche
ASKED both-sides : en cada (ojo|oído|fosa nasal) | en ambos (ojos|oídos) | en el ojo (derecho|izquierdo)
ASKED quantity : varios | varias | algunos | algunas | unas | unos
"""

INSTRUCTIONS = """
INSTR : con comida | con un poco de comida | juntos | juntas
INSTR : con [(un|1)] [(vaso|poco|vaso grande|vaso lleno)] de agua | con agua | con abundante agua | con mucha agua
INSTR : con un vaso lleno de agua | en ayunas | con el estómago vacío | con o sin (alimentos|comida) | con leche | con algo de comida
INSTR : sin (masticar|masticarlo|triturar|partir) [ni (masticar|triturar|partir)]
INSTR : no (masticar|triturar|partir) [ni (masticar|triturar|partir)]
INSTR : entero | entera | enteros | tragar entero | tragar entera | disuelto en (agua|un vaso de agua|medio vaso de agua)
INSTR : disolver en (agua|un vaso de agua) | en un vaso de agua
INSTR : evitar (el alcohol|alcohol|el sol|la exposición al sol|el pomelo|conducir) | no (conducir|beber alcohol|tomar alcohol)
INSTR : puede (producir|causar|provocar) somnolencia | a la misma hora [todos los días] [cada día] | siempre a la misma hora
INSTR : agitar antes de usar | agitar bien | terminar el tratamiento | completar el tratamiento
INSTR : no suspender sin consultar | no suspender bruscamente | sentado o de pie | tratamiento crónico | de forma indefinida
INSTR : uso crónico | de por vida | con zumo | con zumo de naranja | con jugo | con jugo de naranja
"""

REASONS = """
REASONW : dolor | el dolor | fiebre | la fiebre | hipertensión | la hipertensión | tensión | la tensión | presión | la presión
REASONW : presión arterial | la presión arterial | tensión arterial | la tensión arterial | presión alta | corazón | el corazón
REASONW : colesterol | el colesterol | diabetes | la diabetes | azúcar | el azúcar | dormir | insomnio | el insomnio | sueño | el sueño
REASONW : ansiedad | la ansiedad | náuseas | las náuseas | vómitos | estreñimiento | el estreñimiento | diarrea
REASONW : estómago | el estómago | reflujo | el reflujo | acidez | la acidez | tiroides | el tiroides | la tiroides | migraña
REASONW : la migraña | dolor de cabeza | tos | la tos | alergia | la alergia | asma | el asma | infección | la infección | gota úrica
REASONW : la gota | artrosis | la artritis | epilepsia | depresión | la depresión | próstata | la próstata | anemia | hierro
REASONW : prevención | agitación | proteger el estómago | la circulación | espasmos | calambres | mareo | mareos | inflamación
REASONW : la inflamación
"""
