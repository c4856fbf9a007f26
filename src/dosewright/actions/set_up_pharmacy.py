"""Set the pharmacy up, or change its address, its rules or its dosing times."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.touching import note_times_changed
from dosewright.core.units.dosing_time import Timetable
from dosewright.store.cards import StoredCard, lock_cards_by_pharmacy_times, save_event
from dosewright.store.ledger import append_entry
from dosewright.store.people import find_timetable
from dosewright.store.pharmacy import RuleTexts, StoredPharmacy, save_pharmacy

__all__ = ["set_up_pharmacy"]


@doing(Ability.SET_UP, "pharmacy")
def set_up_pharmacy(name: str, on: Occasion, pharmacy: StoredPharmacy, texts: RuleTexts, timetable: Timetable) -> Outcome:
    """Raises ValueError for a rule text that cannot be read. Sets planned before keep the rules that they were planned under; cards whose
    dosing times change by it are out of date (R9)."""
    cards = _cards_touched(timetable)
    save_pharmacy(pharmacy, texts, timetable)
    append_entry(on, "pharmacy set up", ("pharmacy", name), {"country": pharmacy.country, "rules": texts.sha256})
    for card in cards:
        save_event(card, Deed.OUT_OF_DATE, on, {"timetable": "pharmacy"})
    return done(tuple(note_times_changed(card.number) for card in cards))


def _cards_touched(timetable: Timetable) -> tuple[StoredCard, ...]:
    known = find_timetable("pharmacy")
    return () if known is None or known == timetable else lock_cards_by_pharmacy_times()
