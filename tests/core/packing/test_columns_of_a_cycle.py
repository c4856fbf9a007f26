"""What shares a column with what, over a cycle: conflicts on shared days only, parts, places, look-alikes, rolls in order of time."""

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest
from tests.core.packing.makers import MONDAY, ROLL, SEVEN_BY_FOUR, dosage, medicine, order, plan_of, request

from dosewright.core.medicines.capsule_sizes import capsule_size
from dosewright.core.medicines.medicine import Medicine, Shape, Size
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.packing.card_format import Cavity
from dosewright.core.packing.places import places_of
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.dosage import Weekday
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import PersonId, SlotName
from dosewright.core.units.quantity import Unit

ALPHA, BETA, GAMMA = medicine("Alpha"), medicine("Beta"), medicine("Gamma")
APART = PairRule("pair.test", ("alpha",), ("beta",), "react", "test", "2026", "proposal")


def columns_of(person: PersonPlan) -> dict[str, set[tuple[int, int]]]:
    """Card and column in which each order lies."""
    found: dict[str, set[tuple[int, int]]] = {}
    for number, card in enumerate(person.cards):
        for cavity in card.cavities:
            for content in cavity.contents:
                found.setdefault(content.order, set()).add((number, cavity.column))
    return found


def only(asked: PlanRequest) -> PersonPlan:
    (person,) = plan_of(asked).people
    return person


def test_a_forbidden_pair_lies_in_two_columns() -> None:
    orders = [order("o1", ALPHA, dosage(1, "MORN")), order("o2", BETA, dosage(1, "MORN"))]
    assert only(request(orders, [ALPHA, BETA], pairs=(APART,), days=7)).proof.columns == 2
    assert only(request(orders, [ALPHA, BETA], days=7)).proof.columns == 1


def test_a_forbidden_pair_on_different_days_shares_a_column() -> None:
    """Conflicts bind on days on which both are taken."""
    orders = [
        order("o1", ALPHA, dosage(1, "MORN", days=[Weekday.MON, Weekday.WED])),
        order("o2", BETA, dosage(1, "MORN", days=[Weekday.TUE])),
    ]
    assert only(request(orders, [ALPHA, BETA], pairs=(APART,), days=7)).proof.columns == 1


CAPSULES = [
    pytest.param(2, 1, id="CV-6.5 two of size 00 fit by volume: 2.37 of 3.40 mL"),
    pytest.param(3, 2, id="CV-6.5 three do not: 3.56 mL"),
]


@pytest.mark.parametrize(("many", "columns"), CAPSULES)
def test_capsules_of_size_00_in_a_cavity_of_30_by_18_by_14(many: int, columns: int) -> None:
    cavity = Cavity(Fraction(30), Fraction(18), Fraction(14), Fraction(45, 100), 8)
    what = medicine("Alpha", capsule_size("00"), shape=Shape.CAPSULE, form="capsule", unit=Unit("capsule"))
    directions = dosage(many, "MORN", unit="capsule")
    person = only(request([order("o1", what, directions)], [what], format=replace(SEVEN_BY_FOUR, cavity=cavity), days=7))
    assert person.proof.columns == columns


def test_more_than_eight_pieces_go_into_two_cavities() -> None:
    """CV-6.7: the count limit splits, although the volume would do."""
    person = only(request([order("o1", ALPHA, dosage(9, "MORN"))], [ALPHA], days=7))
    monday = [cavity for cavity in person.cards[0].cavities if cavity.day == MONDAY]
    assert [(c.part, c.parts, c.contents[0].quantity.count) for c in monday] == [(1, 2, Fraction(8)), (2, 2, Fraction(1))]
    assert [(column.part, column.parts) for column in person.cards[0].columns] == [(1, 2), (2, 2)]


def test_a_half_counts_as_a_piece() -> None:
    """Seven whole ones and two halves are nine pieces."""
    orders = [order("o1", ALPHA, dosage("7.5", "MORN")), order("o2", BETA, dosage("0.5", "MORN"))]
    assert only(request(orders, [ALPHA, BETA], days=7)).proof.columns == 2


def test_no_unit_is_broken_to_fill_a_cavity() -> None:
    """Two units, a cavity that has room for one and a half: one and one, never one and a half and a half."""
    large = medicine("Alpha", Size(Fraction(18), Fraction(18), Fraction(8)))
    person = only(request([order("o1", large, dosage(2, "MORN"))], [large], days=1))
    assert [cavity.contents[0].quantity.count for cavity in person.cards[0].cavities] == [1, 1]


def test_a_cavity_says_only_how_many_there_are_that_day() -> None:
    """Two columns in the week; on Tuesday only one holds anything, and it does not promise a second."""
    orders = [order("o1", ALPHA, dosage(1, "MORN")), order("o2", BETA, dosage(1, "MORN", days=[Weekday.MON]))]
    person = only(request(orders, [ALPHA, BETA], pairs=(APART,), days=7))
    assert {(cavity.part, cavity.parts) for cavity in person.cards[0].cavities if cavity.day != MONDAY} == {(1, 1)}


def test_a_medicine_keeps_its_column_all_cycle() -> None:
    orders = [order("o1", ALPHA, dosage(1, "MORN")), order("o2", BETA, dosage(1, "MORN")), order("o3", GAMMA, dosage(1, "EVE"))]
    person = only(request(orders, [ALPHA, BETA, GAMMA], pairs=(APART,)))
    slots = {
        (content.order, person.cards[at].columns[cavity.column - 1].part)
        for at, card in enumerate(person.cards)
        for cavity in card.cavities
        for content in cavity.contents
    }
    assert len(slots) == 3


