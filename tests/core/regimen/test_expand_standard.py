"""The standard's own table of common timings, and what its rules leave to a person.

Source: HL7 FHIR R4 (4.0.1), datatypes, Timing, where no other is named; expected doses worked out by hand from the words beside each row.
"""

from datetime import UTC, date, datetime, time, timedelta, timezone
from fractions import Fraction

import pytest
from tests.core.regimen.regimen_makers import (
    MONDAY,
    ONE_TABLET,
    a_dosage,
    an_order,
    assumed,
    codes,
    days_of,
    every,
    expanded,
    from_day,
    moments,
)

from dosewright.core.regimen.dosage import Amount, Coding, Maximum, Period, Range, Repeat, Span, TimeUnit, Timing, Weekday
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, DosingTime, Moment, Timetable
from dosewright.core.units.ids import SlotName
from dosewright.core.units.quantity import Quantity, Unit

M, N, E, B = "morning", "noon", "evening", "bedtime"
MON, WED, FRI = Weekday.MON, Weekday.WED, Weekday.FRI
GTS = "http://terminology.hl7.org/CodeSystem/v3-GTSAbbreviation"
START = from_day(MONDAY)
NOON_ON_THE_1ST, MIDNIGHT = datetime(2026, 3, 1, 12, tzinfo=UTC), datetime(2026, 3, 9, tzinfo=UTC)


def march(*days: int) -> list[date]:
    return [date(2026, 3, day) for day in days]


TWO_DAYS = [  # words of the table, the repeat, dosing times of one day
    pytest.param(every(1, 1, "d", when=("MORN",)), [M], id="every day in the morning"),
    pytest.param(every(3, 1, "d"), [M, N, E], id="three times a day"),
    pytest.param(Repeat(when=("CM",)), [M], id="with breakfast"),
    pytest.param(every(3, 1, "d", when=("AC",), offset=30), [M, N, E], id="three times a day, 30 minutes before meals"),
    pytest.param(every(3, 1, "d", when=("PC",)), [M, N, E], id="three times a day after meals"),
    pytest.param(every(4, 1, "d", when=("C", "HS")), [M, N, E, B], id="with meals and at bedtime"),
    pytest.param(every(2, 1, "d", when=("ACM", "ACV")), [M, E], id="before breakfast and dinner"),
    pytest.param(Repeat(when=("MORN", "HS")), [M, B], id="two events mean both"),
    pytest.param(Repeat(time_of_day=(time(22), time(8))), [M, B], id="two clock times"),
    pytest.param(every(2, 1, "d", time_of_day=(time(8), time(22))), [M, B], id="twice a day, and which times"),
    pytest.param(Repeat(time_of_day=(time(7, 30),)), [M], id="a clock time near a dosing time"),
    pytest.param(every(1, 24, "h"), [M], id="every 24 hours falls on the same dosing time"),
    pytest.param(every(1, 1440, "min", when=("HS",)), [B], id="every 1440 minutes"),
    pytest.param(every(1, 1, "d", day_of_week=tuple(Weekday), when=("HS",)), [B], id="all seven weekdays"),
    pytest.param(Repeat(when=("WAKE", "NIGHT")), [M, B], id="on waking and in the night-time"),
    pytest.param(every(1, 1, "d", frequency_max=1), [M], id="a range of one value is none"),
]


@pytest.mark.parametrize(("repeat", "slots"), TWO_DAYS)
def test_each_day_has_its_dosing_times(repeat: Repeat, slots: list[str]) -> None:
    found = expanded(repeat, days=2)
    assert [(dose.day, dose.slot) for dose in found.doses] == [(day, slot) for day in march(2, 3) for slot in slots]


