"""The fonts that paper is set in: what each can draw, and how wide. Comes in: TTF bytes. Goes out: widths in millimetres, or "cannot".

A run is set in one font: the first of the family's that has every character; one whose letters join, stack or run from right to left, in
the first of its shaping fonts that can shape it whole. Text is composed (Unicode NFC) before it is measured.
"""

import unicodedata
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import sha256

import uharfbuzz

from dosewright.core.paper.outlines import Ink, read_outlines
from dosewright.core.paper.page import MM_PER_POINT, Face
from dosewright.core.paper.shaping import ShapedFont, forget_some, needs_shaping

__all__ = ["Font", "FontSet", "parse_font"]

_LAST = 0xFFFD  # the last character that a font is asked for: those beyond U+FFFF have no code of two bytes in a PDF


@dataclass(frozen=True, slots=True, eq=False)
class Font:
    """One TrueType font. `widths` maps a character to its advance, `inks` to the rectangle of its outline (left, bottom, right, top; None
    where nothing is drawn), both in thousandths of the size."""

    name: str
    data: bytes = field(repr=False)  # a failing test shows its values: a font's are a hundred thousand numbers
    widths: Mapping[str, float] = field(repr=False)
    inks: Mapping[str, Ink | None] = field(repr=False)
    remembered: dict[str, float] = field(default_factory=dict, repr=False)

    def has(self, text: str) -> bool:
        return all(letter in self.widths for letter in text)

    def width(self, text: str, size: float) -> float:
        """Millimetres that the text takes at `size` points. Raises KeyError for a character that the font has not."""
        thousandths = self.remembered.get(text)
        if thousandths is None:
            forget_some(self.remembered)
            thousandths = self.remembered[text] = sum(self.widths[letter] for letter in text)
        return thousandths * size * MM_PER_POINT / 1000


@dataclass(frozen=True, slots=True, eq=False)
class FontSet:
    """For each weight the fonts in order of preference, and those that shape."""

    faces: Mapping[Face, tuple[Font, ...]]
    shaping: Mapping[Face, tuple[ShapedFont, ...]] = field(default_factory=dict)
    chosen: dict[tuple[Face, str], Font | ShapedFont | None] = field(default_factory=dict, repr=False)

    def font_for(self, text: str, face: Face) -> Font | ShapedFont | None:
        """The first font that draws the whole text, or None where no single font does."""
        key = (face, text)
        with suppress(KeyError):
            return self.chosen[key]
        forget_some(self.chosen)
        letter_by_letter = () if needs_shaping(text) else self.faces[face]
        every: tuple[Font | ShapedFont, ...] = (*letter_by_letter, *self.shaping.get(face, ()))
        found = self.chosen[key] = next((font for font in every if font.has(text)), None)
        return found

    def missing(self, text: str) -> tuple[str, ...]:
        """What keeps some weight from drawing the text: characters that are in no font, once each; the whole where no font has them all."""
        if all(self.font_for(text, face) for face in self.faces):
            return ()
        return tuple(dict.fromkeys(letter for letter in text if not all(self._knows(letter, face) for face in self.faces))) or (text,)

    def _knows(self, letter: str, face: Face) -> bool:
        return any(font.has(letter) for font in self.faces[face]) or any(letter in font.letters for font in self.shaping.get(face, ()))


def parse_font(data: bytes, label: str) -> Font:
    """A font from TTF bytes, embeddable; `label` begins its name. Raises struct.error or KeyError for what is no TrueType font."""
    outlines = read_outlines(data)
    face = uharfbuzz.Face(data)
    reader = uharfbuzz.Font(face)
    glyphs = {chr(code): reader.get_nominal_glyph(code) for code in sorted(face.unicodes) if code <= _LAST}
    letters = {letter: glyph for letter, glyph in glyphs.items() if unicodedata.category(letter) != "Cc"}
    widths = {letter: reader.get_glyph_h_advance(glyph) * 1000 / face.upem for letter, glyph in letters.items()}
    widths["\u00a0"] = widths[" "]  # an unbreakable space is drawn as a space
    inks = {letter: outlines[glyph] if glyph < len(outlines) else None for letter, glyph in letters.items()}
    return Font(f"{label}-{sha256(data).hexdigest()[:8]}", data, widths, inks)
