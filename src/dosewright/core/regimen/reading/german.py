"""German as written in Germany, Austria and Switzerland: words and their senses.

Rows are `TERMINAL value flags : spellings` (see `lexicon`). Places of 1-0-1-0: German national medication plan (morning, noon, evening,
night). The rest: pharmacy practice, from memory.
"""

__all__ = ["GRAMMAR", "INSTRUCTIONS", "REASONS", "WORDS"]

GRAMMAR = """
%extend for_how_long: number TIMEUNIT LONG -> for_number
    | FOR number TIMEUNIT LONG -> for_number
    | A TIMEUNIT LONG -> for_one
%extend month_days: _pre? DAYNO number EVERY TIMEUNIT -> day_of_month
%declare LONG
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
NUMW 12 : zwölf
NUMW 14 : vierzehn
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
UPTO : bis zu | höchstens | maximal bis zu
PER : pro | je | am
THE : der | die | das | dem | den | des
OF : von | je | à | zu je
A : ein | eine | einen

UNIT tablet : tablette | tabletten | tbl | tabl | tab | tablette(n) | filmtablette | filmtabletten | ftbl | brausetablette
UNIT tablet : brausetabletten | retardtablette | retardtabletten
UNIT capsule : kapsel | kapseln | kps | kaps | kapsel(n) | hartkapsel | hartkapseln
UNIT dragée : dragée | dragées | dragee | dragees
UNIT pill : pille | pillen
UNIT lozenge : lutschtablette | lutschtabletten
UNIT sachet : beutel | sachet | sachets | btl
UNIT patch : pflaster
UNIT drop : tropfen | tr | gtt
UNIT puff : hub | hübe | sprühstoß | sprühstöße | inhalation | inhalationen
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
BY_X : x | mal
ADVPERIOD 1/d a : täglich | tgl | tägl | tags | taeglich
ADVPERIOD 1/wk : wöchentlich | wö | pro woche | die woche | in der woche
ADVPERIOD 1/mo : monatlich | pro monat | im monat
EVERYX 2/d : jeden zweiten tag | jeden 2. tag | jeden 2 tag | alle zwei tage | alle 2 tage | zweitägig | alle 2 tg | an jedem zweiten tag
EVERYX 3/d : jeden dritten tag | jeden 3. tag | alle drei tage
EVERYX 2/wk : zweiwöchentlich | vierzehntägig | 14-tägig | jede zweite woche
EVERYX 1/d : jeden tag | jeden tg
EVERYX 1/wk : jede woche | einmal wöchentlich eine
EVERY : alle | jeden | jede | jedes | je | an jedem
HOURLY : stündlich | stdl | stündl
ORD 2 : zweiten | zweite
ORD 3 : dritten
FIRST : ersten
TIMEUNIT min : minute | minuten | min
TIMEUNIT h : stunde | stunden | std | h | stdn
TIMEUNIT d : tag | tage | tagen | d | tg
DAYNO : tag | tage | an tag | an den tagen
TIMEUNIT wk : woche | wochen | wo | wö
TIMEUNIT mo : monat | monate | monaten | monats
TIMEUNIT a : jahr | jahre
LONG : lang | hindurch | über
HOURS : uhr
OCLOCK : uhr

DAYPART MANANA : morgen
DAYPART MORN : morgens | am morgen | früh | vormittags | frühmorgens | am morgen | mo. früh
DAYPART MORN : in der früh | in der frühe | der früh
DAYPART NOON : mittags | mittag | mi.
DAYPART EVE : abends | abend
DAYPART AFT : nachmittags | nachmittag
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
REL AC : vor | vor dem | vorm
REL PC : nach | nach dem
REL C : zum | beim | mit dem | zu | während | zur | mit | während des
MEALANY meals : mahlzeiten | den mahlzeiten | hauptmahlzeiten | den hauptmahlzeiten
MEALANY food : essen | einer mahlzeit | dem essen | nahrung | etwas nahrung | mahlzeit | der mahlzeit | etwas essen
EACHMEAL AC : vor jeder mahlzeit | vor jeder hauptmahlzeit
EACHMEAL PC : nach jeder mahlzeit
EACHMEAL C : zu jeder mahlzeit | mit jeder mahlzeit
AT : um | gegen
IN : in | innerhalb von | am | im | zum | in der | binnen
ON : am | an | montags oder
WEEKDAY mon : montag | montags | mo
WEEKDAY tue : dienstag | dienstags | di
WEEKDAY wed : mittwoch | mittwochs | mi
WEEKDAY thu : donnerstag | donnerstags | do
WEEKDAY fri : freitag | freitags | fr
WEEKDAY sat : samstag | samstags | sonnabend | sonnabends | sa
WEEKDAY sun : sonntag | sonntags | so
WEEKDAYSET sat,sun : wochenende | wochenenden | am wochenende | an wochenenden
WEEKDAYSET mon,tue,wed,thu,fri : werktags | wochentags | an werktagen | unter der woche
OTHERDAYS : an den anderen tagen | an den übrigen tagen | übrige tage | an allen anderen tagen | sonst | an den restlichen tagen
EXCEPT : außer | ausser | nicht | ausgenommen | außer am | mit ausnahme von | außer an | jedoch nicht | aber nicht | nicht am
UNTIL : bis | bis zum | bis einschließlich | bis inklusive
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
WANTEDFOR : bei | gegen | bei starken
STAT : sofort | jetzt | umgehend | stat
SINGLE at-once : auf einmal | in einer gabe | in einer einzelgabe
SINGLE : einmalig | als einzeldosis | als einmaldosis | als einmalgabe | als einmalige gabe
MAX : maximal | max | höchstens | nicht mehr als | höchstdosis | maximaldosis | bis maximal | bis max | tageshöchstdosis
MAX : maximale tagesdosis
TOTAL : gesamt | insgesamt | gesamtdosis | tagesdosis

VERB : einnehmen | nehmen | nehmen sie | nimm | einnahme | einzunehmen | geben | schlucken | anwenden | auftragen | lutschen | kauen
VERB : inhalieren | spritzen | dosierung | kleben | aufkleben | bitte einnehmen | tropfen geben | eingenommen | zu nehmen | genommen
VERB : verabreichen | trinken
PARTICLE : ein
ROUTE : oral | per os | po | p.o. | peroral | durch den mund | sublingual | unter die zunge | rektal | s.c. | sc | subkutan | i.m. | i.v.
ALSO : je | jeweils | etwa | ca | circa | genau | nur | regelmäßig | regelmässig | auch | ungefähr | dauerhaft
DIRECTED : nach (anweisung|plan|vorschrift|schema|inr|rücksprache|vorgabe|absprache|ärztlicher anweisung|ärztlicher verordnung|einnahmeplan)
DIRECTED : laut (plan|anweisung|arzt|schema|medikationsplan|einnahmeplan|verordnung)
DIRECTED : wie (verordnet|besprochen|vom arzt verordnet|vorgeschrieben|bekannt|angewiesen)
DIRECTED : gemäß (plan|anweisung|schema|verordnung|anordnung) | siehe plan | lt plan | nach ärztlicher anordnung | dj | nach wert
COND : wenn | falls | sofern | solange | sobald | abhängig | je nach | < | > | < | > | ≤ | ≥ | bis zur besserung | bis auf weiteres
COND : nur wenn | vorausgesetzt | es sei denn | bei
NEG : kein | keine | nie | niemals | ohne | nicht | keinesfalls
STEP : erhöhen | steigern | reduzieren | verringern | verdoppeln | ausschleichen | einschleichen | absenken | steigernd | halbieren
STEP : senken | reduzierend | schrittweise
ASKED relative : heute | gestern | morgen früh | übermorgen | heute abend | nächste woche
ASKED alternating : abwechselnd | alternierend | im wechsel
ASKED divided : verteilt | aufgeteilt | verteilt auf | in 2 gaben | in 3 gaben | in geteilten dosen | auf mehrere gaben | verteilt auf 2
ASKED divided : verteilt auf 3 | in zwei gaben | in drei gaben | in 2 dosen | in 3 dosen
ASKED midnight : mitternacht
ASKED both-sides : in (jedes|beide) (auge|augen|ohr|ohren|nasenloch) | in das (rechte|linke) auge
ASKED quantity : einige | mehrere | ein paar | paar
"""