RHYTHMS = [
    pytest.param(every(1, 1, "d", when=("MORN",), day_of_week=(MON, WED, FRI)), march(2, 4, 6, 9, 11, 13), id="Mon, Wed, Fri morning"),
    pytest.param(Repeat(day_of_week=(WED,)), march(4, 11), id="Wednesdays, nothing else"),
    pytest.param(every(2, 1, "wk", day_of_week=(MON, FRI)), march(2, 6, 9, 13), id="twice a week, and the two days"),
    pytest.param(every(1, 7, "d"), march(2, 9), id="every 7 days"),
    pytest.param(every(1, 2, "wk", day_of_week=(WED,), bounds_period=from_day(date(2026, 2, 18))), march(4), id="every second Wednesday"),
    pytest.param(every(1, 48, "h", bounds_period=from_day(date(2026, 3, 1))), march(3, 5, 7, 9, 11, 13, 15), id="every 48 hours"),
    pytest.param(every(1, 1, "mo", bounds_period=from_day(date(2025, 12, 10))), march(10), id="monthly, over the year's end"),
    pytest.param(every(1, 1, "a", bounds_period=from_day(date(2000, 3, 15))), march(15), id="yearly"),
    pytest.param(Repeat(days_of_month=(1, 3, 15), when=("MORN",)), march(3, 15), id="days of the month"),
    pytest.param(
        Repeat(days_of_month=(2, 4, 6), count=2, bounds_period=from_day(date(2026, 3, 3))), march(4, 6), id="two doses of three days"
    ),
    pytest.param(every(3, 1, "mo", days_of_month=(1, 3, 15)), march(3, 15), id="three times a month, and the three days"),
    pytest.param(every(2, 7, "d", days_of_cycle=(1, 4), cycle_length=7, bounds_period=START), march(2, 5, 9, 12), id="days 1 and 4 of 7"),
    pytest.param(every(None, 7, "d", days_of_cycle=(1, 4), cycle_length=7), march(2, 5, 9, 12), id="the same without a frequency"),
    pytest.param(every(1, 2, "d", count=3, bounds_period=from_day(date(2026, 2, 28))), march(2, 4), id="count runs from the start"),
    pytest.param(every(1, 1, "d", bounds_period=Period(date(2026, 2, 1), date(2026, 3, 3))), march(2, 3), id="the last day counts"),
    pytest.param(every(1, 1, "d", bounds_duration=Span(Fraction(2), TimeUnit.DAY)), march(2, 3), id="for two days"),
    pytest.param(every(1, 1, "d", bounds_duration=Span(Fraction(48), TimeUnit.HOUR)), march(2, 3), id="for 48 hours"),
    pytest.param(
        every(1, 2, "d", count=2, bounds_duration=Span(Fraction(4), TimeUnit.DAY)), march(2, 4), id="two doses in four days, every second"
    ),
    pytest.param(
        every(1, 1, "d", count=2, bounds_period=from_day(MONDAY, date(2026, 6, 1))), march(2, 3), id="two doses, some time until June"
    ),
    pytest.param(every(1, 1, "d", bounds_range=(Span(Fraction(2), TimeUnit.DAY),) * 2), march(2, 3), id="for two to two days"),
    pytest.param(
        every(1, 1, "wk", when=("MORN",), bounds_duration=Span(Fraction(1), TimeUnit.MONTH)), march(2, 9), id="weekly for a month"
    ),
    pytest.param(
        every(1, 1, "d", bounds_period=Period(date(2026, 2, 1), date(2026, 3, 31), date(2026, 2, 28))),
        march(*range(2, 16)),
        id="since February",
    ),
    pytest.param(every(1, 1, "d", bounds_period=from_day(date(2026, 3, 14))), march(14, 15), id="not before the start"),
    pytest.param(every(1, 1, "d", bounds_period=Period(date(2025, 1, 1), date(2025, 2, 1))), [], id="over long ago"),
]


@pytest.mark.parametrize(("repeat", "days"), RHYTHMS)
def test_a_rhythm_gives_its_days_within_a_fortnight(repeat: Repeat, days: list[date]) -> None:
    found = expanded(repeat, days=14)
    assert found.status is ExpansionStatus.SCHEDULED
    assert days_of(found) == days


LEAP = [
    pytest.param(every(1, 2, "d", bounds_period=from_day(date(2028, 2, 27))), date(2028, 2, 27), [27, 29, 2], id="29 February in a rhythm"),
    pytest.param(every(1, 1, "a", bounds_period=from_day(date(2024, 2, 28))), date(2028, 2, 27), [28], id="yearly on the 28th"),
    pytest.param(every(1, 2, "d", bounds_period=from_day(date(2027, 12, 30))), date(2027, 12, 30), [30, 1, 3], id="over New Year"),
    pytest.param(
        every(1, 1, "mo", bounds_period=from_day(date(2026, 1, 30))), date(2026, 1, 28), [30], id="30 January, before February comes"
    ),
]


@pytest.mark.parametrize(("repeat", "first", "days"), LEAP)
def test_the_calendar_s_edges(repeat: Repeat, first: date, days: list[int]) -> None:
    assert [day.day for day in days_of(expanded(repeat, first, 6))] == days


