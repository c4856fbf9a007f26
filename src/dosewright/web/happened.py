"""An entry of the ledger about a card, in words: what was done, by whom, where, with which units, lots and reasons."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from dosewright.core.custody.cells import parse_cells
from dosewright.core.custody.chain import Entry
from dosewright.core.custody.event import Deed
from dosewright.core.units.amount_words import format_quantity
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.store.value_json import parse_value
from dosewright.web.bench_card import BenchCard
from dosewright.web.check_words import counted_words
from dosewright.web.dates import day_of_year

__all__ = ["Happened", "happened"]

_IN_WORDS = {
    Deed.SENT_BACK: "sent back to be filled right",
    Deed.OUT_OF_DATE: "out of date: what it rests on changed",
    Deed.PRINTED: "paper printed",
}
_LABELS = {
    "reason": "because",
    "to": "to",
    "kind": "found",
    "choice": "choice",
    "why": "because",
    "noticed": "noticed at",
    "what changed": "what changed:",
    "limits": "limits",
    "timetable": "dosing times of",
    "signed by": "signed by",
    "meaning": "meaning",
    "witness": "witness",
}


@dataclass(frozen=True, slots=True)
class Happened:
    """One entry of the ledger in words; `sequence` is its number there, `finger` how its hash begins."""

    at: datetime
    what: str
    who: str
    station: str
    details: tuple[str, ...]
    refused: bool
    sequence: int = 0
    finger: str = ""


def happened(entry: Entry, found: BenchCard) -> Happened:
    """An entry about this card, its set or its orders."""
    facts = parse_value(dict[str, Fact], entry.body)
    refused = entry.event == "refused"
    what = f"tried to {facts.get('what')}: refused" if refused else _said(entry.event)
    details = tuple(_details(entry.event, facts, found))
    who = f"{entry.who_name}, {entry.who_role}"
    return Happened(entry.at, what[0].upper() + what[1:], who, entry.station, details, refused, entry.sequence, entry.hash[:16])


def _said(event: str) -> str:
    return _IN_WORDS.get(Deed(event), event) if event in {deed.value for deed in Deed} else event


def _details(event: str, facts: Mapping[str, Fact], found: BenchCard) -> list[str]:
    said = []
    if "cells" in facts and "medicine" in facts:
        said.append(_units(facts, found))
    if facts.get("expiry"):
        said.append(f"lot {facts['lot']}, expires {_written(facts['expiry'])}")
    doses = facts.get("doses")
    if isinstance(doses, tuple):
        said += [*doses[:4], *([f"and {len(doses) - 4} more"] if len(doses) > 4 else [])]
    changes = facts.get("changes")
    if isinstance(changes, tuple):
        said += changes
    if event == Deed.CHECKED.value and (counted := counted_words(facts)):
        said += [counted, f"drawn with the seed {facts.get('seed')}"]
    said += [f"{words} {facts[name]}" for name, words in _LABELS.items() if facts.get(name)]
    return said


def _units(facts: Mapping[str, Fact], found: BenchCard) -> str:
    code = MedicineCode(str(facts["medicine"]))
    cells = parse_cells(found.stored.number, facts["cells"])
    medicine = found.medicines.get(code)
    unit = medicine.unit if medicine else Unit("unit")
    amount = format_quantity(Quantity(sum(cells.values(), Fraction(0)), unit))
    return f"{amount} of {found.name_of(code) if medicine else code}, {len(cells)} cavit{'y' if len(cells) == 1 else 'ies'}"


def _written(value: Fact) -> str:
    return day_of_year(value) if isinstance(value, date) else str(value)
