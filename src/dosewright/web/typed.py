"""What people type into a form's fields: units counted, as hands write them, and plain numbers.

Comes in: the text of a field. Goes out: an exact amount, or one sentence that names the field and says what would be right. The check, the
change desk and returns all read counts here, so that a half is written in the same ways on every screen.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Generic, TypeVar

from dosewright.core.supply.placement import Cell
from dosewright.core.units.quantity import parse_amount

__all__ = ["CountedIn", "Counts", "NotACount", "count_typed", "counts_typed", "field_of", "number_typed"]

K = TypeVar("K")

_GLYPHS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3"}
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
_RUN_TOGETHER = re.compile(r"([0-9]{1,3})([1-9]/[2-9])")  # "11/2": one and a half, or eleven halves
_DECIMAL = re.compile(r"[0-9]{1,4}(?:[.,][0-9]{1,3})?")
_PARTS = re.compile(r"(?:([0-9]{1,4}) )?([1-9]/[2-9])|([0-9]{1,4})? ?([½¼¾⅓⅔])")
_DIVIDED = frozenset({1, 2, 3, 4})  # a unit is counted whole, or in halves, thirds or quarters
_SHOWN = 3  # fields that are named; of more only the number is said


class NotACount(ValueError):
    """What is wrong with the text of one field and what would be right, as a sentence without its end."""


@dataclass(frozen=True, slots=True)
class CountedIn:
    """A field for a count, and where it is counted as people say it: "Mon 2 Mar, morning"."""

    name: str
    where: str


@dataclass(frozen=True, slots=True)
class Counts(Generic[K]):
    """What was typed into all fields; where `wrong` says what to mend it is of no use."""

    counts: dict[K, Fraction]
    wrong: str


def field_of(cell: Cell) -> str:
    """The field in which that cell's units are counted."""
    return f"c{cell.row}-{cell.column}-{cell.order}"


def number_typed(text: str) -> Fraction:
    """A measure: "2", "0.5" or "0,5", with blanks around it. Raises ValueError."""
    return parse_amount(text.strip().replace(",", "."))


def count_typed(text: str) -> Fraction:
    """Units: "2", "½", "1½", "1 1/2", "1/2", "0.5", "0,5". Raises NotACount; also for what may mean two things ("1,500", "11/2"), and for
    what no unit is divided into."""
    said = " ".join(text.split())
    if _THOUSANDS.fullmatch(said):
        raise NotACount(f"“{said}” may mean a thousand or a part: write it without the three digits")
    if run := _RUN_TOGETHER.fullmatch(said):
        raise NotACount(f"“{said}” may mean {run[1]} and {run[2]}, or {run[1]}{run[2]}: write it with a blank between, or as 1.5")
    count = _count(said)
    if count is None:
        raise NotACount(f"“{said[:20]}” is no count: write units as 2, halves as ½, 1/2 or 0.5")
    if count.denominator not in _DIVIDED:
        raise NotACount(f"“{said}” is no half, third or quarter of a unit: write them as 0.5, 1/3 or 1/4")
    return count


def _count(said: str) -> Fraction | None:
    if _DECIMAL.fullmatch(said):
        return Fraction(said.replace(",", "."))
    if not (found := _PARTS.fullmatch(said)):
        return None
    whole, part = found[1] or found[3] or "0", Fraction(_GLYPHS.get(found[4] or "", found[2] or found[4]))
    return int(whole) + part if part < 1 or whole == "0" else None


def counts_typed(post: Mapping[str, str], fields: Mapping[K, CountedIn]) -> Counts[K]:
    """Every field read. Blank ones and those that are no count are all named in one sentence, the first few by where they are."""
    read: dict[K, Fraction] = {}
    blank: list[str] = []
    wrong: list[str] = []
    for key, field in fields.items():
        text = post.get(field.name, "").strip()
        if not text:
            blank.append(field.where)
            continue
        try:
            read[key] = count_typed(text)
        except NotACount as error:
            wrong.append(f"{field.where}: {error}")
    return Counts(read, " ".join(_said(wrong, blank, len(fields))))


def _said(wrong: list[str], blank: list[str], of: int) -> Iterator[str]:
    if wrong:
        yield f"{'; '.join(wrong[:_SHOWN])}{_and_more(wrong)}."
    if blank:
        yield f"{len(blank)} of {of} not counted: {'; '.join(blank[:_SHOWN])}{_and_more(blank)}. Write 0 where there is nothing."


def _and_more(named: list[str]) -> str:
    return f"; and {len(named) - _SHOWN} more" if len(named) > _SHOWN else ""
