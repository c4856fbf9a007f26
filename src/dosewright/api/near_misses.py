"""Near misses by programs: what was caught in time, noted as quickly as at the bench; and all that were noted."""

from datetime import datetime

from django.http import HttpResponse
from ninja import Router, Schema

from dosewright.actions.note_near_miss import Noted, note_near_miss
from dosewright.api.answer import answer
from dosewright.api.door import Scope
from dosewright.api.fields import Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.near_miss import Cause, Harm, NearMissKind, NoticedAt, Origin
from dosewright.core.custody.rights import Ability
from dosewright.store.near_misses import StoredNearMiss, load_near_misses

__all__ = ["MissOut", "NearMissIn", "near_misses", "note", "router"]

router = Router(tags=["near misses"])


class NearMissIn(Schema):
    """What was caught and where it was noticed is enough. `card`: its number, where there is one; `named`: the name of whoever the program
    acts for may stand beside it."""

    kind: NearMissKind
    noticed: NoticedAt
    card: Reason = ""
    note: Reason = ""
    cause: Cause = Cause.NOT_KNOWN
    harm: Harm = Harm.NOT_KNOWN
    named: bool = False


class MissOut(Schema):
    """One error caught in time. `found_by` is "" where no name is to stand there."""

    at: datetime
    card: str
    kind: NearMissKind
    noticed: NoticedAt
    origin: Origin
    note: str
    cause: Cause
    harm: Harm
    found_by: str


@offer(router, gives("near-misses", "/near-misses", Ability.LOOK, scope=Scope.PHARMACY), out=list[MissOut])
def near_misses(request: ApiRequest) -> list[dict[str, object]]:
    """All that were noted, the latest first."""
    return [_miss(one) for one in load_near_misses()]


@offer(router, does("note-near-miss", "/near-misses", Ability.NOTE_NEAR_MISS, scope=Scope.PHARMACY))
def note(request: ApiRequest, body: NearMissIn) -> HttpResponse:
    """It is kept. Nobody is asked who made the error, and nothing happens to the card by it."""
    said = Noted(body.kind, body.noticed, body.note, body.cause, body.harm, body.named)
    return answer(note_near_miss(body.card, request.auth.on, said))


def _miss(one: StoredNearMiss) -> dict[str, object]:
    same = ("at", "card", "kind", "noticed", "origin", "note", "cause", "harm")
    return {**{name: getattr(one, name) for name in same}, "found_by": one.found_by if one.origin is Origin.PERSON else ""}
