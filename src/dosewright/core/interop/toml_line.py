"""A settings file line by line: what each line says, and the same file with one value changed and everything else, comments too, as it was.

Comes in: TOML text of the shipped form, one `key = value # comment` a line. Goes out: lines, or the text with one value replaced. That
nothing beside it changed is proved by reading both texts, not by the way in which it was done.
"""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

__all__ = ["TomlLine", "replaced", "toml_lines"]


@dataclass(frozen=True, slots=True)
class TomlLine:
    """`number` counts from 1. `section`: the table that it stands in, "" for none; `value` as it is written; `comment` without its mark."""

    number: int
    section: str
    key: str
    value: str
    comment: str


def toml_lines(text: str) -> tuple[TomlLine, ...]:
    """Every line that gives a key its value, in order. A value that runs over several lines is not among them."""
    return tuple(_lines(text))


def _lines(text: str) -> Iterator[TomlLine]:
    section = ""
    for number, line in enumerate(text.splitlines(), 1):
        bare = line.strip()
        if bare.startswith("["):
            section = bare.split("#")[0].strip().strip("[]")
        elif found := _split(bare):
            key, value, comment = found
            yield TomlLine(number, section, key, value, comment)


def _split(line: str) -> tuple[str, str, str] | None:
    """Key, value and comment: the comment begins at the first mark before which the line is whole TOML."""
    if not line or line.startswith("#") or "=" not in line:
        return None
    ends = [at for at, sign in enumerate(line) if sign == "#"] + [len(line)]
    for end in ends:
        try:
            read = tomllib.loads(line[:end])
        except tomllib.TOMLDecodeError:
            continue
        key, _, value = line[:end].partition("=")
        return (key.strip().strip('"'), value.strip(), line[end + 1 :].strip()) if len(read) == 1 else None
    return None


def replaced(text: str, number: int, value: str) -> str:
    """The text with the value of that line replaced. Raises KeyError where the line gives no value, ValueError where the new one is not one
    value, runs over its line, is of another kind, or would change anything beside it."""
    line = next((one for one in toml_lines(text) if one.number == number), None)
    if line is None:
        raise KeyError(number)
    if not value.strip() or "\n" in value or "\r" in value:
        raise ValueError("a value stands on one line")
    lines = text.splitlines(keepends=True)
    old = lines[number - 1]
    head, _, tail = old.partition("=")
    lines[number - 1] = f"{head}={tail.replace(line.value, value.strip(), 1)}"
    made = "".join(lines)
    if _without(text, line) != _without(made, line):
        raise ValueError("it would change more than its own line")
    if _kind(tomllib.loads(f"v = {line.value}")["v"]) != _kind(tomllib.loads(f"v = {value.strip()}")["v"]):
        raise ValueError("a value stays what it is: a number, a text, true or false")
    return made


def _kind(value: Any) -> Any:
    """Number, text, yes or no, day; of a table the kinds of all that it holds."""
    if isinstance(value, dict):
        return {key: _kind(one) for key, one in value.items()}
    return "number" if isinstance(value, int | float) and not isinstance(value, bool) else type(value).__name__


def _without(text: str, line: TomlLine) -> Any:
    """What the text says apart from that line, and how many values it has."""
    read = tomllib.loads(text)
    table: Any = read
    for part in [part for part in line.section.split(".") if part]:
        table = table[part]
    keys = list(table)
    table.pop(line.key, None) if line.key in table else table.pop(line.key.split(".")[0], None)
    return read, keys
