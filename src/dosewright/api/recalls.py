"""A lot is recalled: the pharmacy's sheet and the notices, made by a program in a pharmacist's name."""

from datetime import datetime
from typing import Annotated

from django.http import HttpResponse
from ninja import Router, Schema
from pydantic import StringConstraints

from dosewright.actions.recall_lot import recall_lot
from dosewright.api.answer import answer
from dosewright.api.door import Scope
from dosewright.api.fields import Code
from dosewright.api.offer import does, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.store.calendar import wall_moment
from dosewright.store.catalogue import load_medicine

__all__ = ["RecallIn", "recall", "router"]

router = Router(tags=["sheets"])


class RecallIn(Schema):
    """What the maker or the authority says: how urgent, in its own words; why, and what it asks."""

    medicine: Code
    lot: Code
    urgency: Annotated[Code, StringConstraints(max_length=120)]
    reason: Annotated[Code, StringConstraints(max_length=400)]


@offer(router, does("recall", "/recalls", Ability.RECALL_LOT, scope=Scope.PHARMACY))
def recall(request: ApiRequest, body: RecallIn) -> HttpResponse:
    """Every card that has or had units of the lot, on one sheet, and a notice for each home and person; `made` is the sheets' numbers."""
    now = wall_moment(request.auth.on.at)
    known, said = load_medicine(MedicineCode(body.medicine)), (body.urgency, " ".join(body.reason.split()))
    return answer(recall_lot(known.code, Lot(body.lot), request.auth.on, said, datetime.combine(now.day, now.time)))
