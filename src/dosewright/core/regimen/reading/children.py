"""What the grammar hands to a rule: tokens with the sense chosen, numbers, items; and how to look into them."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.lexicon import Sense
from dosewright.core.regimen.reading.reading_values import Place
from dosewright.core.units.quantity import Unit

__all__ = [
    "Children",
    "Counted",
    "Leaf",
    "NotSaid",
    "Word",
    "has",
    "numbers",
    "one",
    "period",
    "span_of",
    "time_unit",
    "tokens_of",
    "unit_of",
    "value_of",
]

Children = Sequence[Any]


@dataclass(frozen=True, slots=True)
class Leaf:
    """What a token of the parser carries: the sense chosen, and the letters."""

    sense: Sense
    text: str

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Word:
    """One token of the line as the grammar takes it: its terminal, what it carries, and its place."""

    type: str
    value: Any  # a Leaf, whose value only the grammar knows the type of
    start_pos: int
    end_pos: int


class NotSaid(Exception):
    """The words at `span` make no sense together; `code` is the question."""

    def __init__(self, code: str, span: Place) -> None:
        super().__init__(code)
        self.code, self.span = code, span


@dataclass(frozen=True, slots=True)
class Counted:
    """A number of the line, with the words it is written in."""

    number: p.Number
    span: Place
    text: str = ""
    either: bool = False  # "5 or 7"


def span_of(children: Children) -> Place:
    places: list[Place] = [(c.start_pos, c.end_pos) if isinstance(c, Word) else c.span for c in children]
    return min(s for s, _ in places), max(e for _, e in places)


def tokens_of(children: Children, *kinds: str) -> list[Word]:
    return [c for c in children if isinstance(c, Word) and c.type in kinds]


def has(children: Children, kind: str) -> bool:
    return bool(tokens_of(children, kind))


def value_of(children: Children, kind: str) -> Any:
    return tokens_of(children, kind)[0].value.sense.value


def numbers(children: Children) -> list[p.Number]:
    return [c.number for c in children if isinstance(c, Counted)]


def unit_of(children: Children) -> Unit:
    found = tokens_of(children, "UNIT")
    return Unit(str(found[0].value.sense.value)) if found else Unit("")


def time_unit(children: Children) -> TimeUnit:
    return TimeUnit(str(value_of(children, "TIMEUNIT")))


def one(value: int | Fraction = 1) -> p.Number:
    return p.Number(Fraction(value), Fraction(value))


def period(text: str) -> tuple[p.Number, TimeUnit]:
    """ "3/d" of the tables: every three days."""
    number, _, unit = text.partition("/")
    return one(Fraction(number)), TimeUnit(unit)
