"""What a card is, and what it holds now, computed from its events in order, never from the plan.

Comes in: a card's events, from the first. Goes out: `CardState`. An event that could not have happened is not this room's to judge here:
what was recorded is what counts; `follow` keeps new ones in order.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction

from dosewright.core.custody.cells import parse_cell_list, parse_cells, parse_spots
from dosewright.core.custody.event import CardEvent, Deed
from dosewright.core.custody.stage import LEFT_THE_PHARMACY, OVER, Stage
from dosewright.core.rework.choices import REPLACED
from dosewright.core.rounds.left import part_return
from dosewright.core.supply.placement import Cell, Placed
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode

__all__ = ["CardState", "after", "state_of"]


@dataclass(frozen=True, slots=True)
class CardState:
    """A card now. `placed` is what lies in it, in the order it was laid in. `fillers` are the ids of all who ever placed or took out.

    `decision` is the latest answer to its being out of date ("" where none is open or given). `sealed_once` and `left` never become false.
    `disturbed`: cavities opened since it was last released, by row and column; `old_labels`: it still bears what is void; `missing`: nobody
    finds it. For the check: `corrected` are cavities out of which something was ever taken, `unscanned` those into which something was laid
    without a scan; `sent_back` since it was last released; `check_seed` was drawn when it was last filled ("" where none was).
    """

    number: CardNumber
    stage: Stage = Stage.PLANNED
    out_of_date: bool = False
    decision: str = ""
    placed: tuple[Placed, ...] = ()
    fillers: frozenset[str] = frozenset()
    last_touched: datetime | None = None
    checked_by: str | None = None
    sealed_once: bool = False
    left: bool = False
    events: int = 0
    disturbed: frozenset[tuple[int, int]] = frozenset()
    old_labels: bool = False
    missing: bool = False
    corrected: frozenset[tuple[int, int]] = frozenset()
    unscanned: frozenset[tuple[int, int]] = frozenset()
    sent_back: bool = False
    check_seed: str = ""

    @property
    def replaced(self) -> bool:
        """Whether others have taken its place: nothing is given from it any more, whatever the orders ask later."""
        return self.decision in REPLACED

    @property
    def over(self) -> bool:
        """Whether the card's life has ended: returned, withdrawn or destroyed."""
        return self.stage in OVER


_LEADS_TO: dict[Deed, Stage] = {
    Deed.PLACED: Stage.FILLING,
    Deed.FILLED: Stage.FILLED,
    Deed.CHECKED: Stage.CHECKED,
    Deed.SENT_BACK: Stage.FILLING,
    Deed.SEALED: Stage.SEALED,
    Deed.RELEASED: Stage.RELEASED,
    Deed.HANDED_OVER: Stage.HANDED_OVER,
    Deed.RECEIVED: Stage.RECEIVED,
    Deed.GIVEN: Stage.IN_USE,
    Deed.REFUSED_DOSE: Stage.IN_USE,
    Deed.LEFT: Stage.IN_USE,
    Deed.LOST: Stage.IN_USE,
    Deed.RETURNED: Stage.RETURNED,
    Deed.DESTROYED: Stage.DESTROYED,
    Deed.REWORKED: Stage.FILLING,
    Deed.WITHDRAWN: Stage.WITHDRAWN,
}
_NOT_BEGUN = frozenset({Stage.PLANNED, Stage.PRINTED})
_BY_HAND = frozenset({Deed.PLACED, Deed.TAKEN_OUT, Deed.FILLED})


def state_of(card: CardNumber, events: Iterable[CardEvent]) -> CardState:
    """Fold the events into what the card is now. Raises ValueError for an event of another card."""
    state = CardState(card)
    for event in events:
        if event.card != card:
            raise ValueError(f"an event of card {event.card} among those of {card}")
        state = after(state, event)
    return state


def after(state: CardState, event: CardEvent) -> CardState:
    """The card after one more event."""
    stage = _stage_after(state, event.deed)
    by_hand = event.deed in _BY_HAND
    return replace(
        state,
        stage=stage,
        out_of_date=_out_of_date_after(state, event.deed),
        decision=_decision_after(state, event),
        placed=_placed_after(state, event),
        fillers=state.fillers | {event.by.id} if by_hand else state.fillers,
        last_touched=event.at if by_hand else state.last_touched,
        checked_by=_checker_after(state, event),
        sealed_once=state.sealed_once or event.deed is Deed.SEALED,
        left=state.left or stage in LEFT_THE_PHARMACY,
        events=state.events + 1,
        disturbed=_disturbed_after(state, event),
        old_labels=_old_labels_after(state, event),
        missing=event.deed is Deed.NOT_FOUND or (state.missing and event.deed is not Deed.FOUND),
        corrected=state.corrected | _spots(event) if event.deed is Deed.TAKEN_OUT else state.corrected,
        unscanned=state.unscanned | _spots(event) if event.deed is Deed.PLACED and not event.facts.get("gtin") else state.unscanned,
        sent_back=event.deed is Deed.SENT_BACK or (state.sent_back and event.deed is not Deed.RELEASED),
        check_seed=_seed_after(state, event),
    )


def _spots(event: CardEvent) -> frozenset[tuple[int, int]]:
    return frozenset((cell.row, cell.column) for cell in parse_cells(event.card, event.facts["cells"]))


def _seed_after(state: CardState, event: CardEvent) -> str:
    """The draw belongs to what was filled then: whatever opens the card again makes it void."""
    if event.deed is Deed.FILLED:
        return str(event.facts.get("seed", ""))
    return "" if event.deed in {Deed.SENT_BACK, Deed.REWORKED, Deed.CAME_BACK} else state.check_seed