DECIDE = [
    pytest.param(every(1, 8, "h"), "timing.interval-fits-no-dosing-times", id="every 8 hours"),
    pytest.param(every(1, 12, "h"), "timing.interval-fits-no-dosing-times", id="every 12 hours"),
    pytest.param(every(1, 36, "h"), "timing.interval-fits-no-dosing-times", id="every 36 hours"),
    pytest.param(every(1, 12, "h", time_of_day=(time(8), time(22))), "timing.interval-fits-no-dosing-times", id="14 hours are not 12"),
    pytest.param(every(2, 24, "h"), "timing.interval-unclear", id="twice in 24 hours"),
    pytest.param(
        every(1, 24, "h", bounds_period=Period(datetime(2026, 3, 2, 14, tzinfo=UTC))),
        "timing.starts-within-a-day",
        id="every 24 hours from 14:00",
    ),
    pytest.param(every(3, 1, "d", frequency_max=4), "timing.range", id="3-4 times a day"),
    pytest.param(every(1, 4, "h", period_max=Fraction(6)), "timing.range", id="every 4-6 hours"),
    pytest.param(every(1, 1, "d", count=2, count_max=3), "timing.range", id="two or three in all"),
    pytest.param(
        every(1, 1, "d", bounds_range=(Span(Fraction(5), TimeUnit.DAY), Span(Fraction(7), TimeUnit.DAY))), "timing.range", id="5-7 days"
    ),
    pytest.param(every(1, 1, "d", bounds_range=(None, Span(Fraction(7), TimeUnit.DAY))), "timing.range", id="up to 7 days"),
    pytest.param(every(5, 1, "d"), "timing.no-dosing-times", id="five times against four dosing times"),
    pytest.param(every(3, 1, "wk"), "timing.days-not-said", id="three times a week, no days"),
    pytest.param(every(7, 1, "wk"), "timing.days-not-said", id="seven times a week"),
    pytest.param(every(2, 2, "d", when=("MORN", "EVE")), "timing.days-not-said", id="twice in two days at two times"),
    pytest.param(every(1, 1, "wk", day_of_week=(MON, WED)), "timing.often-differs", id="once a week on two days"),
    pytest.param(every(2, 1, "wk", day_of_week=(MON,)), "timing.often-differs", id="twice a week on one day"),
    pytest.param(
        every(3, 1, "wk", day_of_week=(MON, WED), when=("MORN",)), "timing.often-differs", id="three times a week on two mornings"
    ),
    pytest.param(every(1, 12, "h", when=("MORN",)), "timing.interval-fits-no-dosing-times", id="every 12 hours in the morning"),
    pytest.param(every(1, 1, "d", when=("MORN", "EVE")), "timing.often-differs", id="once a day at two times"),
    pytest.param(every(2, 1, "d", when=("MORN",)), "timing.often-differs", id="twice a day in the morning"),
    pytest.param(every(2, 1, "d", when=("AC",)), "timing.often-differs", id="twice a day before meals"),
    pytest.param(Repeat(when=("AC",)), "timing.which-meals", id="before meals, how many not said"),
    pytest.param(Repeat(when=("MORN", "CM")), "timing.one-dosing-time-twice", id="in the morning and with breakfast"),
    pytest.param(Repeat(when=("MORN", "MORN")), "timing.listed-twice", id="the same event twice"),
    pytest.param(Repeat(time_of_day=(time(10),)), "timing.clock-time-matches-none", id="10:00"),
    pytest.param(Repeat(time_of_day=(time(20),)), "timing.clock-time-matches-none", id="20:00"),
    pytest.param(Repeat(time_of_day=(time(23, 30),)), "timing.clock-time-matches-none", id="23:30 is not near the next morning"),
    pytest.param(Repeat(time_of_day=(time(7, 30), time(8, 30))), "timing.one-dosing-time-twice", id="two times near one"),
    pytest.param(Repeat(when=("AFT",)), "timing.event-matches-none", id="in the afternoon"),
    pytest.param(Repeat(when=("PHS",)), "timing.event-matches-none", id="after sleep began"),
    pytest.param(Repeat(when=("MORN",), offset=30), "timing.offset-too-far", id="30 minutes on which side of the morning?"),
    pytest.param(Repeat(when=("ACM",), offset=120), "timing.offset-too-far", id="two hours before breakfast"),
    pytest.param(
        every(1, 1, "d", duration=Fraction(7), duration_unit=TimeUnit.DAY), "timing.duration-of-a-dose", id="one dose takes a week"
    ),
    pytest.param(every(1, 0, "d"), "timing.period-unusable", id="a period of zero"),
    pytest.param(every(1, Fraction(1, 2), "d"), "timing.period-unusable", id="every half day"),
    pytest.param(every(1, Fraction(3, 2), "mo"), "timing.period-unusable", id="every month and a half"),
    pytest.param(
        every(1, 1, "d", count=3, bounds_duration=Span(Fraction(2), TimeUnit.DAY)), "timing.count-against-bounds", id="3 doses in 2 days"
    ),
    pytest.param(
        every(1, 1, "d", count=3, bounds_duration=Span(Fraction(9), TimeUnit.DAY)), "timing.count-against-bounds", id="3 doses for 9 days"
    ),
    pytest.param(
        every(1, 1, "d", count=3, bounds_period=from_day(MONDAY, date(2026, 3, 3))),
        "timing.count-against-bounds",
        id="3 doses until tomorrow",
    ),
    pytest.param(Repeat(count=3), "timing.says-no-rhythm", id="three in all, when not said"),
    pytest.param(Repeat(bounds_period=START), "timing.says-no-rhythm", id="only bounds"),
    pytest.param(Repeat(frequency=1, when=("MORN",)), "timing.period-missing", id="once, in what period?"),
    pytest.param(Repeat(period_unit=TimeUnit.DAY, when=("MORN",)), "timing.period-missing", id="a unit without its period"),
    pytest.param(every(None, 1, "d"), "timing.frequency-missing", id="in a day, how often?"),
    pytest.param(every(1, 1, "mo", bounds_period=from_day(date(2026, 1, 31))), "timing.month-too-short", id="the 31st of February"),
    pytest.param(every(1, 1, "a", bounds_period=from_day(date(2024, 2, 29))), "timing.month-too-short", id="29 February next year"),
    pytest.param(
        Repeat(days_of_month=(31,), when=("MORN",), bounds_period=from_day(date(2026, 1, 1)), count=9),
        "timing.month-too-short",
        id="on the 31st",
    ),
    pytest.param(
        every(1, 2, "wk", day_of_week=(MON,), bounds_period=from_day(date(2026, 2, 4))),
        "timing.week-unclear",
        id="every second Monday from a Wednesday",
    ),
    pytest.param(
        every(1, 2, "mo", days_of_month=(1,), bounds_period=from_day(date(2026, 2, 4))),
        "timing.month-unclear",
        id="every second 1st from the 4th",
    ),
    pytest.param(every(1, 1, "mo", day_of_week=(MON,)), "timing.days-against-period", id="monthly on Mondays"),
    pytest.param(every(1, 2, "d", day_of_week=(MON,)), "timing.days-against-period", id="every second day on Mondays"),
    pytest.param(Repeat(day_of_week=(MON,), days_of_month=(2,)), "timing.days-said-twice", id="Mondays and the second"),
    pytest.param(Repeat(days_of_cycle=(1, 2), when=("MORN",)), "timing.cycle-length-missing", id="a cycle without its length"),
    pytest.param(every(1, 1, "d", days_of_cycle=(1, 2)), "timing.cycle-length-missing", id="the same, once a day"),
    pytest.param(every(1, 1, "d", cycle_length=28), "timing.cycle-length-missing", id="a cycle's length without its days"),
    pytest.param(every(1, 28, "d", days_of_cycle=(1, 2), cycle_length=28), "timing.often-differs", id="once in 28 days on two of them"),
    pytest.param(every(1, 7, "d", days_of_cycle=(8,), cycle_length=7), "timing.no-such-day", id="day 8 of 7"),
    pytest.param(
        every(1, 2, "d", bounds_period=Period(date(2026, 3, 1), None, date(2026, 3, 31))),
        "timing.start-partly-known",
        id="every second day from March",
    ),
    pytest.param(
        every(1, 1, "d", bounds_period=Period(date(2026, 3, 1), None, date(2026, 3, 31))),
        "timing.start-partly-known",
        id="daily from some day of March",
    ),
    pytest.param(every(1, 2, "d", bounds_period=Period(NOON_ON_THE_1ST)), "timing.starts-within-a-day", id="every second day from noon"),
    pytest.param(every(1, 1, "d", bounds_period=Period(MONDAY, MIDNIGHT)), "timing.ends-at-midnight", id="until midnight"),
    pytest.param(every(1, 1, "d", bounds_duration=Span(Fraction(36), TimeUnit.HOUR)), "timing.length-unusable", id="for 36 hours"),
    pytest.param(every(1, 1, "d", bounds_duration=Span(Fraction(0), TimeUnit.DAY)), "timing.length-unusable", id="for no days"),
]


