"""Stock: lots and medicines on file, bottles in, units spoiled, and where every unit of a lot is."""

from datetime import date

from django.http import HttpResponse
from ninja import Query, Router, Schema

from dosewright.actions.receive_medicines import receive_medicines
from dosewright.actions.receive_stock import receive_stock
from dosewright.actions.waste_units import waste_units
from dosewright.api.answer import answer
from dosewright.api.door import Scope
from dosewright.api.fields import Amount, Code, Reason, Scanned, proof_of
from dosewright.api.offer import does, gives, offer
from dosewright.api.orders import FILE
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.supply.movement import Batch
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.core.units.quantity import format_amount
from dosewright.store.calendar import wall_day
from dosewright.store.catalogue import load_catalogue
from dosewright.store.stock import load_stock
from dosewright.store.tracing import trace_lot

__all__ = [
    "FileName",
    "HeldOut",
    "LotName",
    "LotOut",
    "MedicineOut",
    "StockIn",
    "WasteIn",
    "medicines",
    "receive",
    "receive_file",
    "router",
    "stock",
    "trace",
    "waste",
]

router = Router(tags=["stock"])
_ALL = Scope.PHARMACY


class LotOut(Schema):
    """A lot and how much of it is in stock, as exact text."""

    medicine: str
    lot: str
    expiry: date
    in_stock: str


class MedicineOut(Schema):
    """A product on file."""

    code: str
    name: str
    strength: str
    form: str
    gtin: str | None


class HeldOut(Schema):
    """Units of the lot in one cavity."""

    card: str
    stage: str
    person: str
    row: int
    column: int
    day: date
    medicine: str
    amount: str


class StockIn(Schema):
    """What comes in, by its scan or with the reason why there is none."""

    medicine: Code
    lot: Code
    expiry: date
    amount: Amount
    scan: Scanned = ""
    reason: Reason = ""


class WasteIn(Schema):
    """So many units of a lot are spoiled, and why."""

    medicine: Code
    lot: Code
    amount: Amount
    reason: Reason


class FileName(Schema):
    """What the file is called."""

    name: Code = "medicines sent by a program"


class LotName(Schema):
    """The lot as the bottle has it."""

    lot: Code


@offer(router, gives("stock", "/stock", Ability.RECEIVE_STOCK, scope=_ALL), out=list[LotOut])
def stock(request: ApiRequest) -> list[dict[str, object]]:
    """Every lot, by medicine, earliest expiry first."""
    return [
        {"medicine": held.batch.medicine, "lot": held.batch.lot, "expiry": held.batch.expiry, "in_stock": format_amount(held.amount)}
        for held in load_stock()
    ]


@offer(router, does("receive-stock", "/stock", Ability.RECEIVE_STOCK, scope=_ALL))
def receive(request: ApiRequest, body: StockIn) -> HttpResponse:
    """Units of a lot come in."""
    proof = proof_of(body.scan, body.reason, wall_day(request.auth.on.at))
    batch = Batch(body.expiry, Lot(body.lot), MedicineCode(body.medicine))
    return answer(receive_stock(MedicineCode(body.medicine), request.auth.on, batch, body.amount, proof))


@offer(router, does("waste", "/stock/waste", Ability.WASTE_UNITS, scope=_ALL))
def waste(request: ApiRequest, body: WasteIn) -> HttpResponse:
    """Units of stock are spoiled (R11)."""
    return answer(waste_units(MedicineCode(body.medicine), request.auth.on, Lot(body.lot), body.amount, body.reason))


@offer(router, gives("trace", "/trace", Ability.LOOK, scope=_ALL), out=list[HeldOut])
def trace(request: ApiRequest, wanted: Query[LotName]) -> list[dict[str, object]]:
    """Every cavity that holds a unit of the lot."""
    held, _ = trace_lot(Lot(wanted.lot))
    return [
        {
            "card": unit.card,
            "stage": unit.stage.value,
            "person": unit.person.id,
            "row": unit.row,
            "column": unit.column,
            "day": unit.day,
            "medicine": unit.medicine,
            "amount": format_amount(unit.amount),
        }
        for unit in held
    ]


@offer(router, gives("medicines", "/medicines", Ability.LOOK, scope=_ALL), out=list[MedicineOut])
def medicines(request: ApiRequest) -> list[dict[str, object]]:
    """Every product on file, by code."""
    fields = ("code", "name", "strength", "form", "gtin")
    return [{name: getattr(medicine, name) for name in fields} for medicine in load_catalogue().values()]


@offer(router, does("receive-medicines", "/medicines", Ability.RECEIVE_MEDICINES, scope=_ALL), extra=FILE)
def receive_file(request: ApiRequest, named: Query[FileName]) -> HttpResponse:
    """The medicines CSV; `made` is the codes of what is new or changed."""
    return answer(receive_medicines(named.name, request.auth.on, request.body))
