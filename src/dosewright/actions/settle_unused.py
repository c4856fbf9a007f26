"""A pharmacist settles an order that could not be used: it is turned down, or supplied otherwise. Until then it holds planning (R1)."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.unused import UnusedStanding, check_settling
from dosewright.store.ledger import append_entry
from dosewright.store.unused import lock_unused, save_unused_settled

__all__ = ["settle_unused"]


@doing(Ability.REJECT_ORDER, "unused order")
def settle_unused(number: int, on: Occasion, becomes: str, reason: str) -> Outcome:
    """`becomes`: "turned down" or "supplied otherwise". Words and findings stay on record, with who, when and why."""
    stored = lock_unused(number)
    unused = stored.unused
    findings = check_settling(unused.order or unused.place, stored.standing, becomes, reason)
    if findings:
        return not_done(findings)
    save_unused_settled(number, UnusedStanding(becomes), on, reason)
    said = {"person": unused.person, "order": unused.order, "file": stored.file, "text": unused.text, "becomes": becomes, "reason": reason}
    append_entry(on, "unused order settled", ("unused order", str(number)), said)
    return done()