@pytest.mark.parametrize(("repeat", "code"), DECIDE)
def test_what_has_no_single_meaning_is_for_a_person(repeat: Repeat, code: str) -> None:
    found = expanded(repeat, days=40)
    assert (found.status, found.doses) == (ExpansionStatus.DECIDE, ())
    assert code in codes(found)


REFUSE = [
    pytest.param(Repeat(duration=Fraction(1), when=("MORN",)), "tim-1", id="tim-1"),
    pytest.param(Repeat(frequency=1, period=Fraction(1), when=("MORN",)), "tim-2", id="tim-2"),
    pytest.param(Repeat(duration=Fraction(-1), duration_unit=TimeUnit.HOUR), "tim-4", id="tim-4"),
    pytest.param(every(1, -1, "d"), "tim-5", id="tim-5"),
    pytest.param(Repeat(period_max=Fraction(2), when=("MORN",)), "tim-6", id="tim-6"),
    pytest.param(Repeat(duration_max=Fraction(2), when=("MORN",)), "tim-7", id="tim-7"),
    pytest.param(every(1, 1, "d", count_max=5), "tim-8", id="tim-8"),
    pytest.param(every(1, 1, "d", offset=30), "tim-9", id="tim-9 without an event"),
    pytest.param(Repeat(when=("ACM", "CD"), offset=30), "tim-9", id="tim-9 with a meal among others"),
    pytest.param(Repeat(when=("MORN",), time_of_day=(time(8),)), "tim-10", id="tim-10"),
]


