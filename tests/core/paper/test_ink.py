"""What the places of letters in the file do not tell is seen in the picture: each renderer here is broken on purpose, and refused."""

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import time
from io import BytesIO

import pytest
from pypdf import PdfWriter
from pypdf.annotations import Rectangle
from pypdf.generic import DecodedStreamObject, NameObject, NumberObject
from tests.core.paper.paper_sample import MATERIAL, PERSON_PLAN
from tests.core.paper.test_readback import FONTS, HEADING, PAGES, codes

from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.page import MM_PER_POINT, Page
from dosewright.core.paper.pdf import write_pdf
from dosewright.core.paper.readback import check_pdf

PAGE = replace(PAGES[0], runs=(*PAGES[0].runs[:8], *PAGES[0].runs[-40:]))  # few letters, to be quick
PDF = write_pdf((PAGE,), FONTS, HEADING)
Change = Callable[[str], str]


def found_after(change: Change) -> set[str]:
    """Codes of what is found once the page's operators were changed."""
    writer = PdfWriter(clone_from=BytesIO(PDF))
    page, changed = writer.pages[0], DecodedStreamObject()
    contents = page.get_contents()
    assert contents is not None
    before = contents.get_data().decode("latin-1")
    assert change(before) != before
    changed.set_data(change(before).encode("latin-1"))
    page[NameObject("/Contents")] = writer._add_object(changed)
    return checked(writer)


def checked(writer: PdfWriter) -> set[str]:
    out = BytesIO()
    writer.write(out)
    return {finding.code for finding in check_pdf(out.getvalue(), (PAGE,), FONTS)}


def about_text(before: str, after: str, number: int = 2) -> Change:
    """Operators before and after one stretch of text."""

    def change(ops: str) -> str:
        parts = re.split(r"(BT\n.*?ET)", ops, flags=re.DOTALL)
        at = 2 * number + 1
        return "".join([*parts[:at], before, parts[at], after, *parts[at + 1 :]])

    return change


def box_of_text(number: int = 20) -> str:
    """The place of one run's first letters as an operand: left, lower edge, width, height, in points."""
    run = PAGE.runs[number]
    sides = (run.x, PAGE.height - run.baseline, run.width / 4, run.size * MM_PER_POINT * 0.7)
    return " ".join(f"{side / MM_PER_POINT:.2f}" for side in sides)


def resized_code(by: float) -> Change:
    return lambda ops: re.sub(r"q (\d+\.\d+) 0 0 \d+\.\d+ ", lambda m: f"q {float(m[1]) * by:.5f} 0 0 {float(m[1]) * by:.5f} ", ops)


def exchanged(ops: str) -> str:
    """The labels of two days of one column in each other's place: the drawing's two last but one stretches of text, 28 mm apart."""
    upper, lower = re.findall(r"BT\n.*?ET", ops, flags=re.DOTALL)[-3:-1]
    by = 28.0 / MM_PER_POINT
    return ops.replace(upper, "upper").replace(lower, moved(lower, by)).replace("upper", moved(upper, -by))


def moved(text: str, by: float) -> str:
    """The stretch of text so many points higher."""
    return re.sub(r" ([\d.]+) Tm", lambda found: f" {float(found[1]) + by:.3f} Tm", text)


LONG = "(Keep out of the sight and reach of children.)"

