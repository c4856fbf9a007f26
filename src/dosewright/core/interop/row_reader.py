"""One CSV row's fields → values, with a finding for every field that is wrong. The caller asks at the end whether the row may be used.

Each finding names file, line and field, what stands there, and (by its code) what would be right. Amounts are exact; days are ISO 8601.
"""

import re
from datetime import date, time, timedelta
from fractions import Fraction

from dosewright.core.interop.characters import find_forbidden, shown, starts_like_a_formula
from dosewright.core.interop.csv_text import CsvRow
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["EARLIEST_DAY", "LATEST_DAY", "RowReader"]

EARLIEST_DAY = date(1880, 1, 1)  # before the birth of anyone alive
LATEST_DAY = date(2100, 1, 1)
_DECIMAL = re.compile(r"\d{1,9}(\.\d{1,9})?")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_MOMENT = re.compile(r"(\d{4}-\d{2}-\d{2})(?:[T ](\d{2}:\d{2}))?")


class RowReader:
    """Reads one row of one file; `findings` grows as fields turn out wrong. `where` is what every finding of this row names."""

    def __init__(self, file: str, row: CsvRow, **where: Fact) -> None:
        self._row = row
        self._where: dict[str, Fact] = {"file": file, "line": row.line, **where}
        self.findings: list[Finding] = []

    @property
    def usable(self) -> bool:
        """Whether nothing wrong was found so far."""
        return not self.findings

    def fault(self, column: str, code: str, **facts: Fact) -> None:
        """Add a finding about a field."""
        self.findings.append(Finding(code, Severity.STOP, self.place(column), {"value": shown(self._row[column]), **facts}))

    def place(self, column: str) -> dict[str, Fact]:
        """Where a field stands."""
        return {**self._where, "field": column}

    def text(self, column: str, longest: int = 200, *, required: bool = False, breaks: bool = False) -> str:
        """The field as it stands, "" with a finding where it may not be used. `breaks`: line breaks may stand inside."""
        value = self._row[column]
        if not value:
            if required:
                self.fault(column, "field.missing")
        elif len(value) > longest:
            self.fault(column, "field.too-long", length=len(value), longest=longest)
        elif forbidden := find_forbidden(value, breaks=breaks):
            self.fault(column, "field.forbidden-character", character=forbidden)
        elif not breaks and starts_like_a_formula(value):
            self.fault(column, "field.formula")
        else:
            return value
        return ""

    def day(self, column: str) -> date | None:
        """A day, None where the field is empty, or wrong (then with a finding)."""
        value = self._row[column]
        return self._day(column, value) if value else None

    def moment(self, column: str, *, last_day: bool = False) -> Moment | None:
        """A day, or a day and a clock time: "2026-03-02T12:00". A day alone begins at midnight; with `last_day` it counts whole."""
        value = self._row[column]
        if not value:
            return None
        found = _MOMENT.fullmatch(value)
        if found is None:
            self.fault(column, "field.not-a-day")
            return None
        day = self._day(column, found[1])
        clock = self._clock(column, found[2])
        if day is None or clock is None:
            return None
        return Moment(day + timedelta(days=1)) if last_day and not found[2] else Moment(day, clock)

    def amount(self, column: str, largest: int) -> Fraction | None:
        """An exact amount above zero and at most `largest`; None where the field is empty or wrong."""
        value = self._row[column]
        if not value:
            return None
        if not _DECIMAL.fullmatch(value):
            self.fault(column, "field.not-an-amount", largest=largest)
            return None
        amount = Fraction(value)
        if not 0 < amount <= largest:
            self.fault(column, "field.out-of-range", largest=largest)
            return None
        return amount

    def _day(self, column: str, value: str) -> date | None:
        try:
            day = date.fromisoformat(value) if _DAY.fullmatch(value) else None
        except ValueError:
            day = None
        if day is None:
            self.fault(column, "field.not-a-day")
        elif not EARLIEST_DAY <= day <= LATEST_DAY:
            self.fault(column, "field.day-out-of-range", earliest=EARLIEST_DAY, latest=LATEST_DAY)
            return None
        return day

    def _clock(self, column: str, value: str | None) -> time | None:
        try:
            return time.fromisoformat(value) if value else time(0, 0)
        except ValueError:
            self.fault(column, "field.not-a-day")
            return None
