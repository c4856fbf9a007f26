"""Spanish as written in Spain, Mexico, South America and the United States: words and their senses.

Rows are `TERMINAL value flags : spellings` (see `lexicon`). Source: pharmacy practice, from memory. "por la noche" is with supper or at
bedtime, "por la tarde" afternoon or evening, "almuerzo" lunch or a mid-morning meal: each is asked where the country does not settle it.
"""

__all__ = ["GRAMMAR", "INSTRUCTIONS", "REASONS", "WORDS"]

GRAMMAR = """
%extend every: SLASH number TIMEUNIT -> slash_hours
%extend days: _pre? WEEKDAY DASH WEEKDAY (DASH WEEKDAY)+ -> weekday_list
%extend reason: AGAINST REASONW+
%extend for_how_long: _pre number TIMEUNIT COURSE -> for_number
    | _pre COURSE number TIMEUNIT -> for_number
    | FOR THE number TIMEUNIT COURSE -> for_number
    | FOR THE COURSE number TIMEUNIT -> for_number
%extend month_days: _pre? DAYNO number OF TIMEUNIT -> day_of_month
    | _pre? DAYNOS number ((COMMA | AND) number)+ OF (EVERY | THE)? TIMEUNIT -> of_month
    | (FROM | OF | IN) number OF (EVERY | THE)? TIMEUNIT -> day_of_month
%extend when: OF THE? MEAL -> meal
%declare AGAINST DAYNOS
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
UNIT tablet : gragea | grageas | cpr | cprs | comprimido (efervescente|masticable|recubierto|sublingual|bucodispersable)
UNIT tablet : comprimidos (efervescentes|masticables|recubiertos|bucodispersables) | compr | comprs | tabls
UNIT capsule : cápsula | cápsulas | cáps | cáp | cap | caps | cápsula(s)
UNIT pill : pastilla | pastillas | píldora | píldoras
UNIT lozenge : pastilla para chupar | pastillas para chupar
UNIT spray : pulverización | pulverizaciones
UNIT pessary : óvulo | óvulos
UNIT spoonful : (cucharadita|cucharaditas) de 5 ml | (medida|medidas) de 5 ml
UNIT measure : medida | medidas
UNIT mmol : mmol
UNIT piece : pieza | piezas
UNIT sachet : sobre | sobres | sobrecito | sobrecitos
UNIT patch : parche | parches
UNIT drop : gota | gotas
UNIT puff : inhalación | inhalaciones | puff | puffs | pulsación | pulsaciones
UNIT suppository : supositorio | supositorios
UNIT vial : vial | viales
UNIT ampoule : ampolla | ampollas | ampolla bebible | ampollas bebibles
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
TIMES : veces | vez | v | tomas
BY_X : x
ADVPERIOD 1/d a : diario | diaria | diarios | diarias | diariamente | a diario
ADVPERIOD 1/wk : semanal | semanales | semanalmente
ADVPERIOD 1/mo : mensual | mensualmente
EVERYX 2/d : días alternos | en días alternos | a días alternos | un día sí y otro no | un día sí, otro no | un día sí y un día no
EVERYX 2/d : un día de por medio | día por medio | cada tercer día mexicano | cada dos días | un día sí otro no | día sí día no
EVERYX 2/wk about : semanas alternas | en semanas alternas | una semana sí y otra no | una semana sí y una no
EVERYX 2/wk : cada dos semanas
EVERYX 3/mo : trimestral | trimestralmente | cada trimestre | al trimestre
EVERYX 6/mo : semestral | semestralmente | cada semestre
EVERYX 1/a : anual | anualmente
EVERYX 2/d : cada 2 días | un día sí, un día no | día sí, día no | día sí y día no | 1 día sí y otro no | 1 día sí 1 día no
# "cada 15 días" is said for every two weeks, "cada 8 días" for every week: asked.
EVERYX 15/d : cada (15|quince) (días|d) | cada quincena | quincenal | quincenalmente | c/15 días | c/ 15 días
EVERYX 2/wk : cada (15|quince) (días|d) | cada quincena | quincenal | quincenalmente | c/15 días | c/ 15 días
EVERYX 8/d : cada (8|ocho) (días|d) | c/8 días | c/ 8 días
EVERYX 1/wk : cada (8|ocho) (días|d) | c/8 días | c/ 8 días
EVERY : c/ | cada | todos los | todas las | q
EVERYX 3/d ask=read.abbreviation in=MX : cada tercer día
EVERYX 2/d ask=read.abbreviation in=MX : cada tercer día
ORD 1 : primero | 1º | primer
FIRST : primeros | primeras | primer
TIMEUNIT min : minuto | minutos | min
TIMEUNIT h : hora | horas | h | hs | hrs | hr
TIMEUNIT d : día | días | d
DAYNO : día | días
DAYNOS : días
TIMEUNIT wk : semana | semanas | sem
TIMEUNIT mo : mes | meses
TIMEUNIT a : año | años
HOURS : horas | h | hs | hrs

DAYPART MANANA : mañana
DAYPART MORN : mañanas
DAYPART HS : justo antes de (acostarse|dormir)
DAYPART MORN : primera hora de la mañana | a primera hora de la mañana | a primera hora
DAYPART HS : irse a la cama | irse a dormir | ir a dormir | a la hora de (dormir|acostarse|irse a dormir)
DAYPART NOON : del mediodía | mediodía | medio día | a mediodía | a medio día
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
MEAL D in=ES,MX : comida
MEAL D in=ES,MX ask=read.which-meals : comer
WHENX CD in=ES,MX : a la hora de comer
MEAL D not=ES,MX ask=read.word : comida | comer
MEAL D in=MX,AR,CL,CO,PE,EC,VE,UY,PY,BO,CR,GT,PA,DO,CU,US : almuerzo | almorzar
MEAL D not=MX,AR,CL,CO,PE,EC,VE,UY,PY,BO,CR,GT,PA,DO,CU,US ask=read.word : almuerzo | almorzar
MEAL V : cena | cenar
REL AC : antes (del|de la|de) | antes
REL PC : después (del|de la|de) | después | tras | tras el | tras la
REL C : a la hora de | a la hora del | a la hora de la | con | durante | en | junto con | con el | con la | en el | en la
MEALANY meals : comidas | las comidas | principales comidas | las principales comidas | comidas principales | las comidas principales
MEALSX AC : antes de las comidas principales | antes de las principales comidas
MEALSX PC : después de las comidas principales | después de las principales comidas
MEALSX C : con las comidas principales | con las principales comidas
EACHMEAL AC : antes de cada comida principal | antes de las 3 comidas
EACHMEAL PC : después de cada comida principal | después de las (3|tres) comidas
EACHMEAL C : con cada comida principal | en cada comida principal | con las (3|tres) comidas
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
WEEKDAY mon : lunes | lun | lun.
WEEKDAY tue : martes | mar | mar.
WEEKDAY wed : miércoles | mié | mié. | miér | miér.
WEEKDAY thu : jueves | jue | jue. | juev
WEEKDAY fri : viernes | vie | vie. | vier
WEEKDAY sat : sábado | sábados | sáb | sáb.
WEEKDAY sun : domingo | domingos | dom | dom.
WEEKDAYSET mon,wed,fri in=ES : l x v | l, x, v | l/x/v | l, x y v | l x y v | lxv
WEEKDAYSET tue,thu in=ES : m j | m y j | m/j | m, j
WEEKDAYSET mon,tue,wed,thu,fri in=ES : l a v | lmxjv | l m x j v
WEEKDAYSET mon,tue,wed,thu,fri : días hábiles
WEEKDAYSET mon,tue,wed,thu,fri,sat : días hábiles | días laborables
WEEKDAYSET sat,sun : fines de semana | fin de semana
WEEKDAYSET mon,tue,wed,thu,fri : días laborables | entre semana | días de semana
OTHERDAYS : los demás días | el resto de [los] días | el resto de la semana | los otros días | resto de días
EXCEPT : descansar los | descansar el | descansando el | descansando los | exceptuando los | menos los | salvo los | a excepción de
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
COURSE : siguientes | próximos | siguientes días
FOR : durante | por | x | por un período de | por espacio de | para | durante los próximos
OFF : descansar | descansando | descansa | de descanso | descanso | sin | de pausa | sin tomar
ONWORD : de tratamiento | tomando | de toma
STOPTAKING : suspender | parar | y suspender | y parar | y luego suspender | dejar de tomar
AGAIN : y repetir | repetir | y volver a empezar | y así sucesivamente | luego repetir | y luego repetir

WANTED : si precisa | si es necesario | si necesario | si lo necesita | si necesita | cuando sea necesario | según necesidad | a demanda
WANTED : en caso necesario | en caso de necesidad | prn | si es preciso | según sea necesario | si fuera necesario | cuando lo necesite
WANTED : sos | si se necesita | si fuese necesario
WANTEDFOR : si | en caso de | si hay | si tiene
STAT : inmediatamente | ahora | de inmediato | stat | ya
SINGLE at-once : en una sola toma | en una única toma | en una toma | de una vez
SINGLE : una sola vez | dosis única | en dosis única | toma única | en una sola dosis | una sola dosis
MAX : máximo | máx | no más de | no tomar más de | no exceder | no exceder de | no sobrepasar | sin superar | no superar
MAX : hasta un máximo de | dosis máxima | como máximo | máximo de | sin exceder | no superar los
CEILING : máximo | máx | como máximo | a lo sumo
ATLEAST : al menos | por lo menos | como mínimo | mínimo
TOTAL : total | en total | dosis total

VERB : empezar con | comenzar con | iniciar con | cambiar | pegar | colocar | tomar | tome | tómese | tomarse | administrar | dar | tragar
VERB : toma | ingerir | usar | aplicar | inyectar | inhalar | poner
VERB : chupar | masticar | utilizar | instilar | beber | tómelo | para tomar | disolver
ROUTE : por vía oral | vía oral | por la boca | oral | vo | v.o. | po | por boca | sublingual | bajo la lengua | debajo de la lengua
ROUTE : vía rectal | vía subcutánea
AGAINST : contra
SPLIT : en | repartidos en | repartidas en | repartido en | repartida en | dividido en | dividida en | divididos en | divididas en
SPLIT : a repartir en
SPLIT : fraccionado en | fraccionados en
INTAKE : tomas | dosis | veces | dosis iguales | tomas iguales | tomas diarias
ALSO : por toma | al mismo tiempo | preferiblemente | preferentemente | de preferencia | mejor | inclusive | incluido | aproximadamente
ALSO added : también
ALSO : solo | sólo
ALSO : solamente | regularmente | de forma continua | siempre
DIRECTED : según (indicación|indicaciones|prescripción|pauta|indicación médica|pauta médica|criterio médico|lo indicado|inr|protocolo)
DIRECTED : como (se le indicó|indicado|prescrito|le indicó su médico|indique su médico|le indique su médico)
DIRECTED : según indicaciones médicas | según instrucciones | según lo prescrito | según pauta adjunta
COND : si | salvo si | cuando | mientras | según | hasta que | en función | siempre que | < | > | < | > | ≤ | ≥ | a menos que
COND : hasta mejoría | hasta nueva orden | dependiendo
NEG : nunca | ningún | ninguno | sin | jamás | ninguna | no
STEP : aumentar | reducir | disminuir | subir | bajar | doblar | duplicar | aumentando | reduciendo | disminuyendo | ir bajando
STEP : pauta descendente
ASKED relative : hoy | ayer | esta noche | esta mañana | mañana por la mañana | mañana por la noche | la próxima semana | esta tarde
# "a las 12 horas" is noon, or twelve hours later: after "another" it is asked.
ASKED relative : (otro|otra) a las (2|3|4|6|8|12|24|48) horas | (otro|otra) a las (2|3|4|6|8|12|24|48) h
ASKED alternating : cada (otro|otra) (día|semana|mes) | (todos los otros|cada uno de los otros) días | todas las otras semanas
ASKED alternating : alternando | alternar | alternativamente
ASKED divided : repartidos | repartidas | en dosis divididas | repartir | en varias tomas
ASKED midnight : medianoche
ASKED both-sides : en cada (ojo|oído|fosa nasal) | en ambos (ojos|oídos) | en el ojo (derecho|izquierdo)
ASKED quantity : varios | varias | algunos | algunas | unas | unos
"""

