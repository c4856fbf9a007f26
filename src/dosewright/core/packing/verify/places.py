"""Whether each cavity is where it says it is: on the card, in its column, on its day, and numbered as a part of its dosing time."""

from collections import Counter
from collections.abc import Iterable
from datetime import date, timedelta
from functools import lru_cache

from dosewright.core.packing.plan_values import Card, CardColumn, PackedCavity, PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.fault import fault, in_card, in_cavity
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.person import Person

__all__ = ["check_places"]


def check_places(planned: PersonPlan, person: Person, request: PlanRequest) -> Iterable[Finding]:
    """Every cavity of every card; then the parts of each dosing time over all cards."""
    for card in planned.cards:
        yield from _check_columns(card, person, request)
        days = None if card.as_needed else (max(card.first, request.first), min(card.last, request.last))
        if days is not None and _all_in_place(card, request.format.rows, days):
            continue
        columns = {column.column: column for column in card.columns}
        taken = Counter((cavity.row, cavity.column) for cavity in card.cavities)
        for cavity in card.cavities:
            for code in _misplaced(cavity, columns.get(cavity.column), taken, request.format.rows, days):
                yield in_cavity(code, person, card, cavity)
    yield from _check_parts(planned, person)


def _check_columns(card: Card, person: Person, request: PlanRequest) -> Iterable[Finding]:
    numbers = [column.column for column in card.columns]
    if len(set(numbers)) < len(numbers) or any(not 1 <= number <= request.format.columns for number in numbers):
        yield in_card("columns-wrong", person, card, expected=request.format.columns, found=len(numbers))


def _all_in_place(card: Card, rows: int, days: tuple[date, date]) -> bool:
    """Whether `_misplaced` has nothing to say of any cavity, as is mostly so: asked at once."""
    numbers = {column.column for column in card.columns}
    there = {(c.row, c.column, c.day, c.slot, c.time) for c in card.cavities if c.contents}
    right = {
        (row, column.column, day, column.slot, column.time)
        for column in card.columns
        for row, day in enumerate(_days_of(column.first, rows), start=1)
        if days[0] <= day <= days[1]
    }
    return len(numbers) == len(card.columns) and len(there) == len(card.cavities) and there <= right


@lru_cache(maxsize=4096)
def _days_of(first: date, rows: int) -> tuple[date, ...]:
    return tuple(_day_of(first, row) for row in range(1, rows + 1))


def _misplaced(
    cavity: PackedCavity, column: CardColumn | None, taken: Counter[tuple[int, int]], rows: int, days: tuple[date, date] | None
) -> list[str]:
    """Codes of what is wrong with where it is. `days`: the first and last that the card and the cycle both cover, None of a card for
    as-needed medicines, whose cavities have no day."""
    found = []
    if column is None or not 1 <= cavity.row <= rows:
        found.append("outside-the-card")
    elif days is not None and ((cavity.slot, cavity.time) != (column.slot, column.time) or cavity.day != _day_of(column.first, cavity.row)):
        found.append("not-its-column")
    if taken[cavity.row, cavity.column] > 1:
        found.append("cavity-twice")
    if not cavity.contents:
        found.append("cavity-empty")
    if days is not None and not days[0] <= cavity.day <= days[1]:
        found.append("outside-the-cycle")
    return found


@lru_cache(maxsize=4096)
def _day_of(first: date, row: int) -> date:
    return first + timedelta(days=row - 1)


def _check_parts(planned: PersonPlan, person: Person) -> Iterable[Finding]:
    cavities = [cavity for card in planned.scheduled for cavity in card.cavities]
    alone = {(cavity.day, cavity.time, cavity.slot) for cavity in cavities if cavity.part == cavity.parts == 1}
    if len(alone) == len(cavities):
        return
    parts: dict[tuple[Fact, ...], list[tuple[int, int]]] = {}
    for cavity in cavities:
        parts.setdefault((cavity.day, cavity.time, cavity.slot), []).append((cavity.part, cavity.parts))
    for (day, _, slot), found in parts.items():
        if sorted(found) != [(part, len(found)) for part in range(1, len(found) + 1)]:
            said = tuple(f"{part} of {of}" for part, of in sorted(found))
            yield fault("parts-wrong", person, {"date": day, "slot": slot}, expected=len(found), found=said)
