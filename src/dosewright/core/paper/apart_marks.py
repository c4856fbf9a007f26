"""How sheets mark somebody whose paper could be taken for another's: the name in large print, a second identifier, a border of their own.

Comes in: a person's cell on a list, and who is alike. Goes out: the border with the room inside it, or the `stop` where nothing else than
the name tells the person apart.
"""

from collections.abc import Iterator

from dosewright.core.paper.alike import Apart
from dosewright.core.paper.border import border_shapes
from dosewright.core.paper.drawn import Drawn
from dosewright.core.paper.marks import second_identifiers
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Figure, Rect
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import PersonId
from dosewright.core.units.person import Person

__all__ = ["NAME_APART", "border_inside", "check_second_identifier", "inset_of", "without_second_identifier"]

# Points, full size and floor: large print. Coroner's report to prevent future deaths, Berkshire 2024 (small type).
NAME_APART = (20.0, 18.0)
_WIDE = 2.2  # mm: a border round a cell of a list, where room is scarce
_CLEAR = 0.8  # mm from it to the text inside


def inset_of(apart: Apart | None) -> float:
    """Millimetres that the border takes on each side of a cell; none for somebody who has none."""
    return _WIDE + _CLEAR if apart and apart.pattern else 0.0


def border_inside(cell: Rect, apart: Apart | None) -> tuple[Drawn, Rect]:
    """The border round a person's cell on a list, and the room left inside."""
    inset = inset_of(apart)
    figures = (Figure(border_shapes(cell, apart.pattern, _WIDE), cell),) if apart and apart.pattern else ()
    return Drawn(figures=figures), cell.inset(inset, inset)


def check_second_identifier(person: PersonId, material: Material) -> Iterator[Finding]:
    """A `stop` where nothing besides the name on a sheet tells somebody from those alike."""
    apart, who = material.apart.get(person), material.person(person)
    if apart and not (apart.told and second_identifiers(who, material)):
        yield without_second_identifier(who, apart)


def without_second_identifier(person: Person, apart: Apart) -> Finding:
    """The `stop` itself."""
    return Finding("paper.alike-without-second-identifier", Severity.STOP, {"person": person.id}, {"others": apart.others})
