"""Doses to columns: `packing.solve` against a plain constraint-solver model of the same problems, person by person; then whole plans.

Family: as published, 8.9 ± 4.1 regular medicines (24 months after admission to aged care, JAMDA 2024), shares of the dosing times 0.50,
0.12, 0.20, 0.18 (an assumption). Two plain models: one that packs at once, by sums; one that first tests whether a single column is enough.
"""

import gc
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from functools import partial
from random import Random
from time import process_time

from tests.core.packing.packing_families import FAMILIES, draw
from tests.core.packing.packing_model import fewest_columns

from benchmarks.ratio import compare
from dosewright.core.interop.card_format_toml import parse_card_format
from dosewright.core.interop.order_csv import parse_orders
from dosewright.core.interop.orders_in import OrderSource
from dosewright.core.interop.plan_json import format_person
from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.interop.suitability_toml import parse_pairs, parse_rules
from dosewright.core.medicines.medicine import Medicine, Shape, Size
from dosewright.core.packing.fingerprint import fingerprint_of_setting
from dosewright.core.packing.load import loads_of, problem_on
from dosewright.core.packing.placing import place_order
from dosewright.core.packing.plan import plan_people
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.solve import Problem, solve
from dosewright.core.packing.verify import recount_sets
from dosewright.core.paper.label_lines import with_label_lines
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing, Weekday
from dosewright.core.regimen.expand import expand_in_series
from dosewright.core.regimen.expansion import InSeries
from dosewright.core.regimen.order import Order
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.fonts import load_fonts
from dosewright.devices.shipped import read_shipped

FIRST, DAYS = date(2026, 3, 2), 28
WHENS = (("MORN", 0.50), ("NOON", 0.12), ("EVE", 0.20), ("HS", 0.18))


def catalogue(random: Random, many: int = 60) -> dict[MedicineCode, Medicine]:
    """Invented tablets and capsules from 5 to 19 mm long."""
    return {m.code: m for m in (_product(random, number) for number in range(many))}


def _product(random: Random, number: int) -> Medicine:
    length, width = sorted((random.randint(10, 38), random.randint(10, 20)), reverse=True)
    return Medicine(
        code=MedicineCode(f"m{number}"),
        name=f"Product {number}",
        strength="5 mg",
        form="tablet",
        unit=Unit("tablet"),
        strength_amount=Quantity(Fraction(5), Unit("mg")),
        shape=random.choice([Shape.ROUND, Shape.CAPLET, Shape.OVAL]),
        size=Size(Fraction(length, 2), Fraction(width, 2), Fraction(random.randint(5, 12), 2)),
        colour=random.choice(("white", "yellow", "pink")),
        mark=str(number),
    )


def _orders(random: Random, person: Person, medicines: list[MedicineCode]) -> list[Order]:
    regular = min(22, max(1, round(random.gauss(8.9, 4.1))))
    return [_order(random, person, number, code) for number, code in enumerate(random.sample(medicines, regular))]


def _order(random: Random, person: Person, number: int, code: MedicineCode) -> Order:
    when = random.choices([w for w, _ in WHENS], [share for _, share in WHENS])[0]
    kind = random.choices(("daily", "alternate", "weekly"), (0.92, 0.04, 0.04))[0]
    repeat = {
        "daily": Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=(when,)),
        "alternate": Repeat(frequency=1, period=Fraction(2), period_unit=TimeUnit.DAY, when=(when,)),
        "weekly": Repeat(day_of_week=(random.choice(list(Weekday)),), when=(when,)),
    }[kind]
    count = Fraction(random.choice(("0.5", "1", "1", "1", "1", "1", "1", "1", "2", "2")))
    dosage = Dosage(timing=Timing(repeat=repeat), amounts=(Amount(quantity=Quantity(count, Unit("tablet"))),))
    return Order(OrderId(f"{person.id}-{number}"), person.id, code, (dosage,), anchor=FIRST)


