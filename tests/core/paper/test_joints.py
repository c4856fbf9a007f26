"""No line breaks inside an amount, in any language. Strengths stay with their names wherever a line holds both."""

import itertools
from fractions import Fraction
from typing import cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.paper.fit import Block, fit_block, set_block
from dosewright.core.paper.joints import BIND, bind, is_kept, is_strength
from dosewright.core.paper.page import Face
from dosewright.core.paper.words import Para, amount, bold, kept, plain, tied
from dosewright.core.regimen.words.say_plain import PHRASEBOOKS
from dosewright.core.units.amount_words import NumberStyle, format_count
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.fonts import load_fonts

FONTS = load_fonts()
UNITS = [
    "tablet",
    "capsule",
    "pill",
    "lozenge",
    "sachet",
    "patch",
    "drop",
    "puff",
    "spray",
    "suppository",
    "pessary",
    "spoonful",
    "teaspoonful",
    "tablespoonful",
    "ampoule",
    "vial",
    "application",
    "unit",
    "dose",
    "measure",
    "piece",
    "mg",
    "microgram",
    "g",
    "mL",
    "mmol",
]
COUNTS = [Fraction(count) for count in ("1/4", "1/3", "1/2", "3/4", "1", "5/4", "3/2", "2", "11/4", "10", "25/2", "1000")]
SENTENCES = {"en": "Take {} at noon", "fr": "Prendre {} le matin", "es": "Tomar {} por la mañana", "de": "Einnehmen: {} morgens"}


@pytest.mark.parametrize("lang", PHRASEBOOKS)
def test_an_amount_in_a_sentence_is_one_word_in_every_language_and_style(lang: str) -> None:
    """ "UN comprimé" at a line's end with "et demi" on the next is half of a dose not taken."""
    styles: tuple[NumberStyle, ...] = ("digits", "words")
    every = itertools.product(UNITS, COUNTS, styles)
    said = {PHRASEBOOKS[lang].say_amount(Quantity(count, Unit(unit)), style) for unit, count, style in every} - {None}
    assert len(said) > 150
    before, after = SENTENCES[lang].split("{}")
    for words in said:
        assert bind(SENTENCES[lang].format(words)) == f"{before}{str(words).replace(' ', BIND)}{after}"


def test_an_amount_without_a_unit_is_one_word_too() -> None:
    """A label's shorter form says no unit: "ONE AND A HALF digoxin 62.5 micrograms"."""
    for count, style in itertools.product((Fraction(n, 24) for n in range(1, 240)), ("digits", "words")):
        words = format_count(count, cast(NumberStyle, style))
        assert " of " in words.lower() or " " not in bind(words)
        assert " " not in amount(words).text


@pytest.mark.parametrize(
    ("text", "bound"),
    [
        ("Take TWO puffs when needed. Do not take more than EIGHT puffs in 24 hours.", "TWO~puffs,EIGHT~puffs,24~hours."),
        ("Prendre UN comprimé et demi le matin et un demi-comprimé le soir", "UN~comprimé~et~demi,un~demi-comprimé"),
        ("Tomar UN comprimido y medio por la mañana y media cápsula al acostarse", "UN~comprimido~y~medio,media~cápsula"),
        ("1 und eine halbe Tablette morgens und eine dreiviertel Tablette abends", "1~und~eine~halbe~Tablette,eine~dreiviertel~Tablette"),
        ("A QUARTER of a tablet and three quarters of a puff", "A~QUARTER~of~a~tablet,three~quarters~of~a~puff"),
        ("Eine halbe Stunde vor dem Essen, in einem halben Glas Wasser", ""),
        ("DO NOT TAKE WITH GRAPEFRUIT", ""),
    ],
)
def test_what_is_bound_in_a_sentence(text: str, bound: str) -> None:
    assert ",".join(word for word in bind(text).replace(BIND, "~").split() if "~" in word) == bound


@pytest.mark.parametrize(
    ("before", "word", "read_together"),
    [
        ("metformin", f"500{BIND}mg", True),
        (f"2{BIND}March", "2026", True),
        ("4", "February", True),
        ("room", "12", True),
        ("lot", "K2207,", True),
        ("at", "least", True),
        ("A.", "Nwosu", True),
        ("1.", f"9{BIND}tablets", False),
        ("card:", f"9{BIND}tablets", False),
        ("B12", f"1{BIND}mg", True),
        ("metformin", "modified-release", False),
    ],
)
def test_what_is_read_together(before: str, word: str, read_together: bool) -> None:  # noqa: FBT001 - a row's own column
    assert is_kept(before, word) is read_together


