"""A pharmacist lets this pharmacy, or one home of it, read the same words the same way from now on."""

from dosewright.actions.doing import doing
from dosewright.actions.look_around import wording_key
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.wordings import check_remembering, check_scope, remember
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import HomeId, OrderId
from dosewright.store.ledger import append_entry
from dosewright.store.orders import lock_order
from dosewright.store.pharmacy import lock_pharmacy
from dosewright.store.wordings import find_wording, save_wording

__all__ = ["remember_wording"]


@doing(Ability.REMEMBER_WORDING, "order")
def remember_wording(order: OrderId, on: Occasion, home: HomeId, reason: str) -> Outcome:
    """What was chosen for the order's words is remembered for the people of `home`, "" for everybody's. Orders that wait are asked about
    with it at once; each is still confirmed by a pharmacist. `made`: the wording's number."""
    stored, pharmacy = lock_order(order), lock_pharmacy()
    key = wording_key(stored, pharmacy, home)
    known = find_wording(key)
    taken = known is not None and known.wording.key == key
    findings = check_remembering(stored.standing, stored.reading, stored.choice, reason, taken=taken)
    findings += check_scope(home, stored.person.home)
    if findings or stored.reading is None or stored.choice is None:
        return not_done(findings)
    number = save_wording(remember(key, stored.reading, stored.choice), order, on, reason)
    said: dict[str, Fact] = {"text": key.text, "lang": key.lang, "country": key.country, "form": key.form, "unit": key.unit}
    said |= {"home": home, "order": order, "choice": stored.choice, "reason": reason}
    append_entry(on, "wording remembered", ("wording", str(number)), said)
    return done((), str(number))
