"""A proposal of fewer dosing times as values: today's, the proposed, each move with what it relies on, each order that stays and why."""

from dataclasses import dataclass

from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import DosingTime, Timetable
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId

__all__ = ["Move", "Proposal", "Stays", "TimesProof"]

_Times = tuple[DosingTime, ...]


@dataclass(frozen=True, slots=True)
class Move:
    """One order's doses go from `today` to `proposed`, one for one in order of the clock; everything else of it stays as it is.

    `order` is the order as it would count from the first day on. `relies_on`: the freedom that its words leave, the windows and rules
    that the move keeps, with their sources; and what a pharmacist should know of the change-over. `doses` move in the cycle, `minutes` is
    the longest way that one of them moves.
    """

    order: Order
    medicine: MedicineCode
    today: _Times
    proposed: _Times
    doses: int
    minutes: int
    relies_on: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Stays:
    """One order that stays where it is. `why` is None where it could have moved and need not."""

    order: OrderId
    medicine: MedicineCode
    times: _Times
    why: Finding | None


@dataclass(frozen=True, slots=True)
class TimesProof:
    """Dosing times proposed, and the bound that none can beat; `gentlest`: the least change is proved too. Cards today and proposed, None
    where a `stop` keeps them from being packed."""

    times: int
    lower_bound: int
    optimal: bool
    gentlest: bool
    nodes: int
    cards_today: int | None
    cards_proposed: int | None


@dataclass(frozen=True, slots=True)
class Proposal:
    """One person's dosing times from the cycle's first day on: `today`'s, and what could be. No moves: today's are the fewest already,
    or nothing could be proposed, and `findings` say which. `timetable` is the one that the proposed times are of: the person's own, or
    where somebody at home has few, with the four standard ones beside them.
    """

    person: PersonId
    timetable: Timetable
    today: _Times
    proposed: _Times
    moves: tuple[Move, ...]
    stays: tuple[Stays, ...]
    proof: TimesProof
    findings: tuple[Finding, ...]
    widened: bool = False
