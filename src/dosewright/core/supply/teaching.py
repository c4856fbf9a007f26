"""A pack's code that nobody knows is taught by two people who say the same without having seen what the other said.

Source: independent double check; a code that is taught wrong makes every later scan of it wrong (common practice, no source).
"""

from collections.abc import Iterator
from dataclasses import dataclass

from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import Gtin, MedicineCode

__all__ = ["Taught", "check_teaching"]


@dataclass(frozen=True, slots=True)
class Taught:
    """What one person said a code belongs to."""

    gtin: Gtin
    medicine: MedicineCode
    by: str


def check_teaching(said: Taught, before: Taught | None, holder: MedicineCode | None) -> tuple[Finding, ...]:
    """A stop where the code has a medicine already, where the same person says it twice, and where two people say different medicines."""
    return tuple(_check(said, before, holder))


def _check(said: Taught, before: Taught | None, holder: MedicineCode | None) -> Iterator[Finding]:
    where = {"medicine": said.medicine}
    if holder is not None:
        yield Finding("supply.code-known", Severity.STOP, where, {"gtin": said.gtin, "holder": holder})
    elif before is not None and before.by == said.by:
        yield Finding("supply.code-same-person", Severity.STOP, where, {"gtin": said.gtin})
    elif before is not None and before.medicine != said.medicine:
        yield Finding("supply.code-disagreed", Severity.STOP, where, {"gtin": said.gtin})
