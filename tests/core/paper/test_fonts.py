"""Widths and outlines are what FreeType, an independent reader, finds in the same files."""

from io import BytesIO

import pytest
from PIL import Image, ImageDraw, ImageFont

from dosewright.core.paper.fonts import Font
from dosewright.core.paper.page import MM_PER_POINT, Face
from dosewright.devices.fonts import load_fonts
from dosewright.devices.shipped import shipped_names

FONTS = [font for family in load_fonts().faces.values() for font in family]
SIZE = 1000


def ink_by_freetype(letter: str, reader: ImageFont.FreeTypeFont) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of the black dots when the letter is drawn 1,000 dots high at an origin."""
    image = Image.new("L", (2200, 2200))
    ImageDraw.Draw(image).text((500, 1500), letter, fill=255, font=reader, anchor="ls")
    drawn = image.getbbox()
    assert drawn
    left, top, right, bottom = drawn
    return left - 500, 1500 - bottom, right - 500, 1500 - top


@pytest.mark.parametrize("font", FONTS, ids=lambda font: font.name)
def test_widths_and_outlines_agree_with_freetype(font: Font) -> None:
    reader = ImageFont.truetype(BytesIO(font.data), SIZE, layout_engine=ImageFont.Layout.BASIC)
    for letter in "ABCXYZabcxyzgjpqy0123456789.,-()'ÄÉßñçž½":
        assert font.widths[letter] == pytest.approx(reader.getlength(letter), abs=1.0)
        assert font.inks[letter] == pytest.approx(ink_by_freetype(letter, reader), abs=2.0)


def test_a_width_is_in_millimetres_and_grows_with_the_size() -> None:
    font = load_fonts().faces[Face.REGULAR][0]
    one = font.width("metformin 500 mg", 1.0)
    assert font.width("metformin 500 mg", 12.0) == pytest.approx(12 * one)
    assert one == pytest.approx(sum(font.widths[letter] for letter in "metformin 500 mg") * MM_PER_POINT / 1000)


def test_every_font_ships_with_its_licence() -> None:
    names = shipped_names("fonts")
    families = {name.split("-")[0] for name in names if name.endswith(".ttf")}
    assert families == {name.removeprefix("OFL-").removesuffix(".txt") for name in names if name.endswith(".txt")}


@pytest.mark.parametrize("text", ["Wilhelmina", "Ελένη", "Иван", "Łęcki", "İ ẞ ž ő ț"])
def test_both_weights_draw_latin_greek_and_cyrillic(text: str) -> None:
    assert load_fonts().missing(text) == ()
    assert all(load_fonts().font_for(word, face) for word in text.split() for face in Face)


def test_a_missing_character_is_named_once() -> None:
    assert load_fonts().missing("aあbあ") == ("あ",)
