"""What a card is now, out of its entries in the ledger; what was worked out before is remembered, and only what came since is read.

What is remembered is bound to an entry by its number and its hash. The hash covers every entry before it, so that the same hash is the same
past: what a transaction wrote and then took back, another database, an entry changed by hand: each has other hashes, and all is read anew.
Each process remembers for itself. Counting units (`store.card_units`) and verifying read the whole ledger and rely on nothing here.
"""

import threading
from collections import OrderedDict
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from dosewright.core.custody.chain import ORIGIN, Entry
from dosewright.core.custody.state import CardState, after
from dosewright.core.units.ids import CardNumber
from dosewright.store.ledger import find_card_event, load_entries_since

__all__ = ["load_states"]

_MOST = 2000  # cards remembered by a process: those on the bench of a large pharmacy
_AT_ONCE = 50  # cards asked about in one question: a database reads no question of any length


@dataclass(frozen=True, slots=True)
class _Known:
    """What a card was after that entry."""

    state: CardState
    sequence: int = 0
    hash: str = ORIGIN


_KNOWN: OrderedDict[CardNumber, _Known] = OrderedDict()
_DOOR = threading.Lock()


def load_states(cards: Collection[CardNumber]) -> dict[CardNumber, CardState]:
    """What each of the cards is now. Behind the cards' own locks nobody changes it until the transaction ends."""
    with _DOOR:
        known = {card: _KNOWN.get(card) or _Known(CardState(card)) for card in cards}
    found = _read(known)
    if strange := {card: _Known(CardState(card)) for card, entries in found.items() if not _goes_on(known[card], entries)}:
        known, found = known | strange, found | _read(strange)
    now = {card: _further(known[card], entries) for card, entries in found.items()}
    _remember(now)
    return {card: one.state for card, one in now.items()}


def _read(known: dict[CardNumber, _Known]) -> dict[CardNumber, list[Entry]]:
    """Each card's entries from the one that is known on."""
    found: dict[CardNumber, list[Entry]] = {card: [] for card in known}
    cards = list(known)
    for start in range(0, len(cards), _AT_ONCE):
        part = {str(card): known[card].sequence for card in cards[start : start + _AT_ONCE]}
        for entry in load_entries_since("card", part):
            found[CardNumber(entry.subject_id)].append(entry)
    return found


def _goes_on(known: _Known, entries: list[Entry]) -> bool:
    """Whether the first entry is the very one that is known; where nothing is known, anything goes on from there."""
    return not known.sequence or (bool(entries) and (entries[0].sequence, entries[0].hash) == (known.sequence, known.hash))


def _further(known: _Known, entries: Iterable[Entry]) -> _Known:
    for entry in entries:
        if entry.sequence > known.sequence:
            event = find_card_event(entry)
            known = _Known(after(known.state, event) if event else known.state, entry.sequence, entry.hash)
    return known


def _remember(now: dict[CardNumber, _Known]) -> None:
    with _DOOR:
        for card, one in now.items():
            _KNOWN[card] = one
            _KNOWN.move_to_end(card)
        while len(_KNOWN) > _MOST:
            _KNOWN.popitem(last=False)