@pytest.mark.parametrize(("word", "measured"), [(f"62.5{BIND}micrograms", True), (f"1,000{BIND}units,", True), (f"2{BIND}tablets", False)])
def test_a_strength_is_a_measured_amount(word: str, measured: bool) -> None:  # noqa: FBT001 - a row's own column
    assert is_strength(word) is measured


# Where lines break.

NAMES = st.lists(st.text("abcdefghijklmnopqrstuvwxyz-", min_size=3, max_size=16), min_size=1, max_size=4).map(" ".join)
STRENGTHS = st.sampled_from(["5 mg", "62.5 micrograms", "500 mg", "1,000 units"])
AMOUNTS = st.sampled_from(["HALF a tablet", "2 tablets", "ONE AND A HALF tablets"])
SIZE = 9.0


def lines_of(block: Block) -> list[str]:
    return [" ".join(piece.text for piece in line.pieces) for line in block.lines]


def width_of(text: str) -> float:
    font = FONTS.font_for(text, Face.REGULAR)
    assert font
    return font.width(text, SIZE)


def greedy(words: list[str], width: float, indent: float) -> list[str] | None:
    """Each line as full as it can be, as a typewriter fills it; None where a word is wider than a line."""
    lines: list[str] = []
    for word in words:
        if lines and width_of(f"{lines[-1]} {word}") + indent * (len(lines) > 1) <= width + 1e-9:
            lines[-1] += f" {word}"
        elif width_of(word) + indent * bool(lines) > width + 1e-9:
            return None
        else:
            lines.append(word)
    return lines


@given(NAMES, STRENGTHS, st.sampled_from(["", " modified-release", "; lot K2207"]), st.floats(20, 70))
def test_a_strength_leaves_its_name_only_where_no_line_holds_both_or_they_would_cost_a_line(
    name: str, strength: str, rest: str, width: float
) -> None:
    words = [*name.split(), strength.replace(" ", BIND) + rest[:1].strip(), *rest[1:].split()]
    block, free = set_block((Para((plain(f"{name} {strength}{rest}"),), SIZE, 7.0, indent=2.0),), width, FONTS), greedy(words, width, 2.0)
    assert (block is None) is (free is None)
    if block is None or free is None:
        return
    at = len(name.split())
    lines = lines_of(block)
    assert " ".join(lines) == " ".join(words)
    assert len(lines) == len(free)
    assert block.parted == any(line.split(" ")[0] == words[at] for line in lines[1:])
    if block.parted:
        together = greedy([*words[: at - 1], f"{words[at - 1]} {words[at]}", *words[at + 1 :]], width, 2.0)
        wide = width_of(f"{words[at - 1]} {words[at]}") > width - 2.0
        assert wide or together is None or len(together) > len(free)


@given(AMOUNTS, NAMES, STRENGTHS, st.floats(30, 70), st.booleans())
def test_an_amount_stays_with_its_medicine(much: str, name: str, strength: str, width: float, hard: bool) -> None:  # noqa: FBT001 - drawn
    named = plain(f"{name} {strength}")
    words = (bold(much), tied(named.text)) if hard else (amount(much), kept(named))
    block = set_block((Para(words, SIZE, 7.0, indent=2.0),), width, FONTS)
    if block is None:
        return
    first = f"{bind(much)} {name.split(maxsplit=1)[0]}"
    assert lines_of(block)[0].startswith(first) or not hard
    if not lines_of(block)[0].startswith(first):
        font = FONTS.font_for(much, Face.BOLD)
        assert font
        assert font.width(much, SIZE) + width_of(f" {name.split(maxsplit=1)[0]}") > width - 2.0


def test_type_a_little_smaller_keeps_a_strength_with_its_name_and_much_smaller_is_too_much() -> None:
    paras = (Para((bold("TWO tablets"), tied("paracetamol 500 mg")), SIZE, 5.0, indent=2.0),)
    whole = set_block(paras, 200, FONTS)
    assert whole is not None
    long = whole.lines[0].pieces[-1].x + whole.lines[0].pieces[-1].width
    for share, size, parted in ((1.0, 9.0, 0), (0.95, 8.25, 0), (0.8, 9.0, 1)):
        block = fit_block(paras, long * share + 0.01, 50, FONTS)
        assert block is not None
        assert (block.lines[0].size, block.parted) == (size, parted)
