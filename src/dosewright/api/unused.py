"""Orders that came in a file and could not be used: what waits, and what becomes of one."""

from typing import Literal

from django.http import HttpResponse
from ninja import Router, Schema

from dosewright.actions.settle_unused import settle_unused
from dosewright.api.answer import FindingOut, answer, finding_out
from dosewright.api.door import Scope
from dosewright.api.fields import Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.store.unused import StoredUnused, load_waiting_unused

__all__ = ["SettleIn", "UnusedOut", "router", "settle", "unused_orders"]

router = Router(tags=["orders"])
_ALL = Scope.PHARMACY  # whose an order is may be just what nobody can tell


class UnusedOut(Schema):
    """An order as received, and what is wrong with it. `person` and `order` are "" where the file does not say; `holds`: for whom
    nothing is planned before it is settled."""

    id: int
    person: str
    order: str
    place: str
    text: str
    file: str
    holds: list[str]
    findings: list[FindingOut]


class SettleIn(Schema):
    """What becomes of it, and who said so."""

    becomes: Literal["turned down", "supplied otherwise"]
    reason: Reason


@offer(router, gives("unused-orders", "/unused-orders", Ability.LOOK, scope=_ALL), out=list[UnusedOut])
def unused_orders(request: ApiRequest) -> list[dict[str, object]]:
    """Those that wait for a pharmacist, in order of arrival."""
    return [_out(stored) for stored in load_waiting_unused()]


@offer(router, does("settle-unused", "/unused-orders/{int:unused}/settle", Ability.REJECT_ORDER, scope=_ALL))
def settle(request: ApiRequest, unused: int, body: SettleIn) -> HttpResponse:
    """It holds nobody's planning any more; words and findings stay on record."""
    return answer(settle_unused(unused, request.auth.on, body.becomes, body.reason))


def _out(stored: StoredUnused) -> dict[str, object]:
    said = {name: getattr(stored.unused, name) for name in ("person", "order", "place", "text")}
    found = [finding_out(finding) for finding in stored.unused.findings]
    return {"id": stored.id, "file": stored.file, **said, "holds": list(stored.unused.holds), "findings": found}
