"""German as written in Germany, Austria and Switzerland: words and their senses.

Rows are `TERMINAL value flags : spellings` (see `lexicon`). Places of 1-0-1-0: German national medication plan (morning, noon, evening,
night). The rest: pharmacy practice, from memory.
"""

__all__ = ["GRAMMAR", "INSTRUCTIONS", "REASONS", "WORDS"]

GRAMMAR = """
%extend for_how_long: number TIMEUNIT LONG -> for_number
    | FOR number TIMEUNIT LONG -> for_number
    | A TIMEUNIT LONG -> for_one
    | (THE | FOR) COURSE number TIMEUNIT -> for_number
%extend month_days: _pre? DAYNO number EVERY TIMEUNIT -> day_of_month
    | (IN | ON | EVERY | THE)? number DOTMONTH -> of_month
    | (IN | ON | EVERY | THE)? number (DOTCOMMA number)* DOTAND number DOTMONTH -> of_month
    | FROM number DOTTO number DOTMONTH -> of_month_run
%extend clock: AT number HOURS -> at_hour
%extend cycle_days: (IN | ON | THE) number DOTDAY -> on_day
%extend every: (SLASH | PER) number TIMEUNIT -> slash_hours
%extend days: _pre? WEEKDAY DASH WEEKDAY (DASH WEEKDAY)+ -> weekday_list
%extend reason: AGAINST REASONW+
%declare LONG DOTMONTH DOTDAY DOTAND DOTTO DOTCOMMA AGAINST
"""

