"""Sentences of the standard's style, worked by hand; and what has no sentence."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime
from fractions import Fraction

import pytest

from dosewright.core.regimen.dosage import Amount, Coding, Dosage, Maximum, Period, Range, Repeat, Span, TimeUnit, Timing, Weekday
from dosewright.core.regimen.words.say_plain import say_plain
from dosewright.core.units.amount_words import NumberStyle
from dosewright.core.units.quantity import Quantity, Unit

DAILY = Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY)


def dosage(count: str = "1", repeat: Repeat | None = DAILY, unit: str = "tablet", **more: object) -> Dosage:
    amount = Amount(quantity=Quantity(Fraction(count), Unit(unit)))
    return Dosage(amounts=(amount,), timing=Timing(repeat=repeat) if repeat else None, **more)  # type: ignore[arg-type]


def at(*codes: str, **more: object) -> Repeat:
    return replace(DAILY, when=codes, frequency=len(codes), **more)  # type: ignore[arg-type]


SAID = [
    pytest.param([dosage("1", at("MORN")), dosage("1", at("HS"))], "Take 1 tablet in the morning and 1 tablet at bedtime.", id="CV-4.4"),
    pytest.param([dosage("1/2", at("MORN"))], "Take half a tablet in the morning.", id="CV-4.3 a half"),
    pytest.param([dosage("3/2", at("MORN"))], "Take 1 and a half tablets in the morning.", id="CV-4.3 one and a half"),
    pytest.param([dosage("1/4", at("MORN"))], "Take a quarter of a tablet in the morning.", id="CV-4.3 a quarter"),
    pytest.param([dosage("2", replace(DAILY, frequency=3))], "Take 2 tablets 3 times a day.", id="no time of day is added"),
    pytest.param(
        [dosage("1", at("MORN", day_of_week=(Weekday.MON, Weekday.THU)))],
        "Take 1 tablet in the morning on Mondays and Thursdays.",
        id="days",
    ),
    pytest.param(
        [
            dosage("2", replace(at("MORN"), bounds_duration=Span(Fraction(5), TimeUnit.DAY)), sequence=1),
            dosage("1", at("MORN"), sequence=2),
        ],
        "Take 2 tablets in the morning for 5 days, then 1 tablet in the morning.",
        id="phases",
    ),
    pytest.param(
        [
            dosage(
                "2",
                Repeat(frequency=1, period=Fraction(4), period_max=Fraction(6), period_unit=TimeUnit.HOUR),
                as_needed=True,
                as_needed_for=Coding(text="pain"),
                max_per_period=Maximum(Quantity(Fraction(8), Unit("tablet")), Span(Fraction(24), TimeUnit.HOUR)),
            )
        ],
        "Take 2 tablets every 4 to 6 hours when needed for pain. Do not take more than 8 tablets in 24 hours.",
        id="as needed with a maximum",
    ),
    pytest.param(
        [dosage("1", at("MORN"), additional=(Coding(text="swallow whole"), Coding(text="with food")))],
        "Take 1 tablet in the morning. Swallow whole. With food.",
        id="instructions word for word",
    ),
    pytest.param([dosage("1", at("ACM", offset=30))], "Take 1 tablet 30 minutes before breakfast.", id="an offset"),
    pytest.param(
        [dosage("1", replace(at("MORN"), bounds_period=Period(date(2026, 4, 1), date(2026, 4, 10))))],
        "Take 1 tablet in the morning from 1 April 2026 to 10 April 2026.",
        id="dates",
    ),
    pytest.param(
        [dosage("1", replace(DAILY, days_of_cycle=tuple(range(1, 22)), cycle_length=28))],
        "Take 1 tablet once a day on days 1 to 21 of every 28 days.",
        id="a cycle",
    ),
    pytest.param([dosage("1000", at("HS"), unit="unit")], "Take 1,000 units at bedtime.", id="CV-4.1 thousands"),
    pytest.param([dosage("1", Repeat(count=1))], "Take 1 tablet as a single dose.", id="one dose"),
]


@pytest.mark.parametrize(("dosages", "sentence"), SAID)
def test_a_structure_is_said_plainly(dosages: Sequence[Dosage], sentence: str) -> None:
    assert say_plain(dosages, "en") == sentence


IN_OTHER_WORDS = [
    ("en", "words", "Take ONE AND A HALF tablets in the morning and HALF a tablet at bedtime."),
    ("fr", "digits", "Prendre 1 comprimé et demi le matin et un demi-comprimé au coucher."),
    ("fr", "words", "Prendre UN comprimé et demi le matin et un demi-comprimé au coucher."),
    ("es", "digits", "Tomar 1 comprimido y medio por la mañana y medio comprimido al acostarse."),
    ("de", "digits", "Einnehmen: 1 und eine halbe Tablette morgens und eine halbe Tablette vor dem Schlafengehen."),
    ("de-AT", "digits", "Einnehmen: 1 und eine halbe Tablette morgens und eine halbe Tablette vor dem Schlafengehen."),
]


@pytest.mark.parametrize(("lang", "style", "sentence"), IN_OTHER_WORDS)
def test_each_language_and_number_style_has_its_own_words(lang: str, style: NumberStyle, sentence: str) -> None:
    assert say_plain([dosage("3/2", at("MORN")), dosage("1/2", at("HS"))], lang, style) == sentence


IN_FOUR_LANGUAGES = [
    pytest.param(  # STANDARDS: Universal Medication Schedule (Wolf et al.), "morning and bedtime"; USP <17>: dose apart from timing, digits
        [dosage("1", at("MORN")), dosage("1", at("HS"))],
        (
            "Take 1 tablet in the morning and 1 tablet at bedtime.",
            "Prendre 1 comprimé le matin et 1 comprimé au coucher.",
            "Tomar 1 comprimido por la mañana y 1 comprimido al acostarse.",
            "Einnehmen: 1 Tablette morgens und 1 Tablette vor dem Schlafengehen.",
        ),
        id="CV-4.4 morning and bedtime",
    ),
    pytest.param(  # ISMP list of error-prone abbreviations: a half in words, never 1/2
        [dosage("1/2", at("MORN")), dosage("1/4", at("HS"))],
        (
            "Take half a tablet in the morning and a quarter of a tablet at bedtime.",
            "Prendre un demi-comprimé le matin et un quart de comprimé au coucher.",
            "Tomar medio comprimido por la mañana y un cuarto de comprimido al acostarse.",
            "Einnehmen: eine halbe Tablette morgens und eine viertel Tablette vor dem Schlafengehen.",
        ),
        id="CV-4.3 a half, a quarter",
    ),
    pytest.param(
        [dosage("1", at("MORN", period=Fraction(2))), dosage("3/2", at("EVE", period=Fraction(2)))],
        (
            "Every other day take 1 tablet in the morning and 1 and a half tablets in the evening.",
            "Un jour sur deux, prendre 1 comprimé le matin et 1 comprimé et demi le soir.",
            "En días alternos, tomar 1 comprimido por la mañana y 1 comprimido y medio al atardecer.",
            "Jeden zweiten Tag einnehmen: 1 Tablette morgens und 1 und eine halbe Tablette abends.",
        ),
        id="CV-4.3 one and a half, on some days",
    ),
    pytest.param(
        [dosage("2", at("MORN", period=Fraction(2)), unit="puff"), dosage("1", at("HS", period=Fraction(2)), unit="puff")],
        (
            "Every other day use 2 puffs in the morning and 1 puff at bedtime.",
            "Un jour sur deux, inhaler 2 bouffées le matin et 1 bouffée au coucher.",
            "En días alternos, usar 2 inhalaciones por la mañana y 1 inhalación al acostarse.",
            "Jeden zweiten Tag inhalieren: 2 Hübe morgens und 1 Hub vor dem Schlafengehen.",
        ),
        id="another verb",
    ),
    pytest.param(
        [dosage("1", at("MORN", days_of_month=(1, 10, 15)))],
        (
            "Take 1 tablet in the morning on the 1st, 10th and 15th of each month.",
            "Prendre 1 comprimé le matin le 1er, le 10 et le 15 de chaque mois.",
            "Tomar 1 comprimido por la mañana los días 1, 10 y 15 de cada mes.",
            "Einnehmen: 1 Tablette morgens am 1., 10. und 15. jedes Monats.",
        ),
        id="days of the month",
    ),
    pytest.param(
        [dosage("1", replace(DAILY, period=Fraction(2), period_unit=TimeUnit.WEEK, day_of_week=(Weekday.MON,)))],
        (
            "Take 1 tablet every 2 weeks on Mondays.",
            "Prendre 1 comprimé toutes les 2 semaines le lundi.",
            "Tomar 1 comprimido cada 2 semanas los lunes.",
            "Einnehmen: 1 Tablette alle 2 Wochen montags.",
        ),
        id="a day of the week, some weeks apart",
    ),
    pytest.param(
        [dosage("1000", at("HS"), unit="mg")],
        (
            "Take 1,000 mg at bedtime.",
            "Prendre 1\u00a0000 mg au coucher.",
            "Tomar 1\u00a0000 mg al acostarse.",
            "Einnehmen: 1\u00a0000 mg vor dem Schlafengehen.",
        ),
        id="thousands: a comma in English, else a blank that does not break (ISO 80000-1)",
    ),
    pytest.param(
        [dosage("1/2", at("MORN"), unit="")],
        ("Take half in the morning.", "Prendre ½ le matin.", "Tomar ½ por la mañana.", "Einnehmen: ½ morgens."),
        id="a half of what is not named has no gender",
    ),
    pytest.param(
        [dosage("3/2", at("MORN"), unit="sachet")],
        (
            "Take 1 and a half sachets in the morning.",
            "Prendre 1 sachet et demi le matin.",
            "Tomar 1 sobre y medio por la mañana.",
            "Einnehmen: 1½ Beutel morgens.",
        ),
        id="half a sachet",
    ),
    pytest.param(
        [dosage("1/8", at("MORN"), unit="mg")],
        (
            "Take 0.125 mg in the morning.",
            "Prendre 0,125 mg le matin.",
            "Tomar 0,125 mg por la mañana.",
            "Einnehmen: 0,125 mg morgens.",
        ),
        id="a decimal always has its zero",
    ),
    pytest.param(
        [dosage("2", Repeat(count=1))],
        (
            "Take 2 tablets as a single dose.",
            "Prendre 2 comprimés en dose unique.",
            "Tomar 2 comprimidos en dosis única.",
            "Einnehmen: 2 Tabletten als Einzeldosis.",
        ),
        id="one dose in all",
    ),
]


@pytest.mark.parametrize(("dosages", "sentences"), IN_FOUR_LANGUAGES)
def test_the_four_languages_say_it_plainly(dosages: Sequence[Dosage], sentences: Sequence[str]) -> None:
    assert tuple(say_plain(dosages, lang) for lang in ("en", "fr", "es", "de")) == tuple(sentences)


IN_CAPITALS = [  # United Kingdom and New Zealand label custom: "Take THREE tablets TWICE daily" (STANDARDS 4.4)
    ("en", "Take THREE tablets ONCE a day.", "Take THREE tablets TWICE a day.", "Take THREE tablets FOUR times a day."),
    (
        "fr",
        "Prendre TROIS comprimés UNE fois par jour.",
        "Prendre TROIS comprimés DEUX fois par jour.",
        "Prendre TROIS comprimés QUATRE fois par jour.",
    ),
    (
        "es",
        "Tomar TRES comprimidos UNA vez al día.",
        "Tomar TRES comprimidos DOS veces al día.",
        "Tomar TRES comprimidos CUATRO veces al día.",
    ),
    (
        "de",
        "Einnehmen: DREI Tabletten EINMAL täglich.",
        "Einnehmen: DREI Tabletten ZWEIMAL täglich.",
        "Einnehmen: DREI Tabletten VIERMAL täglich.",
    ),
]


@pytest.mark.parametrize(("lang", "once", "twice", "four"), IN_CAPITALS)
def test_numbers_in_words_are_in_capitals_how_often_too(lang: str, once: str, twice: str, four: str) -> None:
    said = [say_plain([dosage("3", replace(DAILY, frequency=often))], lang, "words") for often in (1, 2, 4)]
    assert said == [once, twice, four]


@pytest.mark.parametrize(("lang", "days"), [("fr", 15), ("fr", 8), ("es", 15), ("es", 8), ("de", 8)])
def test_days_that_are_said_for_weeks_are_not_said(lang: str, days: int) -> None:
    """ "tous les 15 jours" is heard as every two weeks (common practice, no source)."""
    assert say_plain([dosage("1", replace(DAILY, period=Fraction(days)))], lang) is None
    assert say_plain([dosage("1", replace(DAILY, period=Fraction(days + 2)))], lang) is not None


@pytest.mark.parametrize("lang", ["fr", "es", "de"])
@pytest.mark.parametrize("text", ["5,0 mg", "prise de ,5 mg", "1.000 mg", "10 UI", "10 I.E."])
def test_an_instruction_that_breaks_a_rule_of_the_decimal_comma_is_not_said(lang: str, text: str) -> None:
    assert say_plain([dosage(additional=(Coding(text=text),))], lang) is None


UNSAYABLE = [
    pytest.param([], id="nothing"),
    pytest.param([dosage("1/3", at("MORN"))], id="a third"),
    pytest.param([dosage("1", at("MORN"), unit="thing")], id="a unit without a word"),
    pytest.param([dosage("1", at("AFT"))], id="a time of day without a dosing time"),
    pytest.param([dosage("1", None)], id="no timing at all"),
    pytest.param([dosage("1", replace(DAILY, frequency=2, when=("MORN",)))], id="twice a day at one time"),
    pytest.param([dosage("1", replace(DAILY, frequency_max=3, when=("MORN",)))], id="a range of frequency beside a time"),
    pytest.param([dosage("1", replace(DAILY, bounds_range=(None, None)))], id="a range of lengths"),
    pytest.param([dosage("1", replace(DAILY, duration=Fraction(2), duration_unit=TimeUnit.HOUR))], id="how long one dose takes"),
    pytest.param([dosage("1", replace(DAILY, count=5))], id="a count of doses"),
    pytest.param([dosage("1", replace(DAILY, days_of_month=(31,)))], id="a day that not every month has"),
    pytest.param(
        [dosage("1", replace(DAILY, bounds_period=Period(datetime(2026, 4, 1, 8, 0, tzinfo=UTC))))], id="a start with a clock time"
    ),
    pytest.param([dosage("1", replace(DAILY, bounds_period=Period(date(2026, 4, 1), start_latest=date(2026, 4, 30))))], id="a month alone"),
    pytest.param([Dosage(timing=Timing(events=(date(2026, 4, 1),)), amounts=dosage().amounts)], id="dated moments"),
    pytest.param([Dosage(timing=Timing(repeat=DAILY))], id="no amount"),
    pytest.param([dosage(site=Coding(text="left eye"))], id="a site"),
    pytest.param([dosage(max_per_lifetime=Quantity(Fraction(5), Unit("tablet")))], id="a maximum for life"),
    pytest.param([replace(dosage(), amounts=(Amount(range=Range(None, Quantity(Fraction(2), Unit("tablet")))),))], id="up to two"),
    pytest.param([dosage(additional=(Coding(text="1 tab QD"),))], id="an instruction that breaks a safe-text rule"),
    pytest.param([dosage(additional=(Coding(system="urn:codes", code="311504000"),))], id="an instruction that is only a code"),
    pytest.param([dosage("1", at("MORN")), dosage("1", DAILY)], id="one with a time of day and one without"),
    pytest.param([dosage("1", at("MORN"), sequence=1), dosage("1", at("HS"))], id="a sequence number on one only"),
]


@pytest.mark.parametrize("dosages", UNSAYABLE)
def test_what_cannot_be_said_in_plain_words_is_not_said(dosages: Sequence[Dosage]) -> None:
    assert say_plain(dosages, "en") is None


def test_a_language_without_a_phrasebook_says_nothing() -> None:
    assert say_plain([dosage("1", at("MORN"))], "it") is None
