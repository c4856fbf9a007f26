"""The PDF's own grammar and fonts, read by pypdf in its strict way: it neither wrote the file nor reads it back in the product."""

import re
from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from tests.core.paper.paper_sample import MATERIAL, PERSON_PLAN

from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.page import Face, Kind, Page, Rect, Run
from dosewright.core.paper.pdf import Heading, stream_pdf, write_pdf
from dosewright.core.paper.pdf_file import PdfFile
from dosewright.core.paper.pdf_text import read_pages
from dosewright.core.paper.printer import AS_DRAWN
from dosewright.core.paper.readback import check_pdf

FONTS = MATERIAL.fonts
HEADING = Heading("Card labels", "Tern Street Pharmacy", "plan", "en")
PAGES = draw_labels(PERSON_PLAN, MATERIAL)[0]
LETTERS = sorted(set().union(*(font.widths for font in FONTS.faces[Face.REGULAR])) - {"\u00a0", "\u00ad"})


def page_of(text: str) -> Page:
    width = FONTS.font_for(text, Face.REGULAR)
    assert width is not None
    run = Run(text, 10.0, 20.0, width.width(text, 9.0), 9.0, 7.0, Face.REGULAR, Kind.GIVEN, Rect(0, 0, 400, 40))
    return Page(420.0, 60.0, (), runs=(run,))


def test_every_object_begins_where_the_table_says() -> None:
    pdf = write_pdf(PAGES, FONTS, HEADING)
    table = pdf[int(pdf.rsplit(b"startxref\n", 1)[1].split()[0]) :]
    places = [int(line[:10]) for line in re.findall(rb"\d{10} \d{5} [nf] \n", table)][1:]
    assert len(places) > 20
    assert all(pdf[place:].startswith(b"%d 0 obj\n" % number) for number, place in enumerate(places, start=1))
    assert pdf.count(b" 0 obj\n") == len(places)


def test_a_strict_reader_has_nothing_to_say(caplog: pytest.LogCaptureFixture) -> None:
    reader = PdfReader(BytesIO(write_pdf(PAGES, FONTS, HEADING)), strict=True)
    assert "metformin" in "".join(page.extract_text() for page in reader.pages)
    assert not caplog.records


def test_an_object_that_was_promised_and_never_written_is_refused() -> None:
    file = PdfFile(BytesIO())
    info, owed = file.put(b"<< >>"), file.promise()
    with pytest.raises(ValueError, match=f"object {owed} was promised"):
        file.close(info, info)


def test_a_document_without_a_page_is_refused() -> None:
    with pytest.raises(ValueError, match="needs a page"):
        write_pdf((), FONTS, HEADING)


def test_pages_go_out_while_others_are_still_to_be_drawn() -> None:
    """Nothing is held until the last page: what a print of a thousand sheets takes is what one takes."""
    out, lengths = BytesIO(), list[int]()

    def drawn() -> Iterator[Page]:
        for _ in range(60):
            lengths.append(out.tell())
            yield PAGES[0]

    assert stream_pdf(out, drawn(), FONTS, HEADING) == 60
    assert lengths[-1] > lengths[30] > 0
    assert out.getvalue() == write_pdf([PAGES[0]] * 60, FONTS, HEADING, AS_DRAWN)


def test_pages_that_have_the_same_frame_share_it() -> None:
    one, many = (write_pdf([PAGES[0]] * count, FONTS, HEADING).count(b"/Subtype /Form") for count in (1, 5))
    assert one == many > 0


@settings(max_examples=20)
@given(st.text(st.sampled_from(LETTERS), min_size=1, max_size=30).map(str.strip).filter(bool))
def test_whatever_letters_a_font_has_are_read_back_as_they_were_given(text: str) -> None:
    """Brackets, backslashes, and letters of every block of a font, together."""
    font = FONTS.font_for(text, Face.REGULAR)
    if font is not None:
        page = page_of(text)
        assert check_pdf(write_pdf([page], FONTS, HEADING), [page], FONTS) == ()


@settings(max_examples=20)
@given(st.lists(st.text(st.sampled_from("aéłΛδЖи"), min_size=1, max_size=3), min_size=2, max_size=5).map(" ".join))
def test_a_blank_between_any_two_words_is_read_back(name: str) -> None:
    """Names of people may have letters of several blocks of a font, and a blank between."""
    page = page_of(name)
    assert check_pdf(write_pdf([page], FONTS, HEADING), [page], FONTS) == ()


@pytest.mark.parametrize(
    "text", ["a (b) c\\", "½ × 5 µg – “é”", "Ελένη (Жук) Łuczak ő", "1 ≥ 2", "Ιωάννης Παπαδόπουλος", "Жук Ελένη", "δ Łuk a"]
)
def test_another_reader_finds_the_same_words(text: str) -> None:
    pdf = write_pdf([page_of(text)], FONTS, HEADING)
    assert PdfReader(BytesIO(pdf), strict=True).pages[0].extract_text().strip() == text
    assert "".join(glyph.text for page in read_pages(pdf) for glyph in page.glyphs) == text


def test_what_the_document_says_of_itself_may_have_any_letters() -> None:
    metadata = PdfReader(BytesIO(write_pdf(PAGES, FONTS, replace(HEADING, title="Żółw (1)", author="Ä \\ b"))), strict=True).metadata
    assert metadata is not None
    assert (metadata.title, metadata.author) == ("Żółw (1)", "Ä \\ b")


def test_a_letter_that_the_font_has_not_is_refused() -> None:
    run = replace(PAGES[0].runs[0], text="中")
    with pytest.raises(ValueError, match="no font draws"):
        write_pdf([replace(PAGES[0], runs=(run,))], FONTS, HEADING)
