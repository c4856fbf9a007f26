"""What a card holds now is computed from its events, never from the plan."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.card_maker import CARD, METFORMIN, RX1, RX2, event, placing, taking_out

from dosewright.core.custody.cells import format_cells, parse_cells
from dosewright.core.custody.event import Deed
from dosewright.core.custody.follow import FOLLOWS, HELD_WHILE_OUT_OF_DATE, check_follows
from dosewright.core.custody.stage import LEFT_THE_PHARMACY, OVER, Stage
from dosewright.core.custody.state import CardState, state_of
from dosewright.core.paper.say import say
from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import CardNumber, OrderId

LIFE = (
    event(Deed.PLANNED),
    event(Deed.PRINTED),
    placing(("1.1=1=RX1", "2.1=1=RX1")),
    placing(("1.1=0.5=RX2",)),
    event(Deed.FILLED, minutes=9),
    event(Deed.CHECKED, "checker one"),
    event(Deed.SEALED),
    event(Deed.RELEASED, "pharmacist one"),
    event(Deed.HANDED_OVER),
)
STAGES = ["planned", "printed", "filling", "filling", "filled", "checked", "sealed", "released", "handed over"]


@pytest.mark.parametrize("length", range(1, len(LIFE) + 1))
def test_the_stage_follows_from_the_events(length: int) -> None:
    assert state_of(CARD, LIFE[:length]).stage.value == STAGES[length - 1]


def test_who_filled_who_checked_and_that_it_left_are_remembered() -> None:
    state = state_of(CARD, LIFE)
    assert (state.fillers, state.checked_by, state.sealed_once, state.left) == (frozenset({"technician one"}), "checker one", True, True)
    assert state.last_touched == LIFE[4].at


def held(*events: object) -> dict[tuple[int, int, str], Fraction]:
    amounts: dict[tuple[int, int, str], Fraction] = {}
    for units in state_of(CARD, events).placed:  # type: ignore[arg-type]
        key = (units.cell.row, units.cell.column, units.lot)
        amounts[key] = amounts.get(key, Fraction(0)) + units.amount
    return amounts


def test_units_that_were_taken_out_are_not_there_any_more() -> None:
    assert held(placing(("1.1=1=RX2", "2.1=1=RX2")), taking_out(("1.1=0.5=RX2",))) == {(1, 1, "A"): Fraction(1, 2), (2, 1, "A"): 1}


def test_of_two_lots_in_one_cell_only_the_one_named_is_taken_out() -> None:
    two = (placing(("1.1=0.5=RX2",), "A"), placing(("1.1=0.5=RX2",), "B"), taking_out(("1.1=0.5=RX2",), "A"))
    assert held(*two) == {(1, 1, "B"): Fraction(1, 2)}


def test_of_a_returned_card_what_came_back_is_what_it_holds() -> None:
    back = event(Deed.RETURNED, cells=("2.1=1=RX1",))
    assert held(*LIFE, back) == {(2, 1, "A"): 1}
    assert held(*LIFE, back, event(Deed.DESTROYED)) == {}


def test_doses_given_or_lost_are_gone_and_refused_ones_are_still_there() -> None:
    given = event(Deed.GIVEN, cells=("1.1=1=RX1",))
    refused = event(Deed.REFUSED_DOSE, cells=("2.1=1=RX1",))
    assert held(*LIFE, given, refused) == {(1, 1, "A"): Fraction(1, 2), (2, 1, "A"): 1}


def test_a_card_sent_back_forgets_its_check_but_not_who_filled_it() -> None:
    state = state_of(CARD, (*LIFE[:7], event(Deed.SENT_BACK, "checker one")))
    assert (state.stage, state.checked_by, state.fillers, state.sealed_once) == (Stage.FILLING, None, frozenset({"technician one"}), True)


def test_an_event_of_another_card_is_impossible_here() -> None:
    with pytest.raises(ValueError, match="among those of"):
        state_of(CardNumber("2"), LIFE)


def test_a_reprint_takes_nothing_back() -> None:
    assert state_of(CARD, (*LIFE[:5], event(Deed.PRINTED))).stage is Stage.FILLED


def test_r9_a_card_that_others_replace_asks_for_no_further_decision_and_stays_replaced() -> None:
    out = [event(deed) for deed in (Deed.HANDED_OVER, Deed.RECEIVED, Deed.OUT_OF_DATE)]
    replaced = state_of(CARD, [*out, event(Deed.DECIDED, choice="afresh"), event(Deed.OUT_OF_DATE)])
    assert (replaced.out_of_date, replaced.decision, replaced.replaced) == (False, "afresh", True)
    waits = state_of(CARD, [*out, event(Deed.DECIDED, choice="wait"), event(Deed.OUT_OF_DATE)])
    assert (waits.out_of_date, waits.decision, waits.replaced) == (True, "", False)


def test_r9_being_out_of_date_lasts_until_a_decision_and_comes_again_with_the_next_change() -> None:
    changed, decided = event(Deed.OUT_OF_DATE), event(Deed.DECIDED, choice="wait")
    states = [state_of(CARD, (*LIFE[:5], *after)) for after in ((changed,), (changed, decided), (changed, decided, changed))]
    assert [(state.out_of_date, state.decision) for state in states] == [(True, ""), (False, "wait"), (True, "")]


@pytest.mark.parametrize("deed", sorted({Deed.CHECKED, Deed.SEALED, Deed.RELEASED, Deed.HANDED_OVER}))
def test_r9_a_card_whose_orders_have_changed_is_held_at_every_step_towards_the_person(deed: Deed) -> None:
    (stage,) = FOLLOWS[deed]
    state = CardState(CARD, stage=stage)
    assert check_follows(state, deed) == ()
    assert [finding.code for finding in check_follows(replace(state, out_of_date=True), deed)] == ["custody.out-of-date"]


def test_r9_nothing_that_a_decision_leads_to_is_held() -> None:
    assert not HELD_WHILE_OUT_OF_DATE & {Deed.DECIDED, Deed.WITHDRAWN, Deed.RETURNED, Deed.SENT_BACK, Deed.DESTROYED, Deed.TAKEN_OUT}


def test_every_deed_has_its_line_in_the_table() -> None:
    assert set(FOLLOWS) == set(Deed)


def test_a_card_that_is_over_only_waits_to_be_destroyed() -> None:
    assert {deed for deed in Deed if FOLLOWS[deed] & OVER} == {Deed.DESTROYED, Deed.FOUND}  # found, to be destroyed
    assert not any(Stage.DESTROYED in stages for stages in FOLLOWS.values())


def test_r10_nothing_is_laid_into_or_taken_for_stock_out_of_a_card_that_has_left() -> None:
    for deed in (Deed.PLACED, Deed.TAKEN_OUT, Deed.FILLED):
        assert not FOLLOWS[deed] & LEFT_THE_PHARMACY


@pytest.mark.parametrize(
    ("deed", "words"),
    [
        (Deed.CAME_BACK, "cannot be taken back now"),
        (Deed.PLACED, "cannot be filled now"),
        (Deed.TAKEN_OUT, "cannot be emptied now"),
        (Deed.SEALED, "cannot be sealed now"),
        (Deed.FOUND, "cannot be listed as found now"),
    ],
)
def test_what_a_card_cannot_be_is_said_in_english(deed: Deed, words: str) -> None:
    assert words in say(Finding("custody.wrong-stage", Severity.STOP, {"card": "1"}, {"stage": "planned", "deed": deed.value}))


@given(st.sampled_from(Deed), st.sampled_from(Stage))
def test_a_deed_out_of_its_turn_is_always_a_stop(deed: Deed, stage: Stage) -> None:
    findings = check_follows(CardState(CARD, stage=stage), deed)
    assert bool(findings) is (stage not in FOLLOWS[deed])


CELLS = st.dictionaries(
    st.builds(Cell, st.just(CARD), st.integers(1, 14), st.integers(1, 8), st.text(min_size=1, max_size=9).map(OrderId)),
    st.fractions(min_value=Fraction(1, 8), max_value=9, max_denominator=8),
)


@given(CELLS)
def test_cells_are_written_and_read_back_exactly_whatever_an_order_is_called(cells: dict[Cell, Fraction]) -> None:
    assert parse_cells(CARD, format_cells(cells)) == cells


def test_orders_named_in_cells_are_the_ones_placed() -> None:
    state = state_of(CARD, LIFE)
    assert {(units.cell.order, units.medicine) for units in state.placed} >= {(RX2, METFORMIN)}
    assert {units.cell.order for units in state.placed} == {RX1, RX2}
