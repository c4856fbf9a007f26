"""What is written about a card that an order's change touched: facts for the ledger, a finding for whoever changed the order."""

from collections.abc import Iterable
from datetime import date

from dosewright.core.rework.touched import Touched
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber
from dosewright.core.units.quantity import format_amount

__all__ = ["facts_of", "findings_of", "note_times_changed"]


def facts_of(touch: Touched) -> dict[str, Fact]:
    """Every dose that differs ("2026-03-10 08:00 bisoprolol-5: 1 → 0.5"), and medicines that the header no longer lists rightly."""
    doses = tuple(
        f"{dose.day} {dose.time:%H:%M} {dose.medicine}: {format_amount(dose.before)} → {format_amount(dose.after)}" for dose in touch.doses
    )
    return {"doses": doses, "medicines": tuple(touch.medicines)}


def note_times_changed(card: CardNumber) -> Finding:
    """The dosing times that the card was planned by are others now."""
    return Finding("rework.times-changed", Severity.NOTE, {"card": card})


def findings_of(touches: Iterable[Touched], at: date) -> tuple[Finding, ...]:
    """One note a card, with the first day on which it differs."""
    return tuple(
        Finding("rework.card-touched", Severity.NOTE, {"card": touch.card, "date": touch.doses[0].day if touch.doses else at})
        for touch in touches
    )
