"""Why an order may not lie in a card: worked out anew from form, rules, profile, amounts and cavity. Codes as on the alongside list."""

from fractions import Fraction
from functools import lru_cache
from itertools import permutations

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.suitability import Rule, Standing, rules_about
from dosewright.core.medicines.volume import outline_and_size
from dosewright.core.packing.card_format import Cavity
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.demand import demand_of
from dosewright.core.packing.verify.expected import Asked
from dosewright.core.packing.verify.room import cubic_millimetres
from dosewright.core.regimen.routes import other_way
from dosewright.core.units.ids import OrderId

__all__ = ["reasons_to_stay_out"]

_BY_STATUS = {"as-needed": "as-needed", "decide": "directions.decide", "refuse": "directions.refuse"}
# Cubic millimetres by which the planner's rounding up may exceed the exact volume: it may leave a unit out for that, never pack one.
_ROUNDING = Fraction(1, 100)
_AMOUNTS = frozenset({"amount.no-unit", "amount.unit-mismatch", "amount.inexact", "amount.not-breakable", "amount.too-many"})


def reasons_to_stay_out(claim: Asked, request: PlanRequest) -> frozenset[str]:
    """Every code that keeps the order out of the cards; empty where it belongs in them."""
    if claim.medicine is None:
        return frozenset({"medicine.unknown"})
    found = {_BY_STATUS[claim.status]} if claim.status in _BY_STATUS else set()
    by_cavity = _by_cavity(claim.medicine, request)
    if not by_cavity and demand_of(claim, request):
        found.discard("as-needed")
    found |= _by_rules(claim.order.id, claim.medicine, request) | _by_profile(claim.medicine, request)
    if other_way(claim.order.dosages):
        found.add("route")
    if any(due is None for due in claim.due.values()) or _broken(claim, claim.medicine):
        found |= _AMOUNTS
    return frozenset(found | by_cavity)


def _by_rules(order: OrderId, medicine: Medicine, request: PlanRequest) -> set[str]:
    about = rules_about(medicine, request.rules)
    if request.rules.forms and not any(rule.id.startswith("form.") for rule in about):
        return {"form.unknown", *(rule.why for rule in about if rule.standing is Standing.EXCLUDED)}
    found = {rule.why for rule in about if rule.standing is Standing.EXCLUDED}
    strictest = max((rule.standing for rule in about), default=Standing.FITS)
    if strictest is Standing.EXCLUDED:
        return found
    return _by_answer(order, [rule for rule in about if rule.standing is strictest], request)


def _by_answer(order: OrderId, deciding: list[Rule], request: PlanRequest) -> set[str]:
    """The reasons that no valid answer lifts, or the answer's own wish to keep it out."""
    if not deciding or deciding[0].standing is Standing.FITS:
        return set()
    rule = deciding[0]
    choices = [a.choice for a in request.answers if (a.order, a.about, a.dated) == (order, rule.id, rule.dated)]
    if choices:
        return {"suitability.decided"} if choices[0] == "alongside" else set()
    return set() if rule.standing is Standing.CONFIRM else {rule.why}


def _by_profile(medicine: Medicine, request: PlanRequest) -> set[str]:
    handled = "hazardous" in medicine.flags or any(rule.hazardous for rule in rules_about(medicine, request.rules))
    refused = {"hazardous"} if handled and not request.profile.allows("hazardous_in_card") else set()
    locked = "controlled" in medicine.flags and not request.profile.allows("controlled_in_card")
    return refused | ({"controlled"} if locked else set())


def _broken(claim: Asked, medicine: Medicine) -> bool:
    """Whether some dose needs part of a unit that may not be divided."""
    if "halves-no" not in medicine.flags and medicine.unit != "capsule":
        return False
    whole = medicine.strength_amount.count if medicine.strength_amount else None
    return any(
        (quantity.count if quantity.unit.startswith(medicine.unit) or not whole else quantity.count / whole).denominator != 1
        for quantities in claim.doses.values()
        for quantity in quantities
    )


def _by_cavity(medicine: Medicine, request: PlanRequest) -> set[str]:
    lines = request.label_lines
    too_long = lines is not None and lines.needed.get(medicine.code, 0) > lines.room
    return {*_by_size(medicine, request.format.cavity), *(("cavity.label",) if too_long else ())}


@lru_cache(maxsize=16384)
def _by_size(medicine: Medicine, cavity: Cavity) -> frozenset[str]:
    _, size = outline_and_size(medicine)
    ways = permutations((size.length, size.width, size.thickness))
    found: set[str] = set()
    if not any(a <= cavity.length and b <= cavity.width and c <= cavity.depth for a, b, c in ways):
        found.add("cavity.footprint")
    if cubic_millimetres(medicine) + _ROUNDING > cavity.length * cavity.width * cavity.depth * cavity.design_fill:
        found.add("cavity.volume")
    return frozenset(found)
