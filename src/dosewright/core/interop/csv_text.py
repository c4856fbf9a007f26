"""CSV text → rows by column name, strictly. Comes in: text. Goes out: rows with the line each begins on; or one sentence with its place.

Source: RFC 4180; a header is required. Refused: columns that are not known, missing or there twice; a row with more or fewer fields than
the header; quotes that do not close; NUL. Fields come without blanks around them.
"""

import csv
import io
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass

__all__ = ["CsvError", "CsvRow", "iter_csv", "parse_csv"]

_LONGEST_FIELD = 10_000  # characters; a direction has a few hundred


class CsvError(ValueError):
    """Text that is not the table asked for. `line` counts from 1; `reason` is a sentence without its place."""

    def __init__(self, line: int, reason: str) -> None:
        self.line = line
        self.reason = reason
        super().__init__(f"line {line}: {reason}")


@dataclass(frozen=True, slots=True)
class CsvRow:
    """One row: the line it begins on, counted from 1, and its fields by column; a column that the file leaves out is empty text."""

    line: int
    fields: dict[str, str]

    def __getitem__(self, column: str) -> str:
        return self.fields.get(column, "")


def parse_csv(text: str, columns: Sequence[str], required: Collection[str]) -> tuple[CsvRow, ...]:
    """The rows in order. `columns` are those known, `required` those that the header must name. Raises CsvError."""
    if "\0" in text:
        raise CsvError(text.count("\n", 0, text.index("\0")) + 1, "a NUL byte stands here; this is not a text file.")
    return tuple(iter_csv(io.StringIO(text, newline=""), columns, required))


def iter_csv(lines: Iterable[str], columns: Sequence[str], required: Collection[str]) -> Iterator[CsvRow]:
    """The same row by row, from lines with their ends as they stand: for files that are not held whole. NUL is the caller's to refuse."""
    rows = _rows(lines)
    first, header = next(rows, (1, []))
    _require_header(first, header, columns, required)
    for line, fields in rows:
        yield _row(line, header, fields)


def _rows(lines: Iterable[str]) -> Iterator[tuple[int, list[str]]]:
    """Rows with the line they begin on; blank lines are passed over."""
    reader = csv.reader(lines, strict=True)
    begins = 1
    try:
        for fields in reader:
            if any(field.strip() for field in fields):
                yield begins, [field.strip() for field in fields]
            begins = reader.line_num + 1
    except csv.Error as error:
        raise CsvError(begins, f"this row cannot be split into fields ({error}); every quote must close.") from error


def _require_header(line: int, header: list[str], columns: Sequence[str], required: Collection[str]) -> None:
    named = f"The columns are: {', '.join(columns)}."
    if not header:
        raise CsvError(line, f"the file is empty; it must begin with a header row. {named}")
    if len(header) == 1 and ";" in header[0]:
        raise CsvError(line, f"the fields are separated by semicolons; save the file with commas. {named}")
    if unknown := [name for name in header if name not in columns]:
        raise CsvError(line, f"unknown column {_quoted(unknown)}. {named}")
    if twice := sorted({name for name in header if header.count(name) > 1}):
        raise CsvError(line, f"column {_quoted(twice)} stands there twice.")
    if missing := [name for name in columns if name in required and name not in header]:
        raise CsvError(line, f"column {_quoted(missing)} is missing. {named}")


def _row(line: int, header: list[str], fields: list[str]) -> CsvRow:
    if len(fields) != len(header):
        raise CsvError(
            line, f"this row has {len(fields)} fields, the header {len(header)}; a comma inside a field needs quotes around the field."
        )
    for name, field in zip(header, fields, strict=True):
        if len(field) > _LONGEST_FIELD:
            raise CsvError(line, f"{name} has {len(field)} characters; at most {_LONGEST_FIELD} may stand in one field.")
    return CsvRow(line, dict(zip(header, fields, strict=True)))


def _quoted(names: Sequence[str]) -> str:
    return ", ".join(f'"{name}"' for name in names)
