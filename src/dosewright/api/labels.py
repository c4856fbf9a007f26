"""The printed labels of a set, each with its standing, and those that are voided."""

from typing import Annotated

from annotated_types import MaxLen
from django.http import HttpResponse
from ninja import Router, Schema

from dosewright.actions.void_labels import Voiding, void_labels
from dosewright.api.answer import answer
from dosewright.api.fields import Code, Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.label_account import account_for
from dosewright.core.custody.rights import Ability
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import load_set
from dosewright.store.label_sheets import load_card_lives, load_label_sheets

__all__ = ["LabelOut", "VoidIn", "labels", "router", "void"]

router = Router(tags=["sets"])


class LabelOut(Schema):
    """One printed label: "h1" is a header, "c3-2" the cavity in row 3 of column 2. `why`: what voided it, or why nobody
    knows where it is."""

    sheet: str
    card: str
    label: str
    standing: str
    why: str
    reason: str


class VoidIn(Schema):
    """Which labels of which card on which document, and why."""

    sheet: Code
    card: Code
    labels: Annotated[list[Code], MaxLen(400)]
    reason: Reason


@offer(router, gives("labels", "/sets/{int:set_id}/labels", Ability.VOID_LABELS), out=list[LabelOut])
def labels(request: ApiRequest, set_id: int) -> list[dict[str, object]]:
    """Every label that was printed for the set, the first printed first."""
    number = load_set(set_id).id
    sheets = (one.sheet for one in load_label_sheets((number,)).get(number, ()))
    return [{name: getattr(one, name) for name in LabelOut.model_fields} for one in account_for(sheets, load_card_lives((number,)))]


@offer(router, does("void-labels", "/sets/{int:set_id}/labels/void", Ability.VOID_LABELS))
def void(request: ApiRequest, set_id: int, body: VoidIn) -> HttpResponse:
    """They count as voided from now on; refused for the only labels that an open card has."""
    return answer(void_labels(set_id, request.auth.on, Voiding(body.sheet, CardNumber(body.card), tuple(body.labels), body.reason)))
