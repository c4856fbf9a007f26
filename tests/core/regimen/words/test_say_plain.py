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
