"""Any change of any orders, at any moment, with cards anywhere: after every choice the recount finds nothing wrong."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import time, timedelta
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.core.packing.drawn_requests import requests
from tests.core.packing.makers import MONDAY, dosage
from tests.core.rework.rework_makers import RATES, open_cards

from dosewright.core.packing.plan_values import Content
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.rework.after import as_it_is
from dosewright.core.rework.choices import Choice
from dosewright.core.rework.layout import PersonLayout, lay_out
from dosewright.core.rework.proof import check_layout
from dosewright.core.rework.situation import OpenCard, Place, Situation
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import MedicineCode, OrderId

_CLOCKS = [time(0), time(8), time(12), time(12, 30), time(23)]
_WHENS = st.lists(st.sampled_from(["MORN", "NOON", "EVE", "HS"]), min_size=1, max_size=3, unique=True)


@st.composite
def _changed(draw: st.DrawFn, order: Order, at: Moment) -> tuple[Order, ...]:
    """Kept, stopped, ended, another dose, another time, another prescription for the same, or another medicine's dose beside it."""
    kind = draw(st.sampled_from(["kept"] * 4 + ["gone", "ends", "dose", "renamed", "added"]))
    new = replace(order, dosages=(dosage(draw(st.sampled_from(["0.5", "1", "1.5", "2", "3"])), *draw(_WHENS)),))
    return {
        "kept": (order,),
        "gone": (),
        "ends": (replace(order, until=at),),
        "dose": (new,),
        "renamed": (replace(order, id=OrderId(f"{order.id}-again")),),
        "added": (order, replace(new, id=OrderId(f"{order.id}-more"))),
    }[kind]


@st.composite
def situations(draw: st.DrawFn) -> Situation:
    before: PlanRequest = draw(requests())
    at = Moment(MONDAY + timedelta(days=draw(st.integers(0, before.days - 1))), draw(st.sampled_from(_CLOCKS)))
    orders = tuple(new for order in before.orders for new in draw(_changed(order, at)))
    places = st.sampled_from([Place.SHELF, Place.SHELF, Place.BENCH, Place.HOME, Place.PERSON, Place.DELIVERY, Place.MISSING])
    cards = tuple(replace(card, place=draw(places), used=draw(_used(card))) for card in open_cards(before, at))
    after = replace(before, orders=orders, prepared_on=at.day)
    return Situation(before, after, at, at, cards, RATES)


@st.composite
def _used(draw: st.DrawFn, card: OpenCard) -> frozenset[tuple[int, int]]:
    """What was due is used; now and then one dose was missed, or the next one taken early."""
    held = [(cavity.row, cavity.column) for cavity in card.card.cavities]
    return card.used ^ draw(st.frozensets(st.sampled_from(held), max_size=2)) if held and draw(st.integers(0, 3)) == 0 else card.used


@given(situations())
@settings(max_examples=120)
def test_after_the_best_combination_the_cards_are_exactly_right(case: Situation) -> None:
    """R2, R3, R4, R5, R11, R17: whatever is not left with a reason holds what is asked, and units are conserved."""
    for layout in lay_out(case):
        named = {found.code for found in layout.findings} & {"rework.left", "rework.no-card"}
        assert named or check_layout(layout, case) == ()


@given(situations())
@settings(max_examples=120)
def test_after_every_choice_alone_the_cards_are_exactly_right(case: Situation) -> None:
    """All that may still be wanting are doses on days that no card has, which no single card's choice can take: the recount names them."""
    for layout in lay_out(case):
        beyond = _beyond(layout, case)
        for choice in layout.choices:
            if choice.lawful and not choice.waits:
                found = check_layout(_with_one(layout, choice, case), case)
                wanting = {(one.where["date"], one.facts["time"], one.facts["medicine"]) for one in found}
                assert {one.code for one in found} <= {"rework.recount-dose"}
                assert wanting <= beyond
                assert all(one.facts["found"] == 0 for one in found)


def _beyond(layout: PersonLayout, case: Situation) -> set[tuple[object, ...]]:
    """The doses that no cavity takes, on days that none of the person's cards has."""
    cards = [one.card for one in case.cards_of(layout.person.id)]
    return {
        (*one.when, case.after.medicines[one.medicine].label)
        for one in layout.unplaced
        if not any(card.first <= one.when[0] <= card.last for card in cards)
    }


def _with_one(layout: PersonLayout, choice: Choice, case: Situation) -> PersonLayout:
    """Only that choice is taken; whatever it does not concern waits."""
    others = [as_it_is(card, waiting=True) for card in case.cards_of(layout.person.id) if card.number not in choice.cards]
    return replace(layout, chosen=(choice,), laid=(*others, *choice.laid))


@given(situations())
@settings(max_examples=80)
def test_the_differences_applied_to_before_give_after(case: Situation) -> None:
    for layout in lay_out(case):
        for one in layout.differences:
            before = {(c.row, c.column): c for c in one.card.open_from(case.at)}
            changes = {(change.row, change.column): change for change in one.changes}
            for cell in before.keys() | one.held.keys():
                was = _amounts(before[cell].contents if cell in before else ())
                for content in changes[cell].remove if cell in changes else ():
                    was[content.medicine] = was.get(content.medicine, Fraction(0)) - content.quantity.count
                    assert was[content.medicine] >= 0
                for content in changes[cell].add if cell in changes else ():
                    was[content.medicine] = was.get(content.medicine, Fraction(0)) + content.quantity.count
                now = _amounts(one.held.get(cell, ()))
                assert {code: count for code, count in was.items() if count} == now


def _amounts(contents: Iterable[Content]) -> dict[MedicineCode, Fraction]:
    found: dict[MedicineCode, Fraction] = {}
    for content in contents:
        found[content.medicine] = found.get(content.medicine, Fraction(0)) + content.quantity.count
    return found


@given(situations())
@settings(max_examples=80)
def test_cavities_before_the_moment_or_used_are_never_touched(case: Situation) -> None:
    for layout in lay_out(case):
        for one in layout.differences:
            for change in one.changes:
                assert Moment(*change.when) >= case.at
                assert (change.row, change.column) not in one.card.used


@given(situations())
@settings(max_examples=60)
def test_orders_that_stay_change_nothing(case: Situation) -> None:
    cards = tuple(replace(card, used=frozenset()) for card in case.cards)
    same = replace(case, after=replace(case.before, prepared_on=case.at.day), cards=cards)
    for layout in lay_out(same):
        assert all(one.changes == () for one in layout.differences)
        assert layout.unplaced == ()
        assert layout.chosen == ()
