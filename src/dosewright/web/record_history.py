"""What was corrected in a record, by whom and why, latest first: off the ledger."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from dosewright.core.units.finding import Fact
from dosewright.store.ledger import load_entries
from dosewright.store.value_json import parse_value

__all__ = ["Corrected", "corrections_of"]

_EVENTS = frozenset({"record corrected", "dosing times changed", "settings changed"})


@dataclass(frozen=True, slots=True)
class Corrected:
    """One change: each field as it was and as it is."""

    at: datetime
    who: str
    changes: tuple[str, ...]
    why: str


def corrections_of(kind: str, subject: str, events: Collection[str] = _EVENTS) -> tuple[Corrected, ...]:
    """The latest first."""
    found = [entry for entry in load_entries(kind, subject) if entry.event in events]
    return tuple(
        _corrected(entry.at, f"{entry.who_name}, {entry.who_role}", parse_value(dict[str, Fact], entry.body)) for entry in found[::-1]
    )


def _corrected(at: datetime, who: str, facts: dict[str, Fact]) -> Corrected:
    changes = facts.get("changes")
    if not isinstance(changes, tuple):
        changes = (f"was: {_joined(facts.get('was'))}", f"now: {_joined(facts.get('now'))}")
    return Corrected(at, who, changes, str(facts.get("why", "")))


def _joined(value: Fact) -> str:
    return "; ".join(value) if isinstance(value, tuple) else str(value)
