"""What can happen to a card, and who did it. Events, not flags, decide a card's life; they are never changed or taken back."""

from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import CardNumber, HomeId, StationId

__all__ = ["Actor", "CardEvent", "Deed", "Occasion", "Role"]


class Role(StrEnum):
    """Who may do what is declared in `custody.rights`, one table."""

    TECHNICIAN = "technician"
    CHECKER = "checker"
    PHARMACIST = "pharmacist"
    MANAGER = "manager"
    DRIVER = "driver"
    CARER = "carer"  # sees one home only
    INSPECTOR = "inspector"  # reads all, changes nothing


class Deed(StrEnum):
    """One thing done to a card, in the order of its life; then what can befall it."""

    PLANNED = "planned"
    PRINTED = "printed"
    PLACED = "placed"  # one medicine's units laid into cavities, with lot and expiry
    TAKEN_OUT = "taken out"  # a placement undone: an event of its own, not an erasure
    FILLED = "filled"
    CHECKED = "checked"  # accepted
    SENT_BACK = "sent back"
    SEALED = "sealed"
    RELEASED = "released"
    HANDED_OVER = "handed over"
    RECEIVED = "received"
    GIVEN = "given"
    REFUSED_DOSE = "dose refused"
    LEFT = "left"
    LOST = "lost"
    RETURNED = "returned"
    DESTROYED = "destroyed"
    OUT_OF_DATE = "out of date"
    DECIDED = "decided"  # a person's answer to a finding or to being out of date, with a reason
    REWORKED = "reworked"  # opened to be put right: what it is to hold is another thing from now on
    RELABELLED = "relabelled"  # old header and labels of what was opened are void and destroyed, the new ones are on
    CAME_BACK = "came back"  # from outside, counted, to be put right for the same person
    NOT_FOUND = "not found"
    FOUND = "found again"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Actor:
    """Somebody signed in: an account's id, the printed name, the role, and the home that bounds what a home's own people see."""

    id: str
    name: str
    role: Role
    home: HomeId | None = None


@dataclass(frozen=True, slots=True)
class Occasion:
    """Who does something, when and at which station; `token` is the form's own mark, by which a second submit is known for one.

    Raises ValueError for a moment without a zone.
    """

    by: Actor
    at: datetime
    station: StationId
    token: str = ""

    def __post_init__(self) -> None:
        if self.at.tzinfo is None:
            raise ValueError("a moment needs a zone")


@dataclass(frozen=True, slots=True)
class CardEvent:
    """One entry of a card's history. `at` has a zone. `facts` holds plain values only: quantities, cavities, reasons, lots."""

    card: CardNumber
    deed: Deed
    by: Actor
    at: datetime
    station: StationId
    facts: dict[str, Fact] = field(default_factory=dict)