BROKEN: list[tuple[str, Change, str]] = [
    ("white text", about_text("1 g\n", "\n0 g"), "paper.text-not-as-black"),
    ("pale text", about_text("0.7 g\n", "\n0 g"), "paper.text-not-as-black"),
    ("text that is not painted", about_text("q 3 Tr\n", "\nQ"), "paper.text-not-as-black"),
    ("text cut off", about_text("q 0 0 1 1 re W n\n", "\nQ"), "paper.text-not-as-black"),
    ("text with an outline", about_text("q 2 Tr 2 w\n", "\nQ"), "paper.text-not-as-black"),
    ("text under a white rectangle", lambda ops: f"{ops}\n1 g {box_of_text()} re f", "paper.text-not-as-black"),
    ("text under a black rectangle", lambda ops: f"{ops}\n0 g {box_of_text()} re f", "paper.text-not-as-black"),
    ("text over a black rectangle", lambda ops: f"{box_of_text()} re f\n{ops}", "paper.text-not-as-black"),
    ("ink beside everything", lambda ops: f"{ops}\n300 20 3 3 re f", "paper.ink-nobody-asked-for"),
    ("no frames", lambda ops: ops.replace("/Frame Do", ""), "paper.line-missing"),
    ("frames 3 mm higher", lambda ops: ops.replace("/Frame Do", "q 1 0 0 1 0 8.5 cm /Frame Do Q"), "paper.line-missing"),
    ("a long line without its last letter", lambda ops: ops.replace(LONG, f"{LONG[:-2]})"), "paper.text-differs"),
    ("a long line without a letter inside", lambda ops: ops.replace(LONG, LONG.replace("sight", "siht")), "paper.text-differs"),
    ("a strength without its last digit", lambda ops: ops.replace("(50 mg modified", "(5 mg modified"), "paper.text-differs"),
    ("a long line without its first letter", lambda ops: ops.replace(LONG, f"({LONG[2:]}"), "paper.text-differs"),
    ("two labels of a column exchanged", exchanged, "paper.text-differs"),
    ("a code of 96 %", resized_code(0.96), "paper.code-elsewhere"),
    ("a code of 104 %", resized_code(1.04), "paper.code-elsewhere"),
]


@pytest.mark.parametrize(("change", "code"), [pytest.param(change, code, id=name) for name, change, code in BROKEN])
def test_a_broken_renderer_is_refused(change: Change, code: str) -> None:
    assert code in found_after(change)


@pytest.mark.parametrize("turn", [90, 180])
def test_a_turned_page_is_refused(turn: int) -> None:
    writer = PdfWriter(clone_from=BytesIO(PDF))
    writer.pages[0][NameObject("/Rotate")] = NumberObject(turn)
    assert "paper.ink-nobody-asked-for" in checked(writer)


def test_an_annotation_is_refused() -> None:
    writer = PdfWriter(clone_from=BytesIO(PDF))
    writer.add_annotation(0, Rectangle(rect=(300, 18, 330, 24), interior_color="ff0000"))
    assert "paper.ink-nobody-asked-for" in checked(writer)


@pytest.mark.parametrize("minutes", [120, -120, 240])
def test_a_dial_of_another_hour_is_refused(minutes: int) -> None:
    """By two hours and more; one hour is a millimetre at the tip of the smallest hand, beside the words that say it."""
    dial = PAGE.dials[0]
    at = dial.at.hour * 60 + dial.at.minute + minutes
    other = replace(PAGE, dials=(replace(dial, at=time(at // 60, at % 60)), *PAGE.dials[1:]))
    assert codes((other,), (PAGE,)) & {"paper.line-missing", "paper.ink-nobody-asked-for"}


def test_a_box_without_its_hatching_is_refused() -> None:
    place = replace(PAGE.places[0], rect=replace(PAGE.places[0].rect, top=200.0, height=10.0))
    empty = replace(PAGE, runs=(), codes=(), dials=(), places=(place,))
    hatched = replace(empty, places=(replace(place, shade=place.shade.HATCHED),))
    assert codes((empty,), (hatched,)) == {"paper.line-missing"}
    assert codes((hatched,), (empty,)) == {"paper.ink-nobody-asked-for"}
    assert codes((hatched,), (hatched,)) == set()


def test_one_page_twice_is_refused() -> None:
    """The count is right, and the second page is missing."""
    pages: tuple[Page, ...] = draw_fill(PERSON_PLAN, MATERIAL)[0][:2]
    assert len(pages) == 2
    assert "paper.text-differs" in codes((pages[0], pages[0]), pages)
