"""One element of a FHIR resource, read name by name: what was not asked for at the end is reported, never skipped.

Comes in: a JSON value and its path. Goes out: typed values; everything wrong goes into a shared list of findings, with the path. A
`modifierExtension` stops the reading; an extension that is not understood stops it inside a timing and is a question elsewhere.
Source: HL7 FHIR R4 (4.0.1), JSON representation, primitive types, extensibility.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta, timezone
from decimal import Decimal
from fractions import Fraction
from typing import TypeVar

from dosewright.core.interop.json_text import JsonValue
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["Element", "parse_date_time", "parse_time"]

_Kind = TypeVar("_Kind")

_DATE_TIME = re.compile(
    r"(\d{4})(?:-(\d\d)(?:-(\d\d)(?:T(\d\d):(\d\d)(?::(\d\d)(?:\.(\d{1,9}))?)?(Z|[+-]\d\d:\d\d)?)?)?)?",
    re.ASCII,
)
_TIME = re.compile(r"(\d\d):(\d\d)(?::(\d\d)(?:\.(\d{1,9}))?)?", re.ASCII)
_LARGEST_INTEGER = 2**31 - 1  # FHIR integer


@dataclass(slots=True)
class Element:
    """A JSON object at `path`. `strict`: an extension that is not understood stops the reading (inside a timing)."""

    value: JsonValue
    path: str
    findings: list[Finding]
    strict: bool = False
    _object: dict[str, JsonValue] = field(init=False, default_factory=dict)
    _asked: set[str] = field(init=False, default_factory=lambda: {"id"})

    def __post_init__(self) -> None:
        if isinstance(self.value, dict) and self.value:
            self._object = self.value
        else:
            self.stop("fhir.not-an-object")

    def stop(self, code: str, **facts: Fact) -> None:
        """Report what makes the element unusable."""
        self.findings.append(Finding(code, Severity.STOP, {"path": self.path}, facts))

    def ask(self, code: str, **facts: Fact) -> None:
        """Report what a person must look at."""
        self.findings.append(Finding(code, Severity.DECIDE, {"path": self.path}, facts))

    def has(self, name: str) -> bool:
        return name in self._object

    def raw(self, name: str) -> JsonValue:
        """The value of that name, whatever it is; it then counts as read."""
        self._asked.add(name)
        return self._object.get(name)

    def text(self, name: str) -> str:
        """A string with something in it, or "" where there is none."""
        found = self._typed(name, str)
        if found is not None and not found.strip():
            self.stop("fhir.empty", element=name)
        return found or ""

    def boolean(self, name: str) -> bool | None:
        return self._typed(name, bool)

    def integer(self, name: str, least: int) -> int | None:
        """A whole number, not below `least`."""
        found = self.raw(name)
        if not self.has(name):
            return None
        if isinstance(found, bool) or not isinstance(found, int):
            self._wrong(name, "a whole number")
            return None
        if not least <= found <= _LARGEST_INTEGER:
            self._wrong(name, f"a whole number from {least} up")
            return None
        return found

    def decimal(self, name: str) -> Fraction | None:
        """A number, exactly."""
        found = self.raw(name)
        if not self.has(name):
            return None
        if isinstance(found, bool) or not isinstance(found, int | Decimal):
            self._wrong(name, "a number")
            return None
        return Fraction(found)

    def code(self, name: str, allowed: Mapping[str, Fact] | frozenset[str]) -> str:
        """One of the codes of a required value set, or "" where there is none."""
        found = self.text(name)
        if found and found not in allowed:
            self.stop("fhir.unknown-code", element=name, value=found)
        return found if found in allowed else ""

    def members(self, name: str) -> list[JsonValue]:
        """The members of a list; none where the name is missing."""
        found = self.raw(name)
        if not self.has(name):
            return []
        if not isinstance(found, list) or not found:
            self._wrong(name, "a list with something in it")
            return []
        return found

    def each(self, name: str, parse: Callable[[str], object | None]) -> list[object]:
        """The members of a list of strings, each parsed; one that cannot be is reported."""
        parsed = [(member, parse(member) if isinstance(member, str) else None) for member in self.members(name)]
        for member, value in parsed:
            if value is None:
                self.stop("fhir.wrong-value", element=name, value=_shown(member), wanted="a valid value")
        return [value for _, value in parsed if value is not None]

    def child(self, name: str, *, strict: bool | None = None) -> "Element | None":
        """The element of that name, or None."""
        found = self.raw(name)
        return self._under(found, f"{self.path}.{name}", strict=strict) if self.has(name) else None

    def children(self, name: str) -> "list[Element]":
        """The elements of a list, each with its place in its path."""
        return [self._under(found, f"{self.path}.{name}[{place}]", strict=None) for place, found in enumerate(self.members(name))]

    def finish(self) -> None:
        """Report everything that was not read. Call it last."""
        for name in self._object:
            if name not in self._asked:
                self._report_unread(name)

    def _report_unread(self, name: str) -> None:
        if name == "modifierExtension":
            self.stop("fhir.modifier-extension", url=_urls(self._object[name]))
        elif name == "extension" or (name.startswith("_") and name[1:] in self._asked):
            (self.stop if self.strict else self.ask)("fhir.unknown-extension", url=_urls(self._object[name]))
        else:
            self.stop("fhir.unknown-element", element=name)

    def _under(self, value: JsonValue, path: str, *, strict: bool | None) -> "Element":
        return Element(value, path, self.findings, self.strict if strict is None else strict)

    def _typed(self, name: str, kind: type[_Kind]) -> _Kind | None:
        found = self.raw(name)
        if not self.has(name) or isinstance(found, kind):
            return found if isinstance(found, kind) else None
        self._wrong(name, {"str": "text", "bool": "true or false"}[kind.__name__])
        return None

    def _wrong(self, name: str, wanted: str) -> None:
        self.stop("fhir.wrong-value", element=name, value=_shown(self._object.get(name)), wanted=wanted)


def parse_time(text: str) -> time | None:
    """A FHIR `time`; seconds may be missing, as the standard's own table of timings leaves them out. None where it is none."""
    found = _TIME.fullmatch(text)
    try:
        return time(int(found[1]), int(found[2]), int(found[3] or 0), _microseconds(found[4])) if found else None
    except ValueError:
        return None


