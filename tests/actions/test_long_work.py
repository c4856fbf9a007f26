"""Long work: done part by part outside any request, by the rights of whoever asked, cancelled between parts, and never twice."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from django_tasks_db.models import DBTaskResult
from tests import small_bench
from tests.bench_fixtures import MONDAY, on

from dosewright.actions import carry_on as carrying
from dosewright.actions.begin_work import begin_planning, begin_printing, cancel_work
from dosewright.actions.carry_on import carry_on
from dosewright.actions.outcome import Outcome
from dosewright.config.worker import do_waiting_work, take_up_stalled
from dosewright.core.custody.event import Actor, Occasion, Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.units.ids import PersonId
from dosewright.devices.clock import FixedClock
from dosewright.store.accounts import actor_of
from dosewright.store.ledger import load_entries
from dosewright.store.long_work import LongWork, WorkStep, load_steps, load_work, save_step
from dosewright.store.models import Account, CardSet, PersonRow, PrintedPaper
from dosewright.store.value_json import parse_value

pytestmark = pytest.mark.usefixtures("many_stations")
WEEK = PlanAsk(small_bench.MONDAY, 7)


@pytest.fixture(autouse=True)
def _clock(settings: Any) -> None:
    settings.BENCH_CLOCK = FixedClock(MONDAY + timedelta(minutes=30))
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture
def by(many_stations: None) -> Occasion:
    """A technician with an account, at bench 1."""
    account = Account.objects.create_account("tamm", "a-long-password-9", name="R. Tamm", role=Role.TECHNICIAN)
    return replace(on(), by=actor_of(account))


def ordered_for(*people: str) -> list[PersonId]:
    """An open pharmacy in which each of them has two confirmed orders."""
    small_bench.opened()
    for number, person in enumerate(people):
        for order in ("RX1", "RX2"):
            text = small_bench.ORDERS[order].replace("p1,Wilhelmina", f"{person},Wilhelmina").replace(f",{order},", f",{order}{number},")
            small_bench.ordered(text)
    return [PersonId(person) for person in people]


def begun(by: Occasion, people: list[PersonId], ask: PlanAsk = WEEK) -> int:
    return int(small_bench.must(begin_planning("people", by, people, ask)).made[0])


def test_everybody_is_planned_for_by_the_task_runner_and_nobody_before(by: Occasion) -> None:
    work = begun(by, ordered_for("a", "b", "c"))
    assert CardSet.objects.count() == 0
    assert (load_work(work).state, load_work(work).done) == ("waiting", 0)
    do_waiting_work()
    assert sorted(CardSet.objects.values_list("person_id", flat=True)) == ["a", "b", "c"]
    assert (load_work(work).state, load_work(work).done, load_work(work).of) == ("done", 3, 3)
    assert {row.status for row in DBTaskResult.objects.all()} == {"SUCCESSFUL"}
    assert {entry.who_name for entry in load_entries("set") if entry.event == "set planned"} == {"R. Tamm"}


def test_what_keeps_one_from_being_planned_is_kept_beside_and_the_others_are_planned(by: Occasion) -> None:
    people = ordered_for("a", "b")
    work = begun(by, [people[0], PersonId("nobody"), people[1]])
    do_waiting_work()
    outcomes = [parse_value(Outcome, step.outcome) for step in load_steps(work)]
    assert [outcome.done for outcome in outcomes] == [True, False, True]
    assert {finding.code for finding in outcomes[1].findings} == {"custody.not-there"}


def test_it_is_cancelled_between_two_parts_and_what_was_done_stays_done(by: Occasion, monkeypatch: pytest.MonkeyPatch) -> None:
    work = begun(by, ordered_for("a", "b", "c"))
    do_part = carrying.do_part

    def cancelled_meanwhile(found: LongWork, step: WorkStep, who: Actor) -> Outcome:
        if step.position == 2:
            small_bench.must(cancel_work(work, by))
        return do_part(found, step, who)

    monkeypatch.setattr(carrying, "do_part", cancelled_meanwhile)
    do_waiting_work()
    assert (load_work(work).state, load_work(work).done) == ("cancelled", 2)
    assert CardSet.objects.count() == 2
    assert [entry.event for entry in load_entries("work")] == ["work begun", "work cancelled"]


def test_work_that_is_cancelled_before_it_began_does_nothing(by: Occasion) -> None:
    work = begun(by, ordered_for("a", "b"))
    small_bench.must(cancel_work(work, by))
    do_waiting_work()
    assert load_work(work).state == "cancelled"
    assert CardSet.objects.count() == 0


@pytest.mark.parametrize("broke_at", [1, 2, 3])
def test_after_a_sudden_end_it_goes_on_where_it_was_and_nothing_is_done_twice(
    by: Occasion, broke_at: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The machine ends after the part was done and before that was noted: the worst moment."""
    work = begun(by, ordered_for("a", "b", "c"))

    class PowerCut(BaseException):
        pass

    def cut(work_id: int, position: int, outcome: str) -> None:
        if position == broke_at:
            raise PowerCut
        save_step(work_id, position, outcome)

    monkeypatch.setattr(carrying, "save_step", cut)
    with pytest.raises(PowerCut):
        carry_on.func(work)
    monkeypatch.undo()
    DBTaskResult.objects.all().delete()  # a task that was running when the machine ended is never taken again by the library
    assert load_work(work).state == "working"

    take_up_stalled(timedelta(seconds=-1))
    do_waiting_work()
    assert (load_work(work).state, load_work(work).done) == ("done", 3)
    assert sorted(CardSet.objects.values_list("person_id", flat=True)) == ["a", "b", "c"]
    assert all(parse_value(Outcome, step.outcome).done for step in load_steps(work))


