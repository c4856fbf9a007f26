"""Plain French sentences; "le soir" is the evening, "au coucher" bedtime. Source: pharmacy practice, from memory."""

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.words.counted import Counting, Noun, count_words
from dosewright.core.regimen.words.phrasebook import Phrasebook, list_words
from dosewright.core.units.amount_words import NumberStyle

__all__ = ["FRENCH"]

_D, _H, _W, _M = TimeUnit.DAY, TimeUnit.HOUR, TimeUnit.WEEK, TimeUnit.MONTH
_MONTHS = ["janvier", "février", "mars", "avril", "mai", "juin", "juillet", "août", "septembre", "octobre", "novembre", "décembre"]
_NOUNS = {
    "tablet": Noun("comprimé", "comprimés"), "capsule": Noun("gélule", "gélules", feminine=True), "sachet": Noun("sachet", "sachets"),
    "drop": Noun("goutte", "gouttes", feminine=True), "puff": Noun("bouffée", "bouffées", feminine=True),
    "patch": Noun("patch", "patchs"), "suppository": Noun("suppositoire", "suppositoires"),
    "ampoule": Noun("ampoule", "ampoules", feminine=True),
    "lozenge": Noun("pastille", "pastilles", feminine=True), "unit": Noun("unité", "unités", feminine=True), "": Noun("", ""),
    "pill": Noun("pilule", "pilules", feminine=True), "spray": Noun("pulvérisation", "pulvérisations", feminine=True),
    "pessary": Noun("ovule", "ovules"), "vial": Noun("flacon", "flacons"), "dose": Noun("dose", "doses", feminine=True),
    "application": Noun("application", "applications", feminine=True), "piece": Noun("pièce", "pièces", feminine=True),
    "spoonful": Noun("cuillerée de 5 mL", "cuillerées de 5 mL", feminine=True, glyphs=True),
    "teaspoonful": Noun("cuillère à café", "cuillères à café", feminine=True, glyphs=True),
    "tablespoonful": Noun("cuillère à soupe", "cuillères à soupe", feminine=True, glyphs=True),
    "measure": Noun("cuillère mesure", "cuillères mesure", feminine=True, glyphs=True),
}  # fmt: skip
_MEASURED = {"mg": "mg", "microgram": "microgrammes", "g": "g", "mL": "mL", "mmol": "mmol"}
_WORDS = ["zéro", "un", "deux", "trois", "quatre", "cinq", "six", "sept", "huit", "neuf", "dix", "onze", "douze"]


def _ones(noun: Noun) -> list[str]:
    return [*_WORDS[:1], "une" if noun.feminine else "un", *_WORDS[2:]]


def _with_part(whole: int, rest: Fraction, noun: Noun, style: NumberStyle) -> str | None:
    half = "demie" if noun.feminine else "demi"
    one = "une" if noun.feminine else "un"
    if rest == Fraction(1, 2):
        return f"{count_words(whole, style, _ones(noun))} {noun.of(Fraction(whole))} et {half}" if whole else f"{one} demi-{noun.one}"
    parts = {Fraction(1, 4): f"un quart de {noun.one}", Fraction(3, 4): f"trois quarts de {noun.one}"}
    return parts.get(rest) if not whole and noun.one[0] not in "aeiouhé" else None


def _date(day: date) -> str:
    return f"{'1er' if day.day == 1 else day.day} {_MONTHS[day.month - 1]} {day.year}"


def _month_days(days: Sequence[int]) -> str:
    return f"{list_words(['le 1er' if day == 1 else f'le {day}' for day in days], 'et')} de chaque mois"


FRENCH = Phrasebook(
    say_amount=Counting(_NOUNS, _MEASURED, _ones, _with_part).say,
    verb="Prendre",
    verb_after="{first}, {verb} {rest}",
    verb_other={"patch": "Appliquer", "drop": "Mettre", "puff": "Inhaler", "suppository": "Utiliser", "pessary": "Utiliser",
                "spray": "Utiliser", "application": "Faire"},
    when={
        "MORN": "le matin", "NOON": "à midi", "EVE": "le soir", "HS": "au coucher", "WAKE": "au réveil",
        "CM": "avec le petit-déjeuner", "CD": "avec le repas de midi", "CV": "avec le repas du soir",
        "ACM": "avant le petit-déjeuner", "ACD": "avant le repas de midi", "ACV": "avant le repas du soir",
        "PCM": "après le petit-déjeuner", "PCD": "après le repas de midi", "PCV": "après le repas du soir",
    },
    clock="à {a}",
    offset="{n} minutes",
    offset_hours={(_H, 1): "1 heure", (_H, None): "{n} heures"},
    times={(_D, 1): "une fois par jour", (_D, None): "{n} fois par jour",
           (_W, 1): "une fois par semaine", (_W, None): "{n} fois par semaine", (_M, 1): "une fois par mois",
           (_M, None): "{n} fois par mois"},
    number_words=_WORDS,
    up_to_times="jusqu'à {n} fois par jour",
    every={(_D, 1): "tous les jours", (_D, 2): "un jour sur deux", (_D, 8): "", (_D, 15): "", (_D, None): "tous les {n} jours",
           (_H, None): "toutes les {n} heures",
           (_W, None): "toutes les {n} semaines", (_M, None): "tous les {n} mois"},
    every_range="toutes les {a} à {b} heures",
    weekdays=("le lundi", "le mardi", "le mercredi", "le jeudi", "le vendredi", "le samedi", "le dimanche"),
    on_days="{a}",
    say_month_days=_month_days,
    first_month_days="les {n} premiers jours de chaque mois",
    cycle="les jours {a} à {b} de chaque cycle de {n} jours",
    lasting={(_D, 1): "pendant 1 jour", (_D, None): "pendant {n} jours", (_W, 1): "pendant 1 semaine", (_W, None): "pendant {n} semaines",
             (_M, None): "pendant {n} mois"},
    since="à partir du {a}",
    until="jusqu'au {a}",
    since_until="du {a} au {b}",
    say_date=_date,
    wanted="si besoin",
    wanted_for="si besoin pour {a}",
    own_openers=("pour", "en", "contre"),
    under_the_tongue="Sous la langue",
    at_most={_H: "Ne pas prendre plus de {a} en {n} heures", _D: "Ne pas prendre plus de {a} en {n} jours"},
    once="en dose unique",
    then="puis",
    and_word="et",
    to_word="à",
)  # fmt: skip
