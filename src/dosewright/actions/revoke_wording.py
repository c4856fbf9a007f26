"""A pharmacist revokes a remembered wording: from this moment the words are asked about again, also of orders that wait already."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.wordings import check_revoking
from dosewright.core.units.finding import Fact
from dosewright.store.ledger import append_entry
from dosewright.store.wordings import lock_wording, save_wording_revoked

__all__ = ["revoke_wording"]


@doing(Ability.REVOKE_WORDING, "wording")
def revoke_wording(number: int, on: Occasion, reason: str) -> Outcome:
    """What it was, who confirmed it and how often it was used stay on record. Orders that were confirmed by it stay as they are."""
    stored = lock_wording(number)
    if findings := check_revoking(reason, revoked=stored.revoked):
        return not_done(findings)
    save_wording_revoked(number, on, reason)
    said: dict[str, Fact] = {"text": stored.wording.key.text, "home": stored.wording.key.home, "used": stored.used, "reason": reason}
    append_entry(on, "wording revoked", ("wording", str(number)), said)
    return done()
