"""The catalogue ⇄ rows."""

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.supply.scanning import Proof
from dosewright.core.units.ids import Gtin, MedicineCode
from dosewright.store.missing import Missing
from dosewright.store.models import MedicineCodeRow, MedicineRow
from dosewright.store.questions import Question
from dosewright.store.value_json import format_value, parse_value

__all__ = ["find_by_gtin", "find_medicine", "forget_pack_code", "identify", "load_catalogue", "load_medicine", "save_medicine"]


def save_medicine(medicine: Medicine) -> bool:
    """Add or change one product; its code on the pack names it from now on. Whether anything changed."""
    value = format_value(medicine)
    known = MedicineRow.objects.filter(code=medicine.code).values_list("value", flat=True).first()
    said = {"name": medicine.name, "strength": medicine.strength, "value": value}
    MedicineRow.objects.update_or_create(code=medicine.code, defaults=said)
    if medicine.gtin:
        MedicineCodeRow.objects.update_or_create(gtin=medicine.gtin, defaults={"medicine_id": medicine.code})
    return known != value


def find_medicine(code: MedicineCode) -> Medicine | None:
    """A product on record, or None."""
    row = _MEDICINE.one(code)
    return _parse_medicine(row[0]) if row else None


_MEDICINE = Question(lambda code: MedicineRow.objects.filter(code=code).values_list("value"))
_MEDICINES = Question(lambda *codes: MedicineRow.objects.filter(code__in=codes).order_by("code").values_list("code", "value"))
_NAMED = Question(lambda gtin: MedicineCodeRow.objects.filter(gtin=gtin).values_list("medicine_id"))


def load_medicine(code: MedicineCode) -> Medicine:
    """Raises Missing."""
    found = find_medicine(code)
    if found is None:
        raise Missing("medicine", code)
    return found


def load_catalogue(codes: Iterable[MedicineCode] | None = None) -> dict[MedicineCode, Medicine]:
    """All products, or those asked for, by code."""
    wanted = None if codes is None else sorted(set(codes))
    if wanted is None or len(wanted) > _MANY:
        every = MedicineRow.objects.order_by("code").values_list("code", "value")
        rows = list(every if wanted is None else every.filter(code__in=wanted))
    else:
        rows = _MEDICINES.rows(*wanted) if wanted else []
    return {MedicineCode(code): _parse_medicine(value) for code, value in rows}


_MANY = 30  # more than the medicines of one person: no question of its own is kept for so many


@lru_cache(maxsize=2000)
def _parse_medicine(text: str) -> Medicine:
    """The same text is the same product, and a product's value is never changed: each is read again and again."""
    return parse_value(Medicine, text)


def identify(proof: Proof) -> Proof:
    """The proof with the medicine that the catalogue says its code belongs to, whatever it said before (R7)."""
    return replace(proof, named=find_by_gtin(proof.gtin))


def find_by_gtin(gtin: Gtin | None) -> MedicineCode | None:
    """The medicine that a product code names, None where no medicine has it."""
    row = _NAMED.one(gtin) if gtin else None
    return MedicineCode(row[0]) if row else None


def forget_pack_code(gtin: Gtin) -> None:
    """The code names no medicine from now on."""
    MedicineCodeRow.objects.filter(gtin=gtin).delete()
