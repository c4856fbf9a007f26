"""Cards first: free columns are used where they better something, never at the cost of a card, and never without a gain."""

from collections.abc import Iterable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.core.packing.makers import IRIS, dosage, medicine, order, plan_of, request

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.places import places_of
from dosewright.core.packing.plan_values import PersonPlan, Plan
from dosewright.core.regimen.dosage import Weekday

TIMES = ("MORN", "NOON", "EVE", "HS")
WHITE = [medicine(name, colour="white") for name in ("Alpha", "Beta", "Gamma", "Delta")]
OTHER = [medicine(name, colour=name) for name in ("Red", "Pink", "Blue")]


def planned(medicines: Iterable[Medicine], *when: str, count: int = 1, days: int = 7) -> Plan:
    """Everyone of the medicines at each of the times, so many each."""
    held = list(medicines)
    return plan_of(request([order(f"o{at}", what, dosage(count, *when)) for at, what in enumerate(held)], held, days=days))


def mine(plan: Plan) -> PersonPlan:
    return plan.people[0]


def columns(plan: Plan) -> list[int]:
    """How many columns each card has."""
    return [len(card.columns) for card in mine(plan).cards]


def codes(plan: Plan) -> list[str]:
    return [finding.code for finding in plan.findings]


def test_look_alikes_lie_apart_where_a_column_is_free() -> None:
    plan = planned(WHITE[:2], "MORN")
    assert (columns(plan), codes(plan), mine(plan).proof.columns, mine(plan).proof.optimal) == ([2], [], 1, True)


def test_a_card_is_never_paid_for_it() -> None:
    plan = planned(WHITE[:2], "MORN", days=28)
    assert (columns(plan), codes(plan)) == ([4], ["look-alike"])


def test_without_a_gain_a_dosing_time_keeps_the_fewest_columns() -> None:
    assert columns(planned(OTHER, "MORN")) == [1]


@pytest.mark.parametrize(
    ("count", "expected"), [pytest.param(3, [1], id="six pieces of eight"), pytest.param(4, [2], id="all eight are crowded")]
)
def test_a_crowded_cavity_is_spread(count: int, expected: list[int]) -> None:
    assert columns(planned(OTHER[:2], "MORN", count=count)) == expected


def test_one_medicine_alone_is_not_spread() -> None:
    assert columns(planned(OTHER[:1], "MORN", count=8)) == [1]


def test_look_alikes_that_never_meet_stay_in_one_column() -> None:
    orders = [order("a", WHITE[0], dosage(1, "MORN", days=[Weekday.MON])), order("b", WHITE[1], dosage(1, "MORN", days=[Weekday.TUE]))]
    assert columns(plan_of(request(orders, WHITE, days=7))) == [1]


def test_free_columns_go_to_the_dosing_time_that_gains_most() -> None:
    """Three dosing times and one free column: the evening has two pairs, the others one."""
    evening = [order(f"e{at}", what, dosage(1, "EVE")) for at, what in enumerate(WHITE[:3])]
    others = [order(f"{when}{at}", what, dosage(1, when)) for when in ("MORN", "NOON") for at, what in enumerate(WHITE[:2])]
    plan = plan_of(request([*evening, *others], WHITE, days=7))
    assert [column.slot for column in mine(plan).cards[0].columns] == ["morning", "noon", "evening", "evening"]


def test_the_next_cycle_lies_as_this_one_did() -> None:
    held = WHITE[:3]
    asked = request([order(f"o{at}", what, dosage(1, "MORN")) for at, what in enumerate(held)], held, days=7)
    first = mine(plan_of(asked))
    again = mine(plan_of(replace(asked, places={IRIS.id: places_of(first)})))
    assert places_of(again) == places_of(first)
    assert set(places_of(first).values()) == {1, 2, 3}


@settings(max_examples=40)
@given(st.lists(st.integers(1, 4), min_size=1, max_size=4), st.integers(1, 4))
def test_cards_are_as_few_as_one_column_a_dosing_time_needs(alike: list[int], weeks: int) -> None:
    """One column is always enough here, so that arithmetic says how many cards there are, whatever is kept apart."""
    orders = [order(f"{when}{at}", WHITE[at], dosage(1, when)) for when, many in zip(TIMES, alike, strict=False) for at in range(many)]
    person = mine(plan_of(request(orders, WHITE, days=7 * weeks)))
    assert len(person.cards) == -(-weeks // (4 // len(alike))) == person.proof.cards_lower_bound
    assert person.proof.columns == len(alike)
