"""How people write a count, on every screen that asks for one: read exactly, or asked for again in a sentence that names the field."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.units.quantity import format_amount
from dosewright.web.card_map import glyph
from dosewright.web.typed import CountedIn, NotACount, count_typed, counts_typed

HALF = Fraction(1, 2)
READ = [
    ("0", 0),
    ("2", 2),
    ("0012", 12),
    (" 3 ", 3),
    ("½", HALF),
    ("1/2", HALF),
    ("0.5", HALF),
    ("0,5", HALF),
    ("0.50", HALF),
    ("1½", 1 + HALF),
    ("1 ½", 1 + HALF),
    ("1 1/2", 1 + HALF),
    ("1.5", 1 + HALF),
    ("1,5", 1 + HALF),
    ("3/2", 1 + HALF),
    ("¼", Fraction(1, 4)),
    ("0.25", Fraction(1, 4)),
    ("2¾", 2 + Fraction(3, 4)),
    ("⅓", Fraction(1, 3)),
    ("1/3", Fraction(1, 3)),
    ("1⅔", 1 + Fraction(2, 3)),
    ("2.0", 2),
]
ASKED = [
    "",
    "half",
    "-1",
    "+1",
    ".5",
    "1.",
    "1e0",
    "1/0",
    "0/2",
    "1 3/2",
    "2 ½ ½",
    "½1",
    "1,5,0",
    "1 000",
    "1.5/2",
    "1//2",
    "٢",
    "²",
    "1²",
    "12345",
    "1/2/3",
    "½½",
    "0x1",
    "nan",
    "1 1",
    "1;2",
]
TWO_MEANINGS = ["1,500", "1.500", "12,000", "11/2", "21/2", "111/2"]
NO_PART = ["0.3", "0.1", "1.2", "0.33", "0.67", "1/5", "3/8", "0.125"]


@pytest.mark.parametrize(("typed", "count"), READ)
def test_a_count_is_read_as_it_is_meant(typed: str, count: Fraction | int) -> None:
    assert count_typed(typed) == count


@pytest.mark.parametrize("typed", ASKED)
def test_what_is_no_count_is_asked_for_again(typed: str) -> None:
    with pytest.raises(NotACount, match="is no count: write units as 2"):
        count_typed(typed)


@pytest.mark.parametrize("typed", TWO_MEANINGS)
def test_what_may_mean_two_things_is_never_guessed(typed: str) -> None:
    with pytest.raises(NotACount, match="may mean"):
        count_typed(typed)


@pytest.mark.parametrize("typed", NO_PART)
def test_what_no_unit_is_divided_into_is_refused(typed: str) -> None:
    with pytest.raises(NotACount, match="no half, third or quarter"):
        count_typed(typed)


PARTS = st.builds(
    lambda whole, part: whole + part, st.integers(0, 60), st.sampled_from([Fraction(n, d) for d in (1, 2, 3, 4) for n in range(d)])
)


@given(PARTS)
def test_a_count_is_read_as_the_screen_and_the_ledger_write_it(count: Fraction) -> None:
    whole, part = divmod(count, 1)
    mixed = f"{whole} {part}" if part and whole else str(count)
    assert count_typed(glyph(count)) == count_typed(mixed) == count
    if count.denominator != 3:
        assert count_typed(format_amount(count)) == count == count_typed(format_amount(count).replace(".", ","))


@given(st.text(max_size=8))
def test_nothing_but_a_count_or_a_question_comes_of_any_text(text: str) -> None:
    try:
        count = count_typed(text)
    except NotACount:
        return
    assert count >= 0
    assert count.denominator in {1, 2, 3, 4}


FIELDS = {at: CountedIn(f"c{at}", f"day {at}") for at in range(1, 7)}


def test_all_fields_are_named_in_one_sentence_the_first_few_by_where_they_are() -> None:
    typed = counts_typed({"c1": "1", "c2": "0.3", "c3": "x"}, FIELDS)
    assert typed.wrong == (
        "day 2: “0.3” is no half, third or quarter of a unit: write them as 0.5, 1/3 or 1/4; day 3: “x” is no count: write units as 2,"
        " halves as ½, 1/2 or 0.5. 3 of 6 not counted: day 4; day 5; day 6. Write 0 where there is nothing."
    )
    assert counts_typed({}, FIELDS).wrong.startswith("6 of 6 not counted: day 1; day 2; day 3; and 3 more.")
    assert counts_typed({f"c{at}": "½" for at in FIELDS}, FIELDS).counts == dict.fromkeys(FIELDS, HALF)
    assert counts_typed({f"c{at}": "½" for at in FIELDS}, FIELDS).wrong == ""
