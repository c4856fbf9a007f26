"""R17: the recount after a change finds every fault that is planted in the cards, and none in cards that are right."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from tests.core.packing.makers import IRIS, dosage, medicine, order, request
from tests.core.rework.rework_makers import day, laid_out, situation

from dosewright.core.packing.plan_values import Card, Content, PackedCavity
from dosewright.core.rework.proof import check_layout
from dosewright.core.rework.recount import Recounted, check_change, check_units
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Severity
from dosewright.core.units.ids import Lot, MedicineCode, OrderId
from dosewright.core.units.quantity import Quantity, Unit

BISO, METF = medicine("Bisoprolol"), medicine("Metformin")
HALVED = order("o1", BISO, dosage("0.5", "MORN"))
TWICE = order("o2", METF, dosage(1, "MORN", "EVE"))
BEFORE = request([order("o1", BISO, dosage(1, "MORN")), TWICE], [BISO, METF])
CASE = situation(BEFORE, [HALVED, TWICE], day(10))
(LAYOUT,) = laid_out(CASE)
RIGHT = Recounted(IRIS, tuple(laid.card for laid in LAYOUT.laid), (), ())


def check(counted: Recounted) -> set[str]:
    found = check_change(counted, CASE.after, CASE.at)
    assert all(one.severity is Severity.STOP for one in found)
    return {one.code for one in found}


def spoil(cavity: int, change: Callable[[PackedCavity], PackedCavity]) -> Recounted:
    """One cavity of the second card changed."""
    first, second = RIGHT.cards
    cavities = list(second.cavities)
    cavities[cavity] = change(cavities[cavity])
    return replace(RIGHT, cards=(first, replace(second, cavities=tuple(cavities))))


def contents(cavity: PackedCavity, *held: Content) -> PackedCavity:
    return replace(cavity, contents=held)


def content(code: MedicineCode, count: str, name: str) -> Content:
    return Content(OrderId(name), code, Quantity(Fraction(count), Unit("tablet")))


HALF, OLD, OF_METF = content(BISO.code, "0.5", "o1"), content(BISO.code, "1", "o1"), content(METF.code, "1", "o2")

FAULTS = [
    pytest.param(lambda c: contents(c, OLD, OF_METF), {"rework.recount-dose"}, id="the old amount is still there"),
    pytest.param(lambda c: contents(c, OF_METF), {"rework.recount-dose"}, id="taken out and not put in"),
    pytest.param(lambda c: contents(c, HALF, HALF, OF_METF), {"rework.recount-dose"}, id="put in twice"),
    pytest.param(lambda c: contents(c, HALF), {"rework.recount-dose"}, id="too much taken out"),
    pytest.param(
        lambda c: contents(c, replace(HALF, order=OrderId("o2")), OF_METF), {"rework.recount-order"}, id="for an order of another medicine"
    ),
    pytest.param(lambda c: contents(c, replace(HALF, order=OrderId("gone")), OF_METF), {"rework.recount-order"}, id="for no order at all"),
    pytest.param(
        lambda c: replace(c, day=day(2).day), {"rework.recount-dose", "rework.recount-order"}, id="a dose of one day in another's cavity"
    ),
]


def test_the_cavity_that_is_spoilt_holds_both_medicines() -> None:
    assert RIGHT.cards[1].cavities[0].contents == (HALF, OF_METF)


def test_cards_that_are_right_have_no_fault() -> None:
    assert check(RIGHT) == set()


@pytest.mark.parametrize(("fault", "codes"), FAULTS)
def test_a_planted_fault_is_found(fault: Callable[[PackedCavity], PackedCavity], codes: set[str]) -> None:
    found = check(spoil(0, fault))
    assert found
    assert found <= codes


def test_what_was_stopped_is_found_in_any_cavity_that_it_was_left_in() -> None:
    """R17: tried for each cavity of both cards in turn."""
    stopped = situation(BEFORE, [TWICE], day(10))
    (layout,) = laid_out(stopped)
    cards = tuple(laid.card for laid in layout.laid)
    tried = 0
    for at, card in enumerate(cards):
        for cavity in (cavity for cavity in card.cavities if Moment(cavity.day, cavity.time) >= stopped.at):
            left = replace(card, cavities=tuple(contents(c, OLD, *c.contents) if c == cavity else c for c in card.cavities))
            counted = Recounted(IRIS, (*cards[:at], left, *cards[at + 1 :]), (), ())
            assert {found.code for found in check_change(counted, stopped.after, stopped.at)} >= {"rework.recount-dose"}
            tried += 1
    assert tried == 2 * 19


def test_a_card_that_was_forgotten_is_found() -> None:
    (old,) = [card.card for card in CASE.cards if card.number == RIGHT.cards[1].number]
    assert check(replace(RIGHT, cards=(RIGHT.cards[0], old))) == {"rework.recount-dose"}
    assert check(replace(RIGHT, cards=(RIGHT.cards[0],))) == {"rework.recount-dose"}


def test_a_card_that_waits_with_a_reason_is_not_counted_against() -> None:
    (old,) = [card.card for card in CASE.cards if card.number == RIGHT.cards[1].number]
    assert check(replace(RIGHT, cards=(RIGHT.cards[0],), waiting=(old,))) == set()


def test_beside_a_card_that_waits_nothing_may_lie_twice() -> None:
    (old,) = [card.card for card in CASE.cards if card.number == RIGHT.cards[1].number]
    twice = replace(RIGHT, cards=(*RIGHT.cards, RIGHT.cards[1]), waiting=(old,))
    assert "rework.recount-dose" in check(twice)


def test_a_cavity_before_the_moment_that_was_touched_is_found() -> None:
    case = situation(BEFORE, [HALVED, TWICE], day(10), cards=tuple(replace(card, used=frozenset()) for card in CASE.cards))
    (layout,) = laid_out(case)
    first = layout.laid[0]
    touched = replace(first, card=_spoilt_early(first.card))
    found = check_layout(replace(layout, laid=(touched, *layout.laid[1:])), case)
    assert "rework.recount-touched" in {one.code for one in found}


def _spoilt_early(card: Card) -> Card:
    early = min(card.cavities, key=lambda cavity: cavity.day)
    return replace(card, cavities=tuple(contents(c, *c.contents[1:]) if c is early else c for c in card.cavities))


def test_an_overfull_cavity_is_found() -> None:
    """R4, by the recount of plans."""
    tight = replace(CASE.after, format=replace(CASE.after.format, cavity=replace(CASE.after.format.cavity, max_units=1)))
    assert "verify.over-count" in {found.code for found in check_change(RIGHT, tight, CASE.at)}


def test_a_card_that_keeps_too_long_is_found() -> None:
    """R5, by the recount of plans."""
    ends = replace(CASE.after, expiries={BISO.code: day(12).day})
    assert "verify.after-expiry" in {found.code for found in check_change(RIGHT, ends, CASE.at)}


A, B = (BISO.code, Lot("A")), (BISO.code, Lot("B"))


def test_units_are_conserved_lot_by_lot() -> None:
    """R11: 19 tablets of lot A out to waste, 9 and a half of lot B in."""
    was, now = {A: Fraction(28)}, {A: Fraction(9), B: Fraction(19, 2)}
    assert check_units(was, {B: Fraction(19, 2)}, {A: Fraction(19)}, now) == ()
    (found,) = check_units(was, {B: Fraction(19, 2)}, {A: Fraction(18)}, now)
    assert (found.code, found.facts["lot"]) == ("rework.units-differ", "A")
    assert len(check_units(was, {A: Fraction(19, 2)}, {A: Fraction(19)}, now)) == 2


def test_a_layout_that_loses_a_unit_is_found() -> None:
    first = LAYOUT.chosen[0]
    lost = replace(first, cost=replace(first.cost, waste={BISO.code: Fraction(4)}))
    assert "rework.units-differ" in {found.code for found in check_layout(replace(LAYOUT, chosen=(lost, *LAYOUT.chosen[1:])), CASE)}