def parse_date_time(text: str) -> tuple[date, date] | datetime | None:
    """A FHIR `dateTime`: a moment with its clock time as written, or the first and the last day that the text stands for."""
    found = _DATE_TIME.fullmatch(text)
    try:
        if not found:
            return None
        return _moment(found) if found[4] else _days(int(found[1]), found[2], found[3])
    except ValueError:
        return None


def _moment(found: re.Match[str]) -> datetime:
    day = date(int(found[1]), int(found[2]), int(found[3]))
    clock = time(int(found[4]), int(found[5]), int(found[6] or 0), _microseconds(found[7]))
    return datetime.combine(day, clock, _zone(found[8]) if found[8] else None)


def _zone(text: str) -> timezone:
    if text == "Z":
        return UTC
    hours, minutes = int(text[1:3]), int(text[4:6])
    if hours > 14 or minutes > 59:
        raise ValueError(text)
    return timezone((1 if text[0] == "+" else -1) * timedelta(hours=hours, minutes=minutes))


def _days(year: int, month: str | None, day: str | None) -> tuple[date, date]:
    if month and day:
        whole = date(year, int(month), int(day))
        return whole, whole
    first, last = date(year, int(month or 1), 1), date(year, int(month or 12), 1)
    return first, (date(last.year, last.month % 12 + 1, 1) - timedelta(days=1) if last.month < 12 else date(last.year, 12, 31))


def _microseconds(digits: str | None) -> int:
    return int((digits or "0").ljust(6, "0")[:6])


def _urls(value: JsonValue) -> str:
    found = value if isinstance(value, list) else [value]
    return ", ".join(str(one.get("url", "?")) for one in found if isinstance(one, dict)) or "?"


def _shown(value: JsonValue) -> str:
    text = str(value)
    return text if len(text) <= 40 else text[:39] + "…"
