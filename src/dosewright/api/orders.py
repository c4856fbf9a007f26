"""Orders: in as a file through the same border as at the bench, looked at, confirmed, rejected, stopped."""

from datetime import datetime, time
from typing import Annotated, Literal

from annotated_types import MaxLen
from django.http import HttpResponse
from ninja import Query, Router, Schema

from dosewright.actions.confirm_reading import confirm_reading
from dosewright.actions.decide_place import decide_place
from dosewright.actions.look_around import read_anew
from dosewright.actions.receive_orders import receive_orders
from dosewright.actions.reject_order import reject_order
from dosewright.actions.stop_order import stop_order
from dosewright.api.answer import FindingOut, answer, finding_out
from dosewright.api.card_shapes import ReasonIn
from dosewright.api.door import Scope
from dosewright.api.fields import Code, Day, OnADay, Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.confirming import Confirmation
from dosewright.core.custody.rights import Ability
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.store.orders import StoredOrder, load_order, load_orders_of, load_waiting

__all__ = [
    "FILE",
    "ConfirmIn",
    "Named",
    "OrderOut",
    "PlaceOrderIn",
    "StopIn",
    "confirm",
    "of_person",
    "one",
    "place",
    "receive",
    "reject",
    "router",
    "stop",
    "waiting",
]

router = Router(tags=["orders"])

# A file travels as it is. Source of the first media type: HL7 FHIR R4, "RESTful API", content types.
_KINDS = {
    "application/fhir+json": {"schema": {"type": "object"}},
    "text/csv": {"schema": {"type": "string"}},
}
FILE = {"requestBody": {"required": True, "content": _KINDS}}


class OrderOut(Schema):
    """An order as received, as read and as it stands. `choices`: how many meanings the reader laid out."""

    id: str
    person: str
    medicine: str
    text: str
    status: str
    standing: str
    settled_by: str
    since: str | None
    until: str | None
    choices: int
    findings: list[FindingOut]


class ConfirmIn(Schema):
    """What the pharmacist says of an order that was read. `choice` counts the meanings laid out, from 0; `wording`: by which remembered
    wording it was chosen. `restated`: the directions written anew, in English, where what was received cannot be used; they must have one
    reading, and take a reason. `since` and `until` are moments of wall-clock time."""

    choice: int | None = None
    wording: int | None = None
    restated: Annotated[Reason, MaxLen(500)] = ""
    reason: Reason = ""
    since: OnADay | None = None
    until: OnADay | None = None
    anchor: Day | None = None
    replaces: Code | None = None
    beside: bool = False


class StopIn(Schema):
    """From when no dose is due any more, by the clock on the wall, and why."""

    day: Day
    at: time = time(0, 0)
    reason: Reason


class PlaceOrderIn(Schema):
    """Into a card or alongside, and on which authority."""

    choice: Literal["card", "alongside"]
    reason: Reason


class Named(Schema):
    """What the file is called, and the language of its directions."""

    name: Code = "orders sent by a program"
    lang: Literal["en", "fr", "es", "de"] = "en"


@offer(router, does("receive-orders", "/orders", Ability.RECEIVE_ORDERS, scope=Scope.PHARMACY), extra=FILE)
def receive(request: ApiRequest, named: Query[Named]) -> HttpResponse:
    """A FHIR R4 Bundle of MedicationRequests, or the orders CSV; `made` is the file's id, then the orders that may be confirmed."""
    return answer(receive_orders(named.name, request.auth.on, request.body, named.lang))


@offer(router, gives("waiting-orders", "/orders/waiting", Ability.LOOK, scope=Scope.LIST), out=list[OrderOut])
def waiting(request: ApiRequest) -> list[dict[str, object]]:
    """Orders that wait for a pharmacist, by person."""
    return [_out(stored) for stored in load_waiting() if request.auth.home in {None, stored.person.home}]


@offer(router, gives("orders-of-person", "/people/{path:person}/orders", Ability.LOOK), out=list[OrderOut])
def of_person(request: ApiRequest, person: str) -> list[dict[str, object]]:
    """Every order that the person ever had."""
    return [_out(stored) for stored in load_orders_of(PersonId(person))]


@offer(router, does("confirm", "/orders/{path:order}/confirm", Ability.CONFIRM_READING))
def confirm(request: ApiRequest, order: str, body: ConfirmIn) -> HttpResponse:
    """The order counts from now on (R13)."""
    restated = read_anew(load_order(OrderId(order)), body.restated) if body.restated.strip() else None
    said = Confirmation(
        choice=body.choice,
        reason=body.reason,
        since=_moment(body.since),
        until=_moment(body.until),
        anchor=body.anchor,
        replaces=OrderId(body.replaces) if body.replaces else None,
        beside=body.beside,
        restated=restated,
        wording=body.wording,
    )
    return answer(confirm_reading(OrderId(order), request.auth.on, said))


@offer(router, does("reject", "/orders/{path:order}/reject", Ability.REJECT_ORDER))
def reject(request: ApiRequest, order: str, body: ReasonIn) -> HttpResponse:
    """Nothing is ever scheduled from the order."""
    return answer(reject_order(OrderId(order), request.auth.on, body.reason))


@offer(router, does("stop", "/orders/{path:order}/stop", Ability.STOP_ORDER))
def stop(request: ApiRequest, order: str, body: StopIn) -> HttpResponse:
    """No dose of it is due from then on; cards that it touches are out of date (R9)."""
    return answer(stop_order(OrderId(order), request.auth.on, Moment(body.day, body.at.replace(tzinfo=None)), body.reason))


@offer(router, does("place-order", "/orders/{path:order}/place", Ability.ANSWER_FINDING))
def place(request: ApiRequest, order: str, body: PlaceOrderIn) -> HttpResponse:
    """Where the order's medicine goes from the next plan on, in spite of the rule that holds it back."""
    return answer(decide_place(OrderId(order), request.auth.on, body.choice, body.reason))


@offer(router, gives("order", "/orders/{path:order}", Ability.LOOK), out=OrderOut)
def one(request: ApiRequest, order: str) -> dict[str, object]:
    """One order."""
    return _out(load_order(OrderId(order)))


def _moment(at: datetime | None) -> Moment | None:
    """Wall-clock time as it is written; a zone beside it is not ours to convert."""
    return Moment(at.date(), at.time().replace(second=0, microsecond=0, tzinfo=None)) if at else None


def _out(stored: StoredOrder) -> dict[str, object]:
    order = stored.order
    return {
        "id": order.id,
        "person": order.person,
        "medicine": order.medicine,
        "text": order.text,
        "status": stored.status,
        "standing": stored.standing,
        "settled_by": stored.settled_by,
        "since": _written(order.since),
        "until": _written(order.until),
        "choices": sum(len(question.choices) for question in stored.reading.questions) if stored.reading else 0,
        "findings": [finding_out(finding) for finding in stored.findings],
    }


def _written(at: Moment | None) -> str | None:
    return f"{at.day.isoformat()}T{at.time:%H:%M}" if at else None
