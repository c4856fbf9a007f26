"""Letters as pictures: every letter and digit is known for itself down to the smallest type, and a swapped one is found there too."""

import string
from dataclasses import replace

import pytest
from tests.core.paper.paper_sample import MATERIAL
from tests.core.paper.test_readback import swapped

from dosewright.core.paper.page import Face, Kind, Page, Rect, Run
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.readback import check_pdf

FONTS = MATERIAL.fonts
LETTERS = string.digits + string.ascii_letters + ".,-'()" + "äéñöüßç½"


def page_of(size: float, shift: float) -> Page:
    """All letters in both weights at one size, off the dots of a 300 dpi grid by `shift`."""
    runs = []
    for n, face in enumerate(Face):
        font = FONTS.font_for(LETTERS, face)
        assert font is not None
        width = font.width(LETTERS, size)
        runs.append(Run(LETTERS, 10 + shift, 20 + n * 10 + shift, width, size, 7.0, face, Kind.GIVEN, Rect(0, 0, 297, 210)))
    return Page(297, 210, (), tuple(runs))


@pytest.mark.parametrize("size", [7.0, 7.5, 8.0, 9.0, 12.0, 18.0])
@pytest.mark.parametrize("shift", [0.0, 0.021, 0.043, 0.064])
def test_no_letter_is_taken_for_another(size: float, shift: float) -> None:
    page = page_of(size, shift)
    assert check_pdf(write_pdf((page,), FONTS, Heading("t", "a", "s", "en")), (page,), FONTS) == ()


@pytest.mark.parametrize(("one", "other"), [("6", "9"), ("5", "6"), ("3", "8"), ("6", "8"), ("3", "5")])
def test_a_swapped_digit_is_found_in_the_smallest_type(one: str, other: str) -> None:
    page = replace(page_of(7.0, 0.03), runs=page_of(7.0, 0.03).runs[:1])
    found = check_pdf(write_pdf((page,), swapped(one, other), Heading("t", "a", "s", "en")), (page,), FONTS)
    assert "paper.letter-differs" in {finding.code for finding in found}


GREEK_AND_CYRILLIC = "абвгдежзийклмнопрстуфхцчшщъыьэюяΑΒΓΔΘΛΞαβγδεζηθικλμνξοπρστυφχψω0123456789"


@pytest.mark.parametrize("size", [7.0, 11.0, 18.0])
def test_greek_and_cyrillic_letters_are_not_taken_for_latin_ones(size: float) -> None:
    font = FONTS.font_for(GREEK_AND_CYRILLIC, Face.BOLD)
    assert font is not None
    width = font.width(GREEK_AND_CYRILLIC, size)
    run = Run(GREEK_AND_CYRILLIC, 10, 20, width, size, 7.0, Face.BOLD, Kind.GIVEN, Rect(0, 0, 420, 210))
    page = Page(420, 210, (), (run,))
    assert check_pdf(write_pdf((page,), FONTS, Heading("t", "a", "s", "en")), (page,), FONTS) == ()