def test_places_of_the_last_cycle_are_kept_where_that_costs_nothing() -> None:
    orders = [order("o1", ALPHA, dosage(1, "MORN")), order("o2", BETA, dosage(1, "MORN"))]
    asked = request(orders, [ALPHA, BETA], pairs=(APART,), days=7)
    assert columns_of(only(asked)) == {"o1": {(0, 1)}, "o2": {(0, 2)}}
    morning = SlotName("morning")
    before = {PersonId("p1"): {(morning, ALPHA.code): 2, (morning, BETA.code): 1}}
    assert columns_of(only(replace(asked, places=before))) == {"o1": {(0, 2)}, "o2": {(0, 1)}}


def test_the_next_cycle_lays_everything_where_it_lay() -> None:
    """Aleph would come first in catalogue order, and joins Beta, so that Alpha and Beta stay where they were."""
    orders = [order("o1", ALPHA, dosage(1, "MORN")), order("o2", BETA, dosage(1, "MORN"))]
    asked = request(orders, [ALPHA, BETA], pairs=(APART,), days=7)
    before = only(asked)
    aleph = medicine("Aleph")
    also = replace(asked, orders=(*orders, order("o0", aleph, dosage(1, "MORN"))), medicines={**asked.medicines, aleph.code: aleph})
    pair = replace(APART, id="pair.aleph", one=("aleph",), other=("alpha",))
    new = replace(also, pairs=(APART, pair))
    assert columns_of(only(new))["o1"] != columns_of(before)["o1"]
    kept = only(replace(new, places={PersonId("p1"): places_of(before)}))
    assert columns_of(kept)["o1"] == columns_of(before)["o1"]
    assert columns_of(kept)["o2"] == columns_of(before)["o2"]
    assert places_of(before) == {("morning", ALPHA.code): 1, ("morning", BETA.code): 2}


def test_look_alikes_are_kept_apart_where_that_costs_no_column() -> None:
    """Alpha and Delta look alike; two columns are needed anyhow."""
    white = [medicine(name, colour="white") for name in ("Alpha", "Delta")]
    pink = [medicine(name, colour="pink", mark=name) for name in ("Beta", "Gamma")]
    pair = replace(APART, one=("beta",), other=("gamma",))
    orders = [order(f"o{at}", what, dosage(1, "MORN")) for at, what in enumerate([*white, *pink])]
    plan = plan_of(request(orders, [*white, *pink], pairs=(pair,), days=7))
    assert plan.people[0].proof.columns == 2
    assert plan.findings == ()


def test_look_alikes_that_share_a_cavity_are_a_note() -> None:
    """CV-2.4. Four weeks take the whole card, so that no column is free. Source: BMJ 1996;313:926."""
    white = [medicine(name, colour="white") for name in ("Alpha", "Delta")]
    plan = plan_of(request([order(f"o{at}", what, dosage(1, "MORN")) for at, what in enumerate(white)], white, days=28))
    assert [(finding.code, finding.severity.value) for finding in plan.findings] == [("look-alike", "note")]


def test_a_week_that_needs_fewer_columns_gets_fewer_where_that_saves_a_card() -> None:
    """Beta ends after the first week: week one has two columns, the other three one each; five columns are two cards, not four."""
    ends = order("o2", BETA, dosage(1, "MORN"), until=Moment(MONDAY + timedelta(days=7)))
    person = only(request([order("o1", ALPHA, dosage(1, "MORN")), ends], [ALPHA, BETA], pairs=(APART,)))
    assert [len(card.columns) for card in person.cards] == [4, 1]
    assert person.proof.cards == person.proof.cards_lower_bound == 2


def two_of_four_end_after_a_week() -> tuple[list[Order], list[Medicine]]:
    """Two fit a cavity, three do not. All four need two columns, in which Alpha and Delta lie apart; those two alone would fit one."""
    large = Size(Fraction(13), Fraction(13), Fraction(9))
    whats = [medicine(name, large) for name in ("Alpha", "Beta", "Gamma", "Delta")]
    ended = Moment(MONDAY + timedelta(days=7))
    until = (None, ended, ended, None)
    return [order(f"o{at}", what, dosage(1, "MORN"), until=until[at]) for at, what in enumerate(whats)], whats


def test_medicines_stay_in_their_columns_where_moving_would_save_no_card() -> None:
    """Four weeks: two columns in each are two cards, and so are two and one and one and one."""
    person = only(request(*two_of_four_end_after_a_week()))
    assert [len(card.columns) for card in person.cards] == [4, 4]
    assert person.proof.cards == person.proof.cards_lower_bound


def test_medicines_move_together_where_that_saves_a_card() -> None:
    """Three weeks: two columns in each are two cards, but two and one and one are one."""
    person = only(request(*two_of_four_end_after_a_week(), days=21))
    assert [len(card.columns) for card in person.cards] == [4]
    assert person.proof.cards == person.proof.cards_lower_bound


def test_a_roll_has_its_pouches_in_order_of_time_and_none_is_empty() -> None:
    orders = [order("o1", ALPHA, dosage(1, "HS", "MORN")), order("o2", BETA, dosage(1, "NOON", days=[Weekday.TUE]))]
    person = only(request(orders, [ALPHA, BETA], format=ROLL, days=14))
    moments = [(cavity.day, cavity.time) for card in person.cards for cavity in card.cavities]
    assert moments == sorted(moments)
    assert len(moments) == 14 * 2 + 2
    assert [len(card.cavities) for card in person.cards] == [14, 14, 2]
    assert person.proof.cards == person.proof.cards_lower_bound == 3
