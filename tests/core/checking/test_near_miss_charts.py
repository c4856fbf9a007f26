"""Limits of the charts by published figures, by another computation, and by what must hold of any chart."""

import math
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal, localcontext
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.checking.control_limits import g_limits, g_side, least_for_lower_limit, p_limits, p_side
from dosewright.core.checking.g_chart import g_chart
from dosewright.core.checking.p_chart import Period, Sample, Turns, p_chart, period_of, samples

MONDAY = date(2026, 3, 2)


def share(text: str) -> Fraction:
    return Fraction(text)


# Each limit to the decimals in which it is published or was computed by hand.
PUBLISHED = [
    pytest.param("0.0585", 100, "0", "0.1289", id="Montgomery, Statistical Quality Control, example 6-1"),
    pytest.param("102/1900", 100, "0", "0.1213", id="the same without sample 12"),
    pytest.param("0.2313", 50, "0.0524", "0.4102", id="NIST handbook, wafers; its limits computed by hand"),
    pytest.param("0.16", 200, "0.0822", "0.2378", id="a textbook's exercise, 16 in 100 of 200"),
    pytest.param("0.0426", 100, "0", "0.1032", id="an audit's share of wrong packs, 100 a period; by hand"),
    pytest.param("0.0426", 200, "0", "0.0854", id="200 a period; by hand"),
    pytest.param("0.0426", 400, "0.0123", "0.0729", id="400 a period; by hand"),
]


@pytest.mark.parametrize(("mean", "many", "lower", "upper"), PUBLISHED)
def test_the_limits_of_a_share_are_the_published_ones(mean: str, many: int, lower: str, upper: str) -> None:
    limits = p_limits(share(mean), many)
    assert [round(float(one), 4) for one in (limits.lower, limits.upper)] == [float(lower), float(upper)]


def test_the_limit_of_runs_is_the_published_one() -> None:
    """Benneyan's g-chart, 40 units between two events on average: computed by hand."""
    assert round(float(g_limits(Fraction(40)).upper), 1) == 161.5


def test_from_how_many_on_a_share_has_a_lower_limit() -> None:
    assert least_for_lower_limit(share("0.0426")) == 203
    # 9·(1 - 0.00263)/0.00263 = 3413.05…, so 3414: by long division, not from a publication
    assert least_for_lower_limit(share("0.00263")) == 3414
    assert p_limits(share("0.0426"), 202).lower == 0
    assert p_limits(share("0.0426"), 203).lower > 0


def test_a_sample_whose_cause_is_known_is_left_out_of_the_limits_and_still_drawn() -> None:
    """Twenty samples of 100 with 117 found, 15 of them in the twelfth, as in Montgomery's example; the other samples are ours."""
    found = [5, 6, 5, 5, 6, 5, 5, 6, 5, 5, 6, 15, 5, 5, 6, 5, 5, 6, 5, 6]
    drawn = [Sample(MONDAY + timedelta(weeks=at), 100, one) for at, one in enumerate(found)]
    assert sum(found) == 117
    first = p_chart(drawn)
    assert [at for at, point in enumerate(first, 1) if point.side] == [12]
    again = p_chart(drawn, Turns(left_out={drawn[11].first}))
    assert again[0].limits is not None
    assert again[0].limits.centre == Fraction(102, 1900)
    assert (again[11].side, again[11].counted) == (1, False)


@given(st.fractions(0, 1, max_denominator=5000), st.integers(1, 5000))
def test_limits_agree_with_another_computation(mean: Fraction, many: int) -> None:
    """In floating point, by the formula as it stands in the books."""
    limits, p = p_limits(mean, many), float(mean)
    reach = 3 * math.sqrt(p * (1 - p) / many)
    assert float(limits.lower) == pytest.approx(max(p - reach, 0), abs=1e-7)
    assert float(limits.upper) == pytest.approx(min(p + reach, 1), abs=1e-7)


@given(st.integers(0, 300), st.integers(1, 300), st.fractions(0, 1, max_denominator=300))
def test_what_lies_beyond_is_decided_without_rounding(found: int, many: int, mean: Fraction) -> None:
    """Against sixty decimals, where those can tell: a figure that lies on its limit is not beyond it."""
    found = min(found, many)
    with localcontext(prec=60):
        p = Decimal(mean.numerator) / Decimal(mean.denominator)
        away = Decimal(found) / Decimal(many) - p
        over = abs(away) - 3 * (p * (1 - p) / many).sqrt()
        expected = 0 if over < Decimal("1e-50") else (1 if away > 0 else -1)
    assert p_side(found, many, mean) == expected