def test_it_stops_where_the_account_of_whoever_asked_is_closed_meanwhile(by: Occasion) -> None:
    work = begun(by, ordered_for("a", "b"))
    Account.objects.update(is_active=False)
    do_waiting_work()
    assert load_work(work).state == "cancelled"
    assert CardSet.objects.count() == 0


def test_it_is_done_by_the_rights_that_they_have_then(by: Occasion) -> None:
    work = begun(by, ordered_for("a"))
    Account.objects.update(role="manager")
    do_waiting_work()
    (step,) = load_steps(work)
    assert {finding.code for finding in parse_value(Outcome, step.outcome).findings} == {"custody.no-right"}


def test_a_part_that_breaks_is_said_to_have_broken_and_the_next_is_done(by: Occasion, monkeypatch: pytest.MonkeyPatch) -> None:
    work = begun(by, ordered_for("a", "b"))
    do_part: Callable[..., Outcome] = carrying.do_part

    def broken(found: LongWork, step: WorkStep, who: Actor) -> Outcome:
        if step.position == 1:
            raise ZeroDivisionError
        return do_part(found, step, who)

    monkeypatch.setattr(carrying, "do_part", broken)
    do_waiting_work()
    first, second = (parse_value(Outcome, step.outcome) for step in load_steps(work))
    assert {finding.code for finding in first.findings} == {"custody.part-broke"}
    assert second.done


def test_the_paper_of_several_sets_is_drawn_and_kept(by: Occasion) -> None:
    begun(by, ordered_for("a", "b"))
    do_waiting_work()
    sets = sorted(CardSet.objects.values_list("pk", flat=True))
    work = int(small_bench.must(begin_printing("2 sets", by, sets)).made[0])
    do_waiting_work()
    assert load_work(work).done == 2
    assert sorted(set(PrintedPaper.objects.values_list("card_set_id", flat=True))) == sets


def test_whoever_may_not_plan_begins_no_planning(by: Occasion) -> None:
    people = ordered_for("a")
    assert small_bench.refused(begin_planning("people", on(Role.DRIVER), people, WEEK)) == {"custody.no-right"}
    assert not DBTaskResult.objects.exists()
    assert PersonRow.objects.count() == 1