def published(people: int, seed: int = 1, first: int = 0) -> PlanRequest:
    """So many people's orders, numbered from `first`; the shipped card format, profile and rules."""
    random = Random(seed)
    medicines = catalogue(random)
    if first:
        random.seed(f"{seed} {first}")
    who = tuple(Person(PersonId(f"p{number:06}"), f"Person {number}") for number in range(first, first + people))
    pairs, spacings = parse_pairs(read_shipped("suitability", "pairs.toml"))
    return PlanRequest(
        people=who,
        orders=tuple(order for person in who for order in _orders(random, person, sorted(medicines))),
        medicines=medicines,
        format=parse_card_format(read_shipped("formats", "seven-by-four.toml")),
        profile=parse_profile(read_shipped("profiles", "uk.toml")),
        first=FIRST,
        days=DAYS,
        prepared_on=date(2026, 2, 27),
        rules=parse_rules(read_shipped("suitability", "forms.toml"), read_shipped("suitability", "products.toml")),
        pairs=pairs,
        spacings=spacings,
    )


def problems_of(request: PlanRequest) -> list[list[Problem]]:
    """Each person's packing problems, one a dosing time, over the whole cycle."""
    found = []
    for person in request.people:
        series = [one for order in request.orders_of(person.id) for one in place_order(order, person, request).series]
        found.append([problem_on(load.items, load.days(), request) for load in loads_of(series, request)])
    return found


def fewest_after_one(problem: Problem) -> int:
    """The plain model, asked only where the sums do not fit a single column."""
    one = not problem.apart and all(sum(d[at] for d in problem.demands) <= limit for at, limit in enumerate(problem.limits))
    return 1 if one else fewest_columns(problem)


def _solve_all(people: list[list[Problem]]) -> list[int]:
    return [solve(problem).count for problems in people for problem in problems]


def _model_all(people: list[list[Problem]], model: Callable[[Problem], int]) -> list[int]:
    return [model(problem) for problems in people for problem in problems]


def compare_solvers() -> None:
    """Ours against the two plain models on the same people; all three agree on every one."""
    people = problems_of(published(60))
    assert _solve_all(people) == _model_all(people, fewest_columns) == _model_all(people, fewest_after_one)
    compare("60 people, branch and bound", lambda: _solve_all(people), "CP-SAT by sums", lambda: _model_all(people, fewest_columns), 5)
    compare("the same", lambda: _solve_all(people), "CP-SAT after one column", lambda: _model_all(people, fewest_after_one), 5)


def time_families(many: int = 1000) -> None:
    """Milliseconds (of one core) and nodes of the solver alone on each family of the tests. Goals: p99 at most 25 ms, 6,000 nodes."""
    for family in FAMILIES:
        problems = [draw(family, seed) for seed in range(many)]
        found = [solve(problem) for problem in problems]
        taken = sorted(_processor_seconds(_solving(problem)) * 1000 for problem in problems)
        nodes, proved = max(solution.nodes for solution in found), sum(solution.optimal for solution in found)
        print(
            f"{family}: median {taken[many // 2]:.3f} ms, p99 {taken[many * 99 // 100]:.2f} ms, longest {taken[-1]:.0f} ms,"
            f" at most {nodes} nodes, {proved} of {many} proved, up to {max(s.count for s in found)} columns"
        )


def _solving(problem: Problem) -> Callable[[], object]:
    return lambda: solve(problem)