@pytest.mark.parametrize(("repeat", "invariant"), REFUSE)
def test_a_broken_invariant_is_refused_even_for_an_as_needed_order(repeat: Repeat, invariant: str) -> None:
    """Source: HL7 FHIR R4 (4.0.1) StructureDefinition Timing, invariants."""
    for as_needed in (False, True):
        found = expand(an_order(a_dosage(repeat, as_needed=as_needed)), STANDARD_TIMETABLE, MONDAY, 7)
        assert found.status is ExpansionStatus.REFUSE
        assert invariant in [finding.facts["invariant"] for finding in found.findings]


def coded(code: str, repeat: Repeat | None = None, system: str = GTS) -> Timing:
    return Timing(repeat=repeat, code=Coding(system, code))


CODES = [("BID", [M, E]), ("TID", [M, N, E]), ("QID", [M, N, E, B]), ("AM", [M]), ("QD", [M]), ("BED", [B])]


@pytest.mark.parametrize(("code", "slots"), CODES)
def test_a_timing_code_is_a_complete_statement_of_the_repeat(code: str, slots: list[str]) -> None:
    found = expand(an_order(a_dosage(None, timing=coded(code))), STANDARD_TIMETABLE, MONDAY, 1)
    assert [dose.slot for dose in found.doses] == slots


def test_the_bounds_beside_a_code_still_apply() -> None:
    timing = coded("QOD", Repeat(bounds_period=Period(date(2026, 3, 1), date(2026, 3, 5))))
    assert days_of(expand(an_order(a_dosage(None, timing=timing)), STANDARD_TIMETABLE, MONDAY, 14)) == march(3, 5)


@pytest.mark.parametrize("repeat", [every(2, 1, "d"), Repeat(when=("MORN", "HS")), Repeat(time_of_day=(time(8), time(22)))])
def test_a_repeat_that_agrees_with_its_code_may_say_more(repeat: Repeat) -> None:
    assert len(expand(an_order(a_dosage(None, timing=coded("BID", repeat))), STANDARD_TIMETABLE, MONDAY, 1).doses) == 2


@pytest.mark.parametrize(
    "timing",
    [
        coded("BID", every(1, 1, "d")),
        coded("BID", every(2, 12, "h")),
        coded("AM", Repeat(when=("HS",))),
        coded("TID", Repeat(when=("MORN",))),
    ],
)
def test_a_repeat_that_contradicts_its_code_is_for_a_person(timing: Timing) -> None:
    assert expand(an_order(a_dosage(None, timing=timing)), STANDARD_TIMETABLE, MONDAY, 1).status is ExpansionStatus.DECIDE


@pytest.mark.parametrize(
    "timing", [coded("PM"), coded("Q6H"), coded("JH"), coded("BID", system="http://example.org"), coded("BID", system="")]
)
def test_a_code_that_is_not_clear_is_for_a_person(timing: Timing) -> None:
    assert expand(an_order(a_dosage(None, timing=timing)), STANDARD_TIMETABLE, MONDAY, 1).status is ExpansionStatus.DECIDE


def test_dated_moments_are_given_on_their_days_and_at_their_times() -> None:
    """ "15 Oct 2013, 17 Oct 2013 and 1 Nov 2013" (Timing.event)."""
    events = (datetime(2026, 3, 5, 22, tzinfo=UTC), date(2026, 3, 3), date(2027, 1, 1))
    found = expand(an_order(a_dosage(None, timing=Timing(events))), STANDARD_TIMETABLE, MONDAY, 14)
    assert moments(found) == [(date(2026, 3, 3), time(8)), (date(2026, 3, 5), time(22))]
    assert assumed(found) == ["wall-clock", "time-of-day"]


