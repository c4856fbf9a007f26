"""Which deed may follow which: one table, and what being out of date forbids (R9)."""

from collections.abc import Iterator

from dosewright.core.custody.event import Deed
from dosewright.core.custody.stage import OVER, Stage
from dosewright.core.custody.state import CardState
from dosewright.core.units.finding import Finding, Severity

__all__ = ["FOLLOWS", "HELD_BY_OLD_LABELS", "HELD_WHILE_OUT_OF_DATE", "check_follows"]

_OPEN = frozenset(Stage) - OVER
_IN_PHARMACY = frozenset(
    {Stage.PLANNED, Stage.PRINTED, Stage.FILLING, Stage.FILLED, Stage.CHECKED, Stage.SEALED, Stage.RELEASED},
)
_OUT = frozenset({Stage.HANDED_OVER, Stage.RECEIVED, Stage.IN_USE})

# deed → the stages in which it may be done. What stage it leads to is `state`'s.
FOLLOWS: dict[Deed, frozenset[Stage]] = {
    Deed.PLANNED: frozenset(),
    Deed.PRINTED: _IN_PHARMACY,
    Deed.PLACED: frozenset({Stage.PRINTED, Stage.FILLING}),
    Deed.TAKEN_OUT: frozenset({Stage.FILLING}),
    Deed.FILLED: frozenset({Stage.FILLING}),
    Deed.CHECKED: frozenset({Stage.FILLED}),
    Deed.SENT_BACK: frozenset({Stage.FILLED, Stage.CHECKED, Stage.SEALED}),
    Deed.SEALED: frozenset({Stage.CHECKED}),
    Deed.RELEASED: frozenset({Stage.SEALED}),
    Deed.HANDED_OVER: frozenset({Stage.RELEASED}),
    Deed.RECEIVED: frozenset({Stage.HANDED_OVER}),
    Deed.GIVEN: _OUT,
    Deed.REFUSED_DOSE: _OUT,
    Deed.LEFT: _OUT,
    Deed.LOST: _OUT,
    Deed.RETURNED: _OUT,
    Deed.DESTROYED: frozenset({Stage.RETURNED, Stage.WITHDRAWN}),
    Deed.OUT_OF_DATE: _OPEN,
    Deed.DECIDED: _OPEN,
    Deed.REWORKED: _IN_PHARMACY,
    Deed.RELABELLED: frozenset({Stage.FILLING, Stage.FILLED, Stage.CHECKED, Stage.SEALED, Stage.RELEASED}),
    Deed.CAME_BACK: _OUT,
    Deed.NOT_FOUND: _OPEN,
    Deed.FOUND: _OPEN | {Stage.WITHDRAWN},  # one that was replaced must still be found, to be destroyed
    Deed.WITHDRAWN: _IN_PHARMACY,
}

# R9: nothing that brings a card nearer to a person is done to one whose orders have changed, until a decision is on record.
HELD_WHILE_OUT_OF_DATE = frozenset(
    {Deed.PRINTED, Deed.PLACED, Deed.FILLED, Deed.CHECKED, Deed.SEALED, Deed.RELEASED, Deed.HANDED_OVER},
)

# What is done by hand needs a card that is there.
_NEEDS_THE_CARD = frozenset(
    {
        Deed.PLACED,
        Deed.TAKEN_OUT,
        Deed.FILLED,
        Deed.CHECKED,
        Deed.SEALED,
        Deed.RELEASED,
        Deed.HANDED_OVER,
        Deed.RECEIVED,
        Deed.RELABELLED,
        Deed.REWORKED,
        Deed.CAME_BACK,
        Deed.RETURNED,
        Deed.DESTROYED,
    }
)
# Nothing that bears a void label goes on: not closed, not released, not handed over.
HELD_BY_OLD_LABELS = frozenset({Deed.SEALED, Deed.RELEASED, Deed.HANDED_OVER})


def check_follows(state: CardState, deed: Deed) -> tuple[Finding, ...]:
    """Why the deed cannot be done to the card as it stands: the wrong stage, or orders that changed (R9)."""
    return tuple(_check(state, deed))


def _check(state: CardState, deed: Deed) -> Iterator[Finding]:
    where = {"card": state.number}
    if state.stage not in FOLLOWS[deed]:
        yield Finding("custody.wrong-stage", Severity.STOP, where, {"stage": state.stage.value, "deed": deed.value})
    if state.out_of_date and deed in HELD_WHILE_OUT_OF_DATE:
        yield Finding("custody.out-of-date", Severity.STOP, where, {"deed": deed.value})
    if state.old_labels and deed in HELD_BY_OLD_LABELS:
        yield Finding("custody.old-labels", Severity.STOP, where, {"deed": deed.value})
    if state.missing and deed in _NEEDS_THE_CARD:
        yield Finding("custody.card-not-found", Severity.STOP, where, {"deed": deed.value})
