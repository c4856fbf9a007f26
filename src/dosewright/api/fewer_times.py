"""Fewer dosing times for one person: what could be proposed from a day on, and the pharmacist's decision to take up just that."""

from typing import Annotated, Any

from annotated_types import MaxLen
from django.http import HttpResponse
from ninja import Field, Query, Router, Schema

from dosewright.actions.take_up_times import check_open_orders, draw_up_proposal, take_up_times
from dosewright.api.answer import FindingOut, answer, finding_out
from dosewright.api.fields import Code, Day, Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.taking_up import TimesAsk, mark_of
from dosewright.core.interop.proposal_json import proposal_object
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.store.people import load_person

__all__ = ["ProposalOut", "TakeUpIn", "TimesAsked", "propose", "router", "take_up"]

router = Router(tags=["dosing times"])
_Orders = Annotated[list[Code], MaxLen(100)]


class TimesAsked(Schema):
    """From which day on; which orders are to stay where they are."""

    first: Day
    stay: _Orders = Field(default_factory=list)


class ProposalOut(Schema):
    """`proposal`: today's dosing times, the proposed, each move with what it relies on, what stays and why, and the proof. `shown`: what
    the decision sends back; "" where something keeps any proposal from being taken up, and `findings` say what."""

    shown: str
    proposal: dict[str, Any]
    findings: list[FindingOut]


class TakeUpIn(TimesAsked):
    """What was shown, and with whom it was agreed."""

    shown: Code
    agreed: Reason


@offer(router, gives("propose-times", "/people/{path:person}/fewer-times", Ability.TAKE_UP_TIMES), out=ProposalOut)
def propose(request: ApiRequest, person: str, asked: Query[TimesAsked]) -> dict[str, object]:
    """What the planner proposes of the orders that a pharmacist confirmed."""
    someone, ask = load_person(PersonId(person)), TimesAsk(asked.first, tuple(map(OrderId, asked.stay)))
    found, waits = draw_up_proposal(someone.id, request.auth.on, ask), check_open_orders(someone.id, ask)
    shown = "" if waits else mark_of(found, ask.first)
    return {"shown": shown, "proposal": proposal_object(found, someone.name), "findings": [finding_out(one) for one in waits]}


@offer(router, does("take-up-times", "/people/{path:person}/fewer-times", Ability.TAKE_UP_TIMES))
def take_up(request: ApiRequest, person: str, body: TakeUpIn) -> HttpResponse:
    """All moves of the proposal that was shown, or none; cards that they touch are out of date (R9). `made`: the new orders."""
    ask = TimesAsk(body.first, tuple(map(OrderId, body.stay)), body.shown, body.agreed)
    return answer(take_up_times(PersonId(person), request.auth.on, ask))
