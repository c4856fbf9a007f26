"""A medicines file comes in: products are added to the catalogue, or changed."""

from collections.abc import Iterable, Iterator, Mapping

from dosewright.actions.correct_medicine import mark_holding
from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.receiving import check_product
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.order_file import read_medicine_file
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import MedicineCode
from dosewright.store.catalogue import find_by_gtin, find_medicine, save_medicine
from dosewright.store.ledger import append_entry
from dosewright.store.pharmacy import lock_pharmacy

__all__ = ["receive_medicines"]


@doing(Ability.RECEIVE_MEDICINES, "file")
def receive_medicines(name: str, on: Occasion, content: bytes) -> Outcome:
    """Every row without fault counts from now on; the findings name the others. Nothing is done where no row may be used.

    `made`: the codes of what is new or changed.
    """
    lock_pharmacy()
    found = read_medicine_file(content, name)
    wrong = {medicine.code: _about(medicine) for medicine in found.medicines}
    findings = found.findings + tuple(finding for about in wrong.values() for finding in about)
    usable = [medicine for medicine in found.medicines if not wrong[medicine.code]]
    if not usable:
        return not_done(findings)
    before = {medicine.code: find_medicine(medicine.code) for medicine in usable}
    changed = tuple(medicine.code for medicine in usable if save_medicine(medicine))
    append_entry(on, "medicines received", ("file", name[:300]), {"changed": changed, "same": len(usable) - len(changed)})
    return done(findings + tuple(_marked(before, usable, on, f"came in with {name[:300]}")), *changed)


def _marked(before: Mapping[MedicineCode, Medicine | None], now: Iterable[Medicine], on: Occasion, reason: str) -> Iterator[Finding]:
    """Cards that rest on what the file says otherwise are out of date, as if the record had been corrected by hand (R9)."""
    for medicine in sorted(now, key=lambda one: one.code):
        if was := before[medicine.code]:
            yield from mark_holding(was, medicine, on, reason)


def _about(medicine: Medicine) -> tuple[Finding, ...]:
    return check_product(find_medicine(medicine.code), medicine, find_by_gtin(medicine.gtin))
