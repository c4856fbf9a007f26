"""Notations on the published lists of those that are misread: read only where the trade has one reading of them in that country, and then
marked; else asked. Row by row over the safe-text rules that this product keeps for its own labels.

Sources: ISMP list of error-prone abbreviations, symbols and dose designations; Joint Commission "Do Not Use" list; Australian Commission on
Safety and Quality in Health Care, recommendations for terminology, abbreviations and symbols. Which reading is single where: pharmacy
practice, from memory.
"""

import pytest
from tests.core.regimen.reading.brief_form import in_brief

from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting

# row of the list | line | country | what it is read as; "" where it must be asked or refused | the mark, or the question
ROWS = [
    ("no trailing zero", "1.0 mg daily", "GB", "", "trailing-zero"),
    ("no trailing zero", "Take 5.0 tablets daily", "US", "", "trailing-zero"),
    ("leading zero", ".5 mg daily", "GB", "", "naked-decimal"),
    ("leading zero", "take .25 tablet nocte", "AU", "", "naked-decimal"),
    ("space between number and unit", "10mg daily", "GB", "10 mg x1/1d", "no-space"),
    ("space between number and unit", "1tab bd", "GB", "1 tablet x2/1d", "no-space"),
    ("space between number and unit", "10U at bedtime", "US", "", "run-together"),
    ("space between number and unit", "10mg5 daily", "GB", "", "unit-missing"),
    ("space between number and unit", "1Omg daily", "GB", "", "unknown-word"),
    ("space between number and unit", "l0mg daily", "GB", "", "unknown-word"),
    ("space between number and unit", "I0 mg daily", "GB", "", "unit-missing"),
    ("name and strength run together", "propranolol20 mg daily", "GB", "", "unknown-word"),
    ("thousands separator", "100000 units weekly", "US", "100000 unit x1/1wk", "error-prone"),
    ("thousands separator", "100,000 units weekly", "US", "100000 unit x1/1wk", None),
    ("units spelled", "10 U at bedtime", "US", "", "unit-abbreviation"),
    ("units spelled", "800 IU daily", "GB", "", "unit-abbreviation"),
    ("units spelled", "800 international units daily", "GB", "800 unit x1/1d", None),
    ("microgram", "25 ug daily", "US", "25 microgram x1/1d", "error-prone"),
    ("microgram", "25 µg daily", "GB", "25 microgram x1/1d", "error-prone"),
    ("microgram", "25 μg daily", "CA", "25 microgram x1/1d", "error-prone"),
    ("microgram", "25 mcg daily", "GB", "25 microgram x1/1d", "error-prone"),
    ("microgram", "25 mcg daily", "US", "25 microgram x1/1d", None),
    ("microgram", "25 micrograms daily", "GB", "25 microgram x1/1d", None),
    ("daily", "1 tab QD", "US", "1 tablet x1/1d", "error-prone"),
    ("daily", "1 tab q.d.", "US", "1 tablet x1/1d", "error-prone"),
    ("daily", "1 tab OD", "GB", "1 tablet x1/1d", "error-prone"),
    ("daily", "1 tab o.d.", "NZ", "1 tablet x1/1d", "error-prone"),
    ("daily", "1 tab OD", "US", "", "abbreviation"),
    ("daily", "1 tab o.d.", "CA", "", "abbreviation"),
    ("daily", "1 drop OD", "GB", "", "abbreviation"),
    ("alternate day", "1 tab QOD", "US", "1 tablet x1/2d", "error-prone"),
    ("alternate day", "1 tab eod", "GB", "1 tablet x1/2d", "error-prone"),
    ("bedtime", "1 tab HS", "US", "1 tablet x1/1d @HS", "error-prone"),
    ("bedtime", "1 tab qhs", "US", "1 tablet x1/1d @HS", "error-prone"),
    ("bedtime", "1 tab qn", "US", "1 tablet x1/1d @HS", "error-prone"),
    ("half", "1/2 tablet daily", "GB", "0.5 tablet x1/1d", "error-prone"),
    ("half", "1 1/2 tablets daily", "US", "1.5 tablet x1/1d", "error-prone"),
    ("half", "11/2 tablets daily", "US", "", "odd-fraction"),
    ("half", "1-1/2 tablets daily", "US", "", "run-together"),
    ("half", "ss tab daily", "US", "", "unknown-word"),
    ("half", "iss tabs daily", "US", "", "unknown-word"),
    ("Roman numerals", "ii tabs bd", "GB", "2 tablet x2/1d", "roman"),
    ("Roman numerals", "TT tabs po qhs", "US", "2 tablet x1/1d @HS", "roman"),
    ("Roman numerals", "V tablets daily", "GB", "", "unknown-word"),
    ("Roman numerals", "IV tabs daily", "GB", "", "no-quantity"),
    ("three times weekly", "1 tab TIW", "US", "1 tablet x3/1wk", "error-prone"),
    ("three times weekly", "1 tab BIW", "US", "", "abbreviation"),
    ("three times weekly", "1 tab biweekly", "GB", "", "abbreviation"),
    ("less and more than", "1 daily if pulse < 60", "GB", "", "unknown-word"),
    ("less and more than", "1 tablet < 5 daily", "GB", "", "condition"),
    ("less and more than", "1 tablet > 5 daily", "US", "", "condition"),
    ("@ & +", "1 tab @ 8am", "US", "1 tablet x1/1d @08:00", "error-prone"),
    ("@ & +", "1 tab mane & nocte", "AU", "1 tablet x2/1d @MORN,HS", "error-prone"),
    ("@ & +", "1 mane + 2 nocte", "GB", "1 x1/1d @MORN; 2 x1/1d @HS", "error-prone"),
    ("@ & +", "1+0+1", "GB", "1 x1/1d @MORN; 1 x1/1d @EVE", "pattern-places"),
    ("@ & +", "1+1 daily", "GB", "", "no-match"),
    ("drug abbreviations", "MS 10 mg bd", "US", "", "not-understood"),
    ("drug abbreviations", "10 mg MS bd", "US", "", "not-understood"),
    ("drug abbreviations", "MSO4 10 mg bd", "US", "", "unknown-word"),
    ("drug abbreviations", "MTX 10 mg weekly", "GB", "", "unknown-word"),
    ("drug abbreviations", "AZT 300 mg bd", "US", "", "unknown-word"),
    ("drug abbreviations", "HCTZ 25 mg daily", "US", "", "unknown-word"),
    ("drug abbreviations", "ISMN 20 mg bd", "GB", "", "unknown-word"),
    ("as directed", "1 tab daily UD", "US", "", "as-directed"),
    ("as directed", "MDU", "GB", "", "as-directed"),
    ("as directed", "Take one daily as directed", "GB", "", "as-directed"),
    ("as directed", "1 tab UAD", "US", "", "no-frequency"),
    ("slash", "25 units/10 units daily", "US", "", "not-understood"),
    ("slash", "1 tab Mon/Wed/Fri", "US", "1 tablet x1/1d on mon,wed,fri", "error-prone"),
    ("slash", "1 tab at 8am/8pm", "US", "1 tablet x2/1d @08:00,20:00", "error-prone"),
    ("slash", "1 bd/tds", "GB", "", "not-understood"),
    ("slash", "1 mane/nocte", "GB", "", "not-understood"),
    ("full stop after a unit", "5 mg. daily", "GB", "5 mg x1/1d", "error-prone"),
    ("full stop after a unit", "5 mL. daily", "US", "5 mL x1/1d", "error-prone"),
    ("lower-case l", "5 ml daily", "GB", "5 mL x1/1d", "error-prone"),
    ("lower-case l", "5 mL daily", "GB", "5 mL x1/1d", None),
    ("lower-case l", "l tablet daily", "GB", "", "unknown-word"),
    ("cc", "5 cc daily", "US", "5 mL x1/1d", "error-prone"),
    ("D/C", "1 tab D/C", "US", "", "unknown-word"),
    ("D/C", "1 tab daily then d/c", "US", "", "unknown-word"),
    ("spelled out", "1 tab BT", "US", "", "unknown-word"),
    ("spelled out", "SSRI 1 daily", "GB", "", "unknown-word"),
    ("spelled out", "10 units SSI", "US", "", "unknown-word"),
    ("spelled out", "1 tab per os daily", "US", "1 tablet x1/1d", "error-prone"),
    ("spelled out", "1 os daily", "US", "", "abbreviation"),
    ("spelled out", "2 drops AD bid", "US", "", "abbreviation"),
    ("spelled out", "2 drops AS bid", "US", "", "unknown-word"),
    ("spelled out", "2 drops AU bid", "US", "", "abbreviation"),
    ("spelled out", "1 tab daily x3d", "US", "1 tablet x1/1d for 3d", "error-prone"),
    ("spelled out", "10 units SC daily", "US", "10 unit x1/1d", "error-prone"),
]