INSTRUCTIONS = """
INSTR : mit [(einem|1|etwas|reichlich|ausreichend|viel|einem großen|einem vollen|einem grossen)] [glas] [leitungs]wasser
INSTR : mit etwas flüssigkeit | mit reichlich flüssigkeit | mit ausreichend flüssigkeit | mit viel flüssigkeit | mit flüssigkeit
INSTR : unzerkaut | unzerkaut schlucken | unzerkaut mit (wasser|einem glas wasser|reichlich wasser|flüssigkeit|etwas wasser) | nüchtern
INSTR : auf nüchternen magen | auf leeren magen | unabhängig von den mahlzeiten | unabhängig vom essen
INSTR : nicht (kauen|zerkauen|zerkleinern|teilen|zermörsern|mörsern) [oder (kauen|zerkauen|zerkleinern|teilen)] | ganz schlucken
INSTR : als ganzes schlucken | im ganzen schlucken | in wasser (auflösen|aufgelöst|gelöst)
INSTR : in einem glas wasser (auflösen|aufgelöst|gelöst) | aufgelöst in wasser | aufgelöst in einem glas wasser
INSTR : in etwas wasser aufgelöst | kein alkohol | alkohol meiden | keine milch | nicht mit milch | kann müde machen | macht müde
INSTR : sonne meiden
INSTR : immer zur gleichen zeit | zur gleichen zeit | immer zur selben zeit | zur gleichen uhrzeit | vor gebrauch schütteln
INSTR : gut schütteln | im sitzen oder stehen | aufrecht | aufrecht bleiben | nicht hinlegen | dauermedikation | dauertherapie
INSTR : bis zum ende einnehmen | packung aufbrauchen | kühl lagern | kühlschrank | unter der zunge zergehen lassen
INSTR : im mund zergehen lassen | zum essen trinken | nicht plötzlich absetzen
"""

