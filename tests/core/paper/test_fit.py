"""Fitting is measuring: lines keep to the width, no word is lost, cut or hyphenated, and what is bound stays on one line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.paper.fit import STEPS, Block, fit_block, line_height, place_block, set_block
from dosewright.core.paper.fonts import Font
from dosewright.core.paper.joints import BIND
from dosewright.core.paper.page import MM_PER_POINT, Face, Rect
from dosewright.core.paper.words import Para, bold, plain, tied
from dosewright.core.paper.words import given as as_given
from dosewright.devices.fonts import load_fonts

FONTS = load_fonts()
WORD = st.text(alphabet="abcdefghijklmnopqrstuvwxyzABCÉßżΩЖ0123456789,.-", min_size=1, max_size=18)
TEXTS = st.lists(WORD, min_size=1, max_size=40).map(" ".join)


def lines_of(block: Block) -> list[str]:
    return [" ".join(piece.text for piece in line.pieces) for line in block.lines]


def width_of(word: str, size: float) -> float:
    font = FONTS.font_for(word, Face.REGULAR)
    assert font
    return font.width(word, size)


@given(TEXTS, st.floats(30, 120), st.sampled_from(STEPS))
def test_lines_keep_to_the_width_and_hold_every_word_in_order(text: str, width: float, step: float) -> None:
    block = set_block((Para((as_given(text),), 12.0, 7.0),), width, FONTS, step)
    if block is None:
        widest = max(width_of(word, max(7.0, round(12.0 * step * 4) / 4)) for word in text.split())
        assert widest > width
        return
    assert " ".join(lines_of(block)).split() == text.split()
    assert all(line.pieces[-1].x + line.pieces[-1].width <= width + 1e-6 for line in block.lines)
    assert block.height == pytest.approx(len(block.lines) * line_height(block.lines[0].size))


@given(TEXTS, st.floats(20, 100), st.floats(5, 60))
def test_what_fits_is_never_below_its_floor_nor_higher_than_its_room(text: str, width: float, height: float) -> None:
    block = fit_block((Para((as_given(text),), 14.0, 8.0),), width, height, FONTS)
    if block is not None:
        assert block.height <= height + 1e-6
        assert all(8.0 <= line.size <= 14.0 for line in block.lines)


def test_larger_room_gives_larger_type() -> None:
    para = Para((plain("Take 1 tablet in the morning and 1 tablet in the evening."),), 12.0, 7.0)
    blocks = [fit_block((para,), 40, height, FONTS) for height in (10, 12, 16, 25)]
    sizes = [block.lines[0].size for block in blocks if block]
    assert len(sizes) == 4
    assert sizes == sorted(sizes)
    assert sizes[0] < sizes[-1] == 12.0


@given(st.integers(20, 90))
def test_an_amount_is_never_parted_from_its_unit_nor_from_its_medicine(width: int) -> None:
    block = set_block(
        (Para((bold("1 and a half tablets"), tied("quetiapine 50 mg modified-release")), 7.0, 7.0, indent=2.0),), width, FONTS
    )
    if block is None:
        return
    first = lines_of(block)[0].replace(BIND, " ")
    assert first.startswith("1 and a half tablets quetiapine")
    assert not any(line.replace(BIND, " ").endswith(" 50") for line in lines_of(block))


def test_a_word_wider_than_the_room_is_refused_not_cut() -> None:
    assert set_block((Para((as_given("Llanfairpwllgwyngyllgogerychwyrndrobwll"),), 12.0, 12.0),), 40, FONTS) is None


def test_line_spacing_is_between_25_and_30_percent() -> None:
    """USP <17>: line spacing 25 to 30 percent of the point size."""
    assert 1.25 <= line_height(10) / (10 * MM_PER_POINT) <= 1.30


def test_runs_are_placed_with_their_whole_letters_inside_the_block() -> None:
    box = Rect(10, 20, 60, 30)
    block = fit_block((Para((plain("Äpfel gären Žž, Ộ"),), 12.0, 7.0),), 60, 30, FONTS)
    assert block
    for run in place_block(block, box.left, box.top, box):
        font = FONTS.font_for(run.text, run.face)
        assert isinstance(font, Font)
        inks = [ink for letter in run.text if (ink := font.inks[letter])]
        scale = run.size * MM_PER_POINT / 1000
        assert run.baseline - max(ink[3] for ink in inks) * scale >= box.top
        assert run.baseline - min(ink[1] for ink in inks) * scale <= box.top + block.height