def test_a_figure_on_its_limit_is_not_beyond_it() -> None:
    """One in ten of 36: three standard deviations are 3·√(0.09/36) = 0.15, so 9 of 36 lies on the limit, 0.25."""
    assert p_limits(Fraction(1, 10), 36).upper == Fraction(1, 4)
    assert (p_side(9, 36, Fraction(1, 10)), p_side(10, 36, Fraction(1, 10))) == (0, 1)


@given(st.integers(0, 2000), st.fractions(0, 500, max_denominator=50))
def test_a_run_is_too_long_only_above_its_limit(run: int, mean: Fraction) -> None:
    limit = float(mean) + 3 * math.sqrt(float(mean) * (float(mean) + 1))
    if abs(run - limit) > 1e-6:
        assert g_side(run, mean) == (1 if run > limit else 0)


@pytest.mark.parametrize("bad", [lambda: p_limits(Fraction(11, 10), 5), lambda: p_limits(Fraction(1, 2), 0), lambda: g_limits(Fraction(-1)),
                                 lambda: least_for_lower_limit(Fraction(0)), lambda: Sample(MONDAY, 2, 3)])  # fmt: skip
def test_what_cannot_be_is_refused(bad: object) -> None:
    with pytest.raises(ValueError, match=r"."):
        bad()  # type: ignore[operator]


DAYS = st.dates(date(2025, 1, 1), date(2026, 12, 31))


@given(st.lists(st.tuples(DAYS, st.booleans()), max_size=60), st.sampled_from(Period))
def test_every_check_is_in_exactly_one_period(outcomes: list[tuple[date, bool]], by: Period) -> None:
    drawn = samples([day for day, _ in outcomes], [day for day, back in outcomes if back], by)
    assert sum(sample.many for sample in drawn) == len(outcomes)
    assert sum(sample.found for sample in drawn) == sum(back for _, back in outcomes)
    firsts = [sample.first for sample in drawn]
    assert firsts == sorted(set(firsts))
    assert all(period_of(first, by) == first for first in firsts)
    assert all(period_of(first + timedelta(days=32 if by is Period.MONTH else 7), by) == after
               for first, after in pairwise(firsts))  # fmt: skip


@given(st.lists(st.tuples(st.integers(0, 50), st.integers(0, 50)), min_size=1, max_size=30), st.sets(st.integers(0, 29)))
def test_limits_begin_anew_where_the_work_changed(counts: list[tuple[int, int]], turns: set[int]) -> None:
    """Each part's centre line is its own share, whatever lies before or after it."""
    drawn = [Sample(MONDAY + timedelta(weeks=at), many, min(found, many)) for at, (many, found) in enumerate(counts)]
    points = p_chart(drawn, Turns(anew={MONDAY + timedelta(weeks=at) for at in turns}))
    assert [point.sample for point in points] == drawn
    starts = sorted({0, *(at for at in turns if at < len(drawn))})
    for start, end in zip(starts, [*starts[1:], len(drawn)], strict=True):
        part = drawn[start:end]
        many, found = sum(one.many for one in part), sum(one.found for one in part)
        centres = {point.limits.centre for point in points[start:end] if point.limits}
        assert centres == ({Fraction(found, many)} if many else set())


def test_nothing_checked_is_no_point() -> None:
    assert p_chart(samples([], [], Period.WEEK)) == ()
    assert g_chart([], []).runs == ()


NINE = datetime(2026, 3, 2, 9, tzinfo=UTC)
MINUTES = st.lists(st.integers(0, 500), max_size=40, unique=True)


@given(MINUTES, MINUTES)
def test_every_card_accepted_between_two_near_misses_is_in_one_run(cards: list[int], events: list[int]) -> None:
    def at(minutes: list[int]) -> list[datetime]:
        return [NINE + timedelta(minutes=one) for one in minutes]

    chart = g_chart(at(cards), at(events))
    ordered = sorted(events)
    counted = [sum(start <= card < end for card in cards) for start, end in pairwise(ordered)]
    assert [run.many for run in chart.runs] == counted
    assert chart.going_on == sum(card >= (max(events) if events else -1) for card in cards)
    if counted:
        assert chart.limits is not None
        assert chart.limits.centre == Fraction(sum(counted), len(counted))


def test_a_run_longer_than_chance_explains_is_marked() -> None:
    events = [NINE + timedelta(hours=hour) for hour in range(12)]
    cards = [NINE + timedelta(hours=hour, minutes=5) for hour in range(10)] + [NINE + timedelta(hours=10, seconds=one) for one in range(60)]
    chart = g_chart(cards, events)
    assert [run.side for run in chart.runs] == [0] * 10 + [1]
    assert g_chart(cards, events, anew=[events[10]]).runs[-1].side == 0