REASONS = """
REASONW : schmerzen | schmerz | fieber | kopfschmerzen | rückenschmerzen | gelenkschmerzen | starken schmerzen | bluthochdruck
REASONW : blutdruck | den blutdruck | hohen blutdruck | hoher blutdruck | herz | das herz | herzschwäche | cholesterin | diabetes
REASONW : blutzucker | den blutzucker | schlafstörungen | schlaf | angst | unruhe | übelkeit | erbrechen | schwindel | verstopfung
REASONW : durchfall | magen | den magen | magenschutz | als magenschutz | sodbrennen | reflux | schilddrüse | die schilddrüse | migräne
REASONW : husten | allergie | allergien | asthma | infektion | entzündung | gicht | arthrose | epilepsie | depression | depressionen
REASONW : prostata | eisenmangel | blutverdünnung | zur blutverdünnung | schlaganfall | vorbeugung | krämpfe | krämpfen | muskelkrämpfen
REASONW : juckreiz | atemnot | wassereinlagerungen | osteoporose | parkinson | herzrasen | bauchschmerzen | heuschnupfen | ödeme
REASONW : rheuma | luftnot
PURPOSE : zur blutdrucksenkung | zur blutverdünnung | zum schutz des magens | zum einschlafen | zur vorbeugung | zum schlafen anstoßen
PURPOSE : als magenschutz | zur entwässerung
"""
