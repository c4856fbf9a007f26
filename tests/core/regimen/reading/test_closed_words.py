"""Words that come in closed rows: months, days of the week, numbers, lengths and parts of the day. Each means its own place in the row.

Source: the calendars and numerals of the four languages, from memory.
"""

from datetime import date

import pytest

from dosewright.core.regimen.dosage import Dosage, Repeat
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting

MONTHS = {
    "en": "January February March April May June July August September October November December",
    "fr": "janvier février mars avril mai juin juillet août septembre octobre novembre décembre",
    "es": "enero febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre",
    "de": "Januar Februar März April Mai Juni Juli August September Oktober November Dezember",
}
UNTIL = {
    "en": "1 tablet in the morning until 10 {} 2026",
    "fr": "1 comprimé le matin jusqu'au 10 {} 2026",
    "es": "1 comprimido por la mañana hasta el 10 de {} de 2026",
    "de": "1 Tablette morgens bis zum 10. {} 2026",
}
WEEKDAYS = {
    "en": ("1 tablet in the morning on {}s", "Monday Tuesday Wednesday Thursday Friday Saturday Sunday"),
    "fr": ("1 comprimé le matin le {}", "lundi mardi mercredi jeudi vendredi samedi dimanche"),
    "es": ("1 comprimido por la mañana los {}", "lunes martes miércoles jueves viernes sábados domingos"),
    "de": ("1 Tablette morgens {}s", "montag dienstag mittwoch donnerstag freitag samstag sonntag"),
}
NUMBERS = {
    "en": ("{} tablets in the morning", "two three four five six seven eight nine ten eleven twelve"),
    "fr": ("{} comprimés le matin", "deux trois quatre cinq six sept huit neuf dix onze douze"),
    "es": ("{} comprimidos por la mañana", "dos tres cuatro cinco seis siete ocho nueve diez once doce"),
    "de": ("{} Tabletten morgens", "zwei drei vier fünf sechs sieben acht neun zehn"),
}
LENGTHS = {
    "en": ("1 tablet in the morning for 3 {}", "days weeks months"),
    "fr": ("1 comprimé le matin pendant 3 {}", "jours semaines mois"),
    "es": ("1 comprimido por la mañana durante 3 {}", "días semanas meses"),
    "de": ("1 Tablette morgens für 3 {}", "Tage Wochen Monate"),
}
PARTS = {
    "en": ("1 tablet {}", "in the morning|at noon|in the evening|at bedtime"),
    "fr": ("1 comprimé {}", "le matin|à midi|le soir|au coucher"),
    "es": ("1 comprimido {}", "por la mañana|al mediodía|por la noche|al acostarse"),
    "de": ("1 Tablette {}", "morgens|mittags|abends|zur Nacht"),
}
COUNTRIES = {"en": "GB", "fr": "FR", "es": "ES", "de": "DE"}
NOT_SAID_SO = {("es", "por la noche")}  # the evening, or bedtime: asked


def the_only_dosage(lang: str, line: str) -> Dosage:
    reading = read(line, Setting(lang, COUNTRIES[lang]))
    assert reading.status is ReadingStatus.READ, (line, reading.questions)
    (dosage,) = reading.dosages
    return dosage


def the_repeat(lang: str, line: str) -> Repeat:
    timing = the_only_dosage(lang, line).timing
    assert timing is not None
    assert timing.repeat is not None
    return timing.repeat


@pytest.mark.parametrize("lang", sorted(MONTHS))
def test_each_month_is_its_own(lang: str) -> None:
    names = MONTHS[lang].split()
    ends = [the_repeat(lang, UNTIL[lang].format(name)).bounds_period for name in names]
    assert [period and period.end for period in ends] == [date(2026, month, 10) for month in range(1, 13)]


@pytest.mark.parametrize("lang", sorted(WEEKDAYS))
def test_each_day_of_the_week_is_its_own(lang: str) -> None:
    line, names = WEEKDAYS[lang]
    found = [the_repeat(lang, line.format(name)).day_of_week for name in names.split()]
    assert [[day.number for day in days] for days in found] == [[number] for number in range(7)]


@pytest.mark.parametrize("lang", sorted(NUMBERS))
def test_each_number_word_is_its_own(lang: str) -> None:
    line, words = NUMBERS[lang]
    found = [the_only_dosage(lang, line.format(word)).amounts[0].quantity for word in words.split()]
    assert [quantity and quantity.count for quantity in found] == list(range(2, 2 + len(words.split())))


@pytest.mark.parametrize("lang", sorted(LENGTHS))
def test_each_length_is_its_own(lang: str) -> None:
    line, words = LENGTHS[lang]
    found = [the_repeat(lang, line.format(word)).bounds_duration for word in words.split()]
    assert [(int(span.value), str(span.unit)) for span in found if span] == [(3, "d"), (3, "wk"), (3, "mo")]


@pytest.mark.parametrize("lang", sorted(PARTS))
def test_each_part_of_the_day_is_its_own(lang: str) -> None:
    line, words = PARTS[lang]
    found = {word: the_repeat(lang, line.format(word)).when for word in words.split("|") if (lang, word) not in NOT_SAID_SO}
    wanted = dict(zip(words.split("|"), (("MORN",), ("NOON",), ("EVE",), ("HS",)), strict=True))
    assert found == {word: codes for word, codes in wanted.items() if (lang, word) not in NOT_SAID_SO}
