"""What is said when things come in that are on record already: orders that are no news, people and products that are recorded otherwise."""

from collections.abc import Iterator

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import MedicineCode, OrderId
from dosewright.core.units.person import Person

__all__ = ["check_person", "check_product", "note_seen_before"]


def note_seen_before(order: OrderId) -> Finding:
    """The same order, word for word, is on record."""
    return Finding("custody.seen-before", Severity.NOTE, {"order": order})


def check_person(known: Person | None, said: Person) -> tuple[Finding, ...]:
    """A stop where the id on record is another human being's (name or birth date differ): no order may come to the wrong person.

    A note where only home, room or address differ: the record is kept, somebody compares.
    """
    if known is None or known == said:
        return ()
    if (_plain(known.name), known.born) != (_plain(said.name), said.born):
        return (Finding("custody.other-person", Severity.STOP, {"person": said.id}, {"known": known.name, "said": said.name}),)
    return (Finding("custody.person-differs", Severity.NOTE, {"person": said.id}, {"name": said.name}),)


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())


def check_product(known: Medicine | None, said: Medicine, holder: MedicineCode | None) -> tuple[Finding, ...]:
    """A stop where a code on record would come to mean another product, or a pack's code (`holder` has it now) another medicine.

    What a product looks like may change; what it is may not: orders and cards name it by this code.
    """
    return tuple(_check_product(known, said, holder))


def _check_product(known: Medicine | None, said: Medicine, holder: MedicineCode | None) -> Iterator[Finding]:
    if known is not None and _identity(known) != _identity(said):
        yield Finding("custody.other-product", Severity.STOP, {"medicine": said.code}, {"known": known.label, "said": said.label})
    if holder is not None and holder != said.code:
        yield Finding("custody.pack-code-taken", Severity.STOP, {"medicine": said.code}, {"gtin": said.gtin, "holder": holder})


def _identity(medicine: Medicine) -> tuple[str, str, str, str]:
    return (_plain(medicine.name), medicine.strength, medicine.form, medicine.unit)
