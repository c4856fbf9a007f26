"""Changes for tests: cards planned from the orders before, and the situation in which they meet the orders after."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import time, timedelta
from fractions import Fraction

from tests.core.packing.makers import MONDAY, plan_of

from dosewright.core.interop.rework_rates_toml import parse_rates
from dosewright.core.packing.plan_values import Content, PackedCavity
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.rework.layout import PersonLayout, lay_out
from dosewright.core.rework.proof import check_layout
from dosewright.core.rework.situation import OpenCard, Place, Situation
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import MedicineCode
from dosewright.devices.shipped import read_shipped

__all__ = ["RATES", "day", "laid_out", "open_cards", "situation", "sums", "used_before"]

RATES = parse_rates(read_shipped("rework", "rates.toml"))


def day(number: int, clock: time = time(0)) -> Moment:
    """The start of the cycle's day of that number, from 1, or a clock time on it."""
    return Moment(MONDAY + timedelta(days=number - 1), clock)


def open_cards(before: PlanRequest, at: Moment, place: Place = Place.SHELF) -> tuple[OpenCard, ...]:
    """Every card of a plan of those orders, cavities before the moment used."""
    return tuple(
        OpenCard(card, person.person, place, used_before(card.cavities, at)) for person in plan_of(before).people for card in person.cards
    )


def used_before(cavities: Iterable[PackedCavity], at: Moment) -> frozenset[tuple[int, int]]:
    return frozenset((cavity.row, cavity.column) for cavity in cavities if Moment(cavity.day, cavity.time) < at)


def situation(
    before: PlanRequest, orders: Iterable[Order], at: Moment, place: Place = Place.SHELF, cards: tuple[OpenCard, ...] | None = None
) -> Situation:
    """The same request with other orders from the moment on; cards as planned, or as given."""
    after = replace(before, orders=tuple(orders), prepared_on=at.day)
    return Situation(before, after, at, at, open_cards(before, at, place) if cards is None else cards, RATES)


def laid_out(case: Situation) -> tuple[PersonLayout, ...]:
    """Laid out, and the recount has found nothing wrong with it."""
    found = lay_out(case)
    assert [finding for one in found for finding in check_layout(one, case)] == []
    return found


def sums(contents: Iterable[Content]) -> Mapping[tuple[MedicineCode, Fraction], int]:
    """How many portions of each medicine and amount."""
    return Counter((content.medicine, content.quantity.count) for content in contents)
