"""What composing hands around: doubts, the outcome of a line, and the error for words that make no schedule."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.reading.reading_values import Place
from dosewright.core.units.finding import Fact, Finding

__all__ = ["Doubt", "Meaning", "Unclear"]


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something only a person can settle: the question's code, the letters, the facts."""

    code: str
    span: Place
    facts: Mapping[str, Fact] = field(default_factory=dict, hash=False)


@dataclass(frozen=True, slots=True)
class Meaning:
    """One thing the line may mean, and what was supplied or left in doubt on the way to it."""

    dosages: tuple[Dosage, ...]
    doubts: tuple[Doubt, ...] = ()
    assumed: tuple[Finding, ...] = ()


class Unclear(Exception):
    """No schedule can be made of these words."""

    def __init__(self, code: str, span: Place, **facts: Fact) -> None:
        super().__init__(code)
        self.doubt = Doubt(code, span, facts)
