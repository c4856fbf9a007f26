"""What is said when orders come in that are no news, or about people who are on record otherwise."""

from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import OrderId
from dosewright.core.units.person import Person

__all__ = ["note_person_differs", "note_seen_before"]


def note_seen_before(order: OrderId) -> Finding:
    """The same order, word for word, is on record."""
    return Finding("custody.seen-before", Severity.NOTE, {"order": order})


def note_person_differs(person: Person) -> Finding:
    """A person is on record with other particulars, and the record was kept: somebody must compare."""
    return Finding("custody.person-differs", Severity.DECIDE, {"person": person.id}, {"name": person.name})