INSTRUCTIONS = """
INSTR how : con comida | con un poco de comida | juntos | juntas
INSTR how : con [(un|1)] [(vaso|poco|vaso grande|vaso lleno)] de agua | con agua | con abundante agua | con mucha agua
INSTR fasting : en ayunas | con el estómago vacío
INSTR how : con un vaso lleno de agua | con o sin (alimentos|comida) | con leche | con algo de comida
INSTR how : sin (masticar|masticarlo|triturar|partir) [ni (masticar|triturar|partir)]
INSTR how : no (masticar|triturar|partir) [ni (masticar|triturar|partir)]
INSTR how : entero | entera | enteros | tragar entero | tragar entera | disuelto en (agua|un vaso de agua|medio vaso de agua)
INSTR how : disolver en (agua|un vaso de agua) | en un vaso de agua
INSTR : evitar (el alcohol|alcohol|el sol|la exposición al sol|el pomelo|conducir) | no (conducir|beber alcohol|tomar alcohol)
INSTR how : a la misma hora [todos los días] [cada día] | siempre a la misma hora
INSTR : puede (producir|causar|provocar) somnolencia
INSTR how : agitar antes de usar | agitar bien
INSTR : terminar el tratamiento | completar el tratamiento
INSTR how : sentado o de pie | tratamiento crónico | de forma indefinida
INSTR : no suspender sin consultar | no suspender bruscamente
INSTR how : con el estómago lleno | sin agua | con líquido | con abundante líquido | con un poco de agua | con alimentos
INSTR how : con comidas ligeras
INSTR how : sin romper | sin abrir | no (abrir|romper) | separado de las comidas
GONE : hasta (terminar|acabar|finalizar) [el tratamiento] [la caja]
INSTR how : lejos de las comidas | fuera de las comidas | sin alimentos | separado de (lácteos|antiácidos)
INSTR : evitar lácteos | no tomar con leche
INSTR : permanecer (sentado|de pie) [(sentado o de pie)] [30 minutos] | sin acostarse | no tumbarse | no acostarse
INSTR how : dejar disolver
INSTR how : disolver en la boca | bajo la lengua y dejar disolver | tomar con abundante agua | con un vaso lleno de agua
INSTR how : uso crónico | de por vida | con zumo | con zumo de naranja | con jugo | con jugo de naranja
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
REASONW : la inflamación | dolores | los dolores | dolor intenso | dolor fuerte | dolor leve | mucho dolor | dolor torácico | dolor de pecho
REASONW : dolor de garganta | dolor de espalda | dolor muscular | dolor articular | dolor de muelas | dolor abdominal | cefalea | la cefalea
REASONW : malestar | malestar general | gases | los gases | picor | el picor | picazón | alergias | las alergias | congestión
REASONW : la congestión
REASONW : la diarrea | los vómitos | los mareos | el mareo | vértigo | el vértigo | los calambres | los espasmos | crisis
REASONW : crisis de ansiedad
REASONW : la anemia | la diabetes | la artrosis | la depresión | la epilepsia | la fiebre alta | fiebre alta | temblor | el temblor
REASONW : nerviosismo | angustia | la angustia | los nervios | los huesos | la osteoporosis | osteoporosis | el párkinson | parkinson
REASONW : el reuma | reuma | retención de líquidos | la retención de líquidos | ardor | el ardor | ardor de estómago | presión alta
REASONW : tensión alta | la tensión alta | crisis de gota | ahogo | falta de aire
"""
