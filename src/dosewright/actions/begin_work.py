"""Work that takes longer than somebody waits for is begun, and may be cancelled: many people planned for, many sets printed."""

from collections.abc import Sequence

from dosewright.actions.carry_on import carry_on
from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.planning import PlanAsk, check_cycle
from dosewright.core.custody.rights import Ability
from dosewright.core.units.ids import PersonId
from dosewright.store.ledger import append_entry
from dosewright.store.long_work import load_work, save_beat, save_cancel, save_work
from dosewright.store.value_json import format_value

__all__ = ["begin_planning", "begin_printing", "cancel_work"]


@doing(Ability.PLAN_SET, "work")
def begin_planning(name: str, on: Occasion, people: Sequence[PersonId], ask: PlanAsk) -> Outcome:
    """Each of them will be planned for, one after another, outside this request. `made`: the work's id."""
    if findings := check_cycle(ask):
        return not_done(findings)
    return _begin("plan", name, on, [str(person) for person in people], format_value(ask))


@doing(Ability.PRINT_SET, "work")
def begin_printing(name: str, on: Occasion, sets: Sequence[int], printer: str = "") -> Outcome:
    """The paper of each set will be drawn, read back and kept, one after another. `made`: the work's id."""
    return _begin("print", name, on, [str(one) for one in sets], printer)


def _begin(kind: str, name: str, on: Occasion, subjects: Sequence[str], asked: str) -> Outcome:
    """The task is put in line in this same transaction: it is there exactly where the work is."""
    work_id = save_work(kind, asked, subjects, on)
    append_entry(on, "work begun", ("work", str(work_id)), {"kind": kind, "what": name, "parts": len(subjects)})
    carry_on.enqueue(work_id)
    return done((), str(work_id))


@doing(Ability.PLAN_SET, "work")
def cancel_work(work_id: int, on: Occasion) -> Outcome:
    """What is done stays done; no further part is begun."""
    work = load_work(work_id)
    if not work.over:
        save_cancel(work_id)
        if work.state == "waiting":
            save_beat(work_id, "cancelled", on.at)
        append_entry(on, "work cancelled", ("work", str(work_id)), {"done": work.done, "of": work.of})
    return done()
