"""The shipped fonts, read once: Atkinson Hyperlegible, and behind it Noto Sans for Greek, Cyrillic and rarer Latin letters; Noto fonts that
shape for names in other scripts (all OFL)."""

from functools import cache

from dosewright.core.paper.fonts import Font, FontSet, parse_font
from dosewright.core.paper.page import Face
from dosewright.core.paper.shaping import ShapedFont, parse_shaped_font
from dosewright.devices.shipped import read_shipped_bytes

__all__ = ["load_fonts"]

_FILES = {
    Face.REGULAR: ("AtkinsonHyperlegible-Regular", "NotoSans-Regular"),
    Face.BOLD: ("AtkinsonHyperlegible-Bold", "NotoSans-Bold"),
}
_WEIGHTS = {Face.REGULAR: "Regular", Face.BOLD: "Bold"}
# "Marks" is Noto Sans with the tables that set accents over letters for which Unicode has no single character.
_SHAPING = ("Marks", "Arabic", "Hebrew", "Devanagari", "Bengali", "Gurmukhi", "Gujarati", "Tamil", "Thai")


@cache
def load_fonts() -> FontSet:
    """The font set that paper is drawn with."""
    plain = {face: tuple(_font(name) for name in names) for face, names in _FILES.items()}
    return FontSet(
        plain, {face: tuple(_shaping_font(f"NotoSans{script}-{weight}") for script in _SHAPING) for face, weight in _WEIGHTS.items()}
    )


def _font(name: str) -> Font:
    return parse_font(read_shipped_bytes("fonts", f"{name}.ttf"), name)


def _shaping_font(name: str) -> ShapedFont:
    return parse_shaped_font(read_shipped_bytes("fonts", f"{name}.ttf"), name)
