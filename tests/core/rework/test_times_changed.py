"""R9: which doses of a card lie at other times once the dosing times are others."""

from dataclasses import replace
from datetime import time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.card_maker import BISOPROLOL, MONDAY, card
from tests.core.rework.test_touched import BOTH, FROM_MONDAY, NONE, ONE, order

from dosewright.core.rework.times_changed import doses_at_other_times, named_otherwise
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Moment, Timetable
from dosewright.core.units.ids import OrderId, SlotName


def at(*clocks: str) -> Timetable:
    """The standard dosing times at other hours."""
    slots = tuple(replace(slot, time=time.fromisoformat(clock)) for slot, clock in zip(STANDARD_TIMETABLE.slots, clocks, strict=True))
    return replace(STANDARD_TIMETABLE, slots=slots)


STANDARD = ("08:00", "12:00", "18:00", "22:00")


def test_r9_a_dose_that_moves_leaves_one_time_and_comes_to_another() -> None:
    found = doses_at_other_times(card(), BOTH, FROM_MONDAY, STANDARD_TIMETABLE, at("07:00", "12:00", "18:00", "22:00"))
    first = [one for one in found if one.day == MONDAY]
    assert [(one.time, one.medicine, one.before, one.after) for one in first] == [
        (time(7), BISOPROLOL, NONE, ONE),
        (time(8), BISOPROLOL, ONE, NONE),
    ]
    assert {one.day for one in found} == {MONDAY + timedelta(days=n) for n in range(3)}


def test_the_same_times_and_times_without_a_dose_touch_nothing() -> None:
    assert doses_at_other_times(card(), BOTH, FROM_MONDAY, STANDARD_TIMETABLE, STANDARD_TIMETABLE) == ()
    assert doses_at_other_times(card(), BOTH, FROM_MONDAY, STANDARD_TIMETABLE, at("08:00", "13:00", "18:00", "23:00")) == ()


def test_what_is_past_is_left() -> None:
    later = Moment(card().last + timedelta(days=1))
    assert doses_at_other_times(card(), BOTH, later, STANDARD_TIMETABLE, at("07:00", "12:00", "18:00", "22:00")) == ()


def test_an_order_that_does_not_lie_in_the_card_is_not_its_matter() -> None:
    other = order(OrderId("RX9"), BISOPROLOL, "HS")
    moved = at("08:00", "12:00", "18:00", "23:00")
    assert doses_at_other_times(card(), (*BOTH, other), FROM_MONDAY, STANDARD_TIMETABLE, moved) == ()


@given(st.sets(st.integers(0, 24 * 60 - 1), min_size=4, max_size=4))
def test_units_are_the_same_before_and_after_whatever_the_hours(minutes: set[int]) -> None:
    """Other hours move doses within their day; none is lost and none comes to be."""
    hours = at(*(f"{one // 60:02}:{one % 60:02}" for one in sorted(minutes)))
    found = doses_at_other_times(card(), BOTH, FROM_MONDAY, STANDARD_TIMETABLE, hours)
    for day, medicine in {(one.day, one.medicine) for one in found}:
        mine = [one for one in found if (one.day, one.medicine) == (day, medicine)]
        assert sum(one.before for one in mine) == sum(one.after for one in mine)


@pytest.mark.parametrize(("day", "said"), [(MONDAY, ("08:00: morning → breakfast",)), (MONDAY + timedelta(days=60), ())])
def test_a_name_on_the_labels_that_is_another_now(day: object, said: tuple[str, ...]) -> None:
    first, *others = STANDARD_TIMETABLE.slots
    renamed = Timetable((replace(first, name=SlotName("breakfast")), *others))
    assert named_otherwise(card(), Moment(day), renamed) == said  # type: ignore[arg-type]
    assert named_otherwise(card(), Moment(day), STANDARD_TIMETABLE) == ()  # type: ignore[arg-type]
