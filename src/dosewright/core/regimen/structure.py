"""The structure of an order alone, without its words: strands, and the doses that they give.

Comes in: one order, the dosing times of its person, a stretch of days. Goes out: strands (each dosage with its moments), or the findings
that stand in the way; from strands what they give in those days, and from that the order's `Expansion`. `expand` adds what the words say.
Source: HL7 FHIR R4 (4.0.1) Dosage and Timing.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction
from functools import lru_cache
from itertools import chain, repeat
from operator import itemgetter

from dosewright.core.regimen.amounts import find_quantity
from dosewright.core.regimen.course import Days, Start, StartFrom
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus, InSeries, decide, refuse
from dosewright.core.regimen.invariants import check_invariants
from dosewright.core.regimen.maximum import check_maxima, check_on_demand
from dosewright.core.regimen.order import Dose, Order, Series
from dosewright.core.regimen.phases import Part, Strand, find_strands
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import SlotName
from dosewright.core.units.quantity import Quantity, Unit

__all__ = ["LaidOut", "Structure", "days_from", "find_start", "find_structure", "give_in_series", "give_to", "lay_out"]


@dataclass(frozen=True, slots=True)
class Structure:
    """What a structure says: its strands where it is `scheduled`, no strands where it is `as-needed`, else the findings."""

    status: ExpansionStatus
    strands: tuple[Strand, ...] = ()
    findings: tuple[Finding, ...] = ()


_Given = tuple[tuple[Quantity, ...], tuple[date, ...], tuple[SlotName, ...], tuple[time, ...]]


@dataclass(frozen=True, slots=True, eq=False)  # compared by identity: what is made of it is remembered
class LaidOut:
    """A structure's doses in one stretch of days, in order, whosever they are: each the last fields of a `Dose`, from its quantity on,
    field by field: all quantities, all days, all dosing times' names, all their clock times.

    Orders with the same structure share it, and so do their amounts, days and dosing times.
    """

    status: ExpansionStatus
    given: _Given | None = None  # None: no doses
    assumed: tuple[Finding, ...] = ()
    findings: tuple[Finding, ...] = ()

    def __post_init__(self) -> None:
        if self.given and self.status is not ExpansionStatus.SCHEDULED:
            raise ValueError(f"an order with status {self.status} has no doses")


def days_from(first: date, days: int) -> Days:
    """So many days from `first` on, as far as the calendar goes. Raises ValueError for a negative number of days."""
    if days < 0:
        raise ValueError(f"days must not be below zero: {days}")
    return Days(first.toordinal(), min(first.toordinal() + days - 1, date.max.toordinal()))


def find_start(begun: date | Moment | None, window: Days) -> Start:
    """From where the rhythms, counts and courses of an order run unless the structure says so itself. `begun`: its anchor, else since when
    it is in force."""
    if begun is None:
        return Start(window.first)
    if isinstance(begun, Moment):
        return Start(begun.day.toordinal(), begun.time, _STATED)
    return Start(begun.toordinal(), source=_STATED)


_STATED = StartFrom(stated=True)


def find_structure(dosages: Sequence[Dosage], start: Start, timetable: Timetable, window: Days) -> Structure:
    """The strands of one order's dosages, or everything that stands in their way, all at once."""
    stops = _check_each(dosages)
    if stops:
        return _stopped(stops)
    if all(dosage.as_needed for dosage in dosages):
        above = tuple(_at(place, finding) for place, dosage in enumerate(dosages) for finding in check_on_demand(dosage))
        return _stopped(above) if above else Structure(ExpansionStatus.AS_NEEDED)
    if any(dosage.as_needed for dosage in dosages):
        return _stopped((decide("phases.partly-as-needed"),))
    return _find_scheduled(dosages, start, timetable, window)


def lay_out(structure: Structure, window: Days) -> LaidOut:
    """The doses of the window in order of day and clock, with every default that was supplied."""
    each = [given for strand in structure.strands if (given := _given(strand, window))]
    assumed = tuple(_at(strand.part.place, finding) for strand in structure.strands for finding in strand.when.assumed)
    return LaidOut(structure.status, _in_order(each) if len(each) > 1 else each[0] if each else None, assumed, structure.findings)


def _given(strand: Strand, window: Days) -> _Given | None:
    dated = strand.when.dated(window)
    return ((strand.part.quantity,) * len(dated[0]), *dated) if dated else None


def _in_order(each: Iterable[_Given]) -> _Given:
    """Several strands' doses as one, in order of day and clock."""
    together = sorted(chain.from_iterable(zip(*given, strict=True) for given in each), key=_DAY_AND_CLOCK)
    quantities, days, slots, clocks = zip(*together, strict=True)
    return quantities, days, slots, clocks


