"""Names in scripts that join, stack or run from right to left are shaped, drawn as outlines, and read back; what would be a guess stops.

That the letters look right is judged by a browser: `tests/journeys/test_written_names.py`.
"""

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.paper.paper_sample import MATERIAL, PERSON, PERSON_PLAN, REQUEST
from tests.core.paper.written_names import NAMES

from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.fit import fit_block, place_block
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material
from dosewright.core.paper.outlined import outlined_runs
from dosewright.core.paper.page import Face, Page, Rect
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.readback import check_pdf
from dosewright.core.paper.record import draw_record
from dosewright.core.paper.shaping import ShapedFont, mixes_directions, needs_shaping, stretches
from dosewright.core.paper.words import Para, given_bold
from dosewright.core.units.finding import Finding, blocks
from dosewright.devices.fonts import load_fonts

FONTS = load_fonts()
HEADING = Heading("Names", "Tern Street Pharmacy", "plan", "en")
Draw = Callable[[PersonPlan, Material], tuple[tuple[Page, ...], tuple[Finding, ...]]]


def named(name: str) -> Material:
    return replace(MATERIAL, request=replace(REQUEST, people=(replace(PERSON, name=name),)))


@pytest.mark.parametrize("script", NAMES)
def test_a_name_is_on_every_fill_sheet_and_the_finished_pdf_is_as_meant(script: str) -> None:
    pages, findings = draw_fill(PERSON_PLAN, named(NAMES[script]))
    assert not blocks(findings)
    assert all(list(outlined_runs(page, FONTS)) for page in pages)
    assert check_pdf(write_pdf(pages, FONTS, HEADING), pages, FONTS) == ()


@pytest.mark.parametrize("draw", [draw_labels, draw_record])
@pytest.mark.parametrize("script", ["Arabic", "Devanagari"])
def test_other_sheets_bear_it_too(draw: Draw, script: str) -> None:
    pages, findings = draw(PERSON_PLAN, named(NAMES[script]))
    assert not blocks(findings)
    assert check_pdf(write_pdf(pages, FONTS, HEADING), pages, FONTS) == ()


def name_page(name: str) -> Page:
    block = fit_block((Para((given_bold(name),), 18.0, 14.0),), 120.0, 60.0, FONTS)
    assert block
    return Page(150.0, 90.0, (), runs=place_block(block, 15.0, 15.0, Rect(10, 10, 130, 70)))


def codes(drawn: Page, meant: Page) -> set[str]:
    return {finding.code for finding in check_pdf(write_pdf([drawn], FONTS, HEADING), [meant], FONTS)}


@pytest.mark.parametrize("script", NAMES)
def test_the_whole_name_is_there_and_nothing_else(script: str) -> None:
    page = name_page(NAMES[script])
    assert " ".join(run.text for run in page.runs) == given_bold(NAMES[script]).text
    assert codes(page, page) == set()


OTHERS = [  # one letter other, a mark less, two letters changed about: as a font that shapes wrongly would draw it
    ("محمد الحسيني", "مجمد الحسيني"),
    ("שרה לוי", "שדה לוי"),
    ("श्रीकृष्ण त्रिवेदी", "श्रीकृष्ण त्रिवेदि"),
    ("สมศักดิ์", "สมศักดิ"),
    ("M̈arika X̌ǫ́", "Marika X̌ǫ́"),
]


@pytest.mark.parametrize(("meant", "drawn"), OTHERS)
def test_other_letters_than_meant_are_refused(meant: str, drawn: str) -> None:
    assert "paper.figure-differs" in codes(name_page(drawn), name_page(meant))


def test_letters_drawn_one_by_one_are_refused() -> None:
    """Arabic letters in their separate forms, in the order in which they are typed: what a program without shaping prints."""
    meant = name_page("محمد")
    run, font = meant.runs[0], FONTS.font_for("محمد", Face.BOLD)
    assert isinstance(font, ShapedFont)
    x, runs = run.x, []
    for letter in "محمد":
        runs.append(replace(run, text=letter, x=x, width=font.width(letter, run.size)))
        x += runs[-1].width
    assert "paper.figure-differs" in codes(replace(meant, runs=tuple(runs)), meant)


def test_a_name_that_was_not_drawn_is_refused() -> None:
    page = name_page("שרה לוי")
    assert codes(replace(page, runs=()), page) == {"paper.figure-differs"}


def test_a_name_that_nobody_asked_for_is_refused() -> None:
    page = name_page("שרה לוי")
    assert codes(page, replace(page, runs=())) == {"paper.figure-differs", "paper.ink-nobody-asked-for"}


def test_a_name_below_its_floor_or_outside_its_box_is_refused() -> None:
    page = name_page("שרה לוי")
    low = replace(page, runs=tuple(replace(run, floor=run.size + 1) for run in page.runs))
    narrow = replace(page, runs=tuple(replace(run, box=Rect(run.x, 10, run.width / 2, 70)) for run in page.runs))
    assert codes(low, low) == {"paper.size-differs"}
    assert codes(narrow, narrow) == {"paper.outside-its-box"}


@pytest.mark.parametrize("word", ["Aמ", "מ1", "م٣", "zero\u200bwidth", "a\u202eb", "\u2066x"])
def test_which_letter_stands_where_is_never_guessed(word: str) -> None:
    assert mixes_directions(word)


@pytest.mark.parametrize("word", ["שרה", "می‌خواهم", "O’Brien", "(דוד)", "अनीता", "M̈arika"])
def test_words_of_one_direction_are_taken_as_they_are(word: str) -> None:
    assert not mixes_directions(word)


def test_words_that_run_from_right_to_left_stay_together_and_others_do_not() -> None:
    assert list(stretches("Sara שרה לוי of Haifa")) == ["Sara", "שרה לוי", "of", "Haifa"]
    assert list(stretches("अनीता शर्मा")) == ["अनीता", "शर्मा"]


@given(st.lists(st.sampled_from(["Sara", "שרה", "לוי", "محمد", "अनीता", "of", "–"]), min_size=1, max_size=8))
def test_cutting_into_stretches_loses_no_word(words: list[str]) -> None:
    text = " ".join(words)
    assert " ".join(stretches(text)) == text


@given(st.text(st.characters(codec="ascii"), max_size=30))
def test_plain_letters_are_never_shaped(text: str) -> None:
    assert not needs_shaping(text)
