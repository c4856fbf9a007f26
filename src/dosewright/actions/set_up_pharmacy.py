"""Set the pharmacy up, or change its address or its rules."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.units.dosing_time import Timetable
from dosewright.store.ledger import append_entry
from dosewright.store.pharmacy import RuleTexts, StoredPharmacy, save_pharmacy

__all__ = ["set_up_pharmacy"]


@doing(Ability.SET_UP, "pharmacy")
def set_up_pharmacy(name: str, on: Occasion, pharmacy: StoredPharmacy, texts: RuleTexts, timetable: Timetable) -> Outcome:
    """Raises ValueError for a rule text that cannot be read. Sets planned before keep the rules that they were planned under."""
    save_pharmacy(pharmacy, texts, timetable)
    append_entry(on, "pharmacy set up", ("pharmacy", name), {"country": pharmacy.country, "rules": texts.sha256})
    return done()
