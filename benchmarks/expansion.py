"""Orders to doses: `regimen.expand` against `dateutil.rrule` for the same orders and the same 28 days, order by order.

Each order is new (its own ids and start), as in a pharmacy's week; directions repeat among them, as they do there. Ours gives whole `Dose`
values with the findings checked; rrule gives bare datetimes for a rule that is already worked out. The mixture of directions: from memory.
"""

import json
import subprocess
import sys
import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from pathlib import Path

from dateutil import rrule

from benchmarks.ratio import compare, grow, seconds
from dosewright.core.interop.dosage_json import format_dosage
from dosewright.core.interop.json_text import format_json
from dosewright.core.regimen.dosage import Amount, Dosage, Period, Repeat, Span, TimeUnit, Timing, Weekday
from dosewright.core.regimen.expand import _find_agreed, _laid_out, expand
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId
from dosewright.core.units.quantity import Quantity, Unit

FIRST, DAYS = date(2026, 3, 2), 28
DAILY = {"period": Fraction(1), "period_unit": TimeUnit.DAY}

Rule = dict[str, object]

# (how many in 20, the repeat, the same for rrule)
MIXTURE: tuple[tuple[int, Repeat, Rule], ...] = (
    (7, Repeat(frequency=1, when=("MORN",), **DAILY), {"freq": rrule.DAILY, "byhour": [8]}),  # type: ignore[arg-type]
    (4, Repeat(frequency=2, **DAILY), {"freq": rrule.DAILY, "byhour": [8, 18]}),  # type: ignore[arg-type]
    (2, Repeat(frequency=3, **DAILY), {"freq": rrule.DAILY, "byhour": [8, 12, 18]}),  # type: ignore[arg-type]
    (2, Repeat(frequency=4, **DAILY), {"freq": rrule.DAILY, "byhour": [8, 12, 18, 22]}),  # type: ignore[arg-type]
    (2, Repeat(frequency=1, when=("HS",), **DAILY), {"freq": rrule.DAILY, "byhour": [22]}),  # type: ignore[arg-type]
    (
        1,
        Repeat(frequency=1, period=Fraction(2), period_unit=TimeUnit.DAY, when=("MORN",)),
        {"freq": rrule.DAILY, "interval": 2, "byhour": [8]},
    ),
    (1, Repeat(day_of_week=(Weekday.MON,), when=("MORN",)), {"freq": rrule.WEEKLY, "byweekday": [0], "byhour": [8]}),
    (
        1,
        Repeat(frequency=3, bounds_duration=Span(Fraction(100), TimeUnit.DAY), **DAILY),  # type: ignore[arg-type]
        {"freq": rrule.DAILY, "count": 300, "byhour": [8, 12, 18]},
    ),
)


def make_orders(count: int) -> list[tuple[Order, Callable[[], rrule.rrule]]]:
    """So many orders in the mixture's proportions, each with a start of its own up to 60 days back."""
    kinds = [(repeat, rule) for often, repeat, rule in MIXTURE for _ in range(often)]
    return [_order(place, *kinds[place % len(kinds)]) for place in range(count)]


def _order(place: int, repeat: Repeat, rule: Rule) -> tuple[Order, Callable[[], rrule.rrule]]:
    start = FIRST - timedelta(days=place * 7 % 60)
    if repeat.bounds_duration is None:
        repeat = replace(repeat, bounds_period=Period(start))
    dosage = Dosage(timing=Timing(repeat=repeat), amounts=(Amount(Quantity(Fraction(1), Unit("tablet"))),))
    order = Order(OrderId(f"o{place}"), PersonId(f"p{place // 9}"), MedicineCode(f"m{place % 60}"), (dosage,), anchor=start)
    begin = datetime.combine(start, time(0))
    return order, lambda: rrule.rrule(dtstart=begin, byminute=0, bysecond=0, **rule)  # type: ignore[arg-type]


def ours(count: int) -> Callable[[], object]:
    orders = [order for order, _ in make_orders(count)]
    return lambda: [expand(order, STANDARD_TIMETABLE, FIRST, DAYS).doses for order in orders]


def theirs(count: int) -> Callable[[], object]:
    rules = [rule for _, rule in make_orders(count)]
    begin = datetime.combine(FIRST, time(0))
    end = begin + timedelta(days=DAYS, seconds=-1)
    return lambda: [rule().between(begin, end, inc=True) for rule in rules]


def _afresh(work: Callable[[], object]) -> Callable[[], object]:
    """The same with nothing kept from the turn before but the rhythms themselves, which a pharmacy's orders share."""

    def forgetful() -> object:
        _find_agreed.cache_clear()
        _laid_out.cache_clear()
        return work()

    return forgetful


def check_same(count: int) -> int:
    """Both must give the same moments, else the ratio means nothing; the number of doses."""
    total = 0
    for mine, other in zip(ours(count)(), theirs(count)(), strict=True):  # type: ignore[call-overload]
        assert [datetime.combine(dose.day, dose.time) for dose in mine] == other
        total += len(mine)
    return total


def whole_command(count: int) -> Callable[[], object]:
    """`dosewright doses` as a process: read, expand, write."""
    folder = Path(tempfile.mkdtemp(prefix="dosewright-bench-"))
    file = folder / "orders.jsonl"
    lines = [format_json(format_dosage(order.dosages[0])) for order, _ in make_orders(count)]
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    command = [sys.executable, "-m", "dosewright.config.command", "doses", "--from", FIRST.isoformat(), "--days", str(DAYS), str(file)]
    return lambda: json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout.splitlines()[0])


def main() -> None:
    print(f"{check_same(1000)} doses of 1,000 orders in {DAYS} days are the same on both sides.")
    compare("expand again, 1,000 orders", ours(1000), "dateutil.rrule", theirs(1000), turns=11)
    compare("expand for the first time, 1,000 orders", _afresh(ours(1000)), "dateutil.rrule", theirs(1000), turns=11)
    grow("expand, orders", ours, (10, 100, 1000), turns=11)
    for count in (10, 100, 1000):
        print(f"whole command, {count:>5} orders: {seconds(whole_command(count)):.2f} s")


if __name__ == "__main__":
    main()
