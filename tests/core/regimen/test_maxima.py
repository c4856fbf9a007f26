"""The order's own maximum in any stretch of time, against a count of every stretch; and dated moments against their own list."""

from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st
from tests.core.regimen.regimen_makers import a_dosage, an_order, codes, every, from_day, moments

from dosewright.core.regimen.dosage import Amount, Maximum, Span, TimeUnit, Timing
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.quantity import Quantity, Unit

START = date(2026, 1, 1)
CLOCKS = {"MORN": time(8), "NOON": time(12), "EVE": time(18), "HS": time(22)}
IN_HOURS = {TimeUnit.HOUR: 1, TimeUnit.DAY: 24, TimeUnit.WEEK: 168}
spans = st.sampled_from(
    [(hours, TimeUnit.HOUR) for hours in (1, 4, 6, 10, 12, 14, 24, 36, 48)] + [(1, TimeUnit.DAY), (2, TimeUnit.DAY), (1, TimeUnit.WEEK)]
)


@st.composite
def dosages(draw: st.DrawFn) -> dict[str, tuple[int, int]]:
    """For some times of day: how much, and every how many days."""
    names = draw(st.lists(st.sampled_from(sorted(CLOCKS)), min_size=1, max_size=4, unique=True))
    return {name: (draw(st.integers(1, 4)), draw(st.integers(1, 4))) for name in names}


def tablets(count: int) -> Quantity:
    return Quantity(Fraction(count), Unit("tablet"))


def most_in_any(given_at: list[tuple[datetime, int]], hours: int) -> int:
    """Every stretch that begins with a dose, its end left out."""
    return max(sum(count for at, count in given_at if start <= at < start + timedelta(hours=hours)) for start, _ in given_at)


@given(dosages(), spans, st.integers(1, 12))
def test_a_maximum_holds_in_every_stretch_of_its_length(said: dict[str, tuple[int, int]], span: tuple[int, TimeUnit], limit: int) -> None:
    maximum = Maximum(tablets(limit), Span(Fraction(span[0]), span[1]))
    parts = [
        a_dosage(
            every(None, step, "d", when=(name,), bounds_period=from_day(START)), amounts=(Amount(tablets(count)),), max_per_period=maximum
        )
        for name, (count, step) in said.items()
    ]
    found = expand(an_order(*parts), STANDARD_TIMETABLE, START, 40)
    given_at = [
        (datetime.combine(START + timedelta(days=day), CLOCKS[name]), count)
        for name, (count, step) in said.items()
        for day in range(0, 60, step)
    ]
    kept = most_in_any(given_at, span[0] * IN_HOURS[span[1]]) <= limit
    assert found.status is (ExpansionStatus.SCHEDULED if kept else ExpansionStatus.DECIDE)
    assert codes(found) == ([] if kept else ["dose.above-period-maximum"])


@given(
    st.sets(st.tuples(st.integers(0, 40), st.sampled_from(sorted(CLOCKS.values()))), min_size=1, max_size=12),
    st.randoms(use_true_random=False),
    st.integers(0, 40),
    st.integers(0, 30),
)
def test_dated_moments_give_their_own_list_in_any_order_and_window(
    listed: set[tuple[int, time]], chance: object, begin: int, days: int
) -> None:
    """Source: HL7 FHIR R4 (4.0.1) Timing.event: specific times, as many as are listed."""
    events = [datetime.combine(START + timedelta(days=day), clock, UTC) for day, clock in sorted(listed)]
    chance.shuffle(events)  # type: ignore[attr-defined]
    found = expand(an_order(a_dosage(None, timing=Timing(tuple(events)))), STANDARD_TIMETABLE, START + timedelta(days=begin), days)
    wanted = [(START + timedelta(days=day), clock) for day, clock in sorted(listed) if begin <= day < begin + days]
    assert moments(found) == wanted
