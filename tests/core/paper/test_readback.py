"""The read-back: a true PDF passes, and every fault planted in the drawing is caught."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from io import BytesIO
from typing import Any

import pytest
from fontTools.ttLib import TTFont
from pypdf import PdfReader
from tests.core.paper.paper_sample import MATERIAL, PERSON_PLAN

from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.datamatrix import code_at
from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.fonts import Font, FontSet
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Face, Kind, Page, Place, Rect, Run
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.pdf_text import read_pages
from dosewright.core.paper.readback import check_pdf
from dosewright.core.paper.record import draw_record
from dosewright.core.paper.recount import LabelRecount
from dosewright.core.paper.shaping import needs_shaping
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber

FONTS = MATERIAL.fonts
HEADING = Heading("Card labels", "Tern Street Pharmacy", "plan", "en")
PAGES = draw_labels(PERSON_PLAN, MATERIAL)[0]


def codes(drawn: Sequence[Page], meant: Sequence[Page], fonts: FontSet = FONTS) -> set[str]:
    return {finding.code for finding in check_pdf(write_pdf(drawn, fonts, HEADING), meant, FONTS)}


def with_run(change: Callable[[Run], Run], pages: Sequence[Page] = PAGES, number: int = 5) -> tuple[Page, ...]:
    """The pages with one run of the first page changed."""
    runs = list(pages[0].runs)
    runs[number] = change(runs[number])
    return (replace(pages[0], runs=tuple(runs)), *pages[1:])


@pytest.mark.parametrize("draw", [draw_labels, draw_fill, draw_record])
def test_what_was_drawn_is_what_is_read(draw: Callable[[PersonPlan, Material], tuple[tuple[Page, ...], tuple[Finding, ...]]]) -> None:
    pages, findings = draw(PERSON_PLAN, MATERIAL)
    assert {finding.code for finding in findings} <= {"paper.no-cautions"}
    assert check_pdf(write_pdf(pages, FONTS, HEADING), pages, FONTS) == ()


def test_a_missing_page_is_caught() -> None:
    assert codes(PAGES[:-1], PAGES) == {"paper.page-count-differs"}


def test_a_page_of_another_size_is_caught() -> None:
    assert "paper.page-size-differs" in codes((replace(PAGES[0], width=215.9), *PAGES[1:]), PAGES)


@pytest.mark.parametrize("by", [0.2, -0.2, 3.0])
def test_text_moved_across_is_caught(by: float) -> None:
    assert codes(with_run(lambda run: replace(run, x=run.x + by)), PAGES)


@pytest.mark.parametrize("by", [0.2, -0.2, 3.0])
def test_text_moved_down_is_caught(by: float) -> None:
    assert "paper.text-differs" in codes(with_run(lambda run: replace(run, baseline=run.baseline + by)), PAGES)


def test_other_words_are_caught() -> None:
    assert "paper.text-differs" in codes(with_run(lambda run: replace(run, text=run.text[::-1])), PAGES)


def test_missing_words_are_caught() -> None:
    assert "paper.text-differs" in codes((replace(PAGES[0], runs=PAGES[0].runs[1:]), *PAGES[1:]), PAGES)


def test_words_that_nobody_asked_for_are_caught() -> None:
    extra = Run("2 tablets", 150.0, 285.0, 20.0, 9.0, 7.0, Face.REGULAR, Kind.MEDICINE, Rect(0, 0, 210, 297))
    assert "paper.text-nobody-asked-for" in codes((replace(PAGES[0], runs=(*PAGES[0].runs, extra)), *PAGES[1:]), PAGES)


def test_another_size_is_caught() -> None:
    assert codes(with_run(lambda run: replace(run, size=run.size * 0.98)), PAGES)


def test_another_weight_is_caught() -> None:
    regular = next(n for n, run in enumerate(PAGES[0].runs) if run.face is Face.REGULAR)
    assert codes(with_run(lambda run: replace(run, face=Face.BOLD), number=regular), PAGES)


def test_type_below_its_floor_is_caught() -> None:
    pages = with_run(lambda run: replace(run, floor=run.size + 1))
    assert codes(pages, pages) == {"paper.size-differs"}


def test_text_outside_its_box_is_caught() -> None:
    pages = with_run(lambda run: replace(run, box=Rect(run.x, run.box.top, run.width / 2, run.box.height)))
    assert codes(pages, pages) == {"paper.outside-its-box"}


def test_text_over_other_text_is_caught() -> None:
    first = PAGES[0].runs[0]
    pages = with_run(lambda run: replace(run, x=first.x + 2, baseline=first.baseline - 1.5, box=first.box), number=9)
    assert "paper.texts-overlap" in codes(pages, pages)


def test_a_wrong_code_is_caught() -> None:
    code = PAGES[0].codes[0]
    wrong = replace(PAGES[0], codes=(code_at("TS-20418", code.rect.right, code.rect.top, 203),))
    assert codes((wrong, *PAGES[1:]), PAGES) == {"paper.code-differs"}


def test_a_code_without_its_quiet_zone_is_caught() -> None:
    code = PAGES[0].codes[0]
    black = tuple(Place(Rect(code.rect.left - 1 + n * 0.1, code.rect.top - 1, 0.1, code.rect.height + 2)) for n in range(100))
    assert "paper.code-differs" in codes((replace(PAGES[0], places=black), *PAGES[1:]), PAGES)


@pytest.mark.parametrize(("one", "other"), [("6", "9"), ("5", "6"), ("1", "7"), ("m", "g"), ("0", "8")])
def test_a_wrong_glyph_map_is_caught(one: str, other: str) -> None:
    """The text layer is right, the ink is wrong: a person would read another number."""
    pdf = write_pdf(PAGES, swapped(one, other), HEADING)
    read = "".join(glyph.text for page in read_pages(pdf) for glyph in page.glyphs)
    assert "metformin 500 mg".replace(" ", "") in read.replace(" ", "")
    assert "paper.letter-differs" in {finding.code for finding in check_pdf(pdf, PAGES, FONTS)}


def swapped(one: str, other: str) -> FontSet:
    """The fonts with two letters drawn as each other."""
    return FontSet({face: tuple(_swap(font, one, other) for font in fonts) for face, fonts in FONTS.faces.items()})


@cache
def _swap(font: Font, one: str, other: str) -> Font:
    """The font's file with the glyphs of two letters exchanged, under the measures of the right one."""
    made, data = TTFont(BytesIO(font.data)), BytesIO()
    for glyphs in {id(table.cmap): table.cmap for table in made["cmap"].tables}.values():  # tables may share a map
        glyphs[ord(one)], glyphs[ord(other)] = glyphs[ord(other)], glyphs[ord(one)]
    made.save(data)
    return replace(font, name=f"{font.name}-{one}-{other}", data=data.getvalue(), remembered={})