WORDS = """
AND : und | & | u | sowie
OR : oder
COMMA : ,
STOP : . | !
SEMI : ;
COLON : : | =
DASH : -
LPAR : (
RPAR : )
PLUS : +
THEN : [und] dann | danach | anschließend | anschliessend | gefolgt von | und danach | und anschließend | daraufhin
BUT : aber
SLASH : /

NUMW 1 : ein | eine | einen | einer | eins
NUMW 2 : zwei
NUMW 3 : drei
NUMW 4 : vier
NUMW 5 : fünf
NUMW 6 : sechs
NUMW 7 : sieben
NUMW 8 : acht
NUMW 9 : neun
NUMW 10 : zehn
NUMW 11 : elf
NUMW 12 : zwölf
NUMW 13 : dreizehn
NUMW 14 : vierzehn
NUMW 15 : fünfzehn
NUMW 16 : sechzehn
NUMW 18 : achtzehn
NUMW 20 : zwanzig
NUMW 21 : einundzwanzig
NUMW 24 : vierundzwanzig
NUMW 28 : achtundzwanzig
NUMW 30 : dreißig
NUMW 48 : achtundvierzig
FRACW 1/2 : halb | halbes | halber | ein halbes | ein halber | halbe | halben | eine halbe | einer halben | eine halbe von
FRACW 1/2 : die Hälfte einer
FRACW 3/2 : anderthalb | eineinhalb
FRACW 5/2 : zweieinhalb
FRACW 7/2 : dreieinhalb
FRACW 1/4 : viertel | eine viertel | ein viertel | eine vierteltablette
FRACW 3/4 : dreiviertel | drei viertel | eine dreiviertel
TO : bis | bis zu
UPTO : bis | bis zu | höchstens | maximal bis zu
PER : pro | je | am
THE : der | die | das | dem | den | des
OF : von | je | à | zu je | des
OFSIZE : zu | mit | a
A : ein | eine | einen

UNIT tablet : tablette | tabletten | tbl | tabl | tab | tablette(n) | filmtablette | filmtabletten | ftbl | brausetablette
UNIT tablet : ganze tablette | ganze tabletten | ganzen tabletten | ganze tbl
UNIT tablet : brausetabletten | retardtablette | retardtabletten
UNIT capsule : kapsel | kapseln | kps | kaps | kapsel(n) | hartkapsel | hartkapseln
UNIT tablet : dragée | dragées | dragee | dragees | drg
UNIT vial : durchstechflasche | durchstechflaschen | fläschchen
UNIT pessary : vaginalzäpfchen | ovulum | ovula
UNIT spoonful : löffel zu 5 ml
UNIT mmol : mmol
UNIT pill : pille | pillen
UNIT lozenge : lutschtablette | lutschtabletten
UNIT sachet : beutel | sachet | sachets | btl
UNIT patch : pflaster
UNIT drop : tropfen | tr | gtt
UNIT puff : hub | hübe | inhalation | inhalationen
UNIT spray : sprühstoß | sprühstöße
UNIT suppository : zäpfchen | supp
UNIT ampoule : ampulle | ampullen
UNIT teaspoonful : teelöffel | tl
UNIT tablespoonful : esslöffel | el
UNIT measure : messlöffel | messbecher
UNIT application : anwendung | anwendungen
UNIT dose : dosis | dosen
UNIT piece : stück | stk | st
UNIT unit : einheit | einheiten
UNIT unit ask=read.unit-abbreviation : e | ie | i.e.
UNIT mg : mg | milligramm
UNIT microgram : mikrogramm | mcg
UNIT microgram note=read.error-prone : µg | μg | ug
UNIT g : g | gramm
UNIT mL : ml | milliliter

ADVTIMES 1 : einmal | ein mal
ADVTIMES 2 : zweimal | zwei mal
ADVTIMES 3 : dreimal | drei mal
ADVTIMES 4 : viermal | vier mal
ADVTIMES 5 : fünfmal
ADVTIMES 6 : sechsmal
ADVTIMES 7 : siebenmal
ADVTIMES 8 : achtmal
ADVTIMES 9 : neunmal
ADVTIMES 10 : zehnmal
ADVTIMES 11 : elfmal
ADVTIMES 12 : zwölfmal
BY_X : x | mal
ADVPERIOD 1/d a : täglich | tgl | tägl | taeglich
ADVPERIOD 1/d a ask=read.word : tags
ADVPERIOD 1/wk : wöchentlich | wö
ADVPERIOD 1/wk a : pro woche | die woche | in der woche
ADVPERIOD 1/mo : monatlich | pro monat | im monat
EVERYX 2/d : jeden zweiten tag | jeden 2. tag | jeden 2 tag | alle zwei tage | alle 2 tage | alle 2 tg | an jedem zweiten tag
EVERYX 3/mo : vierteljährlich | quartalsweise | jedes quartal
EVERYX 6/mo : halbjährlich | jedes halbe jahr
EVERYX 1/a : jährlich | einmal jährlich | einmal im jahr | pro jahr
EVERYX 3/d : jeden dritten tag | jeden 3. tag | alle drei tage | jeden 3 tag
EVERYX 4/d : jeden vierten tag | jeden 4. tag
EVERYX 2/d : jeden 2.tag | jd. 2. tag | alle 2 tage einmal | jeweils jeden zweiten tag
# "alle 8 Tage" is said for every week: asked.
EVERYX 8/d : alle (8|acht) tage
EVERYX 1/wk : alle (8|acht) tage
DOTMONTH : . (des|jedes|eines jeden|eines jedes|jeden|im|d.|d) (monats|monat) | . monatstag
DOTAND : . und | . und am | . u | . u.
AND : . und | . u
DOTCOMMA : . ,
COMMA : . ,
DOTTO : . bis | . bis zum
UNTIL : . bis | . bis zum
DOTDAY : . tag | . einnahmetag | . behandlungstag
EVERYX 2/wk : zweiwöchentlich | vierzehntägig | 14-tägig
EVERYX 2/wk about-once : jede zweite woche | jede 2. woche | jede 2 woche
EVERYX 2/wk about : eine woche ja, eine woche nein
EVERYX 1/d : jeden tag | jeden tg
EVERYX 1/wk : jede woche | einmal wöchentlich eine
EVERY : alle | jeden | jede | jedes | je | an jedem
HOURLY : stündlich | stdl | stündl
ORD 2 : zweiten | zweite
ORD 3 : dritten
FIRST : ersten
COURSE : nächsten | folgenden | darauffolgenden
TIMEUNIT min : minute | minuten | min
TIMEUNIT h : stunde | stunden | std | h | stdn
TIMEUNIT d : tag | tage | tagen | d | tg
DAYNO : tag | tage | an tag | an den tagen
TIMEUNIT wk : woche | wochen | wo | wö
TIMEUNIT mo : monat | monate | monaten | monats
TIMEUNIT a : jahr | jahre
LONG : lang | hindurch | über
HOURS : uhr | h
OCLOCK : uhr

DAYPART MANANA : morgen
DAYPART MORN : mo | mo. | morg. | morg | vormittag | morgens | am morgen | früh | vormittags | frühmorgens | am morgen | mo. früh
DAYPART MORN : in der früh | in der frühe | der früh
DAYPART NOON : mittags | mittag | mi | mi.
DAYPART EVE : abds. | abds | abends | abend
DAYPART AFT : nachmittags | nachmittag
DAYPART HS : z. nacht | zur n. | spät abends vor dem schlafengehen | vor der nachtruhe | zum einschlafen
DAYPART HS : unmittelbar vor dem schlafengehen | direkt vor dem schlafengehen | kurz vor dem schlafengehen
WHENX HS ask=read.night : in der nacht
DAYPART HS : zur nacht | nachts | nacht | zum schlafen | vor dem (schlafengehen|schlafen|zubettgehen|einschlafen)
DAYPART HS : beim (schlafengehen|zubettgehen) | zum schlafengehen | vorm schlafengehen | vor dem zu bett gehen | vorm schlafen
DAYPART HS : zur schlafenszeit
DAYPART WAKE : nach dem (aufstehen|aufwachen|erwachen) | beim aufstehen | nüchtern nach dem aufstehen
WHENX MORN 1 : jeden morgen | jeden vormittag
WHENX EVE 1 : jeden abend
WHENX HS 1 : jede nacht
WHENX NOON 1 : jeden mittag
MEAL M : frühstück
MEAL D : mittagessen | mittagsmahlzeit
MEAL V : abendessen | abendbrot | nachtessen | abendmahlzeit | nachtmahl
REL AC : vor | vor dem | vorm | (unmittelbar|direkt|kurz) (vor|vor dem)
REL PC : nach | nach dem | (unmittelbar|direkt|kurz) (nach|nach dem)
REL C : zum | beim | mit dem | zu | während | zur | mit | während des
MEALANY meals : mahlzeiten | den mahlzeiten | hauptmahlzeiten | den hauptmahlzeiten
MEALANY food : essen | einer mahlzeit | dem essen | nahrung | etwas nahrung | mahlzeit | der mahlzeit | etwas essen
EACHMEAL AC : vor jeder mahlzeit | vor jeder hauptmahlzeit | vor den (3|drei) hauptmahlzeiten | vor jedem essen
EACHMEAL PC : nach jeder mahlzeit | nach jeder hauptmahlzeit | nach den (3|drei) hauptmahlzeiten | nach jedem essen
EACHMEAL C : zu jeder mahlzeit | mit jeder mahlzeit | zu jeder hauptmahlzeit | zu den (3|drei) hauptmahlzeiten | zu jedem essen
AT : um | gegen
IN : in | innerhalb von | am | im | zum | in der | binnen
ON : am | an
WEEKDAY mon : montag | montags | mo | mo.
WEEKDAY tue : dienstag | dienstags | di | di. | die.
WEEKDAY wed : mittwoch | mittwochs | mi | mi.
WEEKDAY thu : donnerstag | donnerstags | do | do. | don.
WEEKDAY fri : freitag | freitags | fr | fr.
WEEKDAY sat : samstag | samstags | sonnabend | sonnabends | sa | sa.
WEEKDAY sun : sonntag | sonntags | so | so.
WEEKDAYSET sat,sun : wochenende | wochenenden | am wochenende | an wochenenden
WEEKDAYSET mon,tue,wed,thu,fri : werktags | wochentags | an werktagen | unter der woche
WEEKDAYSET mon,tue,wed,thu,fri,sat : werktags | wochentags | an werktagen
OTHERDAYS : an den anderen tagen | an den übrigen tagen | übrige tage | an allen anderen tagen | sonst | an den restlichen tagen
EXCEPT : außer | ausser | nicht | ausgenommen | außer am | mit ausnahme von | außer an | jedoch nicht | aber nicht | nicht am
UNTIL : letzte einnahme am | letzte gabe am | bis | bis zum | bis einschließlich | bis inklusive
FROM : ab | ab dem | beginnend am | vom | von | beginn | start | beginn am | ab dem
MONTHNAME 1 : januar | jänner | . januar | . jänner
MONTHNAME 2 : februar | . februar
MONTHNAME 3 : märz | . märz
MONTHNAME 4 : april | . april
MONTHNAME 5 : mai | . mai
MONTHNAME 6 : juni | . juni
MONTHNAME 7 : juli | . juli
MONTHNAME 8 : august | . august
MONTHNAME 9 : september | . september
MONTHNAME 10 : oktober | . oktober
MONTHNAME 11 : november | . november
MONTHNAME 12 : dezember | . dezember
TO : bis zum
CYCLE : zyklus
FOR : für | über | x | während | für insgesamt | für die nächsten | für die dauer von
OFF : pause | frei | einnahmefrei | absetzen | einnahmepause | keine einnahme | aussetzen
ONWORD : einnahme | einnehmen | nehmen
STOPTAKING : stopp | stop | absetzen | dann absetzen | dann stopp | und dann absetzen | beenden | dann beenden
AGAIN : wiederholen | und wiederholen | dann wiederholen | und so weiter | dann wieder von vorn | usw | von vorn beginnen

WANTED : bei bedarf | bei bed | b bed | bb | b.b. | b. bedarf | wenn nötig | falls nötig | falls erforderlich | bedarfsweise
WANTED : nach bedarf | im bedarfsfall | bedarf | wenn erforderlich | prn
WANTED : b. b. | b.b. | b. bed. | b.bed. | b. bedarf | nur bei bedarf | wenn benötigt | falls benötigt
WANTED in=CH : in reserve | als reserve | reserve | i.r. | i. r.
WANTEDFOR either : bei | bei starken
AGAINST : gegen | wegen
STAT : sofort | jetzt | umgehend | stat
SINGLE at-once : auf einmal | in einer gabe | in einer einzelgabe
SINGLE : nur einmal | einmal insgesamt | als einmalige dosis | einmalig | als einzeldosis | als einmaldosis | als einmalgabe
SINGLE : als einmalige gabe
MAX : maximal | max | höchstens | nicht mehr als | höchstdosis | maximaldosis | bis maximal | bis max | tageshöchstdosis
MAX : maximale tagesdosis
CEILING : maximal | max | höchstens
ATLEAST : mindestens | wenigstens
TOTAL : gesamt | insgesamt | gesamtdosis | tagesdosis

VERB : wechseln | bitte | bitte nehmen sie | bitte nehmen | einnehmen | nehmen | nehmen sie | nimm | einnahme | einzunehmen | geben
VERB : schlucken | anwenden | auftragen | lutschen | kauen
VERB : inhalieren | spritzen | dosierung | kleben | aufkleben | bitte einnehmen | tropfen geben | eingenommen | zu nehmen | genommen
VERB : verabreichen | trinken
PARTICLE : ein
ROUTE : oral | per os | po | p.o. | peroral | durch den mund | sublingual | unter die zunge | rektal | s.c. | sc | subkutan | i.m. | i.v.
SPLIT : auf | in | verteilt auf | aufgeteilt auf | aufgeteilt in | verteilt in | verteilt | aufgeteilt | geteilt in
INTAKE : gaben | einzeldosen | einzelgaben | dosen | einnahmen | einnahmezeitpunkte | portionen | teildosen
ALSO : pro einnahme | pro gabe | gleichzeitig | zusammen | immer | bevorzugt | vorzugsweise | am besten | möglichst | je | jeweils | etwa
ALSO : ca | circa | genau | nur | regelmäßig | regelmässig
ALSO added : auch
ALSO : ungefähr | dauerhaft
DIRECTED : nach (anweisung|plan|vorschrift|schema|inr|rücksprache|vorgabe|absprache|ärztlicher anweisung|ärztlicher verordnung|einnahmeplan)
DIRECTED : laut (plan|anweisung|arzt|schema|medikationsplan|einnahmeplan|verordnung)
DIRECTED : wie (verordnet|besprochen|vom arzt verordnet|vorgeschrieben|bekannt|angewiesen)
DIRECTED : gemäß (plan|anweisung|schema|verordnung|anordnung) | siehe plan | lt plan | nach ärztlicher anordnung | dj | nach wert
COND : wenn | falls | sofern | solange | sobald | abhängig | je nach | < | > | < | > | ≤ | ≥ | bis zur besserung | bis auf weiteres
COND : nur wenn | vorausgesetzt | es sei denn | bei
NEG : kein | keine | nie | niemals | ohne | nicht | keinesfalls
STEP : erhöhen | steigern | reduzieren | verringern | verdoppeln | ausschleichen | einschleichen | absenken | steigernd | halbieren
STEP : senken | reduzierend | schrittweise
ASKED relative : so früh | heute | gestern | morgen früh | übermorgen | heute abend | nächste woche
ASKED alternating : abwechselnd | alternierend | im wechsel
ASKED divided : verteilt | aufgeteilt | in geteilten dosen | auf mehrere gaben | über den tag verteilt
ASKED midnight : mitternacht
ASKED both-sides : in (jedes|beide) (auge|augen|ohr|ohren|nasenloch) | in das (rechte|linke) auge
ASKED quantity : einige | mehrere | ein paar | paar
"""

