"""The ledger's chain: each entry's hash covers its own words and the hash before it, so that no entry can be changed, taken out, put in or
moved without a break, and a head kept elsewhere shows a tail that was cut off.

Comes in: entries in order of their sequence, the head the store keeps, a head exported earlier. Goes out: findings, all of them.
Source: hash chaining as in RFC 9162 in spirit (append-only logs); SHA-256 by FIPS 180-4; time-stamped audit trail by 21 CFR 11.10(e).
"""

import hashlib
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["ORIGIN", "WAITING", "Entry", "Head", "entry_hash", "verify_chain"]

# A station reads the clock, then waits for its turn to write: entries may stand so much out of order and nobody touched the clock.
# Longer than a writer ever waits (20 seconds on SQLite); our own measure, no source.
WAITING = timedelta(seconds=60)

ORIGIN = "0" * 64  # what the first entry names as its predecessor


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the ledger. Who is copied by id, name and role, so that a later change of the account changes nothing here.

    `body` is canonical JSON text; `previous` and `hash` are hex SHA-256. `sequence` counts from 1.
    """

    sequence: int
    at: datetime
    who_id: str
    who_name: str
    who_role: str
    station: str
    event: str
    subject_kind: str
    subject_id: str
    body: str
    previous: str
    hash: str = ""


@dataclass(frozen=True, slots=True)
class Head:
    """The ledger's end at some time: how many entries, and the last one's hash."""

    sequence: int
    hash: str


def entry_hash(entry: Entry) -> str:
    """Hex SHA-256 over the canonical JSON list of every field but the hash itself. The moment counts in UTC, to the microsecond."""
    moment = entry.at.astimezone(UTC).isoformat(timespec="microseconds")
    who = [entry.who_id, entry.who_name, entry.who_role, entry.station]
    words = [entry.sequence, moment, *who, entry.event, entry.subject_kind, entry.subject_id, entry.body, entry.previous]
    return hashlib.sha256(json.dumps(words, ensure_ascii=False, separators=(",", ":")).encode("utf-8")).hexdigest()


def verify_chain(entries: Iterable[Entry], kept: Head, exported: Head | None = None) -> Iterator[Finding]:
    """Every break, in order. `kept` is the head the store keeps beside the entries; `exported` one that was kept elsewhere.

    Found: a changed entry, one taken out, put in or moved (R12), a cut-off tail, and a clock that went back (a note).
    """
    last, last_at, seen = Head(0, ORIGIN), None, Head(0, ORIGIN)
    for entry in entries:
        yield from _follows(entry, last)
        if last_at is not None and entry.at < last_at - WAITING:
            yield _broken("custody.clock-back", Severity.NOTE, entry.sequence)
        last, last_at = Head(entry.sequence, entry.hash), max(entry.at, last_at or entry.at)
        seen = last if exported and exported.sequence == entry.sequence else seen
    if last != kept:
        yield _broken("custody.ledger-tail", Severity.STOP, kept.sequence, found=last.sequence)
    if exported and exported.sequence > last.sequence:
        yield _broken("custody.ledger-cut-off", Severity.STOP, exported.sequence, found=last.sequence)
    elif exported and exported != seen:
        yield _broken("custody.ledger-head-differs", Severity.STOP, exported.sequence)


def _follows(entry: Entry, last: Head) -> Iterator[Finding]:
    if entry.sequence != last.sequence + 1:
        yield _broken("custody.ledger-gap", Severity.STOP, entry.sequence, expected=last.sequence + 1)
    if entry.previous != last.hash:
        yield _broken("custody.ledger-link", Severity.STOP, entry.sequence)
    if entry_hash(entry) != entry.hash:
        yield _broken("custody.ledger-changed", Severity.STOP, entry.sequence)


def _broken(code: str, severity: Severity, sequence: int, **facts: Fact) -> Finding:
    return Finding(code, severity, where={"entry": sequence}, facts=facts)
