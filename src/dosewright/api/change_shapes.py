"""The shapes of requests and answers about changes: what happened, what can be done, what is to be done card by card."""

from datetime import time
from typing import Annotated, Literal

from annotated_types import MaxLen
from ninja import Field, Schema

from dosewright.api.answer import FindingOut
from dosewright.api.card_shapes import CellIn, SpotIn
from dosewright.api.fields import Code, Day, Reason, Scanned
from dosewright.core.custody.changing import Cause, ChangeStanding
from dosewright.core.rework.choices import ChoiceName

__all__ = [
    "BackIn",
    "ChangeBrief",
    "ChangeFilter",
    "ChangeOut",
    "ChangeSheetIn",
    "ChoiceOut",
    "DecideChangeIn",
    "FoundIn",
    "LeavingOut",
    "PickIn",
    "PickOut",
    "RemoveIn",
    "TakeChangeIn",
    "TaskOut",
    "WayOut",
]


class ChangeBrief(Schema):
    """A change as the desk lists it. `first`: the first dosing time that it affects, "2026-03-11T08:00", null where no dose differs."""

    id: int
    person: str
    name: str
    home: str | None
    cause: Cause
    standing: ChangeStanding
    first: str | None
    taken_by: str
    decided_by: str
    done_by: str


class ChangeFilter(Schema):
    """Changes that stand so; all that are neither done nor withdrawn where nothing is given."""

    standing: ChangeStanding | None = None


class ChoiceOut(Schema):
    """One thing that can be done about `cards`; `minutes` at the bench and doses at risk before it is right. Only what is lawful can be
    decided."""

    name: ChoiceName
    cards: list[str]
    lawful: bool
    minutes: str
    at_risk: int
    findings: list[FindingOut]


class PickOut(Schema):
    """A choice by its name and its cards."""

    name: ChoiceName
    cards: list[str]


class WayOut(Schema):
    """One way to go about the whole, by its number; 0 is the best by the pharmacy's figures."""

    way: int
    picks: list[PickOut]


class LeavingOut(Schema):
    """Units of one medicine and lot that have to leave the card; `cells` as a placement has them, each with its amount."""

    medicine: str
    lot: str
    cells: list[str]


class TaskOut(Schema):
    """One card of a decided change: what was decided, what it waits for ("" where it is right), and the work list: what leaves it, which
    medicines go in, the cavities that are open, whether its old labels are still on."""

    card: str
    deed: str
    waits: str
    out: bool
    new: list[str]
    leaving: list[LeavingOut]
    entering: list[str]
    opened: list[str]
    old_labels: bool


class ChangeOut(ChangeBrief):
    """One change as things stand now. While it waits for a decision: the ways, the choices, what is found, and `shown`, which the decision
    sends back so that nobody decides about what is no more so. After it: the tasks, and the recount where no card waits for anything."""

    reason: str
    shown: str
    ways: list[WayOut]
    choices: list[ChoiceOut]
    findings: list[FindingOut]
    tasks: list[TaskOut]
    recount: list[FindingOut] | None


class TakeChangeIn(Schema):
    """What happened to a person, from which moment on by the clock on the wall, and who says so. `home` and `room` are for a move; no home:
    at home."""

    cause: Literal["suspended", "resumed", "discharged", "died", "moved home"]
    day: Day
    at: time = time(0, 0)
    home: Code | None = None
    room: Reason = ""
    reason: Reason


class PickIn(Schema):
    """A choice by its name and its cards."""

    name: ChoiceName
    cards: Annotated[list[Code], MaxLen(100)]


class DecideChangeIn(Schema):
    """A way by its number, or a pick for each card; why, for the whole and for single cards; what was shown; the pharmacist's password."""

    shown: Code
    way: int = Field(0, ge=0, le=99)
    picks: Annotated[list[PickIn], MaxLen(100)] = Field(default_factory=list)
    reason: Reason
    reasons: dict[Code, Reason] = Field(default_factory=dict)
    password: str


class ChangeSheetIn(Schema):
    """Labels, the work list, the sheet that holds until a card is right, the note for people, the answer to the prescriber. `reason`: why
    labels are made once more."""

    kind: Literal["labels", "work", "interim", "note", "answer"]
    printer: Reason = ""
    reason: Reason = ""


class RemoveIn(Schema):
    """A medicine that was taken out of a card that is put right, and the waste container's code, or why it was not scanned."""

    medicine: Code
    scan: Scanned = ""
    reason: Reason = ""


class BackIn(Schema):
    """What is left in each cavity that held something, which cavities the record has as given, and why, where the two do not agree."""

    counted: list[CellIn]
    recorded: list[SpotIn] = Field(default_factory=list)
    reason: Reason = ""


class FoundIn(Schema):
    """Whether a card is found, and where it was looked for, or lay."""

    found: bool
    reason: Reason
