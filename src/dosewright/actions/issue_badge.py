"""Somebody gets a badge and chooses a PIN, with which they take their place at a shared bench."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.accounts import check_pin
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import blocks
from dosewright.store.badges import save_badge
from dosewright.store.ledger import append_entry

__all__ = ["issue_badge"]


@doing(Ability.OWN_BADGE, "account")
def issue_badge(username: str, on: Occasion, code: str, pin: str) -> Outcome:
    """The badge with this code is theirs who ask for it, never another's; an earlier one is void. Neither code nor PIN is in the ledger."""
    findings = check_pin(pin)
    if blocks(findings):
        return not_done(findings)
    save_badge(on.by.id, code, pin)
    append_entry(on, "badge issued", ("account", on.by.id), {"username": username})
    return done()
