"""Somebody takes a set in hand, hands it to a colleague, or puts it back: each an event, so that the next one knows whom to ask."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.store.claims import find_colleague, lock_claim, save_claim
from dosewright.store.ledger import append_entry

__all__ = ["claim_set", "hand_on_set", "put_back_set"]


@doing(Ability.CLAIM_SET, "set")
def claim_set(set_id: int, on: Occasion) -> Outcome:
    """It is theirs now; the event names from whom, where somebody else had it."""
    before = lock_claim(set_id)
    if before and before.id == on.by.id:
        return done()
    save_claim(set_id, on.by.id, on)
    append_entry(on, "set claimed", ("set", str(set_id)), {"from": before.name if before else None})
    return done()


@doing(Ability.CLAIM_SET, "set")
def hand_on_set(set_id: int, on: Occasion, username: str) -> Outcome:
    """A colleague at the bench has it now."""
    before = lock_claim(set_id)
    to = find_colleague(username, RIGHTS[Ability.CLAIM_SET])
    if to is None:
        return not_done((Finding("custody.nobody-to-hand-to", Severity.STOP, facts={"username": username}),))
    save_claim(set_id, to.id, on)
    facts: dict[str, Fact] = {"to": to.name, "from": before.name if before else None}
    append_entry(on, "set handed on", ("set", str(set_id)), facts)
    return done()


@doing(Ability.CLAIM_SET, "set")
def put_back_set(set_id: int, on: Occasion) -> Outcome:
    """Nobody has it; whoever is free takes it up."""
    before = lock_claim(set_id)
    if before is None:
        return done()
    save_claim(set_id, None, on)
    append_entry(on, "set put back", ("set", str(set_id)), {"from": before.name})
    return done()