def _stage_after(state: CardState, deed: Deed) -> Stage:
    if deed is Deed.PRINTED:  # a reprint takes nothing back
        return Stage.PRINTED if state.stage is Stage.PLANNED else state.stage
    if deed is Deed.REWORKED and state.stage in _NOT_BEGUN:  # nothing lies in it: it is another plan, to be printed anew
        return Stage.PLANNED
    if deed is Deed.CAME_BACK:  # closed, on the bench, and held: it is out of date until it is put right
        return Stage.SEALED
    return _LEADS_TO.get(deed, state.stage)


def _out_of_date_after(state: CardState, deed: Deed) -> bool:
    marked = deed is Deed.CAME_BACK or (deed is Deed.OUT_OF_DATE and not state.replaced)
    return marked or (state.out_of_date and deed not in {Deed.DECIDED, Deed.REWORKED})


def _decision_after(state: CardState, event: CardEvent) -> str:
    if event.deed is Deed.OUT_OF_DATE and not state.replaced:
        return ""
    return str(event.facts.get("choice", "")) if event.deed is Deed.DECIDED else state.decision


def _checker_after(state: CardState, event: CardEvent) -> str | None:
    if event.deed is Deed.CHECKED:
        return event.by.id
    return None if event.deed in {Deed.SENT_BACK, Deed.REWORKED, Deed.CAME_BACK} else state.checked_by


def _disturbed_after(state: CardState, event: CardEvent) -> frozenset[tuple[int, int]]:
    if event.deed is Deed.REWORKED:
        return state.disturbed | parse_spots(event.facts.get("opened", ()))
    return frozenset() if event.deed is Deed.RELEASED else state.disturbed


def _old_labels_after(state: CardState, event: CardEvent) -> bool:
    """From the moment that it is decided to be put right, or to bear another header, until the new labels are on."""
    if event.deed is Deed.REWORKED:
        return state.stage not in _NOT_BEGUN
    if event.deed is Deed.DECIDED and event.facts.get("relabel"):
        return True
    return state.old_labels and event.deed not in {Deed.RELABELLED, Deed.WITHDRAWN}


def _placed_after(state: CardState, event: CardEvent) -> tuple[Placed, ...]:
    after = _CHANGES_WHAT_LIES.get(event.deed)
    return after(state.placed, event) if after else state.placed


def _belonging_anew(placed: tuple[Placed, ...], event: CardEvent) -> tuple[Placed, ...]:
    """What stays where it lies belongs to the order that asks for it now: cell by cell, `from` one order `into` another."""
    olds, news = (parse_cell_list(event.card, event.facts.get(name, ())) for name in ("from", "into"))
    left: tuple[Placed, ...] = placed
    moved: list[Placed] = []
    for (old, amount), (new, _) in zip(olds, news, strict=True):
        stay: list[Placed] = []
        for units in left:
            gone = min(amount, units.amount) if units.cell == old else Fraction(0)
            amount -= gone  # noqa: PLW2901 - what is still to be found of it
            moved += [replace(units, cell=new, amount=gone)] if gone else []
            stay += [replace(units, amount=units.amount - gone)] if units.amount > gone else []
        left = tuple(stay)
    return (*left, *moved)


def _units(event: CardEvent) -> tuple[Placed, ...]:
    expiry = event.facts["expiry"]
    if not isinstance(expiry, date):
        raise ValueError(f"a placement without an expiry date: {event}")
    medicine, lot = MedicineCode(str(event.facts["medicine"])), Lot(str(event.facts["lot"]))
    cells = parse_cells(event.card, event.facts["cells"])
    return tuple(Placed(cell, medicine, lot, expiry, amount) for cell, amount in cells.items())


def _less(placed: tuple[Placed, ...], gone: dict[Cell, Fraction]) -> dict[Cell, Fraction]:
    """What is left in each cell when so much of it is gone, whatever lot it was of."""
    held: dict[Cell, Fraction] = {}
    for units in placed:
        held[units.cell] = held.get(units.cell, Fraction(0)) + units.amount
    return {cell: amount - min(amount, gone.get(cell, Fraction(0))) for cell, amount in held.items()}


def _without(placed: tuple[Placed, ...], taken: dict[Cell, Fraction], lot: Lot) -> tuple[Placed, ...]:
    left: list[Placed] = []
    for units in placed:
        gone = min(taken.get(units.cell, Fraction(0)), units.amount) if units.lot == lot else Fraction(0)
        if gone:
            taken[units.cell] -= gone
        if units.amount > gone:
            left.append(replace(units, amount=units.amount - gone))
    return tuple(left)


def _taken_out(placed: tuple[Placed, ...], event: CardEvent) -> tuple[Placed, ...]:
    return _without(placed, parse_cells(event.card, event.facts["cells"]), Lot(str(event.facts["lot"])))


def _gone(placed: tuple[Placed, ...], event: CardEvent) -> tuple[Placed, ...]:
    return part_return(placed, _less(placed, parse_cells(event.card, event.facts["cells"]))).returned


def _counted(placed: tuple[Placed, ...], event: CardEvent) -> tuple[Placed, ...]:
    return part_return(placed, parse_cells(event.card, event.facts["cells"])).returned


_CHANGES_WHAT_LIES: dict[Deed, Callable[[tuple[Placed, ...], CardEvent], tuple[Placed, ...]]] = {
    Deed.PLACED: lambda placed, event: placed + _units(event),
    Deed.TAKEN_OUT: _taken_out,
    Deed.REWORKED: _belonging_anew,
    Deed.DECIDED: _belonging_anew,
    Deed.GIVEN: _gone,
    Deed.LOST: _gone,
    Deed.RETURNED: _counted,
    Deed.CAME_BACK: _counted,
    Deed.DESTROYED: lambda _placed, _event: (),
}
