"""What a person can mend, said without words: a code, how grave, where, and the facts. The sentence is made in web or paper."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, time
from enum import StrEnum
from fractions import Fraction

__all__ = ["Fact", "Finding", "Severity", "blocks", "needs_a_person"]

_PLAIN = (str, int, Fraction, date, time, bool, type(None), tuple)
Fact = str | int | Fraction | date | time | bool | None | tuple[str, ...]


class Severity(StrEnum):
    """`stop`: cannot go on. `decide`: a person with the right must choose, with a reason. `note`: worth knowing."""

    STOP = "stop"
    DECIDE = "decide"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found. `code` is documented in docs/findings.md; `where` and `facts` hold plain values only, never sentences.

    Keys of `where`, as many as are known: file, line, resource, path, field, person, order, medicine, card, row, column, date, slot.
    """

    code: str
    severity: Severity
    where: Mapping[str, Fact] = field(default_factory=dict)
    facts: Mapping[str, Fact] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for value in (*self.where.values(), *self.facts.values()):
            if not isinstance(value, _PLAIN):
                raise TypeError(f"a fact must be a plain exact value, not {value!r}")


def blocks(findings: Iterable[Finding]) -> bool:
    """Whether any finding is a `stop`."""
    return any(finding.severity is Severity.STOP for finding in findings)


def needs_a_person(findings: Iterable[Finding]) -> bool:
    """Whether any finding is a `stop` or a `decide`: the command line then exits 1."""
    return any(finding.severity is not Severity.NOTE for finding in findings)
