"""Records put right by programs: a person's, a medicine's. Each with a reason; cards that rest on what was changed are out of date (R9)."""

from dataclasses import replace
from datetime import date

from django.http import HttpResponse
from ninja import Router, Schema

from dosewright.actions.correct_medicine import correct_medicine
from dosewright.actions.correct_person import PersonCorrection, correct_person
from dosewright.api.answer import Refused, answer
from dosewright.api.door import Scope
from dosewright.api.fields import Code, Name, Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.own_home import require_own_home
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.medicine_row import medicine_row, read_corrected
from dosewright.core.units.ids import HomeId, MedicineCode, PersonId
from dosewright.store.catalogue import load_medicine
from dosewright.store.people import load_person

__all__ = ["MedicineIn", "PersonIn", "RecordOut", "correct", "correct_product", "medicine", "router"]

router = Router(tags=["records"])


class PersonIn(Schema):
    """The record as it is to stand, whole. `told_apart`: somebody of the same name and birth date is another human being."""

    name: Name
    born: date | None
    home: Code | None
    room: Reason
    address: Reason
    told_apart: bool = False
    reason: Reason


class _Row(Schema):
    """Fields as the medicines file has them: "" for nothing, a semicolon between two flags or cautions."""

    shape: Reason
    length_mm: Reason
    width_mm: Reason
    thickness_mm: Reason
    colour: Reason
    mark: Reason
    maker: Reason
    gtin: Reason
    pack_size: Reason
    flags: Reason
    cautions: Reason


class RecordOut(_Row):
    """A medicine's record. What it is (code, name, strength, form) is never corrected: another product has a code of its own."""

    code: str
    name: str
    strength: str
    form: str


class MedicineIn(_Row):
    """The record as it is to stand, whole, and why."""

    reason: Reason


@offer(router, does("correct-person", "/people/{path:person}/correct", Ability.CORRECT_PERSON))
def correct(request: ApiRequest, person: str, body: PersonIn) -> HttpResponse:
    """The record stands so. Cards that bear the old name, birth date or home are out of date, and dosing times go with the home."""
    if body.home is not None:
        require_own_home(request, "correct-person", HomeId(body.home))
    said = {"name": body.name.strip(), "born": body.born, "home": HomeId(body.home) if body.home else None}
    wanted = replace(load_person(PersonId(person)), room=body.room.strip(), address=body.address.strip(), **said)  # type: ignore[arg-type]
    return answer(correct_person(wanted.id, request.auth.on, PersonCorrection(wanted, body.reason, told_apart=body.told_apart)))


@offer(router, does("correct-medicine", "/medicines/{path:medicine}/correct", Ability.CORRECT_MEDICINE, scope=Scope.PHARMACY))
def correct_product(request: ApiRequest, medicine: str, body: MedicineIn) -> HttpResponse:
    """The record stands so, read as a row of a medicines file is. A pack's code that is taken away names the medicine no more (R7)."""
    known = load_medicine(MedicineCode(medicine))
    said, findings = read_corrected(known, {name: getattr(body, name) for name in _Row.model_fields})
    if said is None:
        raise Refused(422, findings)
    return answer(correct_medicine(known.code, request.auth.on, said, body.reason))


@offer(router, gives("medicine", "/medicines/{path:medicine}", Ability.LOOK, scope=Scope.PHARMACY), out=RecordOut)
def medicine(request: ApiRequest, medicine: str) -> dict[str, object]:
    """One product's record, field by field as the medicines file has it."""
    found = load_medicine(MedicineCode(medicine))
    return {**medicine_row(found), "code": found.code, "name": found.name, "strength": found.strength, "form": found.form}
