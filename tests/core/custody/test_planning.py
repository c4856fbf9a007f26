"""What keeps a person's days from being planned, and a plan from being kept; which choices a changed card leaves open."""

from dataclasses import replace
from datetime import timedelta

import pytest
from tests.core.card_maker import CARD, MONDAY, card

from dosewright.core.custody.answering import finding_key, unanswered
from dosewright.core.custody.decision import Choice, check_decision, choices_for
from dosewright.core.custody.planning import LONGEST, PlanAsk, check_cycle, check_days_free, check_plan, check_settled
from dosewright.core.custody.stage import Stage
from dosewright.core.custody.state import CardState
from dosewright.core.packing.plan_values import Alongside, PersonPlan, Plan, Proof
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId

WEEK = PlanAsk(MONDAY, 7)


@pytest.mark.parametrize(("days", "fine"), [(1, True), (28, True), (LONGEST, True), (0, False), (-1, False), (LONGEST + 1, False)])
def test_a_cycle_has_days_and_not_too_many(days: int, *, fine: bool) -> None:
    assert (check_cycle(PlanAsk(MONDAY, days)) == ()) is fine


@pytest.mark.parametrize(("shift", "taken"), [(-3, False), (-2, True), (0, True), (6, True), (7, False)])
def test_r1_an_open_card_on_any_of_the_days_keeps_them_from_being_planned_again(shift: int, *, taken: bool) -> None:
    found = check_days_free(WEEK, [card(first=MONDAY + timedelta(days=shift))])  # a card of three days
    assert bool(found) is taken


ORDER = Order(OrderId("RX1"), PersonId("p1"), MedicineCode("m"), ())
WAITING = [
    pytest.param(ORDER, True, id="without a start"),
    pytest.param(replace(ORDER, since=Moment(MONDAY + timedelta(days=6))), True, id="begins on the last day"),
    pytest.param(replace(ORDER, since=Moment(MONDAY + timedelta(days=7))), False, id="begins after it"),
    pytest.param(replace(ORDER, until=Moment(MONDAY)), False, id="ended as the first day began"),
    pytest.param(replace(ORDER, until=Moment(MONDAY + timedelta(days=1))), True, id="ends on the first day"),
]


@pytest.mark.parametrize(("order", "holds"), WAITING)
def test_r1_an_order_that_waits_holds_the_days_on_which_it_may_have_a_dose(order: Order, *, holds: bool) -> None:
    assert bool(check_settled(WEEK, [order])) is holds


PROOF = Proof(0, 0, optimal=True, nodes=0, cards=0, cards_lower_bound=0)
SOME = PersonPlan(PersonId("p1"), (), (Alongside(OrderId("RX1"), MedicineCode("m"), "form.liquid"),), PROOF)


def plan(*findings: Finding, person: PersonPlan = SOME) -> Plan:
    return Plan("basis", MONDAY, 7, "uk", "seven-by-four", (person,), findings)


STOP = Finding("a.stop", Severity.STOP, {"order": "RX1"})
ASK = Finding("a.question", Severity.DECIDE, {"order": "RX1", "person": "p1"})
NOTE = Finding("a.note", Severity.NOTE)


def test_a_plan_with_notes_only_is_kept() -> None:
    assert check_plan(plan(NOTE), (), {}) == ()


def test_a_stop_keeps_the_plan_from_being_kept_whether_planner_or_recount_found_it() -> None:
    assert check_plan(plan(STOP), (), {}) == check_plan(plan(), (STOP,), {}) == (STOP,)


def test_a_question_keeps_it_until_a_reason_is_written_for_that_very_one() -> None:
    assert check_plan(plan(ASK), (), {}) == (ASK,)
    assert check_plan(plan(ASK), (), {finding_key(ASK): " "}) == (ASK,)
    assert check_plan(plan(ASK), (), {finding_key(replace(ASK, where={"order": "RX2"})): "known"}) == (ASK,)
    assert check_plan(plan(ASK), (), {finding_key(ASK): "Dr Example knows"}) == ()


def test_no_reason_mends_a_stop() -> None:
    assert check_plan(plan(STOP), (), {finding_key(STOP): "never mind"}) == (STOP,)


def test_a_plan_of_nothing_is_not_kept() -> None:
    assert [f.code for f in check_plan(plan(person=replace(SOME, alongside=())), (), {})] == ["custody.nothing-to-plan"]


def test_a_findings_key_names_its_code_and_place_in_one_order() -> None:
    assert finding_key(ASK) == "a.question|order=RX1|person=p1"
    assert unanswered([ASK, NOTE, STOP], {}) == (ASK,)


CHOICES = [
    *[pytest.param(stage, (Choice.WAIT, Choice.AFRESH), id=stage.value) for stage in (Stage.PLANNED, Stage.FILLING, Stage.RELEASED)],
    *[pytest.param(stage, (Choice.WAIT, Choice.RECALL), id=stage.value) for stage in (Stage.HANDED_OVER, Stage.RECEIVED, Stage.IN_USE)],
]


@pytest.mark.parametrize(("stage", "open_choices"), CHOICES)
def test_what_may_be_decided_depends_on_where_the_card_is(stage: Stage, open_choices: tuple[Choice, ...]) -> None:
    changed = CardState(CARD, stage=stage, out_of_date=True)
    assert choices_for(changed) == open_choices
    assert choices_for(replace(changed, out_of_date=False)) == ()
    for choice in Choice:
        found = [finding.code for finding in check_decision(changed, choice.value, "because")]
        assert found == ([] if choice in open_choices else ["custody.unknown-choice"])
