"""The whole cycle as one question to a constraint solver: which columns, in which weeks, on how many cards. The oracle for fewest cards.

It starts from the orders' doses again and makes its own volumes; nothing of the planner is in it. Weeks are runs of as many days as the
card has rows; a card holds whole weeks that follow each other, and a week too wide for one card has cards of its own.
"""

from datetime import timedelta
from fractions import Fraction
from itertools import combinations
from math import ceil, pi

from ortools.sat.python import cp_model

from dosewright.core.medicines.medicine import Medicine, Shape
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.expand import expand

__all__ = ["fewest_cards", "fewest_pouches"]

_Load = dict[str, dict[int, Fraction]]  # medicine → day of the cycle → units


def _loads(asked: PlanRequest) -> dict[str, _Load]:
    loads: dict[str, _Load] = {}
    for order in asked.orders:
        for dose in expand(order, asked.timetable, asked.first, asked.days).doses:
            held = loads.setdefault(dose.slot, {}).setdefault(dose.medicine, {})
            day = (dose.day - asked.first).days
            held[day] = held.get(day, Fraction(0)) + dose.quantity.count
    return loads


def _thousandths(medicine: Medicine) -> int:
    assert medicine.shape is Shape.ROUND
    assert medicine.size
    size = medicine.size
    return ceil(pi * float(size.length) ** 2 / 4 * float(size.thickness) * 1000)


def _needs(asked: PlanRequest, code: str, count: Fraction) -> tuple[int, int]:
    medicine = next(one for key, one in asked.medicines.items() if key == code)
    return ceil(_thousandths(medicine) * count), ceil(count)


def _clash(asked: PlanRequest, one: str, other: str) -> bool:
    return any({one, other} <= {*pair.one, *pair.other} and (one in pair.one) != (other in pair.one) for pair in asked.pairs)


def _columns(model: cp_model.CpModel, load: _Load, days: range, asked: PlanRequest, name: str) -> cp_model.LinearExprT:
    """How many columns one dosing time takes on those days."""
    items = [code for code in sorted(load) if any(day in load[code] for day in days)]
    lies = {(code, c): model.new_bool_var(f"{name} {code} {c}") for code in items for c in range(len(items))}
    used = [model.new_bool_var(f"{name} used {c}") for c in range(len(items))]
    for code in items:
        model.add_exactly_one(lies[code, c] for c in range(len(items)))
    cavity = asked.format.cavity
    for c in range(len(items)):
        for day in days:
            due = {code: _needs(asked, code, load[code][day]) for code in items if day in load[code]}
            model.add(sum(need[0] * lies[code, c] for code, need in due.items()) <= cavity.usable_volume * used[c])
            model.add(sum(need[1] * lies[code, c] for code, need in due.items()) <= cavity.max_units)
            for one, other in combinations(due, 2):
                if _clash(asked, one, other):
                    model.add_at_most_one(lies[one, c], lies[other, c])
    return sum(used)


def _keeps(asked: PlanRequest, loads: dict[str, _Load], days: range) -> bool:
    """Whether all that is taken on those days lasts until the last of them on which anything is taken."""
    taken = [(day, code) for load in loads.values() for code, held in load.items() for day in held if day in days]
    last = asked.first + timedelta(days=max((day for day, _ in taken), default=0))
    return all(asked.expiries.get(code, last) >= last for _, code in taken)  # type: ignore[call-overload]


def _solved(model: cp_model.CpModel, total: cp_model.LinearExprT) -> int:
    model.minimize(total)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def fewest_cards(asked: PlanRequest, most_weeks: int) -> int:
    """The optimum over the whole cycle, all dosing times and weeks at once."""
    model, loads, width = cp_model.CpModel(), _loads(asked), asked.format.columns
    starts = range(0, asked.days, asked.format.rows)
    weeks = [range(at, min(at + asked.format.rows, asked.days)) for at in starts]
    used = [sum(_columns(model, load, week, asked, f"{slot} {week.start}") for slot, load in loads.items()) for week in weeks]
    many = 40 * len(weeks)
    cards: list[cp_model.LinearExprT] = []
    covering: list[list[cp_model.IntVar]] = [[] for _ in weeks]
    for first in range(len(weeks)):
        for last in range(first, min(len(weeks), first + most_weeks)):
            run, need = model.new_bool_var(f"run {first} {last}"), model.new_int_var(0, many, f"cards {first} {last}")
            model.add(sum(used[first : last + 1]) <= width * need).only_enforce_if(run)
            if last > first:
                model.add(need <= 1)
                if not _keeps(asked, loads, range(weeks[first].start, weeks[last].stop)):
                    model.add(run == 0)
            model.add(need == 0).only_enforce_if(~run)
            cards.append(need)
            for week in range(first, last + 1):
                covering[week].append(run)
    for runs in covering:
        model.add_exactly_one(runs)
    return _solved(model, sum(cards))


def fewest_pouches(asked: PlanRequest) -> int:
    """The optimum of a roll: every day and dosing time by itself, in one model."""
    model = cp_model.CpModel()
    loads = _loads(asked)
    every = [
        _columns(model, load, range(day, day + 1), asked, f"{slot} {day}") for slot, load in loads.items() for day in range(asked.days)
    ]
    assert asked.last == asked.first + timedelta(days=asked.days - 1)
    return _solved(model, sum(every))