@pytest.mark.parametrize(
    ("timing", "code"),
    [
        (Timing((MONDAY,), Repeat(when=("MORN",))), "timing.event-beside-repeat"),
        (Timing((MONDAY,), code=Coding(GTS, "BID")), "timing.event-beside-repeat"),
        (Timing((MONDAY, MONDAY)), "timing.listed-twice"),
        (Timing((MONDAY, datetime(2026, 3, 2, 8, tzinfo=UTC))), "timing.listed-twice"),
        (Timing((datetime(2026, 3, 2, 15, tzinfo=UTC),)), "timing.clock-time-matches-none"),
        (Timing(), "timing.says-no-rhythm"),
        (None, "timing.missing"),
    ],
)
def test_moments_that_are_not_clear_are_for_a_person(timing: Timing | None, code: str) -> None:
    assert codes(expand(an_order(a_dosage(None, timing=timing)), STANDARD_TIMETABLE, MONDAY, 14)) == [code]


def tablets(count: int | Fraction, unit: str = "tablet") -> Quantity:
    return Quantity(Fraction(count), Unit(unit))


AMOUNTS = [
    pytest.param({"amounts": ()}, "dose.missing", id="no amount"),
    pytest.param({"amounts": (Amount(),)}, "dose.missing", id="an empty amount"),
    pytest.param({"amounts": (Amount(range=Range(tablets(1), tablets(2))),)}, "dose.range", id="one or two"),
    pytest.param({"amounts": (Amount(tablets(1)), Amount(tablets(2)))}, "dose.several", id="ordered one, calculated two"),
    pytest.param({"amounts": (Amount(tablets(0)),)}, "dose.zero", id="none"),
    pytest.param({"amounts": (Amount(tablets(500)),)}, "dose.large", id="milligrams written as tablets"),
    pytest.param({"max_per_administration": tablets(Fraction(1, 2))}, "dose.above-maximum", id="above the maximum at one time"),
    pytest.param({"max_per_administration": tablets(5, "mg")}, "dose.maximum-in-another-unit", id="a maximum in mg for tablets"),
    pytest.param(
        {"max_per_period": Maximum(tablets(1), Span(Fraction(2), TimeUnit.DAY))}, "dose.above-period-maximum", id="one in two days, daily"
    ),
    pytest.param(
        {"max_per_period": Maximum(tablets(6), Span(Fraction(1), TimeUnit.WEEK))}, "dose.above-period-maximum", id="six a week, daily"
    ),
    pytest.param(
        {"max_per_period": Maximum(tablets(9, "mg"), Span(Fraction(1), TimeUnit.DAY))}, "dose.maximum-in-another-unit", id="mg a day"
    ),
    pytest.param(
        {"max_per_period": Maximum(tablets(9), Span(Fraction(9), TimeUnit.YEAR))}, "dose.maximum-period-unusable", id="nine years"
    ),
    pytest.param({"max_per_lifetime": tablets(100)}, "dose.lifetime-maximum", id="a maximum for life"),
]


@pytest.mark.parametrize(("fields", "code"), AMOUNTS)
def test_an_amount_that_is_not_one_exact_quantity_within_its_limits_is_for_a_person(fields: dict[str, object], code: str) -> None:
    found = expand(an_order(a_dosage(every(1, 1, "d"), **fields)), STANDARD_TIMETABLE, MONDAY, 1)
    assert (found.status, codes(found)) == (ExpansionStatus.DECIDE, [code])


@pytest.mark.parametrize("span", [Span(Fraction(24), TimeUnit.HOUR), Span(Fraction(1), TimeUnit.DAY)])
def test_a_maximum_that_is_just_reached_is_kept(span: Span) -> None:
    dosage = a_dosage(every(4, 1, "d"), max_per_period=Maximum(tablets(4), span))
    assert expand(an_order(dosage), STANDARD_TIMETABLE, MONDAY, 2).status is ExpansionStatus.SCHEDULED


def test_a_maximum_holds_in_any_stretch_not_only_from_midnight() -> None:
    """22:00 and 08:00 lie ten hours apart, over midnight."""
    dosage = a_dosage(Repeat(when=("MORN", "HS")), max_per_period=Maximum(tablets(1), Span(Fraction(12), TimeUnit.HOUR)))
    assert codes(expand(an_order(dosage), STANDARD_TIMETABLE, MONDAY, 1)) == ["dose.above-period-maximum"]


def test_a_rate_is_refused() -> None:
    found = expand(an_order(a_dosage(every(1, 1, "d"), amounts=(Amount(rated=True),))), STANDARD_TIMETABLE, MONDAY, 1)
    assert (found.status, codes(found)) == (ExpansionStatus.REFUSE, ["dose.rate"])


