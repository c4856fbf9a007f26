"""Whether a cavity of an existing card takes one more medicine: volume, pieces, label lines, neighbours and last days (R4, R5)."""

from collections.abc import Mapping
from datetime import date, timedelta
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.neighbours import apart_because
from dosewright.core.medicines.suitability import limit_days, rules_about
from dosewright.core.medicines.volume import piece_count, volume_of
from dosewright.core.packing.plan_values import Card
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.ids import MedicineCode

__all__ = ["has_room", "last_day_of"]


def has_room(counts: Mapping[MedicineCode, Fraction], newcomer: MedicineCode, card: Card, day: date, request: PlanRequest) -> bool:
    """Whether so much of each medicine may lie together in a cavity of that day, of which the newcomer is put in on the day of work."""
    cavity, lines, medicines = request.format.cavity, request.label_lines, request.medicines
    too_full = sum(volume_of(medicines[code], count) for code, count in counts.items()) > cavity.usable_volume
    too_many = sum(piece_count(count) for count in counts.values()) > cavity.max_units
    too_long = lines is not None and sum(lines.needed.get(code, 0) for code in counts) > lines.room
    return not (too_full or too_many or too_long or _apart(counts, newcomer, request)) and day <= min(
        card.beyond_use, last_day_of(medicines[newcomer], request)
    )


def _apart(counts: Mapping[MedicineCode, Fraction], newcomer: MedicineCode, request: PlanRequest) -> bool:
    new = request.medicines[newcomer]
    return any(apart_because(new, request.medicines[code], request.pairs, request.rules) for code in counts)


def last_day_of(medicine: Medicine, request: PlanRequest) -> date:
    """The last day on which units put into a card on the day of work may be taken."""
    known = [request.prepared_on + timedelta(days=request.profile.number("bud_max_days"))]
    days = limit_days(rules_about(medicine, request.rules))
    known += [request.prepared_on + timedelta(days=days)] if days is not None else []
    known += [request.expiries[medicine.code]] if medicine.code in request.expiries else []
    return min(known)
