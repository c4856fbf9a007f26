"""The days on which old times give way to new: how long after its last dose an order's first one comes, and what meets only then.

Comes in: orders as they are and as they would be. Goes out: findings. A dose moved earlier comes sooner once, one moved later later once.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import islice, pairwise, permutations

from dosewright.core.medicines.spacing import breaches, concerns
from dosewright.core.packing.dosing_times.freedom import hours_and_minutes
from dosewright.core.packing.dosing_times.setting import Setting
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Dose, Order
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import OrderId

__all__ = ["check_change_over", "first_gap"]

_BACK = 40  # days: longer ago the last dose of a monthly rhythm cannot be
_AROUND = 2  # days on either side of the first: no spacing rule reaches farther
_Moments = list[tuple[date, time]]


def first_gap(order: Order, made: Order, setting: Setting) -> Finding | None:
    """How long after the last dose at its old time the first at its new one comes, and how long it is otherwise. None without both."""
    first = setting.request.first
    old = [datetime.combine(dose.day, dose.time) for dose in _doses(order, first - timedelta(days=_BACK), _BACK, setting)]
    new = [datetime.combine(dose.day, dose.time) for dose in _doses(made, first, _BACK, setting)]
    if len(old) < 2 or not new:
        return None
    usual = min(later - sooner for sooner, later in pairwise(old))
    last: dict[str, Fact] = {"date": old[-1].date(), "time": old[-1].time(), "next_date": new[0].date(), "next_time": new[0].time()}
    return setting.note("times.first-gap", order, gap=_written(new[0] - old[-1]), usual=_written(usual), **last)


def check_change_over(made: Mapping[OrderId, Order], setting: Setting) -> Iterator[Finding]:
    """A `decide` for each two medicines that come too close only because one was still at its old time: once, at the change-over."""
    before, after = _Side(setting, {}, -_AROUND), _Side(setting, made, 0)
    for one, other in permutations(setting.orders, 2):
        if one.id in made or other.id in made:
            yield from _too_close(one, other, (before.moments(one), after.moments(other)), setting)
            yield from _too_close(one, other, (after.moments(one), before.moments(other)), setting)


@dataclass(frozen=True, slots=True)
class _Side:
    """The days before the first, or from it on, with the orders as they count then."""

    setting: Setting
    made: Mapping[OrderId, Order]
    begins: int

    def moments(self, order: Order) -> _Moments:
        start = self.setting.request.first + timedelta(days=self.begins)
        return [(dose.day, dose.time) for dose in _doses(self.made.get(order.id, order), start, _AROUND, self.setting)]


def _doses(order: Order, start: date, days: int, setting: Setting) -> Sequence[Dose]:
    return expand(order, setting.timetable, start, days).doses


def _too_close(one: Order, other: Order, moments: tuple[_Moments, _Moments], setting: Setting) -> Iterator[Finding]:
    """The first two doses that break some rule, for each rule."""
    first, second = setting.medicine_of(one), setting.medicine_of(other)
    if first is None or second is None:
        return
    for rule in (rule for rule in setting.request.spacings if concerns(rule, first, second)):
        for (day, clock), (other_day, other_clock) in islice(breaches(rule, *moments), 1):
            cited: dict[str, Fact] = {"reason": rule.reason, "source": rule.source, "dated": rule.dated, "rule": rule.id}
            times: dict[str, Fact] = {"date": day, "time": clock, "other_date": other_day, "other_time": other_clock}
            yield setting.found("times.change-over", Severity.DECIDE, one, other=second.label, **times, **cited)


def _written(gap: timedelta) -> str:
    return hours_and_minutes(int(gap.total_seconds()) // 60)
