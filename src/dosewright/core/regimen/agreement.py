"""Whether the words that an order carries say the same as its structure.

Comes in: an order with its structure, found. Goes out: a `decide` for each statement in words that stands beside it. Source: HL7 FHIR R4
(4.0.1) Dosage.text: it should reflect the structure; nothing makes it agree.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from dosewright.core.regimen.course import Days
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expansion import ExpansionStatus, decide
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.structure import Structure
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Finding

__all__ = ["check_agreement"]


def check_agreement(order: Order, structure: Structure, timetable: Timetable, window: Days) -> tuple[Finding, ...]:
    """A `decide` for each statement, in order; none where the structure itself is stopped, or carries no words."""
    if structure.status not in (ExpansionStatus.SCHEDULED, ExpansionStatus.AS_NEEDED):
        return ()
    return tuple(
        replace(decide("text.not-compared", words=words), where={"path": f"dosage[{place}]"}) for place, words in _statements(order.dosages)
    )


def _statements(dosages: Sequence[Dosage]) -> Iterator[tuple[int, str]]:
    for place, dosage in enumerate(dosages):
        code = dosage.timing.code if dosage.timing else None
        spoken = code.text if code and code.text != code.code else ""
        for words in dict.fromkeys((dosage.text, dosage.patient_instruction, *(one.text or one.code for one in dosage.additional), spoken)):
            if words.strip():
                yield place, words
