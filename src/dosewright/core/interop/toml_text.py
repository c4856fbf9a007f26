"""TOML text → typed values, strictly: every key known, every value of its kind, amounts exact. Or one sentence that names line and field.

Source: TOML 1.0. A decimal is read as the exact fraction that it spells, never as a float.
"""

import re
import tomllib
from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from typing import Any

__all__ = ["TomlError", "TomlTable", "parse_toml"]

_DECIMAL = re.compile(r"[+-]?\d{1,12}\.\d{1,12}")
_LINE = re.compile(r"\(at line (\d+)")


class TomlError(ValueError):
    """Text that is not the file asked for. `line` counts from 1, 0 where none can be named; `reason` is a sentence naming the field."""

    def __init__(self, line: int, reason: str) -> None:
        self.line = line
        self.reason = reason
        super().__init__(f"line {line}: {reason}" if line else reason)


class TomlTable:
    """One table being read: each value is asked for by name and kind, and `require_all_known` refuses what nobody asked for."""

    def __init__(self, text: str, values: Mapping[str, Any], path: tuple[str, ...] = (), nth: int = 0) -> None:
        self._text, self._values, self._path, self._nth = text, values, path, nth
        self._asked: set[str] = set()

    def names(self) -> tuple[str, ...]:
        """The keys in the file's order."""
        return tuple(self._values)

    def has(self, key: str) -> bool:
        """Whether the key is there; it then has to be read."""
        return key in self._values

    def text(self, key: str) -> str:
        """Text that is not blank."""
        value = self._value(key, "a text in quotes")
        if not isinstance(value, str) or not value.strip():
            raise self.fault(key, "must be a text in quotes, not blank")
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts, at least one, none of them blank."""
        value = self._value(key, "a list of texts")
        if not isinstance(value, list) or not value or not all(isinstance(entry, str) and entry.strip() for entry in value):
            raise self.fault(key, 'must be a list of texts, such as ["one", "two"]')
        return tuple(value)

    def texts_or_none(self, key: str) -> tuple[str, ...]:
        """A list of texts that may be empty."""
        return () if self._value(key, "a list of texts") == [] else self.texts(key)

    def choice(self, key: str, *allowed: str) -> str:
        """One of the texts allowed."""
        value = self._value(key, f"one of {', '.join(allowed)}")
        if value not in allowed:
            raise self.fault(key, f"must be one of {', '.join(allowed)}, not {value!r}")
        return str(value)

    def whole(self, key: str) -> int:
        """A whole number, zero or above."""
        value = self._value(key, "a whole number")
        if isinstance(value, bool) or not isinstance(value, int) or value < 0:
            raise self.fault(key, "must be a whole number, zero or above")
        return value

    def amount(self, key: str) -> Fraction:
        """A number above zero, exact."""
        value = self._value(key, "a number above zero")
        if isinstance(value, bool) or not isinstance(value, int | Fraction) or value <= 0:
            raise self.fault(key, "must be a number above zero, such as 12 or 12.5")
        return Fraction(value)

    def amount_or_zero(self, key: str) -> Fraction:
        """A number, zero or above, exact."""
        value = self._value(key, "a number, zero or above")
        if isinstance(value, bool) or not isinstance(value, int | Fraction) or value < 0:
            raise self.fault(key, "must be a number, zero or above, such as 0 or 12.5")
        return Fraction(value)

    def flag(self, key: str) -> bool:
        """true or false."""
        value = self._value(key, "true or false")
        if not isinstance(value, bool):
            raise self.fault(key, "must be true or false")
        return value

    def day(self, key: str) -> date:
        """A calendar day, written 2026-03-02."""
        value = self._value(key, "a day such as 2026-03-02")
        if type(value) is not date:
            raise self.fault(key, "must be a day such as 2026-03-02, without quotes")
        return value

    def table(self, key: str) -> "TomlTable":
        """A table of its own."""
        value = self._value(key, "a table")
        if not isinstance(value, dict):
            raise self.fault(key, "must be a table")
        return TomlTable(self._text, value, (*self._path, key))

    def tables(self, key: str) -> "list[TomlTable]":
        """A list of tables, each under [[key]]; an empty list where the file has none."""
        self._asked.add(key)
        value = self._values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(entry, dict) for entry in value):
            raise self.fault(key, f"must be tables, each under [[{key}]]")
        return [TomlTable(self._text, entry, (*self._path, key), nth) for nth, entry in enumerate(value)]

    def require_all_known(self) -> None:
        """Refuse keys that were not asked for."""
        for key in self._values:
            if key not in self._asked:
                raise self.fault(key, f"is not known here; known are {', '.join(sorted(self._asked))}")

    def fault(self, key: str, what: str) -> TomlError:
        """The error that says what is wrong with that key."""
        return TomlError(_line_of(self._text, self._path, self._nth, key), f"{'.'.join((*self._path, key))} {what}.")

    def _value(self, key: str, kind: str) -> Any:
        self._asked.add(key)
        if key not in self._values:
            raise self.fault(key, f"is missing; it must be {kind}")
        return self._values[key]


def parse_toml(text: str) -> TomlTable:
    """The whole file as a table. Raises TomlError where it is not TOML."""
    try:
        return TomlTable(text, tomllib.loads(text, parse_float=_exact))
    except tomllib.TOMLDecodeError as error:
        found = _LINE.search(str(error))
        raise TomlError(int(found[1]) if found else 0, f"this is not TOML: {error}.") from error
    except RecursionError as error:
        raise TomlError(0, "this is nested too deeply.") from error
    except OverflowError as error:
        raise TomlError(0, f"this cannot be read: {error}.") from error


def _exact(text: str) -> Fraction:
    plain = text.replace("_", "")
    if not _DECIMAL.fullmatch(plain):
        raise tomllib.TOMLDecodeError(f"{text} must be written as a plain decimal number of at most 12 places")
    return Fraction(plain)


def _line_of(text: str, path: tuple[str, ...], nth: int, key: str) -> int:
    """The line on which the key stands, or the header of its table; 0 where neither is to be found. `nth` of [[tables]] of one name."""
    table: tuple[str, ...] = ()
    nearest, seen = 0, -1
    for number, line in enumerate(text.splitlines(), start=1):
        stripped = line.strip()
        if stripped.startswith("["):
            table = _split_name(stripped.strip("[").split("]")[0])
            seen += stripped.startswith("[[") and table == path
            nearest = number if table in (path, (*path, key)) and seen in (-1, nth) else nearest
        elif seen in (-1, nth) and _names(stripped, table) in ((*path, key), path):
            return number
    return nearest


def _names(line: str, table: tuple[str, ...]) -> tuple[str, ...] | None:
    """The full name of the key that the line sets; None where it sets none."""
    return (*table, *_split_name(line.split("=", maxsplit=1)[0])) if "=" in line and not line.startswith("#") else None


def _split_name(name: str) -> tuple[str, ...]:
    """A dotted name's parts without their quotes; dots inside quotes are left alone."""
    return tuple(part.strip("\"'") for part in re.findall(r"\"[^\"]*\"|'[^']*'|[^.\s\]]+", name))
