"""May this card leave? Everything about its contents and days that must be true; who may say so is `custody`'s."""

from datetime import date

from dosewright.core.checking.filled import FilledCard
from dosewright.core.checking.filling import check_filling
from dosewright.core.checking.last_days import check_last_days
from dosewright.core.units.finding import Finding, Severity

__all__ = ["check_past", "check_release"]


def check_release(card: FilledCard, today: date) -> tuple[Finding, ...]:
    """All findings at once: a cell that differs from the plan (R2, R3), a dose after its last day (R5), a card already past its own."""
    return check_filling(card) + check_last_days(card) + check_past(card, today)


def check_past(card: FilledCard, today: date) -> tuple[Finding, ...]:
    """A stop for a card that is past its beyond-use date (R5); the day itself is allowed."""
    if today <= card.beyond_use:
        return ()
    return (Finding("checking.card-past", Severity.STOP, {"card": card.number}, {"limit": card.beyond_use}),)
