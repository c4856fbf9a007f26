"""What expanding an order gives: a status, and the doses, defaults and findings behind it."""

from enum import StrEnum
from typing import NamedTuple

from dosewright.core.regimen.order import Dose, Series
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["Expansion", "ExpansionStatus", "InSeries", "assume", "decide", "note", "refuse"]


class ExpansionStatus(StrEnum):
    """`scheduled`: every dose of the window is known, perhaps none. `as-needed`: taken on demand, no doses. `decide`: a pharmacist must
    choose first. `refuse`: contradictory or not valid FHIR R4. Only `scheduled` carries doses."""

    SCHEDULED = "scheduled"
    AS_NEEDED = "as-needed"
    DECIDE = "decide"
    REFUSE = "refuse"


class Expansion(NamedTuple):
    """`doses` in order of day and clock, none unless `scheduled`; `assumed` names every default that was supplied; `findings` what a person
    must settle. A tuple, because each order of a home is expanded."""

    status: ExpansionStatus
    doses: tuple[Dose, ...] = ()
    assumed: tuple[Finding, ...] = ()
    findings: tuple[Finding, ...] = ()


class InSeries(NamedTuple):
    """The same with the doses in series: for a cycle of which most days are alike. Series in order of their first day and the clock."""

    status: ExpansionStatus
    series: tuple[Series, ...] = ()
    assumed: tuple[Finding, ...] = ()
    findings: tuple[Finding, ...] = ()


def assume(code: str, /, **facts: Fact) -> Finding:
    """A default that the tool supplied, for the pharmacist to confirm."""
    return Finding(f"assumed.{code}", Severity.NOTE, facts=facts)


def note(code: str, /, **facts: Fact) -> Finding:
    """Worth knowing."""
    return Finding(code, Severity.NOTE, facts=facts)


def decide(code: str, /, **facts: Fact) -> Finding:
    """A pharmacist must choose."""
    return Finding(code, Severity.DECIDE, facts=facts)


def refuse(code: str, /, **facts: Fact) -> Finding:
    """Nothing can be scheduled from it."""
    return Finding(code, Severity.STOP, facts=facts)
