"""Codes that nobody knows, taught by two: each scans the bottle and says which medicine it is; neither is told what the other said.

Whose half it is goes by the person that a token acts for: two tokens of one person are one person."""

from datetime import datetime

from django.http import HttpResponse
from ninja import Router, Schema

from dosewright.actions.teach_code import drop_code, teach_code
from dosewright.api.answer import Refused, answer, stop
from dosewright.api.door import Scope
from dosewright.api.fields import Code, Scanned
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.pack_code import parse_pack_code
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import Gtin, MedicineCode
from dosewright.store.calendar import wall_day
from dosewright.store.pack_codes import load_waiting_codes

__all__ = ["TeachIn", "WaitingOut", "drop", "router", "teach", "waiting_codes"]

router = Router(tags=["codes"])
_ALL = Scope.PHARMACY


class WaitingOut(Schema):
    """A code of which one person has said something. What, nobody is told before they have said it themselves."""

    gtin: str
    by: str
    at: datetime


class TeachIn(Schema):
    """The code on the bottle as it was scanned, and which medicine the bottle says it is."""

    scan: Scanned
    medicine: Code


@offer(router, gives("waiting-codes", "/codes/waiting", Ability.TEACH_CODE, scope=_ALL), out=list[WaitingOut])
def waiting_codes(request: ApiRequest) -> list[dict[str, object]]:
    """Codes that wait for a second person, the oldest first."""
    return [{"gtin": one.gtin, "by": one.by, "at": one.at} for one in load_waiting_codes()]


@offer(router, does("teach-code", "/codes", Ability.TEACH_CODE, scope=_ALL))
def teach(request: ApiRequest, body: TeachIn) -> HttpResponse:
    """One of two says which medicine a code is (R7); `made` is the code once two people have said the same, and nothing before."""
    read = parse_pack_code(body.scan, wall_day(request.auth.on.at).year)
    if blocks(read.findings):
        raise Refused(422, read.findings)
    if read.gtin is None:
        raise Refused(422, stop("custody.request-wrong", field="scan", why="it names no product; scan the code of the bottle"))
    return answer(teach_code(read.gtin, request.auth.on, MedicineCode(body.medicine)))


@offer(router, does("drop-code", "/codes/{gtin}/drop", Ability.TEACH_CODE, scope=_ALL))
def drop(request: ApiRequest, gtin: str) -> HttpResponse:
    """What was said of the code first counts no more; it is said anew, by two."""
    return answer(drop_code(Gtin(gtin), request.auth.on))
