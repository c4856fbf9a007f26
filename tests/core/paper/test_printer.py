"""A printer's fault is measured with a ruler and corrected: what is printed then lies where the card format says."""

from dataclasses import replace
from fractions import Fraction
from io import BytesIO

import numpy
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader
from tests.core.paper.paper_sample import MATERIAL, PERSON_PLAN

from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.measuring import draw_measuring_sheet
from dosewright.core.paper.moved import check_moved
from dosewright.core.paper.offer import offer_labels
from dosewright.core.paper.page import Page
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.pdf_text import read_pages
from dosewright.core.paper.printer import AS_DRAWN, Correction, Measures, Printer, correction_of, nominal_measures
from dosewright.core.paper.readback import check_pdf

WIDTH, HEIGHT = Fraction(210), Fraction(297)  # ISO 216, A4
HEADING = Heading("Measuring sheet", "Tern Street Pharmacy", "", "en")
FONTS = MATERIAL.fonts
TENTHS = st.integers(-20, 20).map(lambda n: Fraction(n, 10))


STRETCHES = st.integers(980, 1020)


@given(st.tuples(STRETCHES, STRETCHES), st.tuples(TENTHS, TENTHS), st.integers(0, 210), st.integers(0, 297))
def test_a_faulty_printer_that_is_corrected_prints_every_point_where_it_should(
    stretch: tuple[int, int], shift: tuple[Fraction, Fraction], x: int, y: int
) -> None:
    """The printer is a model of its own: it stretches, then shifts. Two marks measured on its paper are all that is known of it."""
    (across, along), (right, down) = stretch, shift

    def printed(point: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
        return point[0] * across / 1000 + right, point[1] * along / 1000 + down

    first, second = printed((Fraction(20), Fraction(20))), printed((WIDTH - 20, HEIGHT - 20))
    measured = Measures(first[0], first[1], second[0] - first[0], second[1] - first[1])
    correction, findings = correction_of(measured, WIDTH, HEIGHT)
    assert findings == ()
    drawn = (correction.across * x + correction.right, correction.along * y + correction.down)
    assert printed(drawn) == (Fraction(x), Fraction(y))


def test_a_printer_without_a_fault_is_not_corrected() -> None:
    assert correction_of(nominal_measures(WIDTH, HEIGHT), WIDTH, HEIGHT) == (AS_DRAWN, ())


@pytest.mark.parametrize(
    ("field", "value"),
    [("left", 31), ("left", 9), ("top", 31), ("across", 164), ("across", 176), ("down", 248), ("down", 266), ("across", 0)],
)
def test_measures_beyond_belief_are_refused_and_named(field: str, value: int) -> None:
    measured = replace(nominal_measures(WIDTH, HEIGHT), **{field: Fraction(value)})
    correction, findings = correction_of(measured, WIDTH, HEIGHT)
    assert correction == AS_DRAWN
    assert [(finding.code, finding.where["field"]) for finding in findings] == [("printer.beyond-belief", field)]


def test_all_measures_beyond_belief_are_named_at_once() -> None:
    assert len(correction_of(Measures(*[Fraction(500)] * 4), WIDTH, HEIGHT)[1]) == 4


def dark(pdf: bytes, dpi: int = 300) -> numpy.ndarray[tuple[int, int], numpy.dtype[numpy.bool_]]:
    return numpy.asarray(pypdfium2.PdfDocument(pdf)[0].render(scale=dpi / 72, grayscale=True).to_pil()) < 128


def test_the_measuring_sheets_marks_are_where_the_ruler_should_find_them() -> None:
    """Measured on the picture of the finished sheet, as a person does on paper."""
    page = draw_measuring_sheet(WIDTH, HEIGHT, "label printer", FONTS)
    pdf = write_pdf([page], FONTS, HEADING)
    assert check_pdf(pdf, [page], FONTS) == ()
    picture, dots = dark(pdf), 300 / 25.4
    upright = picture[int(15 * dots) : int(25 * dots), int(14 * dots) : int(26 * dots)].mean(axis=0).argmax() / dots + 14
    level = picture[int(271 * dots) : int(283 * dots), int(185 * dots) : int(195 * dots)].mean(axis=1).argmax() / dots + 271
    assert upright == pytest.approx(20, abs=0.2)
    assert level == pytest.approx(277, abs=0.2)


CROOKED = Printer("label printer", 300, Correction(Fraction(101, 100), Fraction(99, 100), Fraction(-3, 2), Fraction(2)))


def test_labels_for_a_printer_are_moved_as_it_asks_and_read_by_another_reader_there() -> None:
    straight = offer_labels(replace(MATERIAL, printer=Printer("label printer", 300)))
    moved = offer_labels(replace(MATERIAL, printer=CROOKED))
    assert moved.pdf
    assert moved.findings == straight.findings
    for one, other in zip(places(straight.pdf), places(moved.pdf), strict=True):
        assert one[0] == other[0]
        x, y = CROOKED.correction.place(one[1], one[2])
        assert (other[1], other[2]) == pytest.approx((x, y), abs=0.05)


def places(pdf: bytes) -> list[tuple[str, float, float]]:
    """Each string with its place in millimetres, by pypdf: neither the writer nor the reader of the product."""
    found: list[tuple[str, float, float]] = []

    def visit(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        x, y = tm[4] * cm[0] + tm[5] * cm[2] + cm[4], tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
        if text.strip():
            found.append((text.strip(), x * 25.4 / 72, 297 - y * 25.4 / 72))

    PdfReader(BytesIO(pdf)).pages[0].extract_text(visitor_text=visit)
    return found


def moved_and_checked(pages: tuple[Page, ...], correction: Correction) -> set[str]:
    drawn, moved = write_pdf(pages, FONTS, HEADING), write_pdf(pages, FONTS, HEADING, correction)
    return {finding.code for finding in check_moved(drawn, moved, pages, CROOKED)}


def test_a_pdf_moved_otherwise_than_asked_is_refused() -> None:
    pages = draw_fill(PERSON_PLAN, MATERIAL)[0]
    assert moved_and_checked(pages, CROOKED.correction) == set()
    for wrong in (AS_DRAWN, replace(CROOKED.correction, right=Fraction(0)), replace(CROOKED.correction, along=Fraction(1))):
        assert "paper.moved-otherwise" in moved_and_checked(pages, wrong)


def test_a_pdf_with_fewer_pages_or_other_words_is_refused() -> None:
    pages = draw_fill(PERSON_PLAN, MATERIAL)[0]
    whole, short = write_pdf(pages, FONTS, HEADING), write_pdf(pages[:-1], FONTS, HEADING, CROOKED.correction)
    assert {finding.code for finding in check_moved(whole, short, pages, CROOKED)} == {"paper.page-count-differs"}
    other = (replace(pages[0], runs=pages[0].runs[:-1]), *pages[1:])
    codes = {finding.code for finding in check_moved(whole, write_pdf(other, FONTS, HEADING, CROOKED.correction), pages, CROOKED)}
    assert codes == {"paper.moved-otherwise"}


def test_letters_keep_their_size_in_the_readers_eyes() -> None:
    """The reader gives a letter's size before the page's correction: so the floor holds for what is set, and 3 % is the most it shrinks."""
    pages = draw_fill(PERSON_PLAN, MATERIAL)[0]
    sizes = [
        {glyph.size for page in read_pages(write_pdf(pages, FONTS, HEADING, c)) for glyph in page.glyphs}
        for c in (AS_DRAWN, CROOKED.correction)
    ]
    assert sizes[0] == sizes[1]


def test_the_measuring_sheet_fits_a5_and_letter_paper() -> None:
    for width, height in ((Fraction(148), Fraction(210)), (Fraction("215.9"), Fraction("279.4"))):
        page = draw_measuring_sheet(width, height, "label printer", FONTS)
        assert check_pdf(write_pdf([page], FONTS, HEADING), [page], FONTS) == ()
        assert "Measuring sheet" in " ".join(run.text for run in page.runs)


def test_paper_too_small_for_the_measuring_sheet_is_refused() -> None:
    with pytest.raises(ValueError, match="too small"):
        draw_measuring_sheet(Fraction(60), Fraction(60), "", FONTS)
