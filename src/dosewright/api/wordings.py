"""Remembered wordings: all of them, one remembered at an order that was just confirmed, one revoked."""

from datetime import datetime
from typing import Literal

from django.http import HttpResponse
from ninja import Router, Schema

from dosewright.actions.refuse_address import refuse_address
from dosewright.actions.remember_wording import remember_wording
from dosewright.actions.revoke_wording import revoke_wording
from dosewright.api.answer import Refused, answer, stop
from dosewright.api.card_shapes import ReasonIn
from dosewright.api.door import Scope
from dosewright.api.fields import Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.tokens import check_home_of_token
from dosewright.core.custody.wordings import WHOLE_PHARMACY
from dosewright.core.units.ids import HomeId, OrderId
from dosewright.store.orders import load_order
from dosewright.store.wordings import StoredWording, load_wordings

__all__ = ["RememberIn", "WordingOut", "find_wordings", "remember", "revoke", "router"]

router = Router(tags=["wordings"])


class WordingOut(Schema):
    """Words that are read in one way here. `home`: for its people alone, "" for everybody's. `used`: orders confirmed by it since."""

    id: int
    text: str
    lang: str
    country: str
    form: str
    unit: str
    home: str
    chosen: int
    meanings: int
    order: str
    confirmed_by: str
    confirmed_at: datetime
    reason: str
    used: int
    revoked_by: str
    revoked_at: datetime | None
    revoked_because: str


class RememberIn(Schema):
    """For the people of the order's home alone, or for everybody's; and why."""

    scope: Literal["home", "pharmacy"] = "home"
    reason: Reason


@offer(router, gives("wordings", "/wordings", Ability.LOOK, scope=Scope.PHARMACY), out=list[WordingOut])
def find_wordings(request: ApiRequest) -> list[dict[str, object]]:
    """Every wording ever remembered, those in force first."""
    return [_out(stored) for stored in load_wordings()]


@offer(router, does("remember-wording", "/orders/{path:order}/remember", Ability.REMEMBER_WORDING))
def remember(request: ApiRequest, order: str, body: RememberIn) -> HttpResponse:
    """The words of an order just confirmed are read so from now on; `made` is the wording's number."""
    return answer(remember_wording(OrderId(order), request.auth.on, _scope(request, order, body), body.reason))


@offer(router, does("revoke-wording", "/wordings/{int:wording}/revoke", Ability.REVOKE_WORDING, scope=Scope.PHARMACY))
def revoke(request: ApiRequest, wording: int, body: ReasonIn) -> HttpResponse:
    """The words are asked about again, also of orders that wait."""
    return answer(revoke_wording(wording, request.auth.on, body.reason))


def _scope(request: ApiRequest, order: str, body: RememberIn) -> HomeId:
    """Nothing is widened in silence: a home's program remembers for that home alone, and who lives in no home has no home's wording.
    Raises Refused."""
    if body.scope == "pharmacy":
        if findings := check_home_of_token(request.auth.actor):
            refuse_address("api remember-wording", request.auth.on, tuple(finding.code for finding in findings))
            raise Refused(403, findings)
        return WHOLE_PHARMACY
    home = load_order(OrderId(order)).person.home
    if home is None:
        raise Refused(
            422, stop("custody.request-wrong", field="scope", why="the order's person lives in no home; say pharmacy for everybody's")
        )
    return home


def _out(stored: StoredWording) -> dict[str, object]:
    key, found = stored.wording.key, stored.wording
    said = {name: getattr(key, name) for name in ("text", "lang", "country", "form", "unit", "home")}
    mine = ("id", "order", "confirmed_by", "confirmed_at", "reason", "used", "revoked_by", "revoked_at", "revoked_because")
    return {**said, **{name: getattr(stored, name) for name in mine}, "chosen": found.chosen, "meanings": len(found.meanings)}
