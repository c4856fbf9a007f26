"""What has to leave which cavity and what has to go in, exactly: open cards as they are come in, each cavity's `remove` and `add` go out.

Holds R2, R3 and R17. A card is compared with what the new orders ask, dosing time by dosing time (`settle`). Cavities before the moment or
already used are never touched. Days are mostly alike: dosing times at which the same lies in the same columns and the same is asked are
settled once.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, time
from fractions import Fraction

from dosewright.core.packing.plan_values import CardColumn, Content
from dosewright.core.packing.request import PlanRequest
from dosewright.core.rework.asked import Asked, Claim, When
from dosewright.core.rework.room import last_day_of
from dosewright.core.rework.settle import Claims, Homeless, Settled, settle
from dosewright.core.rework.situation import Cell, OpenCard, taken_early
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId

__all__ = ["CardDifference", "CavityChange", "Differences", "Unplaced", "compare"]


@dataclass(frozen=True, slots=True)
class CavityChange:
    """One cavity: units that must leave it and units that must go in, by order. At least one of the two holds something."""

    row: int
    column: int
    when: When
    slot: str
    remove: tuple[Content, ...]
    add: tuple[Content, ...]


@dataclass(frozen=True, slots=True)
class CardDifference:
    """One card: the cavities that change, and `held`, what every cavity from the moment on then holds (none: empty)."""

    card: OpenCard
    changes: tuple[CavityChange, ...]
    held: Mapping[Cell, tuple[Content, ...]]


@dataclass(frozen=True, slots=True)
class Unplaced:
    """So much of an order's medicine that goes into no cavity of the open cards at its dosing time."""

    when: When
    order: OrderId
    medicine: MedicineCode
    count: Fraction


@dataclass(frozen=True, slots=True)
class Differences:
    """Every open card of one person, in the order given, and what none of them can take."""

    cards: tuple[CardDifference, ...]
    unplaced: tuple[Unplaced, ...]


_NO_CLAIMS: Claims = {}
_Found = tuple[tuple[Settled, ...], tuple[Homeless, ...]]


@dataclass(frozen=True, slots=True)
class _Looked:
    """A card with its unused cavities' contents by their place, and its columns by their clock time."""

    card: OpenCard
    contents: Mapping[Cell, tuple[Content, ...]]
    columns: Mapping[time, tuple[CardColumn, ...]]


@dataclass(frozen=True, slots=True)
class _Spot:
    """An unused cavity of a dosing time that is looked at."""

    card: OpenCard
    column: CardColumn
    row: int
    contents: tuple[Content, ...]


def compare(cards: Sequence[OpenCard], asked: Asked, at: Moment, request: PlanRequest) -> Differences:
    """Compare one person's cards with what is asked. `request` gives medicines, card format and rules."""
    looked, given = _look_at(cards), _by_dosing_time(taken_early(cards, at))
    settling = _Settling(request, _surely_keeps(cards, asked, request))
    changes: dict[CardNumber, list[CavityChange]] = {card.number: [] for card in cards}
    held: dict[CardNumber, dict[Cell, tuple[Content, ...]]] = {card.number: {} for card in cards}
    unplaced: list[Unplaced] = []
    for when in sorted(_moments(cards, asked, at)):
        here = [spot for one in looked for spot in _spots(one, when, (one.card.form or request.format).rows)]
        settled, homeless = settling.settle(here, asked.doses.get(when, _NO_CLAIMS), when, given.get(when))
        unplaced += [Unplaced(when, *rest) for rest in homeless]
        for spot, found in zip(here, settled, strict=True):
            held[spot.card.number][spot.row, spot.column.column] = found.held
            if found.remove or found.add:
                change = CavityChange(spot.row, spot.column.column, when, spot.column.slot, found.remove, found.add)
                changes[spot.card.number].append(change)
    return Differences(tuple(_difference(card, changes[card.number], held[card.number]) for card in cards), tuple(unplaced))