ONE, TWO = a_dosage(every(1, 1, "d", when=("MORN",))), a_dosage(every(1, 1, "d", when=("HS",)))
FIVE_DAYS = every(1, 1, "d", when=("MORN",), bounds_duration=Span(Fraction(5), TimeUnit.DAY))
PHASES = [
    pytest.param((a_dosage(FIVE_DAYS, sequence=1), ONE), "phases.some-without-number", id="one numbered, one not"),
    pytest.param(
        (a_dosage(every(1, 1, "d"), sequence=1), a_dosage(FIVE_DAYS, sequence=2)), "phases.open-ended", id="no end before the next"
    ),
    pytest.param(
        (a_dosage(FIVE_DAYS, sequence=1), a_dosage(every(1, 1, "d", bounds_period=START), sequence=2)), "phases.overlap", id="both at once"
    ),
    pytest.param((ONE, a_dosage(every(1, 1, "d", when=("MORN",)))), "phases.same-time-twice", id="two for one moment"),
    pytest.param((ONE, a_dosage(every(1, 1, "d"), as_needed=True)), "phases.partly-as-needed", id="regular, and more as needed"),
    pytest.param(
        (a_dosage(every(2, 1, "d", count=3), sequence=1), a_dosage(FIVE_DAYS, sequence=2)), "phases.end-within-a-day", id="ends at noon"
    ),
    pytest.param(
        (a_dosage(every(1, 2, "d", count=3), sequence=1), a_dosage(FIVE_DAYS, sequence=2)),
        "phases.end-within-a-day",
        id="a rest day, then?",
    ),
]


@pytest.mark.parametrize(("dosages", "code"), PHASES)
def test_phases_that_do_not_follow_clearly_are_for_a_person(dosages: tuple[object, ...], code: str) -> None:
    found = expand(an_order(*dosages), STANDARD_TIMETABLE, MONDAY, 14)  # type: ignore[arg-type]
    assert (found.status, codes(found)) == (ExpansionStatus.DECIDE, [code])


def test_the_same_number_is_together_and_the_next_follows_both() -> None:
    """Source: HL7 FHIR R4 (4.0.1) Dosage.sequence."""
    evening = every(1, 1, "d", when=("EVE",), bounds_duration=Span(Fraction(5), TimeUnit.DAY))
    order = an_order(a_dosage(every(1, 1, "d", when=("HS",)), sequence=7), a_dosage(FIVE_DAYS, sequence=3), a_dosage(evening, sequence=3))
    found = expand(order, STANDARD_TIMETABLE, MONDAY, 7)
    assert [(dose.day.day, dose.slot) for dose in found.doses] == [(day, slot) for day in range(2, 7) for slot in (M, E)] + [(7, B), (8, B)]


def test_an_order_with_nothing_in_it_is_refused() -> None:
    assert expand(an_order(), STANDARD_TIMETABLE, MONDAY, 7).status is ExpansionStatus.REFUSE


def test_one_open_point_stops_the_whole_order_and_all_are_named() -> None:
    found = expand(an_order(ONE, a_dosage(every(1, 8, "h"), amounts=())), STANDARD_TIMETABLE, MONDAY, 7)
    assert (found.doses, codes(found)) == ((), ["dose.missing", "timing.interval-fits-no-dosing-times"])
    assert [finding.where["path"] for finding in found.findings] == ["dosage[1]", "dosage[1]"]


ANCHORS = [
    pytest.param({}, march(2, 4, 6), ["time-of-day", "anchor"], id="none: the first day, and it says so"),
    pytest.param({"since": Moment(date(2026, 2, 27))}, march(3, 5, 7), ["time-of-day"], id="the day from which it is in force"),
    pytest.param({"anchor": date(2026, 3, 1)}, march(3, 5, 7), ["time-of-day"], id="its own anchor"),
    pytest.param(
        {"anchor": date(2026, 3, 2), "since": Moment(date(2026, 3, 5))}, march(6), ["time-of-day"], id="an anchor before it is in force"
    ),
]


@pytest.mark.parametrize(("fields", "days", "defaults"), ANCHORS)
def test_a_rhythm_without_a_start_runs_from_the_order_s_own(fields: dict[str, object], days: list[date], defaults: list[str]) -> None:
    found = expand(an_order(a_dosage(every(1, 2, "d")), **fields), STANDARD_TIMETABLE, MONDAY, 6)
    assert (days_of(found), assumed(found)) == (days, defaults)


