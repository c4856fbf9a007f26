"""Work that takes longer than a request: many people planned for, many sets printed; how far it has come, and what came of each part."""

from datetime import datetime
from typing import Annotated

from annotated_types import MaxLen, MinLen
from django.http import HttpResponse
from ninja import Field, Router, Schema

from dosewright.actions.begin_work import begin_planning, begin_printing, cancel_work
from dosewright.actions.outcome import Outcome
from dosewright.api.answer import Answer, answer, finding_out
from dosewright.api.door import Scope
from dosewright.api.fields import Code, Day, Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.rights import Ability
from dosewright.core.units.ids import PersonId
from dosewright.store.long_work import WorkStep, load_steps, load_work
from dosewright.store.value_json import parse_value

__all__ = ["PartOut", "PlanManyIn", "PrintManyIn", "WorkOut", "cancel", "plan_many", "print_many", "router", "work"]

router = Router(tags=["sets"])
_ALL = Scope.PHARMACY
_MOST = 2000  # people or sets of one piece of work; our own measure, no source


class PlanManyIn(Schema):
    """Whom to plan for, from which day, for how many. What has to be answered is answered person by person."""

    people: Annotated[list[Code], MinLen(1), MaxLen(_MOST)]
    first: Day
    days: int = Field(..., ge=1, le=92)


class PrintManyIn(Schema):
    """Which sets; for which printer, "" for any."""

    sets: Annotated[list[Annotated[int, Field(ge=1, le=2**31 - 1)]], MinLen(1), MaxLen(_MOST)]
    printer: Reason = ""


class PartOut(Schema):
    """A person or a set, and what came of it; null while it was not tried."""

    subject: str
    outcome: Answer | None


class WorkOut(Schema):
    """`state`: waiting, working, done or cancelled; `done` of `of` parts were tried."""

    id: int
    kind: str
    state: str
    by: str
    at: datetime
    done: int
    of: int
    parts: list[PartOut]


@offer(router, does("plan-many", "/long-work/plan", Ability.PLAN_SET, scope=_ALL))
def plan_many(request: ApiRequest, body: PlanManyIn) -> HttpResponse:
    """Each of them will be planned for, one after another, after this request; `made` is the work's number."""
    people = [PersonId(one) for one in dict.fromkeys(body.people)]
    name = f"{len(people)} people, {body.days} days from {body.first}"
    return answer(begin_planning(name, request.auth.on, people, PlanAsk(body.first, body.days)))


@offer(router, does("print-many", "/long-work/print", Ability.PRINT_SET, scope=_ALL))
def print_many(request: ApiRequest, body: PrintManyIn) -> HttpResponse:
    """The paper of each set will be drawn, read back and kept, one after another, after this request; `made` is the work's number."""
    sets = list(dict.fromkeys(body.sets))
    return answer(begin_printing(f"{len(sets)} sets", request.auth.on, sets, body.printer))


@offer(router, gives("work", "/long-work/{int:work}", Ability.LOOK, scope=_ALL), out=WorkOut)
def work(request: ApiRequest, work: int) -> dict[str, object]:
    """How far it has come."""
    found = load_work(work)
    said = {name: getattr(found, name) for name in ("id", "kind", "state", "done", "of")}
    return {**said, "by": found.by_name, "at": found.made_at, "parts": [_part(step) for step in load_steps(work)]}


@offer(router, does("cancel-work", "/long-work/{int:work}/cancel", Ability.PLAN_SET, scope=_ALL))
def cancel(request: ApiRequest, work: int) -> HttpResponse:
    """What is done stays done; no further part is begun."""
    return answer(cancel_work(work, request.auth.on))


def _part(step: WorkStep) -> dict[str, object]:
    if not step.outcome:
        return {"subject": step.subject, "outcome": None}
    came = parse_value(Outcome, step.outcome)
    findings = [finding_out(one) for one in came.findings]
    return {"subject": step.subject, "outcome": {"done": came.done, "made": list(came.made), "findings": findings}}
