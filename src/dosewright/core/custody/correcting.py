"""Records put right: what may be corrected, what is written about it, and which cards rest on what was corrected (R9).

Two records are never merged: orders, cards and every entry of the ledger name a record by its id, and which medicines belong to which of
two people is nothing to guess. Whoever is on record twice has the orders of one record stopped and brought in under the other.
"""

from collections.abc import Iterable, Iterator
from dataclasses import fields
from typing import Any

from dosewright.core.custody.stage import LEFT_THE_PHARMACY, OVER, Stage
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.person import Person

__all__ = ["check_person_corrected", "check_something_changed", "differences", "medicine_touches", "note_record_changed", "person_touches"]

_HEADER = frozenset({"name", "born", "home"})  # by these a card is given to the right person; a room or an address is found at the door
_CONTENTS = frozenset({"flags", "cautions"})  # what may lie in a card, and what stands on its label
_MADE = frozenset({"shape", "size", "colour", "mark", "maker"})  # whether it fits its cavity, and what paper says that it looks like
_HERE = frozenset(Stage) - LEFT_THE_PHARMACY - OVER
_OPEN = frozenset(Stage) - OVER


def differences(before: object, after: object) -> tuple[str, ...]:
    """ "room: 4 → 12", field by field, in the order in which the value has them. Both must be of one frozen dataclass."""
    names = [field.name for field in fields(before) if field.compare]  # type: ignore[arg-type]
    changed = [(name, getattr(before, name), getattr(after, name)) for name in names]
    return tuple(f"{name}: {_words(was)} → {_words(now)}" for name, was, now in changed if was != now)


def _words(value: Any) -> str:
    if value in (None, "", frozenset(), ()):
        return "nothing"
    if isinstance(value, frozenset | tuple):
        return ", ".join(sorted(map(str, value)))
    if hasattr(value, "length"):  # a unit's size
        return " × ".join(f"{float(side):g}" for side in (value.length, value.width, value.thickness)) + " mm"
    return str(value)


def check_something_changed(changed: tuple[str, ...], reason: str) -> tuple[Finding, ...]:
    """A stop where nothing differs, or nobody says why."""
    return tuple(_check_changed(changed, reason))


def _check_changed(changed: tuple[str, ...], reason: str) -> Iterator[Finding]:
    if not changed:
        yield Finding("custody.nothing-changed", Severity.STOP)
    if not reason.strip():
        yield Finding("custody.no-reason", Severity.STOP)


def check_person_corrected(said: Person, others: Iterable[Person], *, told_apart: bool) -> tuple[Finding, ...]:
    """A stop where another record bears the same name and birth date, unless somebody says that they are two people."""
    if told_apart:
        return ()
    alike = (other for other in others if other.id != said.id and (_plain(other.name), other.born) == (_plain(said.name), said.born))
    return tuple(Finding("custody.person-twice", Severity.STOP, {"person": said.id}, {"name": said.name, "other": one.id}) for one in alike)


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())


def person_touches(changed: tuple[str, ...]) -> frozenset[Stage]:
    """At which stages a card of the person is out of date by this: name, birth date and home tell whose it is, wherever the card is."""
    return _OPEN if _names(changed) & _HEADER else frozenset()


def medicine_touches(changed: tuple[str, ...]) -> frozenset[Stage]:
    """At which stages a card that holds the medicine is out of date by this.

    Flags and cautions say what may lie in a card and what its label warns of, wherever the card is. Size and looks count until it leaves:
    what left has been filled, looked at and closed."""
    names = _names(changed)
    if names & _CONTENTS:
        return _OPEN
    return _HERE if names & _MADE else frozenset()


def _names(changed: tuple[str, ...]) -> set[str]:
    return {words.partition(":")[0] for words in changed}


def note_record_changed(card: str) -> Finding:
    """The record that the card rests on is another now."""
    return Finding("rework.record-changed", Severity.NOTE, {"card": card})
