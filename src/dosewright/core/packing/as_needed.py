"""As-needed orders in columns of their own: an order's directions in, how many doses of it and what its column says, or why alongside.

One cavity is one dose, and a column holds one medicine. It is done only where the profile allows it, and only for directions that a label
can say whole: one fixed dose, a most within 24 hours, no times, no end within the cycle. So many doses as the most allows on each day of
the cycle. Everything else stays alongside, and the finding says why. Source of the caution: British Medical Journal 1996;313:926, what is
taken as needed may be taken regularly if it lies among the rest.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction

from dosewright.core.medicines.amounts import units_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.volume import piece_count, volume_of
from dosewright.core.packing.case import Case
from dosewright.core.packing.last_day import last_day_of
from dosewright.core.packing.most_a_day import most_a_day
from dosewright.core.packing.plan_values import WhenNeeded
from dosewright.core.regimen.dosage import Dosage, Repeat, TimeUnit
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.quantity import Quantity

__all__ = ["OnDemand", "on_demand"]

_MINUTES = {TimeUnit.MINUTE: 1, TimeUnit.HOUR: 60, TimeUnit.DAY: 1440}
_DAY = 1440


@dataclass(frozen=True, slots=True)
class OnDemand:
    """An order that gets columns of its own: its product, what they say, and how many doses (cavities) they hold together."""

    medicine: Medicine
    says: WhenNeeded
    doses: int


def on_demand(case: Case) -> OnDemand | str:
    """What the order's columns hold, or the code of why it stays alongside."""
    for barred, why in ((_no_room_for_one, "as-needed.no-card"), (_not_throughout, "as-needed.not-all-cycle")):
        if barred(case):
            return why
    if len(case.order.dosages) != 1 or not _says_only_how_often(case.order.dosages[0]):
        return "as-needed.directions"
    said = _counted(case, case.order.dosages[0])
    if isinstance(said, str):
        return said
    times = said.most.count // said.dose.count
    return OnDemand(case.medicine, said, int(times) * case.request.days) if times else "as-needed.no-most"


def _no_room_for_one(case: Case) -> bool:
    """A roll's pouches come in order of time, and these have none; a set that keeps too short, or is too long, has no cards either."""
    request = case.request
    too_long = request.days > request.profile.number("max_supply_days")
    return request.format.roll or too_long or last_day_of([case.medicine], request) < request.last


def _not_throughout(case: Case) -> bool:
    """Whether the order begins or ends within the cycle: nothing on the card would say when it may be taken."""
    order, request = case.order, case.request
    begins = order.since is not None and order.since > Moment(request.first)
    return begins or (order.until is not None and order.until < Moment(request.last + timedelta(days=1)))


def _says_only_how_often(dosage: Dosage) -> bool:
    """Whether the directions are one fixed dose and at most how often in a day or an hour, which is all that a cavity's label can say."""
    timing = dosage.timing
    if dosage.max_per_lifetime or (timing and (timing.events or (timing.code and not timing.repeat))):
        return False
    fixed = len(dosage.amounts) == 1 and dosage.amounts[0].quantity is not None and not dosage.amounts[0].rated
    return fixed and (timing is None or timing.repeat is None or _is_plain(timing.repeat))


def _is_plain(repeat: Repeat) -> bool:
    """How often within a day, and nothing besides: no times, weekdays, courses or counts."""
    rate = Repeat(
        frequency=repeat.frequency,
        frequency_max=repeat.frequency_max,
        period=repeat.period,
        period_max=repeat.period_max,
        period_unit=repeat.period_unit,
    )
    if repeat != rate or repeat.period is None or repeat.period_unit not in _MINUTES:
        return repeat == Repeat()
    return repeat.period * _MINUTES[repeat.period_unit] <= _DAY


def _counted(case: Case, dosage: Dosage) -> WhenNeeded | str:
    """Dose, most and least time between doses in the product's own units."""
    dose, most = _units(dosage.amounts[0].quantity, case.medicine), _most(dosage, case.medicine)
    if dose is None:
        return "as-needed.dose"
    if most is None:
        return "as-needed.no-most"
    if not _lies_in_one(dose, case):
        return "as-needed.dose-too-large"
    at_once = dosage.max_per_administration
    if at_once is not None and ((allowed := _units(at_once, case.medicine)) is None or allowed < dose):
        return "as-needed.dose"
    unit = case.medicine.unit
    return WhenNeeded(case.order.id, case.medicine.code, Quantity(dose, unit), Quantity(most, unit), _apart(dosage))


def _units(quantity: Quantity | None, medicine: Medicine) -> Fraction | None:
    count = units_of(quantity, medicine) if quantity else None
    return count if isinstance(count, Fraction) and count else None


def _most(dosage: Dosage, medicine: Medicine) -> Fraction | None:
    """The smaller of what is stated for a day and of what the rate comes to; None where neither is said, or one cannot be counted."""
    said = [Dosage(max_per_period=dosage.max_per_period)] if dosage.max_per_period else []
    said += [Dosage(timing=dosage.timing, amounts=dosage.amounts)] if dosage.timing and dosage.timing.repeat != Repeat() else []
    counted = [_units(most_a_day(one), medicine) for one in said]
    return None if not counted or None in counted else min(count for count in counted if count is not None)


def _lies_in_one(dose: Fraction, case: Case) -> bool:
    cavity = case.request.format.cavity
    return volume_of(case.medicine, dose) <= cavity.usable_volume and piece_count(dose) <= cavity.max_units


def _apart(dosage: Dosage) -> int | None:
    """Minutes between doses, at least: "every 4 to 6 hours" is four hours; "up to four times a day" says nothing of it."""
    repeat = dosage.timing.repeat if dosage.timing else None
    if repeat is None or repeat.period is None or repeat.period_unit not in _MINUTES or repeat.period_unit is TimeUnit.DAY:
        return None
    often: Sequence[int] = [times for times in (repeat.frequency, repeat.frequency_max) if times]
    return int(repeat.period * _MINUTES[repeat.period_unit]) if max(often, default=1) == 1 else None