@pytest.mark.parametrize(("row", "line", "country", "expected", "code"), ROWS, ids=[f"{row[0]}: {row[1]} {row[2]}" for row in ROWS])
def test_what_is_misread_is_read_where_it_has_one_meaning_and_marked_or_else_asked(
    row: str, line: str, country: str, expected: str, code: str | None
) -> None:
    reading = read(line, Setting("en", country))
    if expected:
        assert in_brief(reading).split() == expected.split(), row
        assert {note.code for note in reading.notes} & {f"read.{code}"} if code else not reading.notes, row
    else:
        assert reading.status is not ReadingStatus.READ, row
        assert f"read.{code}" in {question.code for question in reading.questions}, row


def test_every_row_of_the_list_is_here() -> None:
    assert len({row for row, *_ in ROWS}) == 23


DIGITS_AND_LETTERS = [
    "1O mg daily",
    "O.5 mg daily",
    "lO mg daily",
    "1l tablets daily",
    "2l tablets bd",
    "5O mg nocte",
    "I0 tablets daily",
    "o.5 mg bd",
]


@pytest.mark.parametrize("line", DIGITS_AND_LETTERS)
def test_a_letter_among_digits_is_never_taken_for_one(line: str) -> None:
    assert read(line, Setting("en", "GB")).status is not ReadingStatus.READ
