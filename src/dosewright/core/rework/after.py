"""The cards as they will be after a choice: put right in place, moved over, filled afresh, added, or left as they are.

Comes in: a card's difference, or cards and orders. Goes out: `Laid` cards, or the findings why there can be none. New cards are planned by
`packing`, with its limits, its beyond-use dates and its numbers.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, time, timedelta
from fractions import Fraction
from operator import attrgetter

from dosewright.core.medicines.volume import volume_of
from dosewright.core.packing.card_format import CardFormat
from dosewright.core.packing.card_number import make_card_number
from dosewright.core.packing.person_plan import plan_person
from dosewright.core.packing.plan_values import Card, Content, PackedCavity
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.rework.asked import from_then_on
from dosewright.core.rework.difference import CardDifference
from dosewright.core.rework.room import last_day_of
from dosewright.core.rework.situation import Cell, OpenCard, Situation, taken_early
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import CardNumber, MedicineCode
from dosewright.core.units.person import Person

__all__ = ["Laid", "Made", "as_it_is", "as_it_was", "made_afresh", "moved_over", "put_right", "with_parts"]

Given = dict[tuple[tuple[date, time], MedicineCode], Fraction]
_ROW_AND_COLUMN = attrgetter("row", "column")


@dataclass(frozen=True, slots=True)
class Laid:
    """A card as it will be. `was`: the card that it comes from, None for a new one. `waiting`: it still holds what the old orders asked.

    `header`: it needs a new one. `labels`: cavities that need a new label; None for all of the card, as on a first one.
    """

    card: Card
    was: CardNumber | None
    waiting: bool = False
    header: bool = False
    labels: frozenset[Cell] | None = frozenset()


@dataclass(frozen=True, slots=True)
class Made:
    """New cards; or none, and the `stop` findings why there can be none."""

    cards: tuple[Laid, ...]
    findings: tuple[Finding, ...]


def as_it_is(card: OpenCard, *, waiting: bool) -> Laid:
    """The card without what is used up."""
    return Laid(replace(card.card, cavities=card.left()), card.number, waiting)


def as_it_was(difference: CardDifference, situation: Situation) -> Laid:
    """A card in which no unit changes; each belongs to the order that now asks for it."""
    return replace(put_right(difference, situation), header=False)


def put_right(difference: CardDifference, situation: Situation) -> Laid:
    """The same card with its changed cavities opened; new labels for those."""
    changed = frozenset((change.row, change.column) for change in difference.changes)
    before_then = _before(difference.card, situation.at)
    card = _laid_out(difference, before_then, situation.after)
    return Laid(card, difference.card.number, header=True, labels=changed)


def moved_over(difference: CardDifference, situation: Situation) -> Laid:
    """A new card of the same layout: what is still to be taken, put right on the way. What was missed earlier does not go along."""
    card = _laid_out(difference, (), situation.after)
    at = situation.at
    number = make_card_number(situation.after.salt, "moved", card.number, at.day.isoformat(), at.time.isoformat())
    return Laid(replace(card, number=number, first=max(card.first, at.day)), None, header=True, labels=None)


def _before(card: OpenCard, at: Moment) -> tuple[PackedCavity, ...]:
    return tuple(cavity for cavity in card.left() if (cavity.day, cavity.time) < (at.day, at.time))


def _laid_out(difference: CardDifference, kept: Sequence[PackedCavity], request: PlanRequest) -> Card:
    card = difference.card.card
    columns = {column.column: column for column in card.columns}
    known = {(cavity.row, cavity.column): cavity for cavity in card.cavities}
    now, fills = list(kept), dict[int, Fraction]()
    for (row, number), contents in difference.held.items():
        column = columns[number]
        if contents and (row, number) in known and known[row, number].contents == contents:
            now.append(known[row, number])
        elif contents:
            day = column.first + timedelta(days=row - 1)
            fill = fills.get(id(contents)) or fills.setdefault(id(contents), _filled(contents, request, difference.card.form))
            now.append(PackedCavity(row, number, day, column.slot, column.time, contents, fill))
    new = {content.medicine for change in difference.changes for content in change.add}
    last = min([card.beyond_use, *(last_day_of(request.medicines[code], request) for code in new)])
    return replace(card, beyond_use=last, cavities=tuple(sorted(now, key=_ROW_AND_COLUMN)))


def _filled(contents: Iterable[Content], request: PlanRequest, form: CardFormat | None = None) -> Fraction:
    """The share of a cavity's whole volume; of the request's card format, or the card's own."""
    filled = sum(volume_of(request.medicines[content.medicine], content.quantity.count) for content in contents)
    return Fraction(filled, (form or request.format).cavity.volume)