def test_every_font_is_embedded() -> None:
    reader = PdfReader(BytesIO(write_pdf(PAGES, FONTS, HEADING)), strict=True)
    resources: Any = reader.pages[0]["/Resources"]
    fonts = [font.get_object() for font in resources["/Font"].values()]
    assert len(fonts) >= 2
    assert all(font["/FontDescriptor"]["/FontFile2"].get_data().startswith(b"\x00\x01\x00\x00") for font in fonts)
    assert all("Atkinson" in font["/BaseFont"] or "NotoSans" in font["/BaseFont"] for font in fonts)


def recounted(pages: Sequence[Page], plan: PersonPlan = PERSON_PLAN) -> list[Finding]:
    recount = LabelRecount.of((plan,), MATERIAL)
    read = read_pages(write_pdf(pages, FONTS, HEADING))
    found = [finding for page, seen in zip(pages, read, strict=True) for finding in recount.watch(page, seen)]
    return [*found, *recount.lacks()]


def test_the_recount_finds_the_plan_in_the_labels() -> None:
    assert recounted(PAGES) == []


def test_the_recount_finds_labels_that_the_drawing_mixed_up() -> None:
    """Drawing and pages agree here; only the plan tells that the evening's medicines stand under another day."""
    rows = {5: 2, 2: 5}
    cavities = tuple(
        replace(
            cavity,
            contents=next(c.contents for c in PERSON_PLAN.cards[0].cavities if (c.row, c.column) == (rows[cavity.row], cavity.column)),
        )
        if cavity.row in rows
        else cavity
        for cavity in PERSON_PLAN.cards[0].cavities
    )
    other = tuple(replace(cavity, contents=cavity.contents[1:]) if cavity.row == 3 else cavity for cavity in cavities)
    mixed = replace(PERSON_PLAN, cards=(replace(PERSON_PLAN.cards[0], cavities=other),))
    found = {(f.code, f.where["row"]) for f in recounted(draw_labels(mixed, MATERIAL)[0])}
    assert ("paper.label-lacks", 3) in found


