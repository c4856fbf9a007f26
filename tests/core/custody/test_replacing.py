"""What an order changes when it is confirmed: in place of another, beside it, or as the first; in units, or in mg over two products."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.packing.makers import medicine
from tests.core.regimen.regimen_makers import MONDAY, a_dosage, every

from dosewright.core.custody.replacing import (
    Outlook,
    Relation,
    Replacing,
    Side,
    compare_beside,
    compare_first,
    compare_replaced,
    held_alike,
    of_one_substance,
)
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.substances import Blend
from dosewright.core.regimen.daily_change import apply_change
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Moment
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.core.units.quantity import Quantity, Unit

TUESDAY = date(2026, 3, 10)
OUTLOOK = Outlook(STANDARD_TIMETABLE, MONDAY)
BISO_5 = medicine("Bisoprolol", code="biso5", strength="5 mg", strength_amount=Quantity(Fraction(5), Unit("mg")))
BISO_2 = medicine("Bisoprolol fumarate", code="biso2", strength="2.5 mg", strength_amount=Quantity(Fraction(5, 2), Unit("mg")))
RAMIPRIL = medicine("Ramipril")
CODO = medicine("Co-codamol", strength="8 mg/500 mg", strength_amount=None)
BLENDS = (Blend("b", "co-codamol", ("codeine", "paracetamol"), "", "", ""),)


def tablets(count: Fraction | int, *when: str, unit: str = "tablet", **repeat: object) -> Dosage:
    timing = every(len(when), 1, "d", when=when, **repeat)
    return replace(a_dosage(timing), amounts=(Amount(Quantity(Fraction(count), Unit(unit))),))


def an_order(name: str, product: Medicine, *dosages: Dosage, since: date | None = MONDAY, until: Moment | None = None) -> Order:
    start = Moment(since) if since else None
    return Order(OrderId(name), PersonId("p1"), product.code, dosages, since=start, until=until, anchor=since)


TWICE = an_order("old", BISO_5, tablets(1, "MORN", "HS"))
ONCE = an_order("new", BISO_5, tablets(1, "MORN"), since=TUESDAY)


def stretches(found: Replacing) -> list[tuple[date, Fraction, Fraction]]:
    assert found.change is not None
    return [(one.first, one.like.before, one.like.after) for one in found.change.stretches()]


def test_two_a_day_become_one_from_the_day_on_which_the_new_order_begins() -> None:
    found = compare_replaced(Side(ONCE, BISO_5), Side(TWICE, BISO_5), OUTLOOK)
    assert (found.relation, found.since, found.unit) == (Relation.REPLACES, Moment(TUESDAY), "tablet")
    assert stretches(found) == [(TUESDAY, Fraction(2), Fraction(1))]
    assert found.change is not None
    told = [f"{one.slot} {one.before} {one.after}" for one in found.change.days[0].times]
    assert told == ["morning 1 1", "bedtime 1 0"]


def test_beside_each_other_both_count() -> None:
    assert stretches(compare_beside(Side(ONCE, BISO_5), Side(TWICE, BISO_5), OUTLOOK)) == [(TUESDAY, Fraction(2), Fraction(3))]


def test_a_first_order_begins_at_nothing() -> None:
    assert stretches(compare_first(Side(TWICE, BISO_5), OUTLOOK)) == [(MONDAY, Fraction(0), Fraction(2))]


def test_another_strength_of_the_substance_is_counted_in_milligrams() -> None:
    new = an_order("new", BISO_2, tablets(1, "MORN"), since=TUESDAY)
    found = compare_replaced(Side(new, BISO_2), Side(TWICE, BISO_5), OUTLOOK)
    assert (found.unit, stretches(found)) == ("mg", [(TUESDAY, Fraction(10), Fraction(5, 2))])


def test_a_change_in_the_middle_of_a_day_leaves_the_morning_as_it_was() -> None:
    noon = replace(an_order("new", BISO_5, tablets(2, "HS")), since=Moment(TUESDAY, time(12)))
    found = compare_replaced(Side(noon, BISO_5), Side(TWICE, BISO_5), OUTLOOK)
    assert stretches(found)[:2] == [(TUESDAY, Fraction(2), Fraction(3)), (TUESDAY + timedelta(days=1), Fraction(2), Fraction(2))]


def test_what_is_past_is_not_shown_as_if_it_could_change() -> None:
    begun = an_order("new", BISO_5, tablets(1, "MORN"), since=MONDAY - timedelta(days=30))
    found = compare_replaced(Side(begun, BISO_5), Side(replace(TWICE, since=None), BISO_5), OUTLOOK)
    assert stretches(found)[0][0] == MONDAY


def test_an_order_that_ends_by_itself_is_told_as_a_stretch_of_its_own() -> None:
    ends = replace(TWICE, until=Moment(TUESDAY + timedelta(days=7)))
    found = compare_replaced(Side(ONCE, BISO_5), Side(ends, BISO_5), OUTLOOK)
    week = TUESDAY + timedelta(days=7)
    assert stretches(found) == [(TUESDAY, Fraction(2), Fraction(1)), (week, Fraction(0), Fraction(1))]


def test_what_cannot_be_counted_in_one_unit_is_not_counted() -> None:
    puffs = an_order("new", BISO_5, tablets(1, "MORN", unit="puff"))
    assert compare_replaced(Side(puffs, BISO_5), Side(TWICE, BISO_5), OUTLOOK).change is None
    blend = an_order("old", CODO, tablets(1, "MORN"))
    other = medicine("Co-codamol", code="codo30", strength="30 mg/500 mg", strength_amount=None)
    new = an_order("new", other, tablets(1, "MORN"))
    assert compare_replaced(Side(new, other), Side(blend, CODO), OUTLOOK).change is None
    milligrams = an_order("new", other, tablets(500, "MORN", unit="mg"))
    assert compare_replaced(Side(milligrams, other), Side(blend, CODO), OUTLOOK).change is None


def test_what_is_written_in_one_unit_on_both_sides_is_counted_in_it() -> None:
    liquid = medicine("Lactulose", None, form="oral solution", unit=Unit("mL"), strength="3.35 g per 5 mL", strength_amount=None)
    one, other = an_order("new", liquid, tablets(2, "MORN", unit="spoonful")), an_order("old", liquid, tablets(1, "MORN", unit="spoonful"))
    found = compare_replaced(Side(one, liquid), Side(other, liquid), OUTLOOK)
    assert (found.unit, stretches(found)[0][1:]) == ("spoonful", (Fraction(1), Fraction(2)))


def test_an_order_that_cannot_be_put_on_days_has_no_change() -> None:
    five = an_order("new", BISO_5, a_dosage(every(5, 1, "d")))
    assert compare_first(Side(five, BISO_5), OUTLOOK).change is None


def test_what_is_taken_when_needed_is_said_of_its_side() -> None:
    needed = an_order("new", BISO_5, replace(tablets(1, "MORN"), as_needed=True), since=TUESDAY)
    found = compare_replaced(Side(needed, BISO_5), Side(TWICE, BISO_5), OUTLOOK)
    assert (found.as_needed, stretches(found)) == ((False, True), [(TUESDAY, Fraction(2), Fraction(0))])
    assert compare_beside(Side(TWICE, BISO_5), Side(needed, BISO_5), OUTLOOK).as_needed == (True, False)


SLOTS = ("MORN", "NOON", "EVE", "HS")


@st.composite
def rhythms(draw: st.DrawFn) -> Dosage:
    each = draw(st.integers(1, 9))
    most = 4 if each == 1 else 1  # twice in 3 days: on which days is asked
    when = tuple(draw(st.lists(st.sampled_from(SLOTS), min_size=1, max_size=most, unique=True)))
    repeat = Repeat(frequency=len(when), period=Fraction(each), period_unit=every(1, 1, "d").period_unit, when=when)
    count = Fraction(draw(st.integers(1, 8)), draw(st.sampled_from((1, 2, 4))))
    return replace(a_dosage(repeat), amounts=(Amount(Quantity(count, Unit("tablet"))),))


def by_moment(orders: Sequence[Order], first: date, days: int) -> dict[Moment, Fraction]:
    """What the orders give, laid out by the expander alone."""
    found: dict[Moment, Fraction] = {}
    for order in orders:
        for dose in expand(order, STANDARD_TIMETABLE, first, days).doses:
            at = Moment(dose.day, dose.time)
            found[at] = found.get(at, Fraction(0)) + dose.quantity.count
    return found


@given(old=rhythms(), new=rhythms(), after=st.integers(0, 40), hour=st.integers(0, 23), beside=st.booleans())
def test_the_difference_put_on_the_old_daily_doses_gives_the_new(old: Dosage, new: Dosage, after: int, hour: int, *, beside: bool) -> None:
    since = Moment(MONDAY + timedelta(days=after), time(hour))
    before = an_order("old", BISO_5, old)
    begun = replace(an_order("new", BISO_5, new), since=since, anchor=since.day)
    compare = compare_beside if beside else compare_replaced
    change = compare(Side(begun, BISO_5), Side(before, BISO_5), OUTLOOK).change
    assert change is not None
    days = len(change.days)
    kept = before if beside else replace(before, until=since)
    assert apply_change(change, by_moment([before], since.day, days)) == by_moment([kept, begun], since.day, days)


HELD = [
    pytest.param({}, True, id="without an end"),
    pytest.param({"until": Moment(MONDAY)}, False, id="ended"),
    pytest.param({"until": Moment(TUESDAY)}, False, id="ends as the new one begins"),
    pytest.param({"until": Moment(TUESDAY, time(1))}, True, id="ends an hour later"),
    pytest.param({"since": Moment(date(2027, 1, 1))}, True, id="begins while it lasts"),
]


@pytest.mark.parametrize(("changes", "held"), HELD)
def test_orders_that_are_in_force_at_one_time_are_held_against_each_other(changes: dict[str, Moment], *, held: bool) -> None:
    other = replace(TWICE, **changes)  # type: ignore[arg-type]
    assert bool(held_alike(ONCE, [other], MONDAY)) is held


def test_an_order_that_has_ended_by_the_time_the_other_begins_is_none_of_its_matter() -> None:
    ends = replace(ONCE, until=Moment(TUESDAY + timedelta(days=3)))
    later = replace(TWICE, since=Moment(TUESDAY + timedelta(days=3)))
    assert held_alike(ends, [later], MONDAY) == ()
    assert held_alike(replace(ONCE, since=None), [replace(TWICE, until=Moment(MONDAY - timedelta(days=1)))], MONDAY) == ()
    assert held_alike(ONCE, [ONCE], MONDAY) == ()


def test_products_of_one_substance_are_known_by_what_is_in_them() -> None:
    assert of_one_substance(BISO_5, BISO_2, ())
    assert not of_one_substance(BISO_5, RAMIPRIL, ())
    assert not of_one_substance(CODO, medicine("Paracetamol"), BLENDS)
    assert of_one_substance(CODO, medicine("Codeine/paracetamol", code="generic"), BLENDS)
