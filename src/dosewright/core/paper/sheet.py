"""The A4 sheets that stay with staff: the strip at the head, the caution and the fingerprint at the foot, and the room between.

Comes in: whose sheet it is and what it is called. Goes out: a `Frame` with the drawn edges and the rectangle left for the matter.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from dosewright.core.paper.apart_marks import NAME_APART
from dosewright.core.paper.border import Pattern, border_round
from dosewright.core.paper.copies import FIRST_COPY, Copy, copy_paras
from dosewright.core.paper.datamatrix import code_at, code_side
from dosewright.core.paper.dates import moment_words, year_day
from dosewright.core.paper.drawn import Drawn, join, page_of
from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.marks import CAUTION, fingerprint, second_identifiers
from dosewright.core.paper.material import Material, Pharmacy
from dosewright.core.paper.page import Line, Page, Rect, Stroke
from dosewright.core.paper.page_numbers import number_pages
from dosewright.core.paper.setting import Setting, set_in, setting_of
from dosewright.core.paper.words import Para, bold, given, given_bold, plain
from dosewright.core.units.finding import Fact
from dosewright.core.units.person import Person

__all__ = [
    "A4",
    "A4_ACROSS",
    "Frame",
    "Sheet",
    "Strip",
    "finish_sheets",
    "frame_sheet",
    "frame_strip",
    "number_sheets",
    "set_middle",
    "set_text",
    "strip_of",
    "whose",
]

A4 = (210.0, 297.0)  # mm, ISO 216
A4_ACROSS = (297.0, 210.0)
_MARGIN = 10.0  # mm: more than any laser printer leaves white
_RIGHT = 62.0  # mm of the strip for the sheet's name and number
_STRIP = 17.0
_FOOT = 9.0
# Points: full size and floor, for staff at a bench or in a corridor.
_NAME, _SECOND, _SMALL = (16.0, 12.0), (11.0, 8.0), (7.5, 7.0)
_COPY = (9.5, 8.0)


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a sheet is: "Fill sheet", the number it carries as text and code (a card's number, or ""), its size in millimetres."""

    title: str
    number: str
    size: tuple[float, float]
    of: str = ""  # "card 1 of 2"


@dataclass(frozen=True, slots=True)
class Strip:
    """What the edges of a sheet say: whose it is (`whose`), the fingerprint of its plans, who supplies, when it was made; which copy it is.

    `pattern`: the border round the sheet of somebody whose paper could be taken for another's.
    """

    who: tuple[Para, ...]
    plans: str
    pharmacy: Pharmacy
    made: date | datetime
    copy: Copy = FIRST_COPY
    pattern: Pattern | None = None


@dataclass(frozen=True, slots=True)
class Frame:
    """Strip and foot, drawn, and the room that they leave."""

    edges: Drawn
    room: Rect
    page: Rect


def frame_sheet(sheet: Sheet, person: Person, material: Material, extra: Sequence[Para] = ()) -> Frame:
    """The frame of one sheet; `extra` paragraphs (allergies) stand under the person's name. Findings are in `edges`."""
    return frame_strip(sheet, strip_of(person, material, material.request.prepared_on), setting_of(material, person.id), extra)


def strip_of(person: Person, material: Material, made: date | datetime) -> Strip:
    """What the edges of one person's sheet say. Somebody whose paper could be taken for another's has a larger name and a border."""
    apart = material.apart.get(person.id)
    who = whose(person.name, second_identifiers(person, material), apart=apart is not None)
    return Strip(who, fingerprint(material), material.pharmacy, made, material.copy, apart.pattern if apart else None)


