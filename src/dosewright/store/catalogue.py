"""The catalogue ⇄ rows."""

from collections.abc import Iterable
from dataclasses import replace

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.supply.scanning import Proof
from dosewright.core.units.ids import Gtin, MedicineCode
from dosewright.store.missing import Missing
from dosewright.store.models import MedicineCodeRow, MedicineRow
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
    row = MedicineRow.objects.filter(code=code).first()
    return parse_value(Medicine, row.value) if row else None


def load_medicine(code: MedicineCode) -> Medicine:
    """Raises Missing."""
    found = find_medicine(code)
    if found is None:
        raise Missing("medicine", code)
    return found


def load_catalogue(codes: Iterable[MedicineCode] | None = None) -> dict[MedicineCode, Medicine]:
    """All products, or those asked for, by code."""
    rows = MedicineRow.objects.order_by("code")
    chosen = rows if codes is None else rows.filter(code__in=list(codes))
    return {MedicineCode(row.code): parse_value(Medicine, row.value) for row in chosen}


def identify(proof: Proof) -> Proof:
    """The proof with the medicine that the catalogue says its code belongs to, whatever it said before (R7)."""
    return replace(proof, named=find_by_gtin(proof.gtin))


def find_by_gtin(gtin: Gtin | None) -> MedicineCode | None:
    """The medicine that a product code names, None where no medicine has it."""
    row = MedicineCodeRow.objects.filter(gtin=gtin).first() if gtin else None
    return MedicineCode(row.medicine_id) if row else None


def forget_pack_code(gtin: Gtin) -> None:
    """The code names no medicine from now on."""
    MedicineCodeRow.objects.filter(gtin=gtin).delete()