def made_afresh(person: Person, days: tuple[date, date], only: frozenset[MedicineCode], situation: Situation, setting: str) -> Made:
    """New cards for those medicines over the days, first and last, from the moment on, planned as a first set is.

    What was taken before its time is not packed again. An order that cannot be packed is alongside; only what stops the cards stops them.
    `setting` is `fingerprint_of_setting(situation.after)`.
    """
    first, last = max(days[0], situation.at.day), days[1]
    orders = tuple(_orders(person, only, situation))
    request = replace(situation.after, people=(person,), orders=orders, first=first, days=(last - first).days + 1)
    planned = plan_person(person, request, setting)
    stops = tuple(found for found in planned.findings if found.severity is Severity.STOP and "order" not in found.where)
    if stops:
        return Made((), stops)
    given = taken_early(situation.cards_of(person.id), situation.at)
    cards = tuple(_without(card, given, request) if given else card for card in planned.plan.cards)
    return Made(tuple(Laid(card, None, header=True, labels=None) for card in cards if card.cavities), ())


def _without(card: Card, given: Given, request: PlanRequest) -> Card:
    """The card less what is given already."""
    cavities = []
    for cavity in card.cavities:
        contents = tuple(left for content in cavity.contents if (left := _left_of(content, (cavity.day, cavity.time), given)))
        if contents == cavity.contents:
            cavities.append(cavity)
        elif contents:
            cavities.append(replace(cavity, contents=contents, fill=_filled(contents, request)))
    return replace(card, cavities=tuple(cavities))


def _left_of(content: Content, when: tuple[date, time], given: Given) -> Content | None:
    gone = min(content.quantity.count, given.get((when, content.medicine), Fraction(0)))
    if gone:
        given[when, content.medicine] -= gone
    rest = content.quantity.count - gone
    return replace(content, quantity=replace(content.quantity, count=rest)) if rest else None


def _orders(person: Person, only: frozenset[MedicineCode], situation: Situation) -> Iterable[Order]:
    for order in situation.after.orders_of(person.id):
        if order.medicine in only and (order.until is None or order.until > situation.at):
            yield from_then_on(order, situation.at, situation.after.first)


def with_parts(cards: Sequence[Laid]) -> tuple[Laid, ...]:
    """The cards with each dosing time's cavities numbered as parts of it, over all cards: "1 of 2"."""
    held: dict[tuple[date, time], list[tuple[int, int, int]]] = {}
    for at, laid in enumerate(cards):
        for cavity in laid.card.cavities:
            held.setdefault((cavity.day, cavity.time), []).append((at, cavity.column, cavity.row))
    return tuple(replace(laid, card=_numbered(at, laid.card, held)) for at, laid in enumerate(cards))


def _numbered(at: int, card: Card, held: dict[tuple[date, time], list[tuple[int, int, int]]]) -> Card:
    def number(cavity: PackedCavity) -> PackedCavity:
        parts = sorted(held[cavity.day, cavity.time])
        part = parts.index((at, cavity.column, cavity.row)) + 1
        return cavity if (cavity.part, cavity.parts) == (part, len(parts)) else replace(cavity, part=part, parts=len(parts))

    return replace(card, cavities=tuple(number(cavity) for cavity in card.cavities))
