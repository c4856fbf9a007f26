"""The shipped fonts, read once: Atkinson Hyperlegible, and behind it Noto Sans for Greek, Cyrillic and rarer Latin letters (both OFL)."""

from functools import cache

from dosewright.core.paper.fonts import FontSet, parse_font
from dosewright.core.paper.page import Face
from dosewright.devices.shipped import read_shipped_bytes

__all__ = ["load_fonts"]

_FILES = {
    Face.REGULAR: ("AtkinsonHyperlegible-Regular.ttf", "NotoSans-Regular.ttf"),
    Face.BOLD: ("AtkinsonHyperlegible-Bold.ttf", "NotoSans-Bold.ttf"),
}


@cache
def load_fonts() -> FontSet:
    """The font set that paper is drawn with."""
    return FontSet({face: tuple(parse_font(read_shipped_bytes("fonts", name)) for name in names) for face, names in _FILES.items()})