def frame_strip(sheet: Sheet, strip: Strip, setting: Setting, extra: Sequence[Para] = ()) -> Frame:
    """The same for a sheet of several people: `strip` says whose it is."""
    page = Rect(_MARGIN, _MARGIN, sheet.size[0] - 2 * _MARGIN, sheet.size[1] - 2 * _MARGIN)
    code = code_side(sheet.number, setting.dpi) + 2 if sheet.number else 0.0
    height = _STRIP + 6.0 * len(extra)
    left = Rect(page.left, page.top, page.width - _RIGHT - 4, height)
    right = Rect(page.right - _RIGHT, page.top, _RIGHT - code, _STRIP)
    foot = Rect(page.left, page.bottom - _FOOT + 1.5, page.width - 24, _FOOT - 1.5)
    room = Rect(page.left, page.top + height + 2, page.width, page.height - height - _FOOT - 4)
    edges = join(
        (
            set_in((*strip.who, *copy_paras(strip.copy, *_COPY), *extra), left, setting),
            set_in(_what(sheet, strip), right, setting),
            set_in(_closing(strip.pharmacy), foot, setting),
            Drawn(lines=(_rule(page, page.top + height, Stroke.PLAIN), _rule(page, page.bottom - _FOOT, Stroke.HAIR))),
            Drawn(codes=(code_at(sheet.number, page.right, page.top, setting.dpi),) if sheet.number else ()),
            Drawn(figures=border_round(page, strip.pattern)),
        )
    )
    return Frame(edges, room, page)


def finish_sheets(
    parts: Sequence[Drawn], frame: Frame, size: tuple[float, float], material: Material, about: dict[str, Fact]
) -> tuple[Page, ...]:
    """The parts as numbered pages, each within the frame."""
    return number_pages([page_of(join((frame.edges, part)), *size, about) for part in parts], frame.page, material.fonts)


def number_sheets(
    parts: Sequence[Drawn], frame: Frame, size: tuple[float, float], fonts: FontSet, about: dict[str, Fact]
) -> tuple[Page, ...]:
    """The same where the parts have their own edges: of a sheet for many, whose pages differ in what their strip says."""
    return number_pages([page_of(part, *size, about) for part in parts], frame.page, fonts)


def set_text(paras: Sequence[Para], box: Rect, material: Material, person: Person) -> Drawn:
    """The paragraphs at the top of their box, at the largest step that fits, or the findings why not."""
    return _set(paras, box, material, person, 0.0)


def set_middle(paras: Sequence[Para], box: Rect, material: Material, person: Person) -> Drawn:
    """The same, half-way down the box."""
    return _set(paras, box, material, person, 0.5)


def _set(paras: Sequence[Para], box: Rect, material: Material, person: Person, share: float) -> Drawn:
    return set_in(paras, box, setting_of(material, person.id), share)


def whose(name: str, others: str, *, apart: bool = False) -> tuple[Para, ...]:
    """Whose sheet it is: a person's or a home's name, and what else tells it apart. `apart`: it could be taken for another's."""
    second = (Para((given(others),), *_SECOND),) if others else ()
    return (Para((given_bold(name),), *(NAME_APART if apart else _NAME)), *second)


def _what(sheet: Sheet, strip: Strip) -> tuple[Para, ...]:
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
    made = _made(strip)
    return (Para((bold(sheet.title),), 13.0, 10.0), *number, *made)


def _made(strip: Strip) -> tuple[Para, ...]:
    """Which plan; and when this was made, on a line of its own, so that no year stands alone on the next one."""
    made = moment_words(strip.made) if isinstance(strip.made, datetime) else year_day(strip.made)
    return Para((given(f"{strip.plans}."),), *_SMALL), Para((plain(f"Made {made}."),), *_SMALL)


def _closing(pharmacy: Pharmacy) -> tuple[Para, ...]:
    supplier = ", ".join(part for part in (pharmacy.name, pharmacy.phone) if part)
    who = (Para((given(supplier),), *_SMALL),) if supplier else ()
    return (*who, Para((plain(CAUTION),), *_SMALL))


def _rule(page: Rect, y: float, stroke: Stroke) -> Line:
    return Line(page.left, y, page.right, y, stroke)
