"""What closes an administration record: the codes for a dose not given, who signs how, and handwritten entries that two people sign."""

from collections.abc import Iterator

from dosewright.core.paper.drawn import Drawn, join
from dosewright.core.paper.joints import bind_all
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Place, Rect
from dosewright.core.paper.sheet import set_middle, set_text
from dosewright.core.paper.words import Para, bold, plain
from dosewright.core.units.person import Person

__all__ = ["CODES", "LEGEND_HEIGHT", "NOTES_HEIGHT", "code_words", "draw_legend", "draw_notes"]

# First letters of plain words, ours; a home that uses others writes them over.
CODES = (
    ("R", "refused"),
    ("S", "asleep"),
    ("H", "in hospital"),
    ("L", "on leave"),
    ("V", "vomited"),
    ("N", "none in stock"),
    ("W", "withheld, say by whom"),
    ("O", "other, say why"),
)

LEGEND_HEIGHT = 5.0  # mm, on every sheet
NOTES_HEIGHT = 37.0  # mm, once
_ROW = 9.0  # mm: high enough to write in
_HEADS = 9.5  # mm above the rows


def code_words() -> str:
    """ "R refused, S asleep, …"; no line breaks between a letter and its meaning."""
    return ", ".join(bind_all(f"{letter} {meaning}") for letter, meaning in CODES)


def draw_legend(box: Rect, person: Person, material: Material) -> Drawn:
    """One line: sign the box when given, else write a code."""
    text = Para((bold("Sign the box when the dose was taken."), plain(f"If not: {code_words()}. Hatched: not due.")), 8.0, 7.0)
    return set_middle((text,), box, material, person)


def draw_notes(box: Rect, person: Person, material: Material) -> Drawn:
    """Handwritten entries at the left, signatures at the right; on a sheet of their own, as many as it holds."""
    left = Rect(box.left, box.top, box.width * 0.6 - 4, box.height)
    right = Rect(left.right + 4, box.top, box.right - left.right - 4, box.height)
    return join((*_entries(left, person, material), *_signatures(right, person, material)))


def _entries(box: Rect, person: Person, material: Material) -> Iterator[Drawn]:
    lead = Para((bold("Handwritten entries:"), plain("a second person compares each with the prescription and signs.")), 8.5, 7.0)
    yield set_text((lead,), Rect(box.left, box.top, box.width, 5), material, person)
    widths = (0.5, 0.14, 0.18, 0.18)
    yield from _table(
        Rect(box.left, box.top + 5, box.width, box.height - 5),
        widths,
        ("medicine, strength, directions", "from", "written by", "checked by"),
        (_rows_in(box), person, material),
    )


def _signatures(box: Rect, person: Person, material: Material) -> Iterator[Drawn]:
    lead = Para((bold("Who signs here:"), plain("name in capitals, and the sign used above.")), 8.5, 7.0)
    yield set_text((lead,), Rect(box.left, box.top, box.width, 5), material, person)
    yield from _table(
        Rect(box.left, box.top + 5, box.width, box.height - 5),
        (0.34, 0.16, 0.34, 0.16),
        ("name", "sign", "name", "sign"),
        (_rows_in(box), person, material),
    )


def _rows_in(box: Rect) -> int:
    """As many rows as the room holds, three at least."""
    return max(3, int((box.height - _HEADS) // _ROW))


def _table(box: Rect, shares: tuple[float, ...], heads: tuple[str, ...], rest: tuple[int, Person, Material]) -> Iterator[Drawn]:
    rows, person, material = rest
    high = (box.height - 4.5) / rows
    left = box.left
    for share, head in zip(shares, heads, strict=True):
        wide = box.width * share
        yield set_text((Para((plain(head),), 7.5, 7.0),), Rect(left + 0.5, box.top, wide - 0.5, 4.5), material, person)
        yield Drawn(places=tuple(Place(Rect(left, box.top + 4.5 + n * high, wide - 0.6, high - 0.6)) for n in range(rows)))
        left += wide
