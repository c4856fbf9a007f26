"""Set the pharmacy up, or change its address, its rules or its dosing times."""

from dosewright.actions.change_setting import STILL_HERE
from dosewright.actions.doing import doing
from dosewright.actions.mark_resting_on import mark_resting_on
from dosewright.actions.outcome import Outcome, done
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.touching import note_times_changed
from dosewright.core.units.dosing_time import Timetable
from dosewright.store.cards import StoredCard, lock_cards_by_pharmacy_times, save_event
from dosewright.store.cards_on import lock_cards_at
from dosewright.store.ledger import append_entry
from dosewright.store.people import find_timetable
from dosewright.store.pharmacy import RuleTexts, StoredPharmacy, find_pharmacy, load_rule_texts, save_pharmacy

__all__ = ["set_up_pharmacy"]


@doing(Ability.SET_UP, "pharmacy")
def set_up_pharmacy(name: str, on: Occasion, pharmacy: StoredPharmacy, texts: RuleTexts, timetable: Timetable) -> Outcome:
    """Raises ValueError for a rule text that cannot be read. Sets planned before keep the rules that they were planned under; cards whose
    dosing times change by it are out of date, and so are cards still here where the card format or the profile changes (R9)."""
    cards, resting = _cards_touched(timetable), _cards_resting_on(texts)
    save_pharmacy(pharmacy, texts, timetable)
    append_entry(on, "pharmacy set up", ("pharmacy", name), {"country": pharmacy.country, "rules": texts.sha256})
    for card in cards:
        save_event(card, Deed.OUT_OF_DATE, on, {"timetable": "pharmacy"})
    stale = {card.number for card in cards}
    others = [card for card in resting if card.number not in stale]
    marked = mark_resting_on(others, on, "the card format or the profile", (), "the pharmacy was set up anew")
    return done((*(note_times_changed(card.number) for card in cards), *marked))


def _cards_resting_on(texts: RuleTexts) -> tuple[StoredCard, ...]:
    """Cards still here, where the card format or the profile is another one from now on."""
    known = find_pharmacy()
    was = load_rule_texts(known.rules) if known else None
    return () if was is None or (was.profile, was.card_format) == (texts.profile, texts.card_format) else lock_cards_at(STILL_HERE)


def _cards_touched(timetable: Timetable) -> tuple[StoredCard, ...]:
    known = find_timetable("pharmacy")
    return () if known is None or known == timetable else lock_cards_by_pharmacy_times()
