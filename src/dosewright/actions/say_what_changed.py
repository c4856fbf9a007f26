"""What changed in the work on a day, said beside the points of the charts; and taken back."""

from datetime import date

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.checking.turn import Turn
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.reason import check_reason
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import Finding, Severity
from dosewright.store.calendar import wall_day
from dosewright.store.ledger import append_entry
from dosewright.store.near_misses import save_turn, save_turn_taken_back

__all__ = ["say_what_changed", "take_back_what_changed"]


@doing(Ability.SAY_WHAT_CHANGED, "chart")
def say_what_changed(chart: str, on: Occasion, day: date, text: str, turn: Turn) -> Outcome:
    """It stands beside the points of that week or month. Nothing is said of a day to come. `made`: its number."""
    findings = check_reason(text)
    if day > wall_day(on.at):
        findings += (Finding("custody.day-to-come", Severity.STOP, {"date": day}),)
    if findings:
        return not_done(findings)
    note = save_turn(day, text.strip(), turn, on)
    append_entry(on, "change noted", ("chart", chart), {"note": note, "day": day, "text": text.strip(), "limits": turn.value})
    return done((), str(note))


@doing(Ability.SAY_WHAT_CHANGED, "chart")
def take_back_what_changed(chart: str, on: Occasion, note: int) -> Outcome:
    """It stands there no more; the ledger keeps that it did."""
    was = save_turn_taken_back(note)
    append_entry(on, "change taken back", ("chart", chart), {"note": note, "day": was.day, "text": was.text, "limits": was.turn.value})
    return done()
