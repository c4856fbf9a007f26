"""The life of a change: taken, decided, in work, done; or withdrawn. What may be done with it when, and what keeps it from being done.

A change is all that happened to one person's orders and that their cards do not hold yet. Whatever comes on top of it while it is not done
belongs to it: the cards are judged by the orders as they are now, never by one order's history.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from dosewright.core.custody.stage import LEFT_THE_PHARMACY, Stage
from dosewright.core.custody.state import CardState
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber, PersonId

__all__ = [
    "Cause",
    "ChangeStanding",
    "Deciding",
    "check_deciding",
    "check_done",
    "check_standing",
    "check_withdrawing",
    "facts_of_change",
    "is_part_done",
    "waits_for",
]


class Cause(StrEnum):
    """What somebody said that it is about, beside the orders themselves."""

    ORDERS = "orders"  # orders that came, were stopped or were replaced, one by one
    SUSPENDED = "suspended"  # for a stay in hospital
    RESUMED = "resumed"
    DISCHARGED = "discharged"  # the whole regimen is another one
    DIED = "died"
    MOVED_HOME = "moved home"


class ChangeStanding(StrEnum):
    """In the order of its life."""

    WAITING = "waiting"  # a pharmacist must decide
    DECIDED = "decided"  # nothing is begun
    IN_WORK = "in work"
    DONE = "done"
    WITHDRAWN = "withdrawn"


_OPEN = frozenset({ChangeStanding.WAITING, ChangeStanding.DECIDED, ChangeStanding.IN_WORK})
_PUT_RIGHT = frozenset({Stage.SEALED, Stage.RELEASED}) | LEFT_THE_PHARMACY


@dataclass(frozen=True, slots=True)
class Deciding:
    """What a pharmacist decides: why, as a whole and of single cards; and the fingerprint of what was shown."""

    reason: str
    reasons: Mapping[CardNumber, str]
    shown: str

    def reason_for(self, card: CardNumber) -> str:
        """The card's own, else that of the whole."""
        return self.reasons.get(card, "").strip() or self.reason.strip()


def check_standing(change: int, standing: ChangeStanding, wanted: Iterable[ChangeStanding]) -> tuple[Finding, ...]:
    """A stop where the change is past that, or not so far."""
    if standing in set(wanted):
        return ()
    return (Finding("change.wrong-standing", Severity.STOP, {"change": change}, {"standing": standing.value}),)


def check_deciding(said: Deciding, laid: str, found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Find every `stop`; every `decide` without a reason, the card's own or that of the whole; and a lay-out that is not the one that was
    shown: orders, cards or the clock have moved on since."""
    stops = tuple(one for one in found if one.severity is Severity.STOP)
    asked = tuple(one for one in found if one.severity is Severity.DECIDE)
    open_still = tuple(one for one in asked if not said.reason_for(CardNumber(str(one.where.get("card", "")))))
    late = (Finding("change.shown-differs", Severity.STOP),) if said.shown != laid else ()
    none = (Finding("custody.no-reason", Severity.STOP),) if open_still or not said.reason.strip() else ()
    return (*late, *stops, *open_still, *none)


def is_part_done(state: CardState) -> bool:
    """Whether the card was opened, or must bear other labels, and is not closed again with everything right."""
    return (bool(state.disturbed) and state.stage not in _PUT_RIGHT) or state.old_labels


def waits_for(state: CardState) -> str:
    """What still keeps a card of a decided change from being right: one word, "" where nothing does."""
    if state.over:
        return ""
    if state.missing:
        return "" if state.decision == "afresh" else "missing"
    if state.out_of_date:
        return "undecided"
    if state.decision in {"recall", "afresh"} and state.stage in LEFT_THE_PHARMACY:
        return "out"
    if state.old_labels:
        return "labels" if state.stage in _PUT_RIGHT or state.stage is Stage.CHECKED else "work"
    return "work" if state.disturbed and state.stage is not Stage.RELEASED and state.stage not in LEFT_THE_PHARMACY else ""


def check_done(person: PersonId, states: Iterable[CardState], recount: Iterable[Finding]) -> tuple[Finding, ...]:
    """Find every card that is not right yet, and every fault of the recount: the cards say when a change is done, nobody else does."""
    unfinished = tuple(
        Finding("change.card-not-right", Severity.STOP, {"person": person, "card": state.number}, {"waits": waits_for(state)})
        for state in states
        if waits_for(state)
    )
    return (*unfinished, *(one for one in recount if one.severity is Severity.STOP))


def check_withdrawing(change: int, standing: ChangeStanding, states: Iterable[CardState], reason: str) -> tuple[Finding, ...]:
    """A change is withdrawn while nothing was done to any card for it; after that the way back is another change."""
    found = list(check_standing(change, standing, _OPEN))
    if any(is_part_done(state) or waits_for(state) in {"work", "labels", "out"} for state in states):
        found.append(Finding("change.work-begun", Severity.STOP, {"change": change}))
    if not reason.strip():
        found.append(Finding("custody.no-reason", Severity.STOP))
    return tuple(found)


def facts_of_change(person: PersonId, cause: Cause, kinds: Iterable[str]) -> dict[str, Fact]:
    """What the ledger keeps when a change is taken."""
    return {"person": person, "cause": cause.value, "what": tuple(kinds)}
