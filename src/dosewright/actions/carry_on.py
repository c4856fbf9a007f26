"""Long work is carried on, part after part, by the task runner: outside any request, in whoever's name asked for it.

Each part is the same action that one press does for one person or one set, under a mark of its own: if the machine stops in the middle,
the work goes on where it was, and nothing is done twice. Between two parts the other stations have their turn, and it may be cancelled.
"""

import logging

from django.conf import settings
from django_tasks import task

from dosewright.actions.outcome import Outcome, not_done
from dosewright.actions.plan_set import plan_set
from dosewright.actions.print_set import print_set
from dosewright.core.custody.event import Actor, Occasion
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import PersonId
from dosewright.store.long_work import LongWork, WorkStep, is_cancelled, load_work, next_step_of, save_beat, save_step
from dosewright.store.turns import write_turn
from dosewright.store.value_json import format_value, parse_value

__all__ = ["carry_on", "do_part"]


@task()
def carry_on(work_id: int) -> None:
    """Every part that was not tried yet; stops where it is cancelled or the account of whoever asked is closed."""
    work = load_work(work_id)
    while not work.over and (step := next_step_of(work_id)) is not None:
        by = load_work(work_id).by
        if is_cancelled(work_id) or by is None:
            return _beat(work_id, "cancelled")
        _beat(work_id, "working")
        outcome = _try_part(work, step, by)
        with write_turn():
            save_step(work_id, step.position, format_value(outcome))
    return None if work.over else _beat(work_id, "done")


def _try_part(work: LongWork, step: WorkStep, by: Actor) -> Outcome:
    """A part that breaks is said to have broken, and the others are done all the same."""
    try:
        return do_part(work, step, by)
    except Exception as error:  # whatever it was, one part of many
        logging.getLogger("dosewright.worker").error("part %s of work %s broke: %s", step.position, work.id, type(error).__name__)
        return not_done((Finding("custody.part-broke", Severity.STOP, facts={"kind": work.kind}),))


def do_part(work: LongWork, step: WorkStep, by: Actor) -> Outcome:
    """One person planned for, or one set printed, by that person's right."""
    on = Occasion(by, settings.BENCH_CLOCK.now(), work.station, f"work {work.id}")
    if work.kind == "plan":
        return plan_set(PersonId(step.subject), on, parse_value(PlanAsk, work.asked))
    return print_set(int(step.subject), on, work.asked)


def _beat(work_id: int, state: str) -> None:
    with write_turn():
        save_beat(work_id, state, settings.BENCH_CLOCK.now())
