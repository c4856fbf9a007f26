"""A change waits for a decision again: what was decided cannot be done, or should not be."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.changing import ChangeStanding, check_standing
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.reason import check_reason
from dosewright.core.custody.rights import Ability
from dosewright.core.units.ids import PersonId
from dosewright.store.changes import find_open_change, lock_change, save_standing
from dosewright.store.ledger import append_entry

__all__ = ["decide_anew", "reopen_change"]


def decide_anew(person: PersonId) -> None:
    """Nothing where the person has no decided change."""
    change = find_open_change(person)
    if change is not None:
        save_standing(change.id, ChangeStanding.WAITING)


@doing(Ability.DECIDE_CHANGE, "change")
def reopen_change(change: int, on: Occasion, reason: str) -> Outcome:
    """What was begun stays as it is; it is laid out again by what lies in the cards now."""
    stored = lock_change(change)
    findings = check_standing(change, stored.standing, {ChangeStanding.DECIDED, ChangeStanding.IN_WORK}) + check_reason(reason)
    if findings:
        return not_done(findings)
    save_standing(change, ChangeStanding.WAITING)
    append_entry(on, "change reopened", ("change", str(change)), {"reason": reason})
    return done()
