"""Somebody notes an error that was caught in time; and the bench notes one itself where it refused what would have been an error."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.near_miss import (
    Cause,
    Harm,
    NearMissKind,
    NoticedAt,
    Origin,
    caught_by_scan,
    caught_on_release,
    check_near_miss,
)
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import CardNumber, MedicineCode
from dosewright.store.cards import load_card
from dosewright.store.cards_at_hand import CardAtHand
from dosewright.store.catalogue import load_catalogue
from dosewright.store.ledger import append_entry
from dosewright.store.near_misses import StoredNearMiss, is_noted, save_near_miss

__all__ = ["Noted", "note_caught_by_scan", "note_caught_on_release", "note_near_miss"]

EVENT = "near miss"
_ONCE_IN = timedelta(hours=12)  # the same bottle for the same card within a shift was fetched once; ours, no source


@dataclass(frozen=True, slots=True)
class Noted:
    """What somebody says of it: one tap is enough. `named`: their name may stand beside it where near misses are listed."""

    kind: NearMissKind
    noticed: NoticedAt
    note: str = ""
    cause: Cause = Cause.NOT_KNOWN
    harm: Harm = Harm.NOT_KNOWN
    named: bool = False


@doing(Ability.NOTE_NEAR_MISS, "near miss")
def note_near_miss(card: str, on: Occasion, said: Noted) -> Outcome:
    """It is kept; a card is named where one is known ("" else). Nobody is asked who made the error. Nothing happens to the card by it."""
    if findings := check_near_miss(said.kind, said.note):
        return not_done(findings)
    stage = load_card(CardNumber(card)).state.stage if card else None
    found_by = on.by.name if said.named else ""
    words = (said.kind, found_by, said.note.strip(), said.noticed, Origin.PERSON, said.cause, said.harm)
    _save(StoredNearMiss(on.at, CardNumber(card), stage, *words), on)
    return done()


def note_caught_by_scan(card: CardAtHand, on: Occasion, findings: Iterable[Finding]) -> tuple[str, ...]:
    """Note a wrong bottle that a scan kept from the card, once in a shift. What was noted, () where it is none; call before refusing."""
    found = tuple(findings)
    codes = {content.medicine for cavity in card.card.cavities for content in cavity.contents}
    held = {MedicineCode(str(finding.facts["scanned"])) for finding in found if finding.code == "supply.wrong-product"}
    names = {code: medicine.name for code, medicine in load_catalogue([*codes, *held]).items()}
    caught = caught_by_scan(found, codes, names)
    if caught is None or is_noted(card.number, Origin.SCAN, caught[1], on.at - _ONCE_IN):
        return ()
    _save(_own(card, on, caught[0], Origin.SCAN, caught[1]), on)
    return (EVENT,)


def note_caught_on_release(card: CardAtHand, on: Occasion, findings: Iterable[Finding]) -> tuple[str, ...]:
    """Note what kept a checked card from leaving, each kind once in a shift."""
    kinds = [kind for kind in caught_on_release(findings) if not is_noted(card.number, Origin.RELEASE, kind.value, on.at - _ONCE_IN)]
    for kind in kinds:
        _save(_own(card, on, kind, Origin.RELEASE, kind.value), on)
    return (EVENT,) if kinds else ()


def _own(card: CardAtHand, on: Occasion, kind: NearMissKind, origin: Origin, note: str) -> StoredNearMiss:
    noticed = NoticedAt.FILLING if origin is Origin.SCAN else NoticedAt.RELEASE
    return StoredNearMiss(on.at, card.number, card.state.stage, kind, "", note, noticed, origin)


def _save(found: StoredNearMiss, on: Occasion) -> None:
    facts: dict[str, Fact] = {"kind": found.kind.value, "noticed": found.noticed.value, "origin": found.origin.value, "reason": found.note}
    said: dict[str, Fact] = {"cause": found.cause.value, "harm": found.harm.value}
    subject = ("card", str(found.card)) if found.card else ("near miss", "without a card")
    entry = append_entry(on, EVENT, subject, facts | {name: value for name, value in said.items() if value})
    save_near_miss(found, entry)