def test_a_start_that_the_structure_names_comes_before_the_order_s() -> None:
    found = expanded(every(1, 2, "d", bounds_period=from_day(date(2026, 3, 1))), days=6, anchor=MONDAY)
    assert days_of(found) == march(3, 5, 7)


def test_a_start_at_a_clock_time_leaves_out_what_lies_before_it() -> None:
    noon = Period(datetime(2026, 3, 2, 12, tzinfo=UTC), datetime(2026, 3, 3, 12, tzinfo=UTC))
    found = expanded(every(3, 1, "d", bounds_period=noon), days=7)
    assert moments(found) == [(MONDAY, time(12)), (MONDAY, time(18)), (date(2026, 3, 3), time(8)), (date(2026, 3, 3), time(12))]
    assert assumed(found) == ["time-of-day", "wall-clock"]


def test_one_instant_in_two_zones_is_two_clock_times() -> None:
    """Python holds 08:00 in London and 09:00 in Paris to be equal; a dosing time does not."""
    london, paris = datetime(2026, 3, 3, 8, tzinfo=UTC), datetime(2026, 3, 3, 9, tzinfo=timezone(timedelta(hours=1)))
    late = datetime(2026, 3, 3, 12, tzinfo=timezone(timedelta(hours=4)))
    slots = [
        [dose.slot for dose in expand(an_order(a_dosage(None, timing=Timing((event,)))), STANDARD_TIMETABLE, MONDAY, 7).doses]
        for event in (london, paris, late, london)
    ]
    assert slots == [[M], [M], [N], [M]]


def test_a_count_from_a_clock_time_counts_what_is_given() -> None:
    found = expanded(every(2, 1, "d", count=2, bounds_period=Period(datetime(2026, 3, 2, 12, tzinfo=UTC))), days=7)
    assert moments(found) == [(MONDAY, time(18)), (date(2026, 3, 3), time(8))]


EVENLY = Timetable(tuple(DosingTime(SlotName(f"at {hour}"), time(hour), frozenset()) for hour in (2, 8, 14, 20)))


def test_an_interval_that_fits_the_dosing_times_exactly_is_scheduled() -> None:
    found = expand(an_order(a_dosage(every(1, 6, "h"))), EVENLY, MONDAY, 1)
    assert [dose.time.hour for dose in found.doses] == [2, 8, 14, 20]


def test_an_interval_that_fits_in_two_ways_is_for_a_person() -> None:
    """08:00 and 20:00, or 02:00 and 14:00: both are twelve hours apart."""
    assert expand(an_order(a_dosage(every(1, 12, "h"))), EVENLY, MONDAY, 1).status is ExpansionStatus.DECIDE


@pytest.mark.parametrize(
    "repeat",
    [
        every(1, 1, "d", bounds_period=from_day(date(1, 1, 1))),
        every(1, 3, "d", bounds_period=from_day(date(1900, 1, 1)), count=2**31 - 1),
        every(1, 1, "mo", bounds_period=from_day(date(1900, 1, 1)), count=2**31 - 1),
        every(1, 1, "d", bounds_duration=Span(Fraction(10**30), TimeUnit.DAY)),
        every(1, 1, "d", bounds_duration=Span(Fraction(10**30), TimeUnit.YEAR)),
        every(1, 10**30, "d"),
        every(1, 10**30, "mo"),
        every(1, 10**30, "h"),
        Repeat(days_of_month=(31,), bounds_period=from_day(date(1900, 1, 1)), count=10**9),
        every(1, 3660, "mo", bounds_period=from_day(date(9999, 12, 31))),
    ],
)
def test_the_ends_of_the_calendar_and_absurd_numbers_are_answered_at_once(repeat: Repeat) -> None:
    for first in (date(1, 1, 1), MONDAY, date(9999, 12, 1)):
        found = expanded(repeat, first, 366)
        assert len(found.doses) <= 366


def test_a_window_without_days_has_no_doses_and_a_negative_one_is_impossible() -> None:
    assert expanded(every(4, 1, "d"), days=0).doses == ()
    with pytest.raises(ValueError, match="below zero"):
        expanded(every(4, 1, "d"), days=-1)


def test_a_dose_is_a_wall_clock_time_on_the_day_the_clocks_change() -> None:
    """29 March 2026 is the day of the change in Europe."""
    assert moments(expanded(every(1, 1, "d"), date(2026, 3, 29), 1)) == [(date(2026, 3, 29), time(8))]


def test_the_amount_and_the_order_s_ids_go_with_every_dose() -> None:
    (dose,) = expand(an_order(ONE), STANDARD_TIMETABLE, MONDAY, 1).doses
    assert (dose.order, dose.person, dose.medicine, dose.quantity) == ("o1", "p1", "m1", ONE_TABLET[0].quantity)
