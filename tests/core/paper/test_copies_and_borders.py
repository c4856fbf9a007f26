"""A further copy says so on every document; whoever could be taken for another is told apart on every sheet, not on labels only."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pypdfium2
import pytest
from tests.core.paper.home_sample import HOME, MADE, MANIFEST, MONDAY, NEIGHBOUR, NEIGHBOUR_MATERIAL, RECALL, month_of
from tests.core.paper.paper_sample import MATERIAL, PERSON, PERSON_PLAN, PHARMACY
from tests.core.paper.sheet_reading import pages_of, stops_of, text_of

from dosewright.core.paper import apart_marks
from dosewright.core.paper.alike import Apart
from dosewright.core.paper.border import Pattern
from dosewright.core.paper.check_sheet import draw_check
from dosewright.core.paper.copies import FIRST_COPY, Copy
from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.finish import Offered
from dosewright.core.paper.manifest import Manifest, draw_manifest
from dosewright.core.paper.material import Material, Supplier
from dosewright.core.paper.offer import offer_fill, offer_labels, offer_record
from dosewright.core.paper.offer_sheets import (
    offer_check,
    offer_manifest,
    offer_month,
    offer_notices,
    offer_person_sheet,
    offer_recall,
    offer_round,
)
from dosewright.core.paper.page import Page
from dosewright.core.paper.person_sheet import GIANT, LARGE, PersonSheet, draw_person_sheet
from dosewright.core.paper.printer import Correction, Printer
from dosewright.core.paper.record import draw_record
from dosewright.core.paper.round_list import RoundList, draw_round
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import PersonId

WHY = "the printer jammed"
APART = {PERSON.id: Apart(("Wilhelm Okonedo",), Pattern.TRIANGLES), NEIGHBOUR.id: Apart(("Benedict Strand",), Pattern.CHEQUERS)}
TOLD_APART = replace(MATERIAL, apart=APART)
BY = Supplier(PHARMACY, MATERIAL.fonts, "GB")
SHEET = PersonSheet(LARGE, "en", MADE)
MM = 25.4 / 72  # in a point


@pytest.mark.parametrize("offer", [offer_labels, offer_fill, offer_record], ids=["labels", "fill", "record"])
def test_every_page_of_a_further_copy_says_which_it_is_and_why(offer: Callable[[Material], Offered]) -> None:
    pages = pages_of(offer(replace(MATERIAL, copy=Copy(2, WHY))))
    assert pages
    assert all(f"Copy 2, printed because: {WHY}" in page for page in pages)
    assert not any("opy 2" in page for page in pages_of(offer(MATERIAL)))


@pytest.mark.parametrize(("number", "reason"), [(0, ""), (2, ""), (2, "  "), (1, "for no reason")])
def test_a_copy_that_cannot_be_is_refused(number: int, reason: str) -> None:
    with pytest.raises(ValueError, match=r"cop(y|ies)"):
        Copy(number, reason)
    assert Copy() == FIRST_COPY


def round_of(material: Material) -> RoundList:
    return RoundList("The Lindens", MONDAY, MADE, (material, replace(NEIGHBOUR_MATERIAL, apart=material.apart)))


def manifest_with(apart: dict[PersonId, Apart]) -> Manifest:
    return replace(MANIFEST, parcels=tuple(replace(parcel, apart=apart.get(parcel.person.id)) for parcel in MANIFEST.parcels))


Drawing = tuple[tuple[Page, ...], tuple[Finding, ...]]
DRAWN: dict[str, Callable[[Material], Drawing]] = {
    "fill": lambda material: draw_fill(PERSON_PLAN, material),
    "record": lambda material: draw_record(PERSON_PLAN, material, MADE),
    "check": lambda material: draw_check(PERSON_PLAN, material, MADE),
    "person": lambda material: draw_person_sheet(PERSON_PLAN, material, SHEET),
    "giant": lambda material: draw_person_sheet(PERSON_PLAN, material, PersonSheet(GIANT, "en", MADE)),
    "round": lambda material: draw_round(round_of(material)),
    "manifest": lambda material: draw_manifest(manifest_with(dict(material.apart)), BY),
}


@pytest.mark.parametrize("sheet", DRAWN)
def test_somebody_alike_has_the_name_in_large_print_and_a_border_on_every_page_of_every_sheet(sheet: str) -> None:
    """Coroner's report to prevent future deaths, Berkshire 2024: the two packs differed by one small label in small type."""
    pages, _ = DRAWN[sheet](TOLD_APART)
    assert pages
    for page in pages:
        name = [run for run in page.runs if "Okonedo-Hart" in run.text and run.text in PERSON.name]
        if sheet == "round" and not name:
            continue  # a dosing time at which this person has nothing
        assert all(run.size >= 18.0 and run.floor >= 18.0 for run in name), sheet
        assert any(figure.shapes for figure in page.figures), sheet
    plain, _ = DRAWN[sheet](MATERIAL)
    assert not any(page.figures for page in plain)