def test_the_recount_finds_two_labels_of_a_column_exchanged() -> None:
    """Drawing and pages agree, and both labels say the same medicines: only their days stand in each other's place."""
    form = MATERIAL.request.format
    upper, lower = (float(form.cavity_label(row, 2).top) for row in (2, 3))
    left, by = float(form.cavity_label(2, 2).left), {upper: lower - upper, lower: upper - lower}
    runs = tuple(
        replace(run, baseline=run.baseline + by[run.box.top], box=replace(run.box, top=run.box.top + by[run.box.top]))
        if run.box.left == left and run.box.top in by
        else run
        for run in PAGES[0].runs
    )
    found = {(f.code, f.where["row"], f.where["column"]) for f in recounted((replace(PAGES[0], runs=runs), *PAGES[1:]))}
    assert found >= {("paper.label-lacks", 2, 2), ("paper.label-lacks", 3, 2)}
    assert {place[1:] for place in found} == {(2, 2), (3, 2)}


def test_the_recount_finds_a_medicine_that_is_not_in_the_cavity() -> None:
    card = PERSON_PLAN.cards[0]
    fewer = tuple(replace(c, contents=c.contents[:1]) if (c.row, c.column) == (1, 1) else c for c in card.cavities)
    plan = replace(PERSON_PLAN, cards=(replace(card, cavities=fewer),))
    found = recounted(PAGES, plan)
    assert {(f.code, f.where["row"], f.where["column"]) for f in found} == {("paper.label-has-more", 1, 1)}


def test_the_recount_finds_another_amount() -> None:
    card = PERSON_PLAN.cards[0]
    more = tuple(
        replace(c, contents=(replace(c.contents[0], quantity=c.contents[0].quantity.times(2)), *c.contents[1:]))
        if (c.row, c.column) == (1, 2)
        else c
        for c in card.cavities
    )
    found = recounted(PAGES, replace(PERSON_PLAN, cards=(replace(card, cavities=more),)))
    assert [(f.code, f.facts["text"]) for f in found] == [("paper.label-lacks", "4 tablets paracetamol 500 mg")]


def test_the_recount_finds_a_card_without_a_sheet() -> None:
    other = replace(PERSON_PLAN.cards[0], number=CardNumber("TS-99999"))
    found = recounted(PAGES, replace(PERSON_PLAN, cards=(*PERSON_PLAN.cards, other)))
    assert [f.code for f in found] == ["paper.card-without-sheet"]


def test_the_recount_finds_the_code_of_another_card() -> None:
    """The box is right, and so is the drawing of the code: only whose it is, is not."""
    code = PAGES[0].codes[0]
    wrong = replace(PAGES[0], codes=(code_at("TS-20418", code.rect.right, code.rect.top, 203),))
    assert [(f.code, f.facts["text"]) for f in recounted((wrong, *PAGES[1:]))] == [("paper.code-of-another", "TS-20418")]


def test_two_files_of_one_face_name_are_two_fonts() -> None:
    """A pharmacy that replaces a font file by a newer one gets the newer one, even in a process that has drawn with the older."""
    normal = write_pdf(PAGES, FONTS, HEADING)
    assert write_pdf(PAGES, swapped("6", "9"), HEADING) != normal
    assert write_pdf(PAGES, FONTS, HEADING) == normal


def test_lines_with_more_letters_than_a_font_of_one_byte_holds_are_drawn_whole() -> None:
    """A PDF font of this kind has 256 places: the rest of the line is in others."""
    font = FONTS.faces[Face.REGULAR][1]
    letters = [letter for letter in font.widths if "\u0390" <= letter <= "\u04ff" and not letter.isspace() and not needs_shaping(letter)][
        :300
    ]
    runs = []
    for n in range(0, len(letters), 30):
        text = "".join(letters[n : n + 30]) + letters[-1 - n] + letters[0]
        drawn_in = FONTS.font_for(text, Face.REGULAR)
        assert drawn_in
        width = drawn_in.width(text, 8.0)
        runs.append(Run(text, 10.0, 20.0 + n / 2, width, 8.0, 7.0, Face.REGULAR, Kind.GIVEN, Rect(5, 5, 200, 285)))
    page = Page(PAGES[0].width, PAGES[0].height, PAGES[0].about, tuple(runs))
    assert len({letter for run in runs for letter in run.text}) > 256
    assert codes((page,), (page,)) == set()
