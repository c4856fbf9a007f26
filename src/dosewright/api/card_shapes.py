"""The shapes of requests and answers about cards."""

from datetime import date
from fractions import Fraction
from typing import Literal

from ninja import Field, Schema

from dosewright.actions.check_card import OwnCheck
from dosewright.api.answer import Refused
from dosewright.api.fields import Amount, Code, Reason, Scanned
from dosewright.core.custody.decision import Choice
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.custody.stage import Stage
from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId

__all__ = [
    "CardBrief",
    "CardOut",
    "CavityOut",
    "CellIn",
    "CheckIn",
    "CheckPlanOut",
    "Content",
    "CountIn",
    "DecideIn",
    "DemandedOut",
    "DestroyIn",
    "EventOut",
    "Filter",
    "HandOverIn",
    "OpenedIn",
    "ReasonIn",
    "ReleaseIn",
    "ReturnIn",
    "ScanIn",
    "SendBackIn",
    "SpotIn",
    "TakeOutIn",
    "cells_of",
    "counts_of",
    "own_check",
]


class CardBrief(Schema):
    """A card as a list has it; days as ISO dates."""

    number: str
    set: int
    person: str
    home: str | None
    stage: Stage
    out_of_date: bool
    first: date
    last: date


class Content(Schema):
    """What the plan puts into a cavity of one order, and how much of it lies there; amounts are exact text."""

    order: str
    medicine: str
    asked: str
    placed: str
    lots: list[str]


class CavityOut(Schema):
    """Rows and columns count from 1, the card lying with its labels up."""

    row: int
    column: int
    day: date
    slot: str
    contents: list[Content]


class CardOut(CardBrief):
    """A card as its events say it is now."""

    name: str
    position: int
    of: int
    beyond_use: date
    cavities: list[CavityOut]


class EventOut(Schema):
    """One thing that happened to the card."""

    deed: str
    at: str
    by: str
    role: str
    station: str
    facts: dict[str, object]


class Filter(Schema):
    """Which cards: all that fit what is given."""

    stage: Stage | None = None
    person: Code | None = None
    home: Code | None = None
    after: Code | None = None
    most: int = Field(100, ge=1, le=500)


class SpotIn(Schema):
    """A cavity."""

    row: int = Field(..., ge=1, le=99)
    column: int = Field(..., ge=1, le=99)


class CellIn(SpotIn):
    """So much of one order in one cavity."""

    order: Code
    amount: Amount


class CountIn(SpotIn):
    """How many units a checker counts in one cavity, of all medicines together."""

    units: Amount


class ScanIn(Schema):
    """The bottle in the hand for a medicine that the card asks for. Without a code: why it cannot be scanned."""

    medicine: Code
    scan: Scanned = ""
    lot: Reason = ""
    expiry: date | None = None
    reason: Reason = ""


class TakeOutIn(Schema):
    """What is taken out again, why, and where it goes: back to stock, or to waste."""

    medicine: Code
    lot: Code
    cells: list[CellIn]
    to: Literal["in stock", "waste"]
    reason: Reason


class OpenedIn(CountIn):
    """How many units of one medicine a checker counts in a cavity that was opened to be put right."""

    medicine: Code


class CheckIn(Schema):
    """The checker's own counts, a line for each cavity that the check plan demands; an empty one is 0. `opened`: of a card that was put
    right, every opened cavity medicine by medicine, what was taken out too. `seen`: as the check plan said it when the counting began;
    counts of a card to which something has happened since are refused."""

    seen: int = Field(..., ge=0, le=999_999_999)
    counts: list[CountIn]
    opened: list[OpenedIn] = Field(default_factory=list)
    alone_because: Reason = ""


class DemandedOut(Schema):
    """A cavity that must be counted, and what singles it out; nothing where it was drawn by chance, or where all are counted."""

    row: int
    column: int
    why: list[str]


class CheckPlanOut(Schema):
    """What a check of the card demands of whoever asks. `whole`: why every cavity is, "" where some are left out; then `drawn` of `others`
    were drawn by `seed`, and `missed` says how likely it is that one, two or four wrong ones among them are all left uncounted. `seen`: how
    many events the card has now; the check gives it back, so that it is known of which card the counts are."""

    seen: int
    of: int
    whole: str
    cavities: list[DemandedOut]
    drawn: int
    others: int
    seed: str
    missed: dict[str, str]


class SendBackIn(Schema):
    """What was found, and a few words."""

    kind: NearMissKind
    reason: Reason


class ReleaseIn(Schema):
    """The pharmacist's password, again, each time."""

    password: str


class HandOverIn(Schema):
    """Printed name of who takes the card."""

    to: Reason


class ReasonIn(Schema):
    """Why."""

    reason: Reason


class DestroyIn(Schema):
    """Why, and the printed name of who watches."""

    reason: Reason
    witness: Reason


class ReturnIn(Schema):
    """What is left in each cavity that held something, order by order; an empty one is 0."""

    counted: list[CellIn]


class DecideIn(Schema):
    """What becomes of a card whose orders have changed, and why."""

    choice: Choice
    reason: Reason


def cells_of(number: str, given: list[CellIn]) -> dict[Cell, Fraction]:
    """The cells of one card. Raises Refused for a cell that is given twice: nobody knows which line is meant."""
    cells = {Cell(CardNumber(number), one.row, one.column, OrderId(one.order)): one.amount for one in given}
    _require_once(len(given) - len(cells))
    return cells


def counts_of(given: list[CountIn]) -> dict[tuple[int, int], Fraction]:
    """What was counted in each cavity. Raises Refused for a cavity that is given twice."""
    counts = {(one.row, one.column): one.units for one in given}
    _require_once(len(given) - len(counts))
    return counts


def own_check(body: CheckIn) -> OwnCheck:
    """What the checker says. Raises Refused for a cavity, or a medicine in one, that is given twice."""
    opened: dict[tuple[int, int], dict[MedicineCode, Fraction]] = {}
    for one in body.opened:
        opened.setdefault((one.row, one.column), {})[MedicineCode(one.medicine)] = one.units
    _require_once(len(body.opened) - sum(map(len, opened.values())))
    return OwnCheck(counts_of(body.counts), body.alone_because, opened, body.seen)


def _require_once(twice: int) -> None:
    if twice:
        facts = {"field": "cells", "why": "one of them is given twice; give each once"}
        raise Refused(422, (Finding("custody.request-wrong", Severity.STOP, facts=facts),))