def time_stages(people: int = 1000) -> None:
    """The share of each stage of the whole `plan` command before paper, in seconds of one core, and people a second in all.

    Some people at a time, the least of several turns, so that what else runs on the machine counts as little as may be; the first turn,
    which fills what is remembered, is not counted. `homes` counts it.
    """
    request = published(people)
    setting = fingerprint_of_setting(request)
    parts = [_part_of(request, first) for first in range(0, people, _AT_A_TIME)]
    medicines, fonts = request.medicines, load_fonts()
    source = OrderSource("orders.csv", medicines, "en", "GB", request.prepared_on)
    files = [orders_file(part) for part in parts]
    sets = [[one.plan for one in plan_people(part, setting)] for part in parts]
    names = {person.id: person.name for person in request.people}
    problems = problems_of(request)
    assert not any(parse_orders(file, source).findings for file in files)
    assert all(recount_sets(found, part) == () for found, part in zip(sets, parts, strict=True))
    stages: dict[str, list[Callable[[], object]]] = {
        "read the orders": [partial(parse_orders, file, source) for file in files],
        "measure the labels": [lambda: with_label_lines(request, fonts)],
        "plan": [partial(plan_people, part, setting) for part in parts],
        "recount": [partial(recount_sets, found, part) for found, part in zip(sets, parts, strict=True)],
        "write JSON": [partial(_lines_of, found, names) for found in sets],
    }
    inside: dict[str, list[Callable[[], object]]] = {
        "expand": [partial(_expand_all, part) for part in parts],
        "solve": [lambda: _solve_all(problems)],
    }
    taken = {name: sum(_least(work) for work in works) for name, works in (stages | inside).items()}
    whole = sum(taken[name] for name in stages)
    for name in stages:
        print(f"{people} people, {name}: {taken[name] * 1000:.0f} ms of one core, {taken[name] / whole:.0%}")
    print(f"  of planning, expansion {taken['expand'] * 1000:.0f} ms, solving {taken['solve'] * 1000:.0f} ms")
    print(f"before paper: {people / whole:.0f} people a second of one core")


_AT_A_TIME, _TURNS = 10, 5


def _part_of(request: PlanRequest, first: int) -> PlanRequest:
    people = request.people[first : first + _AT_A_TIME]
    return replace(request, people=people, orders=tuple(order for person in people for order in request.orders_of(person.id)))


def _lines_of(sets: Sequence[PersonPlan], names: Mapping[PersonId, str]) -> list[str]:
    return [format_person(one, names[one.person]) for one in sets]


def _expand_all(request: PlanRequest) -> list[InSeries]:
    """As planning does."""
    return [expand_in_series(o, request.timetable_of(p), FIRST, DAYS) for p in request.people for o in request.orders_of(p.id)]


def _least(work: Callable[[], object]) -> float:
    work()
    return min(_processor_seconds(work) for _ in range(_TURNS))


def _processor_seconds(work: Callable[[], object]) -> float:
    """As `seconds`, of this process alone: on a busy machine others' time is not ours."""
    gc.disable()
    try:
        began = process_time()
        work()
        return process_time() - began
    finally:
        gc.enable()


def orders_file(request: PlanRequest) -> str:
    """The request's orders as the orders CSV, their directions in words."""
    names = {person.id: person.name for person in request.people}
    rows = (f"{o.person},{names[o.person]},{o.id},{o.medicine},{_words(o)},{o.anchor}" for o in request.orders)
    return "\n".join(("person,name,order,medicine,directions,start", *rows)) + "\n"


_WORDS = {"MORN": "in the morning", "NOON": "at noon", "EVE": "in the evening", "HS": "at bedtime"}
_DAYS = dict(zip(Weekday, ("Mondays", "Tuesdays", "Wednesdays", "Thursdays", "Fridays", "Saturdays", "Sundays"), strict=True))


def _words(order: Order) -> str:
    (dosage,) = order.dosages
    assert dosage.timing
    assert dosage.timing.repeat
    repeat, (amount,) = dosage.timing.repeat, dosage.amounts
    assert amount.quantity
    count = {Fraction(1, 2): "half a tablet", Fraction(1): "1 tablet", Fraction(2): "2 tablets"}[amount.quantity.count]
    days = f" on {_DAYS[repeat.day_of_week[0]]}" if repeat.day_of_week else " every other day" if repeat.period == 2 else ""
    return f"Take {count}{days} {_WORDS[repeat.when[0]]}"


def main() -> None:
    """Print every figure."""
    compare_solvers()
    time_families()
    time_stages()


if __name__ == "__main__":
    main()
