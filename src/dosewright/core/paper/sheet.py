"""The A4 sheets that stay with staff: the strip at the head, the caution and the fingerprint at the foot, and the room between.

Comes in: whose sheet it is and what it is called. Goes out: a `Frame` with the drawn edges and the rectangle left for the matter.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from dosewright.core.paper.datamatrix import code_at, code_side
from dosewright.core.paper.dates import year_day
from dosewright.core.paper.drawn import Drawn, join, page_of
from dosewright.core.paper.fit import fit_block, place_block
from dosewright.core.paper.marks import CAUTION, fingerprint, second_identifiers
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Line, Page, Rect, Stroke
from dosewright.core.paper.page_numbers import number_pages
from dosewright.core.paper.words import Para, bold, check_paras, given, given_bold, plain
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.person import Person

__all__ = ["A4", "A4_ACROSS", "Frame", "Sheet", "finish_sheets", "frame_sheet", "set_middle", "set_text"]

A4 = (210.0, 297.0)  # mm, ISO 216
A4_ACROSS = (297.0, 210.0)
_MARGIN = 10.0  # mm: more than any laser printer leaves white
_RIGHT = 62.0  # mm of the strip for the sheet's name and number
_STRIP = 17.0
_FOOT = 9.0
# Points: full size and floor, for staff at a bench or in a corridor.
_NAME, _SECOND, _SMALL = (16.0, 12.0), (11.0, 8.0), (7.5, 7.0)


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a sheet is: "Fill sheet", the number it carries as text and code (a card's number, or ""), its size in millimetres."""

    title: str
    number: str
    size: tuple[float, float]
    of: str = ""  # "card 1 of 2"


@dataclass(frozen=True, slots=True)
class Frame:
    """Strip and foot, drawn, and the room that they leave."""

    edges: Drawn
    room: Rect
    page: Rect


def frame_sheet(sheet: Sheet, person: Person, material: Material, extra: Sequence[Para] = ()) -> Frame:
    """The frame of one sheet; `extra` paragraphs (allergies) stand under the person's name. Findings are in `edges`."""
    page = Rect(_MARGIN, _MARGIN, sheet.size[0] - 2 * _MARGIN, sheet.size[1] - 2 * _MARGIN)
    code = code_side(sheet.number, material.printer.dpi) + 2 if sheet.number else 0.0
    height = _STRIP + 6.0 * len(extra)
    left = Rect(page.left, page.top, page.width - _RIGHT - 4, height)
    right = Rect(page.right - _RIGHT, page.top, _RIGHT - code, _STRIP)
    foot = Rect(page.left, page.bottom - _FOOT + 1.5, page.width - 24, _FOOT - 1.5)
    room = Rect(page.left, page.top + height + 2, page.width, page.height - height - _FOOT - 4)
    edges = join(
        (
            set_text(_who(person, material, extra), left, material, person),
            set_text(_what(sheet, material), right, material, person),
            set_text(_closing(material), foot, material, person),
            Drawn(lines=(_rule(page, page.top + height, Stroke.PLAIN), _rule(page, page.bottom - _FOOT, Stroke.HAIR))),
            Drawn(codes=(code_at(sheet.number, page.right, page.top, material.printer.dpi),) if sheet.number else ()),
        )
    )
    return Frame(edges, room, page)


def finish_sheets(
    parts: Sequence[Drawn], frame: Frame, size: tuple[float, float], material: Material, about: dict[str, Fact]
) -> tuple[Page, ...]:
    """The parts as numbered pages, each within the frame."""
    return number_pages([page_of(join((frame.edges, part)), *size, about) for part in parts], frame.page, material.fonts)


def set_text(paras: Sequence[Para], box: Rect, material: Material, person: Person) -> Drawn:
    """The paragraphs at the top of their box, at the largest step that fits, or the findings why not."""
    return _set(paras, box, material, person, 0.0)


def set_middle(paras: Sequence[Para], box: Rect, material: Material, person: Person) -> Drawn:
    """The same, half-way down the box."""
    return _set(paras, box, material, person, 0.5)


def _set(paras: Sequence[Para], box: Rect, material: Material, person: Person, share: float) -> Drawn:
    where: dict[str, Fact] = {"person": person.id}
    found = tuple(check_paras(paras, material.fonts, material.country, where))
    if found:
        return Drawn(findings=found)
    block = fit_block(paras, box.width, box.height, material.fonts)
    if block is None:
        text = " ".join(words.text for para in paras for words in para.words).replace("\u00a0", " ")
        return Drawn(findings=(Finding("paper.text-does-not-fit", Severity.STOP, where, {"text": text}),))
    return Drawn(runs=place_block(block, box.left, box.top + (box.height - block.height) * share, box))


def _who(person: Person, material: Material, extra: Sequence[Para]) -> tuple[Para, ...]:
    others = second_identifiers(person, material)
    second = (Para((given(others),), *_SECOND),) if others else ()
    return (Para((given_bold(person.name),), *_NAME), *second, *extra)


def _what(sheet: Sheet, material: Material) -> tuple[Para, ...]:
    number = (
        (
            Para(
                (plain("card"), given_bold(f"{sheet.number}," if sheet.of else sheet.number), *((plain(sheet.of),) if sheet.of else ())),
                *_SECOND,
            ),
        )
        if sheet.number
        else ()
    )
    made = Para((given(f"{fingerprint(material)}."), plain(f"Made {year_day(material.request.prepared_on)}.")), *_SMALL)
    return (Para((bold(sheet.title),), 13.0, 10.0), *number, made)


def _closing(material: Material) -> tuple[Para, ...]:
    supplier = ", ".join(part for part in (material.pharmacy.name, material.pharmacy.phone) if part)
    who = (Para((given(supplier),), *_SMALL),) if supplier else ()
    return (*who, Para((plain(CAUTION),), *_SMALL))


def _rule(page: Rect, y: float, stroke: Stroke) -> Line:
    return Line(page.left, y, page.right, y, stroke)
