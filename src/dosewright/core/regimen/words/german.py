"""Plain German sentences; "abends" is the evening, "vor dem Schlafengehen" bedtime. Source: pharmacy practice, from memory."""

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.words.counted import Counting, Noun, count_words
from dosewright.core.regimen.words.phrasebook import Phrasebook, list_words
from dosewright.core.units.amount_words import NumberStyle

__all__ = ["GERMAN"]

_D, _H, _W, _M = TimeUnit.DAY, TimeUnit.HOUR, TimeUnit.WEEK, TimeUnit.MONTH
_MONTHS = ["Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober", "November", "Dezember"]
_NOUNS = {
    "tablet": Noun("Tablette", "Tabletten", feminine=True), "capsule": Noun("Kapsel", "Kapseln", feminine=True),
    "sachet": Noun("Beutel", "Beutel", glyphs=True), "drop": Noun("Tropfen", "Tropfen", glyphs=True),
    "spray": Noun("Sprühstoß", "Sprühstöße", glyphs=True), "puff": Noun("Hub", "Hübe", glyphs=True),
    "patch": Noun("Pflaster", "Pflaster", glyphs=True),
    "suppository": Noun("Zäpfchen", "Zäpfchen", glyphs=True),
    "ampoule": Noun("Ampulle", "Ampullen", feminine=True),
    "pill": Noun("Pille", "Pillen", feminine=True), "lozenge": Noun("Lutschtablette", "Lutschtabletten", feminine=True),
    "pessary": Noun("Vaginalzäpfchen", "Vaginalzäpfchen", glyphs=True), "piece": Noun("Stück", "Stück", glyphs=True),
    "vial": Noun("Durchstechflasche", "Durchstechflaschen", feminine=True), "dose": Noun("Dosis", "Dosen", feminine=True),
    "application": Noun("Anwendung", "Anwendungen", feminine=True), "spoonful": Noun("Löffel zu 5 mL", "Löffel zu 5 mL", glyphs=True),
    "teaspoonful": Noun("Teelöffel", "Teelöffel", glyphs=True), "tablespoonful": Noun("Esslöffel", "Esslöffel", glyphs=True),
    "measure": Noun("Messlöffel", "Messlöffel", glyphs=True),
    "unit": Noun("Einheit", "Einheiten", feminine=True), "": Noun("", ""),
}  # fmt: skip
_MEASURED = {"mg": "mg", "microgram": "Mikrogramm", "g": "g", "mL": "mL", "mmol": "mmol"}
_WORDS = ["null", "ein", "zwei", "drei", "vier", "fünf", "sechs", "sieben", "acht", "neun", "zehn", "elf", "zwölf"]


def _ones(noun: Noun) -> list[str]:
    return [*_WORDS[:1], "eine" if noun.feminine else "ein", *_WORDS[2:]]


def _with_part(whole: int, rest: Fraction, noun: Noun, style: NumberStyle) -> str | None:
    if not noun.feminine:
        return None
    if rest == Fraction(1, 2):
        return f"{count_words(whole, style, _ones(noun))} und eine halbe {noun.one}" if whole else f"eine halbe {noun.one}"
    parts = {Fraction(1, 4): f"eine viertel {noun.one}", Fraction(3, 4): f"eine dreiviertel {noun.one}"}
    return parts.get(rest) if not whole else None


def _date(day: date) -> str:
    return f"{day.day}. {_MONTHS[day.month - 1]} {day.year}"


def _month_days(days: Sequence[int]) -> str:
    return f"am {list_words([f'{day}.' for day in days], 'und')} jedes Monats"


GERMAN = Phrasebook(
    say_amount=Counting(_NOUNS, _MEASURED, _ones, _with_part).say,
    verb="Einnehmen:",
    verb_after="{first} {verb} {rest}",
    verb_other={"patch": "Aufkleben:", "drop": "Anwenden:", "puff": "Inhalieren:", "suppository": "Anwenden:",
                "pessary": "Anwenden:", "spray": "Anwenden:", "application": "Anwenden:"},
    when={
        "MORN": "morgens", "NOON": "mittags", "EVE": "abends", "HS": "vor dem Schlafengehen", "WAKE": "nach dem Aufwachen",
        "CM": "zum Frühstück", "CD": "zum Mittagessen", "CV": "zum Abendessen",
        "ACM": "vor dem Frühstück", "ACD": "vor dem Mittagessen", "ACV": "vor dem Abendessen",
        "PCM": "nach dem Frühstück", "PCD": "nach dem Mittagessen", "PCV": "nach dem Abendessen",
    },
    clock="um {a} Uhr",
    offset="{n} Minuten",
    offset_hours={(_H, 1): "1 Stunde", (_H, None): "{n} Stunden"},
    times={(_D, 1): "einmal täglich", (_D, 2): "zweimal täglich", (_D, None): "{n}-mal täglich",
           (_W, 1): "einmal pro Woche", (_W, 2): "zweimal pro Woche", (_W, None): "{n}-mal pro Woche", (_M, 1): "einmal pro Monat",
           (_M, None): "{n}-mal pro Monat"},
    number_words=_WORDS,
    up_to_times="bis zu {n}-mal täglich",
    every={(_D, 1): "jeden Tag", (_D, 2): "jeden zweiten Tag", (_D, 8): "", (_D, None): "alle {n} Tage", (_H, None): "alle {n} Stunden",
           (_W, None): "alle {n} Wochen", (_M, None): "alle {n} Monate"},
    every_range="alle {a} bis {b} Stunden",
    weekdays=("montags", "dienstags", "mittwochs", "donnerstags", "freitags", "samstags", "sonntags"),
    on_days="{a}",
    say_month_days=_month_days,
    first_month_days="an den ersten {n} Tagen des Monats",
    cycle="an den Tagen {a} bis {b} von je {n} Tagen",
    lasting={(_D, 1): "für 1 Tag", (_D, None): "für {n} Tage", (_W, 1): "für 1 Woche", (_W, None): "für {n} Wochen",
             (_M, 1): "für 1 Monat", (_M, None): "für {n} Monate"},
    since="ab dem {a}",
    until="bis zum {a}",
    since_until="vom {a} bis zum {b}",
    say_date=_date,
    wanted="bei Bedarf",
    wanted_for="bei Bedarf gegen {a}",
    own_openers=("gegen", "bei", "zum", "zur", "für"),
    under_the_tongue="Unter die Zunge",
    at_most={_H: "Nicht mehr als {a} in {n} Stunden", _D: "Nicht mehr als {a} in {n} Tagen"},
    once="als Einzeldosis",
    then="dann",
    and_word="und",
    to_word="bis",
)  # fmt: skip
