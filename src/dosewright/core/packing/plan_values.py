"""A plan as values: what lies in which cavity of which card, what is supplied alongside, and the proof. All exact, all ordered."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, time
from fractions import Fraction

from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId, PersonId, SlotName
from dosewright.core.units.quantity import Quantity

__all__ = [
    "WHEN_NEEDED",
    "Alongside",
    "Card",
    "CardColumn",
    "Content",
    "PackedCavity",
    "PersonPlan",
    "Plan",
    "Proof",
    "WhenNeeded",
    "each_contents",
]

WHEN_NEEDED = SlotName("when needed")  # stands where a dosing time's name stands, in columns that have none


@dataclass(frozen=True, slots=True)
class Content:
    """So much of one order's medicine in one cavity."""

    order: OrderId
    medicine: MedicineCode
    quantity: Quantity


@dataclass(frozen=True, slots=True)
class PackedCavity:
    """One cavity that holds something. `row` and `column` count from 1, as the card lies with its labels to the reader.

    `fill` is the filled share of the cavity's whole volume. `part` of `parts`: "1 of 2" where one dosing time is split over cavities.
    `day` is when the dose is due; in a column for when it is needed, the last day on which it may be taken.
    """

    row: int
    column: int
    day: date
    slot: SlotName
    time: time
    contents: tuple[Content, ...]
    fill: Fraction
    part: int = 1
    parts: int = 1


def each_contents(cavities: Iterable[PackedCavity]) -> Iterable[PackedCavity]:
    """Of the cavities that share the very same contents the first, in order. The days of a column mostly share theirs."""
    first: dict[int, PackedCavity] = {}
    for cavity in cavities:
        first.setdefault(id(cavity.contents), cavity)
    return first.values()


@dataclass(frozen=True, slots=True)
class WhenNeeded:
    """What a column says in place of days: one medicine, one dose a cavity, taken on demand and never on a schedule.

    `most` within 24 hours, in the product's own units; `apart`: at least so many minutes between doses, None where nothing is said.
    """

    order: OrderId
    medicine: MedicineCode
    dose: Quantity
    most: Quantity
    apart: int | None = None


@dataclass(frozen=True, slots=True)
class CardColumn:
    """One column of a card: one dosing time of the days `first` onwards (one row a day).

    With `when_needed` it has neither days nor a dosing time: `slot` is `WHEN_NEEDED`, `time` midnight, and neither may be read as due.
    """

    column: int
    slot: SlotName
    time: time
    first: date
    part: int = 1
    parts: int = 1
    when_needed: WhenNeeded | None = None


@dataclass(frozen=True, slots=True)
class Card:
    """One physical card. `first` and `last` are the days it covers; cavities in order of row, then column; empty ones are left out."""

    number: CardNumber
    first: date
    last: date
    beyond_use: date
    columns: tuple[CardColumn, ...]
    cavities: tuple[PackedCavity, ...]

    @property
    def as_needed(self) -> bool:
        """Whether nothing in it is due at any time: such cards hold as-needed medicines alone."""
        return any(column.when_needed for column in self.columns)


@dataclass(frozen=True, slots=True)
class Alongside:
    """An order supplied with the set but not in a card, and the code of the reason ("form.liquid", "as-needed", …)."""

    order: OrderId
    medicine: MedicineCode
    why: str


@dataclass(frozen=True, slots=True)
class Proof:
    """Columns needed in the fullest week, the bound none can beat, whether they meet, nodes searched; cards, and fewest cards possible.

    Where a card has columns to spare, a dosing time may lie in more than it needs.
    """

    columns: int
    lower_bound: int
    optimal: bool
    nodes: int
    cards: int
    cards_lower_bound: int


@dataclass(frozen=True, slots=True)
class PersonPlan:
    """One person's set for the cycle. `name`: the name that a file gives beside the set; None where the set was read from none."""

    person: PersonId
    cards: tuple[Card, ...]
    alongside: tuple[Alongside, ...]
    proof: Proof
    name: str | None = field(default=None, compare=False)

    @property
    def scheduled(self) -> tuple[Card, ...]:
        """The cards whose doses have their day and dosing time: all but those for as-needed medicines."""
        return tuple(card for card in self.cards if not card.as_needed)


@dataclass(frozen=True, slots=True)
class Plan:
    """Everyone's sets for one cycle, with the fingerprint (`basis`, hex sha256) that every sheet and screen made from it prints."""

    basis: str
    first: date
    days: int
    profile: str
    format: str
    people: tuple[PersonPlan, ...]
    findings: tuple[Finding, ...]
