"""What a decided change asks to be done, card by card: a layout with its choices comes in, tasks go out, to be kept beside the change.

A task holds the card as it was and as it is to be, so that before and after can be drawn at any time, and what the old labels said.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from dosewright.core.packing.plan_values import Card, Content
from dosewright.core.rework.asked import When
from dosewright.core.rework.choices import Choice, ChoiceName
from dosewright.core.rework.difference import CardDifference, CavityChange
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.pieces import pieces_of
from dosewright.core.rework.situation import OUT, Cell, OpenCard
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId

__all__ = ["CardTask", "Kept", "carried_on", "kept_units", "tasks_of", "with_new_headers"]


@dataclass(frozen=True, slots=True)
class CardTask:
    """One card. `deed` is the choice's name, "header" where only labels change, "kept" where nothing does.

    `before`: as it was then; `after`: as it is to be, None where it is withdrawn. `new`: the cards that take its place or stand beside it.
    `first`: the first dose that differs; `ready`: the first dosing time that finds it right; `at_risk`: doses before that. `still`:
    cavities that were opened by an earlier decision and are not labelled yet.
    """

    card: CardNumber
    deed: str
    out: bool
    before: Card | None
    after: Card | None
    changes: tuple[CavityChange, ...] = ()
    new: tuple[CardNumber, ...] = ()
    first: When | None = None
    ready: When | None = None
    at_risk: int = 0
    still: frozenset[Cell] = frozenset()

    @property
    def opened(self) -> frozenset[Cell]:
        """The cavities that are disturbed, those that were already too."""
        return frozenset((change.row, change.column) for change in self.changes) | self.still


def tasks_of(layout: PersonLayout) -> tuple[CardTask, ...]:
    """A task for each card of the person, in the order of the choices; then cards that stay, where what lies in them belongs to
    another order now."""
    cards = {one.card.number: one for one in layout.differences}
    chosen = tuple(task for choice in layout.chosen for task in _of_choice(choice, cards))
    done = {task.card for task in chosen}
    after = {laid.was: laid.card for laid in layout.laid if laid.was}
    rest = tuple(_kept(one.card, after.get(one.card.number)) for number, one in cards.items() if number not in done)
    return (*chosen, *rest)


def carried_on(tasks: Iterable[CardTask], disturbed: Mapping[CardNumber, frozenset[Cell]]) -> tuple[CardTask, ...]:
    """The tasks as they are kept where cards are in work already: cavities that are open still need their labels."""
    return tuple(
        replace(task, still=disturbed[task.card], deed="open" if task.deed in {"kept", "header"} else task.deed)
        if disturbed.get(task.card)
        else task
        for task in tasks
    )


def with_new_headers(tasks: Iterable[CardTask]) -> tuple[CardTask, ...]:
    """The same where the person's home or room is another: every card that is here gets a new header, those that are right inside too."""
    return tuple(replace(task, deed="header") if task.deed == "kept" and not task.out else task for task in tasks)


def _kept(card: OpenCard, after: Card | None) -> CardTask:
    return CardTask(card.number, "kept", card.place in OUT, card.card, after)


def _of_choice(choice: Choice, cards: dict[CardNumber, CardDifference]) -> Iterable[CardTask]:
    new = tuple(laid.card.number for laid in choice.laid if laid.was is None)
    after = {laid.was: laid.card for laid in choice.laid if laid.was}
    if not choice.cards:
        yield CardTask(CardNumber(""), choice.name.value, out=False, before=None, after=None, new=new, ready=choice.cost.ready_for)
    for number in choice.cards:
        one = cards[number]
        changes = tuple(change for changed, change in choice.changes if changed == number)
        deed = "header" if choice.name is ChoiceName.OPEN and not changes else choice.name.value
        whens = sorted(change.when for change in one.changes)
        yield CardTask(
            card=number,
            deed=deed,
            out=one.card.place in OUT,
            before=one.card.card,
            after=after.get(number),
            changes=changes,
            new=new,
            first=whens[0] if whens else None,
            ready=choice.cost.ready_for,
            at_risk=choice.cost.at_risk,
        )


@dataclass(frozen=True, slots=True)
class Kept:
    """So much of a medicine that stays in a cavity, for another order than before."""

    row: int
    column: int
    medicine: MedicineCode
    was: OrderId
    now: OrderId
    content: Content


def kept_units(task: CardTask) -> tuple[Kept, ...]:
    """What stays where it lies and belongs to another order now, piece by piece: the same order's pieces are matched first."""
    if task.before is None or task.after is None:
        return ()
    gone = {(change.row, change.column): change for change in task.changes}
    now = {(cavity.row, cavity.column): cavity.contents for cavity in task.after.cavities}
    found: list[Kept] = []
    for cavity in task.before.cavities:
        cell = (cavity.row, cavity.column)
        if cell in now:
            change = gone.get(cell)
            stays = _less(cavity.contents, change.remove if change else ())
            is_now = _less(now[cell], change.add if change else ())
            found += [Kept(*cell, was.medicine, was.order, then.order, was) for was, then in _matched(stays, is_now)]
    return tuple(found)


def _less(contents: Iterable[Content], taken: Iterable[Content]) -> list[Content]:
    """Single pieces, those taken left out."""
    pieces = [piece for content in contents for piece in _single(content)]
    for piece in (piece for content in taken for piece in _single(content)):
        if piece in pieces:
            pieces.remove(piece)
    return pieces


def _single(content: Content) -> Iterable[Content]:
    for piece in pieces_of(content.quantity.count):
        yield Content(content.order, content.medicine, type(content.quantity)(piece, content.quantity.unit))


def _matched(was: list[Content], now: list[Content]) -> Iterable[tuple[Content, Content]]:
    """Pairs that differ in nothing but the order."""
    free, moved = list(now), []
    for piece in was:
        if piece in free:
            free.remove(piece)
        else:
            moved.append(piece)
    for piece in moved:
        found = next((one for one in free if (one.medicine, one.quantity) == (piece.medicine, piece.quantity)), None)
        if found is not None:
            free.remove(found)
            yield piece, found
