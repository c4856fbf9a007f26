"""What composing hands around: doubts, the outcome of a line, and the error for words that make no schedule."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.reading.reading_values import Place
from dosewright.core.units.finding import Fact, Finding

__all__ = ["Doubt", "Meaning", "Unclear", "asked_once"]


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


def asked_once(code: str, doubts: Sequence[Doubt]) -> tuple[Doubt, ...]:
    """Without repeats, and of that code only the first: one question of the kind is enough."""
    first = next((doubt for doubt in doubts if doubt.code == code), None)
    return tuple(dict.fromkeys(doubt for doubt in doubts if doubt.code != code or doubt is first))


class Unclear(Exception):
    """No schedule can be made of these words."""

    def __init__(self, code: str, span: Place, **facts: Fact) -> None:
        super().__init__(code)
        self.doubt = Doubt(code, span, facts)
