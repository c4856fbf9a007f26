"""What people write and misread in French, Spanish and German: each is asked, marked, or read in the one way that the country has.

Sources: ISMP list of error-prone abbreviations, symbols and dose designations; the list of the same kind by ISMP España (UI, U, cc, µg,
trailing zeros, naked decimals), from memory. The idioms of days: common practice, no source.
"""

import pytest
from tests.core.regimen.reading.brief_form import in_brief

from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting

PLACES = {"fr": ("FR", "BE", "CH", "CA"), "es": ("ES", "MX", "AR"), "de": ("DE", "AT", "CH")}
AT_BEDTIME = {"fr": "au coucher", "es": "al acostarse", "de": "zur Nacht"}

ASKED = [
    pytest.param("5,0 mg", "trailing-zero", id="a trailing zero after the comma"),
    pytest.param("5.0 mg", "trailing-zero", id="a trailing zero after the point"),
    pytest.param("2,50 mg", "trailing-zero", id="a trailing zero after another decimal"),
    pytest.param(",5 mg", "naked-decimal", id="a comma with nothing before it"),
    pytest.param(".5 mg", "naked-decimal", id="a point with nothing before it"),
    pytest.param("05 mg", "leading-zero", id="a zero in front"),
    pytest.param("1.000 mg", "thousands", id="a point between thousands, or before three decimals"),
    pytest.param("1,125 mg", "thousands", id="three decimals, or thousands as in Mexico"),
    pytest.param("10U", "run-together", id="a unit run into the number"),
]


@pytest.mark.parametrize(("amount", "code"), ASKED)
@pytest.mark.parametrize(("lang", "country"), [(lang, country) for lang, countries in PLACES.items() for country in countries])
def test_an_amount_that_is_misread_is_asked_in_every_country(amount: str, code: str, lang: str, country: str) -> None:
    reading = read(f"{amount} {AT_BEDTIME[lang]}", Setting(lang, country))
    assert reading.status is ReadingStatus.DECIDE
    if not (amount == "10U" and lang == "de"):  # German has no U: the word itself is not known
        assert f"read.{code}" in [question.code for question in reading.questions]


UNITS = [
    ("fr", "FR", "10 UI au coucher", "?unit-abbreviation"),
    ("fr", "CA", "10 U au coucher", "?unit-abbreviation"),
    ("es", "ES", "10 UI al acostarse", "?unit-abbreviation"),
    ("es", "MX", "10 U al acostarse", "?unit-abbreviation"),
    ("de", "DE", "10 IE zur Nacht", "?unit-abbreviation"),
    ("de", "CH", "10 E zur Nacht", "?unit-abbreviation"),
    ("fr", "FR", "10UI au coucher", "?run-together unit-abbreviation"),
    ("de", "AT", "10IE zur Nacht", "?run-together unit-abbreviation"),
    ("fr", "FR", "XX gouttes le soir", "?unknown-word"),
    ("es", "ES", "XX gotas al acostarse", "?unknown-word"),
]


@pytest.mark.parametrize(("lang", "country", "text", "expected"), UNITS)
def test_short_forms_of_units_are_asked(lang: str, country: str, text: str, expected: str) -> None:
    assert in_brief(read(text, Setting(lang, country))) == expected


MARKED = [
    ("fr", "FR", "5 cc le matin", "5 mL x1/1d @MORN"),
    ("es", "ES", "5 cc cada 8 horas", "5 mL x1/8h"),
    ("fr", "CH", "25 µg le matin", "25 microgram x1/1d @MORN"),
    ("es", "AR", "25 μg al levantarse", "25 microgram x1/1d @WAKE"),
    ("de", "DE", "75 µg morgens", "75 microgram x1/1d @MORN"),
]


@pytest.mark.parametrize(("lang", "country", "text", "expected"), MARKED)
def test_short_forms_with_one_meaning_are_read_with_a_mark(lang: str, country: str, text: str, expected: str) -> None:
    reading = read(text, Setting(lang, country))
    assert in_brief(reading) == expected
    assert [note.code for note in reading.notes] == ["read.error-prone"]


PLAIN = [
    ("fr", "FR", "500mg le matin", "500 mg x1/1d @MORN"),  # a mass run into its number has one reading; only U and UI look like a digit
    ("de", "DE", "500mg morgens", "500 mg x1/1d @MORN"),
    ("fr", "FR", "0,125 mg le matin", "0.125 mg x1/1d @MORN"),
    ("es", "MX", "0.125 mg cada 24 horas", "0.125 mg x1/24h"),
    ("fr", "FR", "1 000 mg le matin", "1000 mg x1/1d @MORN"),
    ("de", "DE", "20\u00a0000 Einheiten alle 4 Wochen", "20000 unit x1/4wk"),
    ("fr", "FR", "2 500 mg le matin", "?unit-missing"),  # two of 500 mg, or two thousand five hundred
]


@pytest.mark.parametrize(("lang", "country", "text", "expected"), PLAIN)
def test_numbers_with_one_reading_are_read(lang: str, country: str, text: str, expected: str) -> None:
    assert in_brief(read(text, Setting(lang, country))) == expected