def _look_at(cards: Iterable[OpenCard]) -> list[_Looked]:
    """Contents that are equal are one and the same value afterwards, over all cards."""
    same: dict[tuple[Content, ...], tuple[Content, ...]] = {}
    by_id: dict[int, tuple[Content, ...]] = {}
    looked = []
    for card in cards:
        contents: dict[Cell, tuple[Content, ...]] = {}
        for cavity in card.left():
            lying = cavity.contents
            contents[cavity.row, cavity.column] = by_id.get(id(lying)) or by_id.setdefault(id(lying), same.setdefault(lying, lying))
        columns: dict[time, tuple[CardColumn, ...]] = {}
        for column in card.card.columns:
            columns[column.time] = (*columns.get(column.time, ()), column)
        looked.append(_Looked(card, contents, columns))
    return looked


def _moments(cards: Iterable[OpenCard], asked: Asked, at: Moment) -> set[When]:
    return {(cavity.day, cavity.time) for card in cards for cavity in card.open_from(at)} | set(asked.doses)


def _spots(one: _Looked, when: When, rows: int) -> Iterable[_Spot]:
    """The card's cavities of that dosing time that are still unused."""
    card = one.card
    if card.card.first <= when[0] <= card.card.last:
        for column in one.columns.get(when[1], ()):
            row = (when[0] - column.first).days + 1
            if 1 <= row <= rows and (row, column.column) not in card.used:
                yield _Spot(card, column, row, one.contents.get((row, column.column), ()))


def _by_dosing_time(given: Mapping[tuple[When, MedicineCode], Fraction]) -> dict[When, dict[MedicineCode, Fraction]]:
    found: dict[When, dict[MedicineCode, Fraction]] = {}
    for (when, code), count in given.items():
        found.setdefault(when, {})[code] = count
    return found


def _surely_keeps(cards: Iterable[OpenCard], asked: Asked, request: PlanRequest) -> date:
    """The last day until which everything that is asked for may go into any of the cards."""
    known = (last_day_of(request.medicines[code], request) for code in asked.medicines())
    return min((*known, *(card.card.beyond_use for card in cards)), default=date.max)


@dataclass(frozen=True, slots=True)
class _Settling:
    """One comparison's dosing times, each kind settled once. Kinds are told apart by the identity of what lies and what is asked there:
    cards and orders outlive the comparison, so that no identity comes twice. Only up to the day `surely` is every day like the next."""

    request: PlanRequest
    surely: date
    known: dict[tuple[int, ...], _Found] = field(default_factory=dict)

    def settle(self, here: Sequence[_Spot], claims: Claims, when: When, given: Mapping[MedicineCode, Fraction] | None) -> _Found:
        """`given`: what was taken from cavities of this dosing time already."""
        cavities = [(spot.card, spot.contents) for spot in here]
        if given is not None or when[0] > self.surely:
            return settle(cavities, _not_yet_given(claims, given or {}), when[0], self.request)
        kind = (id(claims), *(part for spot in here for part in (id(spot.contents), id(spot.card.form))))
        found = self.known.get(kind)
        if found is None:
            found = self.known[kind] = settle(cavities, claims, when[0], self.request)
        return found


def _not_yet_given(claims: Claims, given: Mapping[MedicineCode, Fraction]) -> Claims:
    """What is asked at a dosing time less what was in its used cavities: a dose that was taken early is not packed again."""
    return {code: rest for code, found in claims.items() if (rest := _less(found, given.get(code, Fraction(0))))}


def _less(claims: Iterable[Claim], given: Fraction) -> tuple[Claim, ...]:
    rest: list[Claim] = []
    for order, count in claims:
        taken = min(count, given)
        given -= taken
        rest += [(order, count - taken)] if count > taken else []
    return tuple(rest)


def _difference(card: OpenCard, changes: Iterable[CavityChange], held: Mapping[Cell, tuple[Content, ...]]) -> CardDifference:
    in_order = sorted(changes, key=lambda change: (change.row, change.column))
    return CardDifference(card, tuple(in_order), dict(sorted(held.items(), key=lambda one: one[0])))
