"""R9: which cards an order's change touches."""

from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction

import pytest
from tests.core.card_maker import BISOPROLOL, CARD, METFORMIN, MONDAY, RX1, RX2, card

from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.regimen.order import Order
from dosewright.core.rework.touched import Change, Touched, touched
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Moment
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId, PersonId
from dosewright.core.units.quantity import Quantity, Unit

NONE, HALF, ONE = Fraction(0), Fraction(1, 2), Fraction(1)
FROM_MONDAY = Moment(MONDAY)


def order(name: OrderId, medicine: MedicineCode, when: str, amount: Fraction | int = 1) -> Order:
    """Once a day at one dosing time, for ever."""
    repeat = Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=(when,))
    dosage = Dosage(timing=Timing(repeat=repeat), amounts=(Amount(Quantity(Fraction(amount), Unit("tablet"))),))
    return Order(name, PersonId("p1"), medicine, (dosage,), since=Moment(MONDAY), anchor=MONDAY)


BISO = order(RX1, BISOPROLOL, "MORN")
METF = order(RX2, METFORMIN, "EVE")
BOTH = (BISO, METF)
NEW = MedicineCode("ramipril-5")


def change(after: tuple[Order, ...], at: Moment = FROM_MONDAY) -> Change:
    return Change(BOTH, after, at, STANDARD_TIMETABLE)


def touch(after: tuple[Order, ...], at: Moment = FROM_MONDAY) -> tuple[Touched, ...]:
    return touched([card()], change(after, at))


def days(found: tuple[Touched, ...]) -> list[tuple[date, time, MedicineCode, Fraction, Fraction]]:
    return [(d.day, d.time, d.medicine, d.before, d.after) for one in found for d in one.doses]


def test_nothing_changes_nothing() -> None:
    assert touch(BOTH) == ()


def test_a_new_prescription_that_asks_the_same_touches_nothing() -> None:
    assert touch((replace(BISO, id=OrderId("RX9"), rx_no="9"), METF)) == ()


def test_a_stop_touches_every_dose_from_then_on() -> None:
    stop = Moment(MONDAY + timedelta(days=1))
    found = touch((replace(BISO, until=stop), METF), stop)
    assert days(found) == [(MONDAY + timedelta(days=n), time(8), BISOPROLOL, ONE, NONE) for n in (1, 2)]
    assert found[0].medicines == (BISOPROLOL,)


def test_a_stop_at_noon_leaves_that_mornings_dose() -> None:
    stop = Moment(MONDAY, time(12))
    assert [d.day for one in touch((replace(BISO, until=stop), METF), stop) for d in one.doses] == [
        MONDAY + timedelta(days=1),
        MONDAY + timedelta(days=2),
    ]


def test_a_changed_dose_is_named_with_before_and_after() -> None:
    found = touch((BISO, order(RX2, METFORMIN, "EVE", HALF)))
    assert days(found) == [(MONDAY + timedelta(days=n), time(18), METFORMIN, ONE, HALF) for n in range(3)]
    assert found[0].medicines == ()


def test_a_moved_dose_touches_both_times() -> None:
    assert [(d[1], d[3], d[4]) for d in days(touch((BISO, order(RX2, METFORMIN, "MORN"))))][:2] == [
        (time(8), NONE, ONE),
        (time(18), ONE, NONE),
    ]


def test_an_addition_at_a_time_without_a_column_touches_the_cards_of_that_day() -> None:
    found = touch((*BOTH, order(OrderId("RX3"), NEW, "NOON")))
    assert [one.card for one in found] == [CARD]
    assert len(days(found)) == 3


def test_an_addition_at_a_time_with_a_column_touches_that_card_only() -> None:
    other = replace(card(CardNumber("2")), columns=card().columns[1:])  # evenings only
    after = change((*BOTH, order(OrderId("RX3"), BISOPROLOL, "MORN")))
    assert [one.card for one in touched([card(), other], after)] == [CARD]


def test_an_as_needed_medicine_that_is_new_touches_the_header() -> None:
    dosage = Dosage(as_needed=True, amounts=(Amount(Quantity(Fraction(1), Unit("tablet"))),))
    found = touch((*BOTH, Order(OrderId("RX3"), PersonId("p1"), NEW, (dosage,), since=Moment(MONDAY))))
    assert [(one.doses, one.medicines) for one in found] == [((), (NEW,))]


def test_an_as_needed_medicine_that_is_stopped_within_the_card_touches_the_header() -> None:
    dosage = Dosage(as_needed=True, amounts=(Amount(Quantity(Fraction(1), Unit("tablet"))),))
    needed = Order(OrderId("RX3"), PersonId("p1"), NEW, (dosage,), since=Moment(MONDAY))
    stop = Moment(MONDAY + timedelta(days=1), time(12))
    before = Change((*BOTH, needed), (*BOTH, replace(needed, until=stop)), Moment(MONDAY), STANDARD_TIMETABLE)
    assert [(one.doses, one.medicines) for one in touched([card()], before)] == [((), (NEW,))]


CHANGES = [
    pytest.param(Moment(MONDAY + timedelta(days=3)), id="the day after the card ends"),
    pytest.param(Moment(MONDAY + timedelta(days=30)), id="next month"),
]


@pytest.mark.parametrize("at", CHANGES)
def test_a_change_after_the_card_ends_does_not_touch_it(at: Moment) -> None:
    assert touch((replace(BISO, until=at), METF), at) == ()


def test_what_is_past_cannot_change() -> None:
    found = touch((order(RX1, BISOPROLOL, "MORN", 2), METF), Moment(MONDAY + timedelta(days=2), time(9)))
    assert days(found) == []