TWO_MEANINGS = [
    pytest.param("fr", "1 comprimé tous les 15 jours", "15d 2wk", id="quinze jours are two weeks"),
    pytest.param("fr", "1 comprimé tous les 8 jours", "8d 1wk", id="huit jours are a week"),
    pytest.param("es", "1 ampolla cada 15 días", "15d 2wk", id="quince días son dos semanas"),
    pytest.param("es", "1 tableta cada 8 días", "8d 1wk", id="ocho días son una semana"),
    pytest.param("de", "1 Tablette alle 8 Tage", "8d 1wk", id="acht Tage sind eine Woche"),
    pytest.param("fr", "1 cp 8h", "1d 8h", id="eight o'clock, or every eight hours"),
]


@pytest.mark.parametrize(("lang", "text", "periods"), TWO_MEANINGS)
def test_an_idiom_is_a_question_with_both_meanings(lang: str, text: str, periods: str) -> None:
    (question,) = read(text, Setting(lang, PLACES[lang][0])).questions
    repeats = [choice.dosages[0].timing.repeat for choice in question.choices if choice.dosages[0].timing]
    assert question.code == "read.word"
    assert sorted(f"{repeat.period}{repeat.period_unit}" for repeat in repeats if repeat) == sorted(periods.split())


ONCE_MISREAD = [
    pytest.param("de", "1 Tablette um 8, 14 und 20 Uhr", "1 tablet x3/1d @08:00,14:00,20:00", id="hours of a list are no amounts"),
    pytest.param("de", "1 um 8 Uhr und 10 um 20 Uhr", "1 x1/1d @08:00; 10 x1/1d @20:00", id="an amount with an hour of its own"),
    pytest.param("es", "1 a las 8 y 10 a las 20", "1 x1/1d @08:00; 10 x1/1d @20:00", id="the same in Spanish"),
    pytest.param("es", "1 comprimido a las 8, 14 y 20 horas", "1 tablet x3/1d @08:00,14:00,20:00", id="the list in Spanish"),
    pytest.param("de", "1 Tablette mi.", "?word", id="Wednesday, or noon"),
    pytest.param("de", "1 Tablette mo.", "?word", id="Monday, or in the morning"),
    pytest.param("de", "1 Tablette Mi.", "?word", id="a heading may give it its capital"),
    pytest.param("de", "1 Tablette Mi. und Fr.", "1 tablet x1/1d on wed,fri", id="beside another day it is the day"),
    pytest.param("es", "1 comprimido al desayuno y otro a las 12 horas", "?relative", id="at noon, or twelve hours later"),
    pytest.param("de", "1 Tablette für 7 Tage pro Monat", "?mixed-days", id="some days a month are no course"),
    pytest.param("fr", "1 cp le matin une semaine sur deux", "?word", id="each morning of that week, or one"),
    pytest.param("de", "1 Tablette Mo. Mi. Fr.", "1 tablet x1/1d on mon,wed,fri", id="beside other days it is Wednesday"),
    pytest.param("de", "1 Tablette morgens und bei Bedarf abends", "?scope", id="as needed in the evening alone"),
    pytest.param("fr", "1 cp le matin et le soir si besoin", "?scope", id="as needed in the evening, or both"),
    pytest.param("fr", "1 cp matin et soir si besoin", "1 tablet x2/1d @MORN,EVE prn", id="one list, as needed"),
    pytest.param("de", "2 Tabletten auf einmal", "?no-frequency", id="at one go is not how often"),
    pytest.param("fr", "2 cp en une prise", "?no-frequency", id="nor is it in French"),
    pytest.param("es", "1 comprimido después de comer y cenar", "?which-meals", id="after lunch, or after eating"),
    pytest.param("fr", "5 cp par jour en 2 prises", "?divided", id="five in two: which gets three?"),
    pytest.param("fr", "1 cp toutes les 6 heures maximum", "?not-understood", id="a ceiling is no schedule"),
    pytest.param("de", "1 Tablette maximal alle 6 Stunden", "?no-frequency", id="nor in German"),
    pytest.param("fr", "matin 1 cp 1/2 le soir", "1 tablet x1/1d @MORN; 0.5 tablet x1/1d @EVE", id="a half with a time of its own"),
    pytest.param("fr", "1 cp 1/2 heure avant le dîner", "1 tablet x1/1d @ACV~30", id="half an hour, not half a tablet"),
    pytest.param("fr", "2 cp 1-0-1", "?pattern", id="two each time, or two in all"),
    pytest.param("fr", "500 mg 2-0-2", "?pattern", id="two of 500 mg, or a second amount"),
    pytest.param("de", "1 Tablette am 31. des Monats", "?month-end", id="not every month has it"),
]


@pytest.mark.parametrize(("lang", "text", "expected"), ONCE_MISREAD)
def test_a_line_that_could_be_misread_is_read_as_meant_or_asked(lang: str, text: str, expected: str) -> None:
    assert in_brief(read(text, Setting(lang, PLACES[lang][0]))) == expected


def test_what_stands_before_the_meal_is_kept_in_its_own_words() -> None:
    (dosage,) = read("morgens 1 Tablette 30 min vor dem Essen", Setting("de", "DE")).dosages
    assert [one.text for one in dosage.additional] == ["30 min vor dem Essen"]


def test_reasons_are_kept_in_their_own_language() -> None:
    (dosage,) = read("1 cp si douleur ou fièvre", Setting("fr", "FR")).dosages
    assert dosage.as_needed_for is not None
    assert dosage.as_needed_for.text == "douleur ou fièvre"
