"""The ledger: added to in the same transaction as what it records, read in order, verified against itself and an exported head."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import chain
from typing import Any

from django.db.models import Q, QuerySet

from dosewright.core.custody.chain import ORIGIN, Entry, Head, entry_hash, verify_chain
from dosewright.core.custody.event import Actor, CardEvent, Deed, Occasion, Role
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import CardNumber, StationId
from dosewright.store.models import LedgerEntry, LedgerHead
from dosewright.store.questions import Question
from dosewright.store.value_json import format_value, parse_value

__all__ = [
    "PageOfLedger",
    "append_entry",
    "check_ledger",
    "count_has_differed",
    "find_card_event",
    "load_card_events",
    "load_entries",
    "load_entries_since",
    "load_head",
    "load_latest",
]


def append_entry(on: Occasion, event: str, subject: tuple[str, str], facts: Mapping[str, Fact]) -> int:
    """Add one entry and give its sequence number. `subject` is (kind, id). Call inside the transaction that does what is recorded,
    after every other row has been locked: the head is the last lock, always, so that no two stations wait for each other."""
    head = _HEAD.one() or _begun()
    entry = _next_entry(on, event, subject, format_value(facts), Head(*head))
    LedgerEntry.objects.create(**{name: getattr(entry, name) for name in Entry.__slots__})
    LedgerHead.objects.filter(id=1).update(sequence=entry.sequence, hash=entry.hash)
    return entry.sequence


_HEAD = Question(lambda: LedgerHead.objects.select_for_update().filter(id=1).values_list("sequence", "hash"))


def _begun() -> tuple[int, str]:
    """The head of a ledger without an entry. Of two stations that begin it at once one waits for the other."""
    head, _ = LedgerHead.objects.select_for_update().get_or_create(id=1, defaults={"sequence": 0, "hash": ORIGIN})
    return head.sequence, head.hash


def _next_entry(on: Occasion, event: str, subject: tuple[str, str], body: str, head: Head) -> Entry:
    who = (on.by.id, on.by.name, on.by.role.value, on.station)
    unsealed = Entry(head.sequence + 1, on.at, *who, event, *subject, body, head.hash)
    return replace(unsealed, hash=entry_hash(unsealed))


def load_entries(kind: str | None = None, subject: str | None = None) -> Iterator[Entry]:
    """The entries in order, all or of one subject, streamed."""
    rows = LedgerEntry.objects.order_by("sequence")
    if kind is not None:
        rows = rows.filter(subject_kind=kind)
    if subject is not None:
        rows = rows.filter(subject_id=subject)
    for row in rows.iterator(chunk_size=2000):
        yield Entry(**{name: getattr(row, name) for name in Entry.__slots__})


def load_entries_since(kind: str, since: Mapping[str, int]) -> Iterator[Entry]:
    """The entries of those subjects in order, each from its own number on; that number too."""
    if since:
        values: Iterator[str | int] = chain.from_iterable(since.items())
        yield from (Entry(*row) for row in _SINCE.rows(kind, *values))


def _since(kind: str, *each: Any) -> "QuerySet[LedgerEntry, Any]":
    wanted = Q()
    for subject, sequence in zip(each[::2], each[1::2], strict=True):
        wanted |= Q(subject_id=subject, sequence__gte=sequence)
    return LedgerEntry.objects.filter(wanted, subject_kind=kind).order_by("sequence").values_list(*Entry.__slots__)


_SINCE = Question(_since)


@dataclass(frozen=True, slots=True)
class PageOfLedger:
    """Which entries: those of a word ("" for all; a printed name, a subject's id or an event), before that entry, so many."""

    word: str
    before: int | None
    many: int


def load_latest(page: PageOfLedger) -> tuple[Entry, ...]:
    """The latest first."""
    rows = LedgerEntry.objects.order_by("-sequence")
    if page.word:
        bare = page.word.replace(" ", "")
        rows = rows.filter(Q(who_name__icontains=page.word) | Q(event__iexact=page.word) | Q(subject_id=page.word) | Q(subject_id=bare))
    if page.before is not None:
        rows = rows.filter(sequence__lt=page.before)
    return tuple(Entry(**{name: getattr(row, name) for name in Entry.__slots__}) for row in rows[: page.many])


def load_card_events(card: CardNumber) -> tuple[CardEvent, ...]:
    """Everything that happened to one card, in order. Refusals are in the ledger too, but nothing happened by them."""
    return tuple(event for entry in load_entries("card", card) if (event := find_card_event(entry)))


_WRONG_COUNTS = frozenset({"checking.count-differs", "checking.should-be-empty", "change.disturbed-differs"})


def count_has_differed(card: CardNumber) -> bool:
    """Whether a check of the card, as it was last filled, has found a count that differs."""
    differed = False
    for entry in load_entries("card", card):
        if entry.event == "refused":
            codes = parse_value(dict[str, Fact], entry.body).get("codes", ())
            differed = differed or (isinstance(codes, tuple) and not _WRONG_COUNTS.isdisjoint(codes))
        else:
            differed = differed and entry.event != Deed.FILLED.value
    return differed


_DEEDS = frozenset(deed.value for deed in Deed)


def find_card_event(entry: Entry) -> CardEvent | None:
    """What an entry about a card says that happened to it; None where nothing did: a refusal."""
    if entry.event not in _DEEDS:
        return None
    by = Actor(entry.who_id, entry.who_name, Role(entry.who_role))
    facts = parse_value(dict[str, Fact], entry.body)
    return CardEvent(CardNumber(entry.subject_id), Deed(entry.event), by, entry.at, StationId(entry.station), facts)


def load_head() -> Head:
    """Where the ledger ends by the row kept beside it; the origin where nothing was ever recorded."""
    row = LedgerHead.objects.filter(id=1).first()
    return Head(row.sequence, row.hash) if row else Head(0, ORIGIN)


def check_ledger(exported: Head | None = None) -> tuple[Finding, ...]:
    """Every break of the chain, of the whole ledger (R12). A clock that went back is a note."""
    return tuple(verify_chain(load_entries(), load_head(), exported))