OFFERED: dict[str, Callable[[Material], Offered]] = {
    "fill": offer_fill,
    "record": offer_record,
    "month": lambda material: offer_month([month_of(replace(NEIGHBOUR_MATERIAL, apart=material.apart))], "March 2026", MADE),
    "check": lambda material: offer_check(material, MADE),
    "person": lambda material: offer_person_sheet(material, SHEET),
    "round": lambda material: offer_round(round_of(material)),
    "manifest": lambda material: offer_manifest(manifest_with(dict(material.apart)), replace(BY, printer=material.printer)),
}


@pytest.mark.parametrize("sheet", OFFERED)
def test_a_sheet_with_borders_is_read_back_whole_and_recounted(sheet: str) -> None:
    offered = OFFERED[sheet](TOLD_APART)
    assert stops_of(offered) == set()
    assert offered.pdf


PRINTER = Printer("upstairs", 300, Correction(Fraction(101, 100), Fraction(99, 100), Fraction(1, 2), Fraction(-1, 3)))
FOR_PRINTER: dict[str, Callable[[Material], Offered]] = {
    **OFFERED,
    "month": lambda material: offer_month([month_of(replace(NEIGHBOUR_MATERIAL, printer=material.printer))], "March 2026", MADE),
    "recall": lambda material: offer_recall(RECALL, replace(BY, printer=material.printer)),
    "notices": lambda material: offer_notices(RECALL, replace(BY, printer=material.printer)),
}


@pytest.mark.parametrize("sheet", FOR_PRINTER)
def test_every_sheet_is_put_right_for_its_printer(sheet: str) -> None:
    as_drawn, moved = FOR_PRINTER[sheet](MATERIAL), FOR_PRINTER[sheet](replace(MATERIAL, printer=PRINTER))
    assert stops_of(moved) == set()
    assert moved.pdf != as_drawn.pdf
    assert text_of(moved) == text_of(as_drawn)
    for before, after in zip(corners_of(as_drawn), corners_of(moved), strict=True):
        assert after == pytest.approx(PRINTER.correction.place(*before), abs=0.1)


def corners_of(offered: Offered) -> list[tuple[float, float]]:
    """Where the first and the last letter of each page begin, in millimetres from the upper left corner, as PDFium finds them."""
    document = pypdfium2.PdfDocument(offered.pdf)
    found = []
    for page in document:
        text = page.get_textpage()
        for at in (0, text.count_chars() - 1):
            left, bottom, _, _ = text.get_charbox(at)
            found.append((left * MM, (page.get_height() - bottom) * MM))
    document.close()
    return found


BARE = replace(MATERIAL.request, people=(replace(PERSON, born=None, home=None, room="", address=""),))


@pytest.mark.parametrize("sheet", ["record", "check", "person"])
def test_somebody_alike_without_a_second_identifier_has_no_sheet(sheet: str, monkeypatch: pytest.MonkeyPatch) -> None:
    bare = replace(TOLD_APART, request=BARE)
    offered = OFFERED[sheet](bare)
    assert offered.left_out == (PERSON.id,)
    assert "paper.alike-without-second-identifier" in stops_of(offered)
    # The check switched off: the sheet would be printed.
    monkeypatch.setattr(apart_marks, "second_identifiers", lambda *_: "something")
    assert OFFERED[sheet](bare).pdf


def test_on_a_round_list_such_a_person_is_named_and_holds_up_nobody_else() -> None:
    offered = offer_round(round_of(replace(TOLD_APART, request=BARE)))
    assert offered.left_out == (PERSON.id,)
    assert "ask the pharmacy before giving anything: Wilhelmina Okonedo-Hart." in text_of(offered)
    assert "Benedikt Strand" in text_of(offered)


def test_a_name_too_long_for_its_place_on_a_round_list_gets_the_row_and_is_not_cut() -> None:
    name = "Bartholomew Featherstonehaugh-Cholmondeley-Warrington"
    long = replace(TOLD_APART, request=replace(MATERIAL.request, people=(replace(PERSON, name=name),)))
    offered = offer_round(round_of(long))
    assert stops_of(offered) == set()
    assert name in text_of(offered)


def test_the_round_list_of_a_home_where_nobody_is_alike_is_as_it_was() -> None:
    assert not any(page.figures for page in draw_round(RoundList("The Lindens", MONDAY, MADE, HOME))[0])
