"""What an as-needed order may ask of cards, worked out anew: how many doses, of how much, and the most in a day; else None."""

from dataclasses import dataclass, fields
from datetime import date, timedelta
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.suitability import rules_about
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.expected import Asked
from dosewright.core.packing.verify.room import cubic_millimetres, pieces
from dosewright.core.packing.verify.substance import worth
from dosewright.core.regimen.dosage import Dosage, Repeat, TimeUnit
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.quantity import Quantity, Unit

__all__ = ["Demand", "demand_of"]

_RATE = frozenset({"frequency", "frequency_max", "period", "period_max", "period_unit"})
_A_DAY = {TimeUnit.MINUTE: 1440, TimeUnit.HOUR: 24, TimeUnit.DAY: 1}


@dataclass(frozen=True, slots=True)
class Demand:
    """So many doses, one to a cavity; `dose` and `most` (within 24 hours) in units of the product; minutes between two, at least."""

    doses: int
    dose: Fraction
    most: Fraction
    apart: int | None


def demand_of(claim: Asked, request: PlanRequest) -> Demand | None:
    """None for whatever is not an as-needed order that this profile lets into cards of their own."""
    if claim.status != "as-needed" or claim.medicine is None or not request.profile.allows("as_needed_in_card"):
        return None
    if request.format.roll or len(claim.order.dosages) != 1 or not _all_cycle(claim, request):
        return None
    (said,) = claim.order.dosages
    if _last_day(claim.medicine, request) < request.last or not _plain(said):
        return None
    return _demand(said, claim.medicine, request)


def _all_cycle(claim: Asked, request: PlanRequest) -> bool:
    """Every moment of every day of the cycle; and the profile supplies so many days at one go."""
    order, after = claim.order, Moment(request.last + timedelta(days=1))
    held = (order.since or Moment(request.first)) <= Moment(request.first) and (order.until or after) >= after
    return held and request.days <= request.profile.number("max_supply_days")


def _last_day(medicine: Medicine, request: PlanRequest) -> date:
    limits = [
        request.profile.number("bud_max_days"),
        *(r.limit_days for r in rules_about(medicine, request.rules) if r.limit_days is not None),
    ]
    return min([request.prepared_on + timedelta(days=min(limits)), *([e] if (e := request.expiries.get(medicine.code)) else [])])


def _plain(said: Dosage) -> bool:
    timing, amounts = said.timing, said.amounts
    if timing and (timing.events or (timing.code and timing.repeat is None)):
        return False
    repeat = timing.repeat if timing else None
    set_fields = {f.name for f in fields(Repeat) if repeat is not None and getattr(repeat, f.name) not in (None, ())}
    rated = not set_fields or (set_fields <= _RATE and _within_a_day(repeat))
    return rated and said.max_per_lifetime is None and [a.range or a.rated or a.quantity is None for a in amounts] == [False]


def _within_a_day(repeat: Repeat | None) -> bool:
    return bool(repeat and repeat.period and repeat.period_unit in _A_DAY and repeat.period <= _A_DAY[repeat.period_unit])


def _demand(said: Dosage, medicine: Medicine, request: PlanRequest) -> Demand | None:
    dose, most = _units(said.amounts[0].quantity, medicine), _most(said, medicine)
    once = said.max_per_administration
    if not dose or not most or (once and (_units(once, medicine) or 0) < dose):
        return None
    cavity = request.format.cavity
    room = cavity.length * cavity.width * cavity.depth * cavity.design_fill
    if cubic_millimetres(medicine) * dose > room or pieces(dose) > cavity.max_units or most < dose:
        return None
    return Demand(int(most / dose) * request.days, dose, most, _apart(said))


def _units(quantity: Quantity | None, medicine: Medicine) -> Fraction | None:
    """By substance over the substance of one; a part of what may not be divided is none."""
    one = worth(Quantity(Fraction(1), Unit(medicine.unit)), medicine)
    held = worth(quantity, medicine) if quantity else None
    if not one or held is None:
        return None
    whole = "halves-no" in medicine.flags or medicine.unit == "capsule"
    return None if whole and (held / one).denominator > 1 else held / one


def _most(said: Dosage, medicine: Medicine) -> Fraction | None:
    """The least of the day's stated maximum and of what the rate allows; None where one of them cannot be told."""
    told: list[Fraction | None] = []
    if stated := said.max_per_period:
        days = stated.span.value / _A_DAY[stated.span.unit] if stated.span.unit in _A_DAY else None
        told.append(_units(stated.quantity, medicine) if days == 1 else None)
    if said.timing and said.timing.repeat and said.timing.repeat != Repeat():
        told.append(_rate_of(said, medicine))
    return min((each for each in told if each), default=None) if all(told) else None


def _rate_of(said: Dosage, medicine: Medicine) -> Fraction | None:
    repeat = said.timing.repeat if said.timing else None
    dose = _units(said.amounts[0].quantity, medicine)
    if repeat is None or repeat.period is None or repeat.period_unit is None or dose is None:
        return None
    times = Fraction(repeat.frequency_max or repeat.frequency or 1) * _A_DAY[repeat.period_unit] / repeat.period
    return dose * -(-times.numerator // times.denominator)


def _apart(said: Dosage) -> int | None:
    repeat = said.timing.repeat if said.timing else None
    if repeat is None or repeat.period is None or repeat.period_unit not in (TimeUnit.HOUR, TimeUnit.MINUTE):
        return None
    if (repeat.frequency or 1) != 1 or (repeat.frequency_max or 1) != 1:
        return None
    return int(repeat.period * 1440 / _A_DAY[repeat.period_unit])
