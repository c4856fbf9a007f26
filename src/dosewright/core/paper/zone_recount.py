"""A finished sheet recounted: what a reader sees in each zone of the PDF is what the orders and the plan say of it, zone for zone (R6).

The zones come from the drawn pages; what must be in them (`Truth`) is worked out again, by other code, from the plan. A zone that says
something else, one that nobody asked for, one that stands twice, one that is missing: each is a `stop`.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy
import numpy.typing

from dosewright.core.paper.page import MM_PER_POINT, About, Page, Rect
from dosewright.core.paper.pdf_text import Glyph, ReadPage
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["Truth", "ZoneRecount", "check_boxes"]

Greys = numpy.typing.NDArray[Any]
_SAME_LINE = 0.4  # mm: letters whose baselines are nearer stand on one line
_DPI = 100
_GREY = 0.03  # share of black inside a box: hatching leaves more, an open box none
_INSIDE = 0.6  # mm kept away from a box's own lines


@dataclass(frozen=True, slots=True)
class Truth:
    """`texts`: what must stand in each zone. `boxes`: which boxes must be hatched (not due), and which open."""

    texts: Mapping[About, str] = field(default_factory=dict)
    boxes: Mapping[About, bool] = field(default_factory=dict)

    def __or__(self, other: "Truth") -> "Truth":
        return Truth({**self.texts, **other.texts}, {**self.boxes, **other.boxes})


@dataclass(frozen=True, slots=True)
class ZoneRecount:
    """The recount of a document that is read page by page: `watch` each page, then ask what `lacks`."""

    truth: Truth
    seen: set[About] = field(default_factory=set)

    def watch(self, page: Page, read: ReadPage) -> Iterator[Finding]:
        """Every zone of text on the page, and every box as a picture."""
        where: dict[str, Fact] = {"person": "", **dict(page.about)}
        self.seen.update(zone.about for zone in page.zones if zone.about in self.truth.boxes)
        for zone in (zone for zone in page.zones if zone.about not in self.truth.boxes):
            wanted = self.truth.texts.get(zone.about)
            found = _reading(_inside(read.glyphs, zone.rect))
            if wanted is None or zone.about in self.seen:
                yield _stop("paper.sheet-has-more", where, zone.about, found=found)
            elif found.replace(" ", "") != _plain(wanted):
                yield _stop("paper.sheet-differs", where, zone.about, expected=wanted, found=found)
            self.seen.add(zone.about)
        yield from check_boxes(page, read, self.truth.boxes)

    def lacks(self) -> tuple[Finding, ...]:
        """What the plan says and no page of the document does."""
        every = (*self.truth.texts, *self.truth.boxes)
        missing = [about for about in every if about not in self.seen]
        texts = self.truth.texts
        return tuple(_stop("paper.sheet-lacks", {"person": _person(about)}, about, text=texts.get(about, "")) for about in missing)


def check_boxes(page: Page, read: ReadPage, boxes: Mapping[About, bool]) -> Iterator[Finding]:
    """Look at each box of the page as a picture: hatched where nothing is due then, open where something is."""
    zones = [zone for zone in page.zones if zone.about in boxes]
    if not zones:
        return
    picture = 1 - numpy.asarray(read.picture.render(scale=_DPI / 72, grayscale=True).to_pil(), dtype=numpy.float64) / 255
    for zone in zones:
        if (_black(picture, zone.rect) > _GREY) is not boxes[zone.about]:
            yield _stop("paper.box-differs", {"person": "", **dict(page.about)}, zone.about)


def _black(picture: Greys, rect: Rect) -> float:
    inner, dots = rect.inset(_INSIDE, _INSIDE), _DPI / 25.4
    part = picture[round(inner.top * dots) : round(inner.bottom * dots), round(inner.left * dots) : round(inner.right * dots)]
    return float(part.mean()) if part.size else 0.0


def _inside(glyphs: Iterable[Glyph], rect: Rect) -> list[Glyph]:
    return [g for g in glyphs if rect.left - 0.1 <= g.x <= rect.right and rect.top <= g.baseline <= rect.bottom + 0.1]


def _reading(glyphs: list[Glyph]) -> str:
    """The letters line by line, from left to right, with a space where a gap is."""
    text, before = "", None
    for glyph in sorted(glyphs, key=lambda g: (round(g.baseline / _SAME_LINE), g.x)):
        gap = before is not None and (
            abs(before.baseline - glyph.baseline) > _SAME_LINE or glyph.x - before.right > 0.12 * glyph.size * MM_PER_POINT
        )
        text += (" " if gap else "") + glyph.text
        before = glyph
    return " ".join(text.split())


def _plain(text: str) -> str:
    return "".join(text.replace("\u00a0", " ").split())


def _person(about: About) -> str:
    return about[1] if len(about) > 1 else ""


def _stop(code: str, where: dict[str, Fact], about: About, **facts: Fact) -> Finding:
    return Finding(code, Severity.STOP, where, {"what": ", ".join(about), **facts})
