"""A lot is recalled, or a recall lifted, by a program in a pharmacist's name."""

from datetime import datetime
from typing import Annotated

from django.http import HttpResponse
from ninja import Router, Schema
from pydantic import StringConstraints

from dosewright.actions.carry_out_recall import carry_out_recall
from dosewright.actions.recall_lot import lift_recall
from dosewright.api.answer import answer
from dosewright.api.door import Scope
from dosewright.api.fields import Code
from dosewright.api.offer import does, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.store.calendar import wall_moment
from dosewright.store.catalogue import load_medicine

__all__ = ["LiftIn", "RecallIn", "lift", "recall", "router"]

router = Router(tags=["sheets"])


class RecallIn(Schema):
    """What the maker or the authority says: how urgent, in its own words; why, and what it asks."""

    medicine: Code
    lot: Code
    urgency: Annotated[Code, StringConstraints(max_length=120)]
    reason: Annotated[Code, StringConstraints(max_length=400)]


@offer(router, does("recall", "/recalls", Ability.RECALL_LOT, scope=Scope.PHARMACY))
def recall(request: ApiRequest, body: RecallIn) -> HttpResponse:
    """Nothing of the lot is used any more. Every card that has or had units of it stands on one sheet, with a notice for each home and
    person; `made` is the sheets' numbers, none where no card has any."""
    now = wall_moment(request.auth.on.at)
    known, said = load_medicine(MedicineCode(body.medicine)), (body.urgency, " ".join(body.reason.split()))
    return answer(carry_out_recall(known.code, request.auth.on, Lot(body.lot), said, datetime.combine(now.day, now.time)))


class LiftIn(Schema):
    """Why the lot may be used again."""

    medicine: Code
    lot: Code
    reason: Annotated[Code, StringConstraints(max_length=400)]


@offer(router, does("lift-recall", "/recalls/lift", Ability.RECALL_LOT, scope=Scope.PHARMACY))
def lift(request: ApiRequest, body: LiftIn) -> HttpResponse:
    """The lot may be used again: it was another that was meant, or its maker says so."""
    known = load_medicine(MedicineCode(body.medicine))
    return answer(lift_recall(known.code, request.auth.on, Lot(body.lot), body.reason))