INSTRUCTIONS = """
INSTR how : mit [(einem|1|etwas|reichlich|ausreichend|viel|einem großen|einem vollen|einem grossen)] [glas] [leitungs]wasser
INSTR how : mit etwas flüssigkeit | mit reichlich flüssigkeit | mit ausreichend flüssigkeit | mit viel flüssigkeit | mit flüssigkeit
INSTR how : unzerkaut | unzerkaut schlucken | unzerkaut mit (wasser|einem glas wasser|reichlich wasser|flüssigkeit|etwas wasser)
INSTR fasting : nüchtern | auf nüchternen magen | auf leeren magen
INSTR how : unabhängig von den mahlzeiten | unabhängig vom essen
INSTR how : nicht (kauen|zerkauen|zerkleinern|teilen|zermörsern|mörsern) [oder (kauen|zerkauen|zerkleinern|teilen)] | ganz schlucken
INSTR how : als ganzes schlucken | im ganzen schlucken | in wasser (auflösen|aufgelöst|gelöst)
INSTR how : in einem glas wasser (auflösen|aufgelöst|gelöst) | aufgelöst in wasser | aufgelöst in einem glas wasser
INSTR how : in etwas wasser aufgelöst
INSTR : kein alkohol | alkohol meiden | keine milch | nicht mit milch | kann müde machen | macht müde
INSTR : sonne meiden
INSTR how : immer zur gleichen zeit | zur gleichen zeit | immer zur selben zeit | zur gleichen uhrzeit | vor gebrauch schütteln
INSTR how : gut schütteln | im sitzen oder stehen | aufrecht | aufrecht bleiben | dauermedikation | dauertherapie
INSTR how : unter der zunge zergehen lassen
GONE : bis zum ende einnehmen | packung aufbrauchen
INSTR : kühl lagern | kühlschrank
INSTR how : (v.|v) d. (e.|essen) | v.d.e. | vor d. essen | (n.|n) d. (e.|essen) | n.d.e. | nach d. essen | z. d. mahlzeiten
INSTR how : zu d. mahlzeiten
INSTR how : auf dauer | in wasser | in etwas wasser | in einem glas wasser | mit milch | mit saft | mit orangensaft
INSTR how : mit einem schluck wasser
INSTR how : zu den mahlzeiten hinzu
INSTR how : mit einer mahlzeit | mit etwas nahrung | mit nahrung | mit vollem magen | mit einem vollen glas wasser | nicht öffnen
INSTR how : nicht lutschen
INSTR how : ohne zu kauen | nicht zerbeißen | im ganzen | als ganzes
GONE : bis zum packungsende | bis packungsende | bis zum ende der packung
INSTR : nicht mit (milch|milchprodukten|grapefruitsaft) | abstand zu (milchprodukten|antazida) | nicht zusammen mit milch
INSTR : nicht hinlegen | mindestens 30 minuten aufrecht bleiben | danach 30 minuten nicht hinlegen | danach nicht hinlegen
INSTR how : auflösen
INSTR how : im mund zergehen lassen | zum essen trinken
INSTR : nicht plötzlich absetzen
"""

