"""No dose after its last day: the card's beyond-use date and each placed unit's own expiry (R5)."""

from collections.abc import Iterator
from datetime import date

from dosewright.core.checking.filled import FilledCard, FilledCavity
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["check_last_days"]


def check_last_days(card: FilledCard) -> tuple[Finding, ...]:
    """Find every dose that would be taken too late; the last day itself is allowed. In cavity order.

    Holds R5. Source: USP <681>/<1136>, no beyond-use date later than the shortest one of any contained form.
    """
    return tuple(late for cavity in card.cavities for late in _late_in(cavity, card.beyond_use))


def _late_in(cavity: FilledCavity, beyond_use: date) -> Iterator[Finding]:
    if cavity.day > beyond_use:
        yield _late("checking.after-beyond-use", cavity, limit=beyond_use)
    for units in cavity.placements:
        if cavity.day > units.expiry:
            yield _late("checking.after-expiry", cavity, lot=units.lot, medicine=units.medicine, limit=units.expiry)
        elif units.expiry < beyond_use:
            # The label promises a day that this lot does not reach.
            yield _late("checking.expiry-before-beyond-use", cavity, lot=units.lot, medicine=units.medicine, limit=units.expiry)


def _late(code: str, cavity: FilledCavity, **facts: Fact) -> Finding:
    return Finding(code, Severity.STOP, where=cavity.address, facts=facts)
