"""Scripts whose letters join, stack, reorder or run from right to left: names in them are shaped by HarfBuzz and drawn as outlines.

Comes in: a font with layout tables, text in one direction. Goes out: glyph outlines as polygons, from left to right, and the width. Text
is never broken inside a stretch that runs from right to left. Only what was given (names, addresses) is shaped; amounts never are.
"""

import itertools
import unicodedata
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any

import uharfbuzz

from dosewright.core.paper.page import MM_PER_POINT, Polygon

__all__ = ["Shaped", "ShapedFont", "forget_some", "mixes_directions", "needs_shaping", "parse_shaped_font", "runs_leftward", "stretches"]

_CURVE = 8  # straight pieces for each curve of an outline: at 24 points they differ from it by less than a dot of 1200 dpi
_MOST_REMEMBERED = 8192
_JOINERS = "\u200c\u200d"  # zero width non-joiner and joiner: part of the spelling of Persian and Indic names


@dataclass(frozen=True, slots=True)
class Shaped:
    """One stretch, shaped: its width and, glyph by glyph, the contours, in thousandths of the type size, up from the baseline."""

    width: float
    glyphs: tuple[tuple[Polygon, ...], ...]


@dataclass(frozen=True, slots=True, eq=False)
class ShapedFont:
    """A font that shapes. `letters`: what it has glyphs for."""

    name: str
    font: Any
    letters: frozenset[str]
    remembered: dict[str, Shaped | None] = field(default_factory=dict, repr=False)

    def has(self, text: str) -> bool:
        """Whether every character has a glyph and the whole shapes without a missing one."""
        return all(letter in self.letters or letter in _JOINERS for letter in text) and self._shaped(text) is not None

    def width(self, text: str, size: float) -> float:
        """Millimetres that the text takes at `size` points. Raises KeyError for text that the font cannot draw."""
        return self.shape(text).width * size * MM_PER_POINT / 1000

    def shape(self, text: str) -> Shaped:
        """Raises KeyError for text that the font cannot draw."""
        if (shaped := self._shaped(text)) is None:
            raise KeyError(text)
        return shaped

    def _shaped(self, text: str) -> Shaped | None:
        with suppress(KeyError):
            return self.remembered[text]
        forget_some(self.remembered)
        shaped = self.remembered[text] = _shape(self.font, text)
        return shaped


def forget_some(remembered: dict[Any, Any]) -> None:
    """Begin anew where much is remembered: names of thousands of people pass through a program that runs for months."""
    if len(remembered) >= _MOST_REMEMBERED:
        remembered.clear()


def parse_shaped_font(data: bytes, label: str) -> ShapedFont:
    """A font from TTF bytes; `label` begins its name. Bytes that are no font give a font without letters."""
    face = uharfbuzz.Face(data)
    font = uharfbuzz.Font(face)
    font.scale = (1000, 1000)
    return ShapedFont(f"{label}-{sha256(data).hexdigest()[:8]}", font, frozenset(map(chr, face.unicodes)))


def needs_shaping(text: str) -> bool:
    """Whether letters of the text would come out wrong drawn one by one: they join, stack, or run from right to left."""
    return any(_is_shaped(letter) for letter in text)


def runs_leftward(text: str) -> bool:
    """Whether the text has letters of a script that runs from right to left."""
    return any(unicodedata.bidirectional(letter) in ("R", "AL") for letter in text)


def mixes_directions(word: str) -> bool:
    """Whether a word has letters or digits of both directions: which stands where would be a guess. Control characters count as both."""
    kinds = {unicodedata.bidirectional(letter) for letter in word if letter not in _JOINERS}
    controls = any(unicodedata.category(letter) == "Cf" and letter not in _JOINERS for letter in word)
    return controls or bool(kinds & {"R", "AL"} and kinds & {"L", "EN", "AN"})


def stretches(text: str) -> Iterator[str]:
    """The words between which a line may break; neighbours that run from right to left stay together, for their order is theirs."""
    kept: list[str] = []
    for word in text.split(" "):
        if kept and not (runs_leftward(word) and runs_leftward(kept[-1])):
            yield " ".join(kept)
            kept = []
        kept.append(word)
    yield " ".join(kept)


def _is_shaped(letter: str) -> bool:
    return unicodedata.bidirectional(letter) in ("R", "AL", "AN") or unicodedata.category(letter) in ("Mn", "Mc", "Me", "Cf")


def _shape(font: Any, text: str) -> Shaped | None:
    """None where a glyph is missing."""
    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    uharfbuzz.shape(font, buffer)
    if any(info.codepoint == 0 for info in buffer.glyph_infos):
        return None
    x, glyphs = 0, []
    for info, at in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        if contours := tuple(_contours(font, info.codepoint, x + at.x_offset, at.y_offset)):
            glyphs.append(contours)
        x += at.x_advance
    return Shaped(float(x), tuple(glyphs))


@dataclass(slots=True)
class _Outline:
    """The contours of one glyph while HarfBuzz tells them."""

    contours: list[list[tuple[float, float]]] = field(default_factory=list)

    @property
    def pen(self) -> tuple[float, float]:
        return self.contours[-1][-1]

    def curve(self, points: list[tuple[float, float]]) -> None:
        """A Bézier curve from the pen by de Casteljau's construction."""
        whole = [self.pen, *points]
        self.contours[-1] += [_on_curve(whole, n / _CURVE) for n in range(1, _CURVE + 1)]


def _on_curve(points: list[tuple[float, float]], part: float) -> tuple[float, float]:
    while len(points) > 1:
        points = [(a + (c - a) * part, b + (d - b) * part) for (a, b), (c, d) in itertools.pairwise(points)]
    return points[0]


def _draw_functions() -> Any:
    functions = uharfbuzz.DrawFuncs()
    functions.set_move_to_func(lambda x, y, outline: outline.contours.append([(x, y)]))
    functions.set_line_to_func(lambda x, y, outline: outline.contours[-1].append((x, y)))
    functions.set_quadratic_to_func(lambda a, b, x, y, outline: outline.curve([(a, b), (x, y)]))
    functions.set_cubic_to_func(lambda a, b, c, d, x, y, outline: outline.curve([(a, b), (c, d), (x, y)]))
    functions.set_close_path_func(lambda outline: None)
    return functions


_TELL = _draw_functions()


def _contours(font: Any, glyph: int, right: int, up: int) -> Iterator[Polygon]:
    outline = _Outline()
    font.draw_glyph(glyph, _TELL, outline)
    for contour in outline.contours:
        if len(contour) > 2:
            yield tuple((x + right, y + up) for x, y in contour)
