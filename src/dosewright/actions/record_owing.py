"""There is not enough of a medicine in stock for a set: what is wanting is owed, until it is placed."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.checking.still_open import still_open
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.supply.short import short_of
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import MedicineCode
from dosewright.store.cards import lock_set
from dosewright.store.ledger import append_entry
from dosewright.store.owings import save_owing
from dosewright.store.stock import load_stock

__all__ = ["record_owing"]


@doing(Ability.PLACE_MEDICINE, "set")
def record_owing(set_id: int, on: Occasion, medicine: MedicineCode) -> Outcome:
    """How much is owed is counted here, from the cards and the stock, never taken from a form. Refused where nothing is wanting."""
    found = lock_set(set_id)
    amount = short_of(still_open((card.filled for card in found.on_bench), medicine), load_stock(medicine))
    if not amount:
        return not_done((Finding("supply.nothing-wanting", Severity.STOP, facts={"medicine": medicine}),))
    save_owing(set_id, medicine, amount, on)
    append_entry(on, "owing recorded", ("set", str(set_id)), {"medicine": medicine, "amount": amount})
    return done()
