"""A near miss noted by a program: what was caught in time, as quickly as at the bench."""

from django.http import HttpResponse
from ninja import Router, Schema

from dosewright.actions.note_near_miss import Noted, note_near_miss
from dosewright.api.answer import answer
from dosewright.api.door import Scope
from dosewright.api.fields import Reason
from dosewright.api.offer import does, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.near_miss import Cause, Harm, NearMissKind, NoticedAt
from dosewright.core.custody.rights import Ability

__all__ = ["NearMissIn", "note", "router"]

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


@offer(router, does("note-near-miss", "/near-misses", Ability.NOTE_NEAR_MISS, scope=Scope.PHARMACY))
def note(request: ApiRequest, body: NearMissIn) -> HttpResponse:
    """It is kept. Nobody is asked who made the error, and nothing happens to the card by it."""
    said = Noted(body.kind, body.noticed, body.note, body.cause, body.harm, body.named)
    return answer(note_near_miss(body.card, request.auth.on, said))
