"""CSV is read strictly: RFC 4180, a header, every row as wide as it, every fault with its line."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.interop.csv_text import CsvError, parse_csv

COLUMNS = ("one", "two", "three")

REFUSED = [
    pytest.param("", 1, "empty", id="empty"),
    pytest.param("\n\n", 1, "empty", id="blank lines only"),
    pytest.param("one;two\n1;2\n", 1, "semicolons", id="semicolons"),
    pytest.param("one,four\n1,2\n", 1, '"four"', id="an unknown column"),
    pytest.param("one,two,two\n1,2,3\n", 1, "twice", id="a column twice"),
    pytest.param("two,three\n1,2\n", 1, '"one" is missing', id="a column missing"),
    pytest.param("one,two\n1,2\n1\n", 3, "1 fields, the header 2", id="a field too few"),
    pytest.param("one,two\n1,2,3\n", 2, "3 fields, the header 2", id="a field too many"),
    pytest.param('one,two\n"a\nb",2\n1,2,3\n', 4, "3 fields", id="a line break inside a field counts as a line"),
    pytest.param('one,two\n1,2\n"open,2\n', 3, "quote", id="a quote that does not close"),
    pytest.param('one,two\n"a"b,2\n', 2, "quote", id="letters behind a closed quote"),
    pytest.param("one,two\n1,\0\n", 2, "NUL", id="NUL"),
    pytest.param(f"one,two\n{'x' * 20000},2\n", 2, "20000 characters", id="a field without end"),
    pytest.param(f"one,two\n{'x' * 200000},2\n", 2, "cannot be split", id="a field beyond what a reader holds"),
    pytest.param(" One,two\n1,2\n", 1, '"One"', id="capitals"),
]


@pytest.mark.parametrize(("text", "line", "said"), REFUSED)
def test_what_is_not_the_table_is_refused_with_its_line(text: str, line: int, said: str) -> None:
    with pytest.raises(CsvError) as caught:
        parse_csv(text, COLUMNS, {"one"})
    assert caught.value.line == line
    assert said in caught.value.reason


def test_rows_come_with_the_line_they_begin_on() -> None:
    rows = parse_csv('one,two\r\n"a\nb",2\r\n\r\n1,"say ""x"""\r\n', COLUMNS, {"one"})
    assert [(row.line, row["one"], row["two"], row["three"]) for row in rows] == [(2, "a\nb", "2", ""), (5, "1", 'say "x"', "")]


FIELDS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12)


@given(st.lists(st.tuples(FIELDS, FIELDS, FIELDS).filter(lambda row: any(field.strip() for field in row)), max_size=6))
def test_what_a_writer_wrote_is_read_back(rows: list[tuple[str, str, str]]) -> None:
    out = io.StringIO(newline="")
    csv.writer(out).writerows([COLUMNS, *rows])
    assert [tuple(row[name] for name in COLUMNS) for row in parse_csv(out.getvalue(), COLUMNS, {"one"})] == [
        tuple(field.strip() for field in row) for row in rows
    ]
