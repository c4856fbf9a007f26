"""Where each order goes: into the cards as counted doses, or alongside with the reason, or held until a person has decided.

One order in; out come its doses in units of its product, or one entry of the alongside list, and what was found. Holds R1: never both,
never neither. Nothing of an order with an open question about its directions or amounts is packed, and it is still named (R15).
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, time
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from dosewright.core.medicines.amounts import NotCountable, units_of
from dosewright.core.medicines.footprint import fits_inside
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.volume import outline_and_size, volume_of_one
from dosewright.core.packing.admission import admit
from dosewright.core.packing.as_needed import OnDemand, on_demand
from dosewright.core.packing.card_format import Cavity
from dosewright.core.packing.case import Case
from dosewright.core.packing.plan_values import Alongside
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.weekly import check_weekly
from dosewright.core.regimen.expand import expand_in_series
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.regimen.order import Order, Series
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import OrderId, SlotName
from dosewright.core.units.person import Person

__all__ = ["Placed", "UnitSeries", "place_order"]


class UnitSeries(NamedTuple):
    """One order's doses at one dosing time, each so many of the product's own units, with their days in order. Days are most of what a
    cycle holds, and mostly alike: they are carried together from here to the cavities."""

    order: OrderId
    medicine: Medicine
    slot: SlotName
    time: time
    count: Fraction  # type: ignore[assignment]  # in place of the tuple's own method, which nobody asks for
    days: tuple[date, ...]


@dataclass(frozen=True, slots=True)
class Placed:
    """What becomes of one order: doses for cavities, columns of its own for when it is needed, or an alongside entry; none of them when it
    asks for nothing in the cycle."""

    series: tuple[UnitSeries, ...] = ()
    alongside: Alongside | None = None
    on_demand: OnDemand | None = None
    findings: tuple[Finding, ...] = ()


def place_order(order: Order, person: Person, request: PlanRequest) -> Placed:
    """Decide where the order's doses of this cycle go. Asks for the doses from `regimen.expand`."""
    if not _touches_cycle(order, request):
        return Placed()
    medicine = request.medicines.get(order.medicine)
    if medicine is None:
        where, facts = {"person": person.id, "order": order.id}, {"name": person.name, "code": order.medicine}
        return _held(order, "medicine.unknown", Finding("medicine.unknown", Severity.STOP, where, facts))
    return _place_known(Case(order, medicine, person, request))


def _touches_cycle(order: Order, request: PlanRequest) -> bool:
    ended = order.until is not None and order.until <= Moment(request.first)
    return not ended and (order.since is None or order.since.day <= request.last)


def _place_known(case: Case) -> Placed:
    order, request = case.order, case.request
    expansion = expand_in_series(order, request.timetable_of(case.person), request.first, request.days)
    admission = admit(case)
    said = [_at_home(finding, case) for finding in (*expansion.findings, *expansion.assumed)]
    findings = (*said, *admission.findings, *check_weekly(case, expansion.series))
    if admission.why:
        return _held(order, admission.why, *findings)
    match expansion.status:
        case ExpansionStatus.AS_NEEDED:
            return _as_needed(case, findings)
        case ExpansionStatus.DECIDE:
            return _held(order, "directions.decide", *findings, case.decide("directions.decide"))
        case ExpansionStatus.REFUSE:
            return _held(order, "directions.refuse", *findings, case.stop("directions.refuse"))
    return _count(case, expansion.series, findings)


def _as_needed(case: Case, findings: tuple[Finding, ...]) -> Placed:
    """Columns of its own where the profile allows them and the directions can be said there; else alongside."""
    if not case.request.profile.allows("as_needed_in_card"):
        return _held(case.order, "as-needed", *findings)
    found = _cannot_lie(case) or on_demand(case)
    if isinstance(found, OnDemand):
        return Placed(on_demand=found, findings=findings)
    return _held(case.order, "as-needed", *findings, case.note(found if found.startswith("as-needed.") else "as-needed.no-card"))


def _at_home(finding: Finding, case: Case) -> Finding:
    """The expander knows neither person nor order: say whose finding it is."""
    facts = {"name": case.person.name, "medicine": case.medicine.label, **finding.facts}
    return replace(finding, where={"person": case.person.id, "order": case.order.id, **finding.where}, facts=facts)


def _count(case: Case, series: tuple[Series, ...], findings: tuple[Finding, ...]) -> Placed:
    """The doses in units, or held: an amount that is no whole number of halves, or a unit that no cavity of the format takes."""
    if not series:
        return Placed(findings=(*findings, case.note("order.no-doses")))
    counts = [(one.quantity, units_of(one.quantity, case.medicine)) for one in series]
    for quantity, count in counts:
        if isinstance(count, NotCountable):
            ask = case.decide if count.code == "amount.no-unit" else case.stop
            return _held(case.order, count.code, *findings, ask(count.code, amount=quantity.count, unit=quantity.unit))
    if why := _cannot_lie(case):
        return _held(case.order, why, *findings, case.decide(why))
    return Placed(tuple(_in_units(case, series, (count for _, count in counts))), findings=findings)


def _in_units(case: Case, series: Iterable[Series], counts: Iterable[Fraction | NotCountable]) -> Iterator[UnitSeries]:
    for one, count in zip(series, counts, strict=True):
        if isinstance(count, Fraction) and count:
            yield UnitSeries(case.order.id, case.medicine, one.slot, one.time, count, one.days)


def _cannot_lie(case: Case) -> str | None:
    """The code of why not even one unit goes into a cavity of this format."""
    lines = case.request.label_lines
    if why := _too_large(case.medicine, case.request.format.cavity):
        return why
    return "cavity.label" if lines and lines.needed.get(case.medicine.code, 0) > lines.room else None


@lru_cache(maxsize=16384)
def _too_large(medicine: Medicine, cavity: Cavity) -> str | None:
    _, size = outline_and_size(medicine)
    if not fits_inside(size, cavity.length, cavity.width, cavity.depth):
        return "cavity.footprint"
    return "cavity.volume" if volume_of_one(medicine) > cavity.usable_volume else None


def _held(order: Order, why: str, *findings: Finding) -> Placed:
    return Placed(alongside=Alongside(order.id, order.medicine, why), findings=findings)