REASONS = """
REASONW : schmerzen | schmerz | fieber | kopfschmerzen | rückenschmerzen | gelenkschmerzen | starken schmerzen | bluthochdruck
REASONW : blutdruck | den blutdruck | hohen blutdruck | hoher blutdruck | herz | das herz | herzschwäche | cholesterin | diabetes
REASONW : blutzucker | den blutzucker | schlafstörungen | schlaf | angst | unruhe | übelkeit | erbrechen | schwindel | verstopfung
REASONW : durchfall | magen | den magen | magenschutz | als magenschutz | sodbrennen | reflux | schilddrüse | die schilddrüse | migräne
REASONW : husten | allergie | allergien | asthma | infektion | entzündung | gicht | arthrose | epilepsie | depression | depressionen
REASONW : prostata | eisenmangel | blutverdünnung | zur blutverdünnung | schlaganfall | vorbeugung | krämpfe | krämpfen | muskelkrämpfen
REASONW : juckreiz | atemnot | wassereinlagerungen | osteoporose | parkinson | herzrasen | bauchschmerzen | heuschnupfen | ödeme
REASONW : rheuma | luftnot | starke schmerzen | starken kopfschmerzen | zahnschmerzen | halsschmerzen | muskelschmerzen | regelschmerzen
REASONW : starker unruhe | innerer unruhe | angstzuständen | angstzustände | panik | panikattacken | panikattacke | nervosität
REASONW : schlaflosigkeit
REASONW : einschlafstörungen | einschlafproblemen | durchschlafstörungen | reizhusten | schnupfen | brustschmerzen | brustenge | blähungen
REASONW : völlegefühl | brechreiz | krampfanfall | krampfanfällen | anfall | gichtanfall | migräneanfall | asthmaanfall | blutdruckkrise
REASONW : hohem blutdruck | hohem fieber | erhöhtem blutdruck | knochen | die knochen | das blut | eisen | den schlaf | die nerven
REASONW : die nieren
REASONW : die prostata | das cholesterin | die gelenke | die durchblutung | die verdauung | allergischer reaktion | muskelverspannungen
PURPOSE : zur blutdrucksenkung | zur blutverdünnung | zum schutz des magens | zum einschlafen | zur vorbeugung | zum schlafen anstoßen
PURPOSE : als magenschutz | zur entwässerung
"""
