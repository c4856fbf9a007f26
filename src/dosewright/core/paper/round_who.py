"""Whose row it is on a round list: name, room, birth date, allergies, in the place at the left; told apart from people alike.

Comes in: a material of one person. Goes out: measured blocks, and the drawn place. A name with a word that is wider than the place stands
above the row's rest, over the whole width: it is never cut, nor made small.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from dosewright.core.paper.alike import Apart
from dosewright.core.paper.apart_marks import NAME_APART, border_inside, inset_of
from dosewright.core.paper.dates import year_day
from dosewright.core.paper.drawn import Drawn
from dosewright.core.paper.fit import Block, place_block
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Line, Rect, Stroke
from dosewright.core.paper.setting import measure, setting_of
from dosewright.core.paper.words import Para, bold, given, given_bold, plain
from dosewright.core.units.finding import Finding
from dosewright.core.units.person import Person

__all__ = ["PAD", "PLACE", "Who", "by_room", "draw_who", "measure_who", "who_of"]

PLACE, PAD = 60.0, 1.6  # mm: the place at the left of a row, and what is kept clear inside
_WIDE = 190.0  # mm: a row of an A4 sheet
_EDGE = 0.6  # mm from a row's rules to a border


@dataclass(frozen=True, slots=True)
class Who:
    """The name `above` the rest where it is too long for its place, else nothing there; who it is; and who is alike."""

    above: Block
    who: Block
    apart: Apart | None

    @property
    def least(self) -> float:
        """Millimetres that a row needs below what stands above."""
        return self.who.height + 2 * inset_of(self.apart) + 2 * PAD


def who_of(material: Material) -> Person:
    """The one person that a material of a home's sheet is about."""
    return material.person(material.plan.people[0].person)


def by_room(materials: Iterable[Material]) -> list[Material]:
    """In order of the rooms as one walks: "2" before "12"; then by name."""

    def place(material: Material) -> tuple[int, str, str]:
        room = who_of(material).room
        digits = "".join(letter for letter in room if letter.isdigit())
        return int(digits) if digits else 10**6, room, who_of(material).name.casefold()

    return sorted(materials, key=place)


def measure_who(material: Material) -> Who | tuple[Finding, ...]:
    """The blocks, or the findings why they cannot be set."""
    setting, apart = setting_of(material, who_of(material).id), material.apart.get(who_of(material).id)
    name, others = _paras(material)
    wide = PLACE - 2 * PAD - 2 * inset_of(apart)
    whole = measure((name, *others), wide, setting)
    if isinstance(whole, Block):
        return Who(Block((), 0.0), whole, apart)
    above, rest = measure((name,), _WIDE - 2 * PAD, setting), measure(others, wide, setting)
    if isinstance(above, Block) and isinstance(rest, Block):
        return Who(replace(above, height=above.height + PAD), rest, apart)
    return whole


def _paras(material: Material) -> tuple[Para, tuple[Para, ...]]:
    """The name; then what else tells the person apart, and allergies."""
    who = who_of(material)
    born = (Para((plain("born"), given(year_day(who.born))), 9.5, 8.0),) if who.born else ()
    room = (Para((given(f"Room {who.room}"),), 11.0, 9.0),) if who.room else ()
    known = material.allergies.get(who.id, "")
    allergies = (Para((bold("Allergies:"), given(known)), 9.5, 8.0),) if known else ()
    size = NAME_APART if who.id in material.apart else (13.0, 10.0)
    return Para((given_bold(who.name),), *size), (*room, *born, *allergies)


def draw_who(row: Who, box: Rect) -> tuple[tuple[Drawn, ...], Rect]:
    """The row's rules and whose it is; and the room at the right of it."""
    return tuple(_draw(row, box)), Rect(box.left + PLACE, box.top + row.above.height, box.width - PLACE, box.height - row.above.height)


def _draw(row: Who, box: Rect) -> Iterator[Drawn]:
    yield Drawn(lines=(Line(box.left, box.top, box.right, box.top, Stroke.PLAIN), Line(box.left, box.bottom, box.right, box.bottom)))
    yield Drawn(runs=place_block(row.above, box.left + PAD, box.top + PAD, box))
    cell = Rect(box.left, box.top + row.above.height, PLACE, box.height - row.above.height)
    border, inner = border_inside(cell.inset(_EDGE, _EDGE), row.apart)
    yield border
    yield Drawn(runs=place_block(row.who, inner.left + PAD - _EDGE, inner.top + PAD - _EDGE, cell))
