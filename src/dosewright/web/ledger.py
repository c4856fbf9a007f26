"""The ledger on screen: what was done, by whom, where and when, latest first, a page at a time; refusals too."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from django.http import HttpResponse

from dosewright.core.custody.chain import Entry
from dosewright.core.units.finding import Fact
from dosewright.store.ledger import PageOfLedger, load_head, load_latest
from dosewright.store.value_json import parse_value
from dosewright.web.page import show
from dosewright.web.request import BenchRequest

__all__ = ["LedgerLine", "LedgerScreen", "ledger"]

PAGE = 50  # entries
_SHOWN = 160  # characters of one fact


@dataclass(frozen=True, slots=True)
class LedgerLine:
    """One entry in words. `facts` are what the entry says, each "name: value"."""

    sequence: int
    at: datetime
    who: str
    station: str
    event: str
    subject: str
    facts: tuple[str, ...]
    refused: bool
    finger: str


@dataclass(frozen=True, slots=True)
class LedgerScreen:
    """`word` is what was looked for: somebody's printed name, a card, an order, a kind of event. `before`: where the next page begins."""

    word: str
    lines: tuple[LedgerLine, ...]
    entries: int
    head: str
    before: int | None


def ledger(request: BenchRequest) -> HttpResponse:
    """A page of it."""
    word = " ".join(request.GET.get("q", "").split())[:100]
    before = request.GET.get("before", "")
    found = load_latest(PageOfLedger(word, int(before) if before.isascii() and before.isdigit() and len(before) < 19 else None, PAGE + 1))
    head = load_head()
    lines = tuple(_line(entry) for entry in found[:PAGE])
    return show(
        request, "ledger/list.html", LedgerScreen(word, lines, head.sequence, head.hash, lines[-1].sequence if len(found) > PAGE else None)
    )


def _line(entry: Entry) -> LedgerLine:
    facts = parse_value(dict[str, Fact], entry.body)
    return LedgerLine(
        entry.sequence,
        entry.at,
        f"{entry.who_name}, {entry.who_role}",
        entry.station,
        entry.event,
        f"{entry.subject_kind} {entry.subject_id}",
        tuple(_facts(facts)),
        entry.event == "refused",
        entry.hash[:16],
    )


def _facts(facts: Mapping[str, Fact]) -> list[str]:
    said = []
    for name, value in facts.items():
        words = ", ".join(map(str, value)) if isinstance(value, tuple) else str(value)
        if value not in (None, "", ()):
            said.append(f"{name}: {words if len(words) <= _SHOWN else words[:_SHOWN] + ' …'}")
    return said