_DAY_AND_CLOCK = itemgetter(1, 3)


@lru_cache(maxsize=4096)
def _in_series(laid_out: LaidOut) -> tuple[Series, ...]:
    """A strand's doses share their amount, so that it is known by the very object."""
    found: dict[tuple[int, SlotName, time], tuple[Quantity, list[date]]] = {}
    for quantity, day, slot, clock in zip(*laid_out.given, strict=True) if laid_out.given else ():
        found.setdefault((id(quantity), slot, clock), (quantity, []))[1].append(day)
    return tuple(Series(quantity, slot, clock, tuple(days)) for (_, slot, clock), (quantity, days) in found.items())


_DOSES = repeat(Dose)


def give_to(order: Order, laid_out: LaidOut) -> Expansion:
    """The same as doses of one order, while it is in force. A dose is made more often than anything else: this runs in C, at a quarter of
    the time of Dose(…)."""
    doses: Iterable[Dose] = ()
    if laid_out.given:
        fields = zip(repeat(order.id), repeat(order.person), repeat(order.medicine), *laid_out.given, strict=False)
        doses = map(tuple.__new__, _DOSES, fields)
    if not _always_in_force(order, laid_out):
        doses = filter(lambda dose: order.in_force(Moment(dose.day, dose.time)), doses)
    return Expansion(laid_out.status, tuple(doses), laid_out.assumed, laid_out.findings)


def give_in_series(order: Order, laid_out: LaidOut) -> InSeries:
    """The same with the days of each amount and dosing time together, while the order is in force."""
    series: Iterable[Series] = _in_series(laid_out)
    if not _always_in_force(order, laid_out):
        series = (one for whole in series if (one := _while_in_force(order, whole)).days)
    return InSeries(laid_out.status, tuple(series), laid_out.assumed, laid_out.findings)


def _while_in_force(order: Order, whole: Series) -> Series:
    return whole._replace(days=tuple(day for day in whole.days if order.in_force(Moment(day, whole.time))))


def _always_in_force(order: Order, laid_out: LaidOut) -> bool:
    """Whether the order is in force from the first of the doses to the last: then it is at each."""
    if laid_out.given is None or (order.since is None and order.until is None):
        return True
    _, days, _, clocks = laid_out.given
    return all(order.in_force(Moment(days[at], clocks[at])) for at in (0, -1))


def _check_each(dosages: Sequence[Dosage]) -> tuple[Finding, ...]:
    """What stops a dosage whether or not it is taken as needed."""
    if not dosages:
        return (refuse("timing.no-dosage"),)
    found = [_at(place, finding) for place, dosage in enumerate(dosages) for finding in check_invariants(dosage)]
    return (*found, *(_at(place, refuse("dose.rate")) for place, dosage in enumerate(dosages) if any(one.rated for one in dosage.amounts)))


def _find_scheduled(dosages: Sequence[Dosage], start: Start, timetable: Timetable, window: Days) -> Structure:
    quantities = [find_quantity(dosage) for dosage in dosages]
    findings = tuple(_at(place, found) for place, found in enumerate(quantities) if isinstance(found, Finding))
    parts = [
        Part(place, dosage, found if isinstance(found, Quantity) else _NOTHING)
        for place, (dosage, found) in enumerate(zip(dosages, quantities, strict=True))
    ]
    found = find_strands(parts, timetable, start, window)
    findings += tuple(one for one in found if isinstance(one, Finding))
    strands = tuple(one for one in found if isinstance(one, Strand))
    if not findings:
        findings = (*_check_together(strands, window), *check_maxima(strands, window))
    return _stopped(findings) if findings else Structure(ExpansionStatus.SCHEDULED, strands)


_NOTHING = Quantity(Fraction(0), Unit(""))  # stands where no quantity was found, so that the timing is looked at too


def _check_together(strands: Sequence[Strand], window: Days) -> tuple[Finding, ...]:
    """Two dosages for one moment: added together, or one instead of the other? A person decides."""
    if len(strands) < 2:
        return ()
    seen: set[tuple[date, str]] = set()
    for strand in strands:
        fresh = {(moment.day, moment.slot.name) for moment in strand.when.moments(window)}
        if both := seen & fresh:
            day, name = min(both)
            return (decide("phases.same-time-twice", date=day, slot=name),)
        seen |= fresh
    return ()


def _stopped(findings: tuple[Finding, ...]) -> Structure:
    return Structure(ExpansionStatus.REFUSE if blocks(findings) else ExpansionStatus.DECIDE, findings=findings)


def _at(place: int, finding: Finding) -> Finding:
    return Finding(finding.code, finding.severity, {"path": f"dosage[{place}]", **finding.where}, finding.facts)
