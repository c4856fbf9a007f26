"""May this card leave? Everything about its contents and days that must be true; who may say so is `custody`'s."""

from datetime import date

from dosewright.core.checking.filled import FilledCard
from dosewright.core.checking.filling import check_filling
from dosewright.core.checking.last_days import check_last_days
from dosewright.core.units.finding import Finding, Severity

__all__ = ["check_release"]


def check_release(card: FilledCard, today: date) -> tuple[Finding, ...]:
    """All findings at once: a cell that differs from the plan (R2, R3), a dose after its last day (R5), a card already past its own."""
    past: tuple[Finding, ...] = ()
    if today > card.beyond_use:
        past = (Finding("checking.card-past", Severity.STOP, {"card": card.number}, {"limit": card.beyond_use}),)
    return check_filling(card) + check_last_days(card) + past
