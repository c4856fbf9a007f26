"""A pharmacist's decision about a card whose orders have changed (R9): which choices are open to it, and what each leads to."""

from collections.abc import Iterator
from enum import StrEnum

from dosewright.core.custody.event import Deed
from dosewright.core.custody.follow import FOLLOWS
from dosewright.core.custody.stage import LEFT_THE_PHARMACY
from dosewright.core.custody.state import CardState
from dosewright.core.units.finding import Finding, Severity

__all__ = ["Choice", "check_decision", "choices_for", "deeds_of"]


class Choice(StrEnum):
    """What may be done about it."""

    WAIT = "wait"  # the card runs out as it is; the change starts with the next one
    AFRESH = "afresh"  # this card is withdrawn, the person is planned anew
    RECALL = "recall"  # the card is out: it is called back


def choices_for(state: CardState) -> tuple[Choice, ...]:
    """The choices that a card as it stands leaves open."""
    if not state.out_of_date:
        return ()
    if state.stage in LEFT_THE_PHARMACY:
        return (Choice.WAIT, Choice.RECALL)
    return (Choice.WAIT, Choice.AFRESH) if state.stage in FOLLOWS[Deed.WITHDRAWN] else (Choice.WAIT,)


def check_decision(state: CardState, choice: str, reason: str) -> tuple[Finding, ...]:
    """Find a card about which nothing is to be decided, a choice that it does not leave open, and a missing reason."""
    return tuple(_check(state, choice, reason))


def _check(state: CardState, choice: str, reason: str) -> Iterator[Finding]:
    open_choices = tuple(option.value for option in choices_for(state))
    if not open_choices:
        yield Finding("custody.not-out-of-date", Severity.STOP, {"card": state.number})
    elif choice not in open_choices:
        yield Finding("custody.unknown-choice", Severity.STOP, {"card": state.number}, {"choice": choice, "choices": open_choices})
    if not reason.strip():
        yield Finding("custody.no-reason", Severity.STOP, {"card": state.number})


def deeds_of(choice: Choice) -> tuple[Deed, ...]:
    """What is recorded for a choice, in order."""
    return (Deed.DECIDED, Deed.WITHDRAWN) if choice is Choice.AFRESH else (Deed.DECIDED,)
