"""Tagged PDF, read by pypdf, which neither wrote it nor reads it back in the product. Source: ISO 32000-1, 14.7 and 14.8."""

import itertools
from dataclasses import replace
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader
from tests.core.paper.paper_sample import CARD, MATERIAL, PERSON, PERSON_PLAN, REQUEST
from tests.core.paper.written_names import NAMES

from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.page import Page
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.record import draw_record

HEADING = Heading("Card labels, 7 days from 2026-03-02", "Tern Street Pharmacy", "plan", "en")
DRAWS = [draw_labels, draw_fill, draw_record]


def read(pages: tuple[Page, ...]) -> PdfReader:
    return PdfReader(BytesIO(write_pdf(pages, MATERIAL.fonts, HEADING)))


def root_of(reader: PdfReader) -> Any:
    """The catalog; pypdf gives its entries no narrower type."""
    return reader.root_object


def sections(reader: PdfReader) -> list[Any]:
    tree = root_of(reader)["/StructTreeRoot"]
    assert tree["/Type"] == "/StructTreeRoot"
    whole = tree["/K"].get_object()
    assert whole["/S"] == "/Document"
    return [section.get_object() for section in whole["/K"]]


@pytest.mark.parametrize("draw", DRAWS)
def test_a_document_says_that_it_is_tagged_its_title_and_its_language(draw: Any) -> None:
    reader = read(draw(PERSON_PLAN, MATERIAL)[0])
    root = root_of(reader)
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert root["/Lang"] == "en"
    assert reader.metadata
    assert reader.metadata.title == HEADING.title


@pytest.mark.parametrize("draw", DRAWS)
def test_every_page_has_a_section_and_every_marked_stretch_one_owner(draw: Any) -> None:
    pages = draw(PERSON_PLAN, MATERIAL)[0]
    reader = read(pages)
    found = sections(reader)
    assert len(found) == len(pages) == len(reader.pages)
    nums = root_of(reader)["/StructTreeRoot"]["/ParentTree"]["/Nums"]
    for number, (section, page, meant) in enumerate(zip(found, reader.pages, pages, strict=True)):
        assert [str(page["/StructParents"]), str(page["/Tabs"])] == [str(number), "/S"]
        elements = [element.get_object() for element in section["/K"]]
        marks = [mark for element in elements for mark in element["/K"]]
        assert sorted(marks) == list(range(len(marks)))
        owners = [owner.get_object() for owner in nums[2 * number + 1]]
        assert all(mark in owners[mark]["/K"] for mark in marks)
        assert [element["/S"] for element in elements].count("/Figure") == len(meant.codes)
        assert all(element["/Pg"].get_object() == page.get_object() for element in elements)
        content = page.get_contents()
        assert content is not None
        data = content.get_data()
        assert data.count(b"BDC") + data.count(b"BMC") == data.count(b"EMC") == len(marks) + 1


def test_a_codes_figure_says_its_number() -> None:
    figures = [e.get_object() for e in sections(read(draw_labels(PERSON_PLAN, MATERIAL)[0]))[0]["/K"] if e.get_object()["/S"] == "/Figure"]
    assert [figure["/Alt"] for figure in figures] == [f"code of number {CARD.number}"]


def test_the_text_of_a_cavitys_label_is_one_paragraph() -> None:
    pages = draw_labels(PERSON_PLAN, MATERIAL)[0]
    paragraphs = [e for e in sections(read(pages))[0]["/K"] if e.get_object()["/S"] == "/P"]
    boxes = [run.box for run in pages[0].runs]
    assert len(paragraphs) == 1 + sum(one != other for one, other in itertools.pairwise(boxes))


def test_a_shaped_name_is_read_aloud_as_it_is_written() -> None:
    material = replace(MATERIAL, request=replace(REQUEST, people=(replace(PERSON, name=NAMES["Hebrew"]),)))
    content = read(draw_fill(PERSON_PLAN, material)[0]).pages[0].get_contents()
    assert content is not None
    said = f"/ActualText <feff{NAMES['Hebrew'].encode('utf-16-be').hex()}> /MCID"
    assert said.encode() in content.get_data()
