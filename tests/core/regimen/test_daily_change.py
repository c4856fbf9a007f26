"""The difference of two schedules, day by day: put on top of the old amounts it gives the new, in exact fractions."""

from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.regimen.daily_change import Given, TimeChange, apply_change, find_daily_change
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Moment

MONDAY = date(2026, 3, 2)
DAYS = 20
HALVES = st.integers(1, 12).map(lambda halves: Fraction(halves, 2))


def given_on(number: int, slot: int, amount: Fraction) -> Given:
    at = STANDARD_TIMETABLE.slots[slot]
    return Given(MONDAY + timedelta(days=number), at.time, at.name, amount)


anything = st.lists(st.builds(given_on, st.integers(0, DAYS - 1), st.integers(0, 3), HALVES), max_size=40)


def amounts(given: list[Given]) -> dict[Moment, Fraction]:
    """By moment, counted without the code under test."""
    return {
        at: sum((one.amount for one in given if Moment(one.day, one.time) == at), Fraction(0))
        for at in {Moment(one.day, one.time) for one in given}
    }


@given(anything, anything)
def test_the_change_put_on_top_of_the_amounts_before_is_the_amounts_after(before: list[Given], after: list[Given]) -> None:
    change = find_daily_change(before, after, MONDAY, DAYS)
    assert apply_change(change, amounts(before)) == amounts(after)


@given(anything, anything)
def test_what_a_day_has_before_and_after_is_what_was_given_on_it(before: list[Given], after: list[Given]) -> None:
    for day in find_daily_change(before, after, MONDAY, DAYS).days:
        assert day.before == sum((one.amount for one in before if one.day == day.day), Fraction(0))
        assert day.after == sum((one.amount for one in after if one.day == day.day), Fraction(0))


@given(anything, anything)
def test_stretches_hold_every_day_once_and_no_two_alike_follow_each_other(before: list[Given], after: list[Given]) -> None:
    change = find_daily_change(before, after, MONDAY, DAYS)
    held = change.stretches()
    days = [one.first + timedelta(days=number) for one in held for number in range((one.last - one.first).days + 1)]
    assert days == [day.day for day in change.days]
    assert all(one.like.times != other.like.times for one, other in pairwise(held))


@given(anything)
def test_nothing_changes_exactly_where_both_sides_are_the_same(same: list[Given]) -> None:
    assert find_daily_change(same, list(reversed(same)), MONDAY, DAYS).nothing_changes
    assert not find_daily_change(same, [*same, given_on(3, 1, Fraction(1, 2))], MONDAY, DAYS).nothing_changes


def test_the_dosing_times_of_a_day_stand_in_order_of_the_clock_and_say_what_stays() -> None:
    before = [given_on(0, 3, Fraction(1)), given_on(0, 0, Fraction(1))]
    (day, *_) = find_daily_change(before, [given_on(0, 0, Fraction(1))], MONDAY, 1).days
    morning, bedtime = STANDARD_TIMETABLE.slots[0], STANDARD_TIMETABLE.slots[3]
    assert day.times == (
        TimeChange(morning.name, morning.time, Fraction(1), Fraction(1)),
        TimeChange(bedtime.name, bedtime.time, Fraction(1), Fraction(0)),
    )


def test_a_change_is_of_its_own_days_and_of_its_own_amounts_only() -> None:
    with pytest.raises(ValueError, match="not among the days"):
        find_daily_change([given_on(1, 0, Fraction(1))], [], MONDAY, 1)
    taken_away = find_daily_change([given_on(0, 0, Fraction(1))], [], MONDAY, 1)
    with pytest.raises(ValueError, match="less than nothing"):
        apply_change(taken_away, {})
