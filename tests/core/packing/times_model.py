"""The question of fewest dosing times put to a constraint solver, and to plain counting: two independent oracles."""

from itertools import product
from random import Random

from ortools.sat.python import cp_model

from dosewright.core.packing.dosing_times.choose import Option, Question

__all__ = ["by_counting", "by_solver", "draw_question", "worth"]

_DOSE = 1_000_000  # one dose more outweighs any clock time


def by_solver(question: Question) -> tuple[int, int, int] | None:
    """Fewest dosing times, then doses, then minutes, each proved; None where nothing satisfies every clash."""
    model = cp_model.CpModel()
    bits = max((option.times.bit_length() for options in question.orders for option in options), default=0)
    used = [model.new_bool_var(f"time {bit}") for bit in range(bits)]
    picks = [[model.new_bool_var(f"{i} {a}") for a, _ in enumerate(options)] for i, options in enumerate(question.orders)]
    for options, chosen in zip(question.orders, picks, strict=True):
        model.add_exactly_one(chosen)
        for option, pick in zip(options, chosen, strict=True):
            for bit in range(bits):
                if option.times >> bit & 1:
                    model.add_implication(pick, used[bit])
    for (i, a), (j, b) in question.clashes:
        model.add_at_most_one(picks[i][a], picks[j][b])
    count = _least(model, sum(used))
    if count is None:
        return None
    model.add(sum(used) == count)
    both = zip(question.orders, picks, strict=True)
    terms = [(o.cost[0] * _DOSE + o.cost[1]) * pick for options, chosen in both for o, pick in zip(options, chosen, strict=True)]
    cost = _least(model, sum(terms)) or 0
    return count, cost // _DOSE, cost % _DOSE


def _least(model: cp_model.CpModel, goal: cp_model.LinearExprT) -> int | None:
    model.minimize(goal)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    assert status in {cp_model.OPTIMAL, cp_model.INFEASIBLE}
    return round(solver.objective_value) if status == cp_model.OPTIMAL else None


def by_counting(question: Question) -> tuple[tuple[int, int, int], list[tuple[int, ...]]] | None:
    """Every choice there is: the best worth, and all choices of that worth."""
    found: dict[tuple[int, int, int], list[tuple[int, ...]]] = {}
    for answer in product(*(range(len(options)) for options in question.orders)):
        if not any(answer[i] == a and answer[j] == b for (i, a), (j, b) in question.clashes):
            found.setdefault(worth(question, answer), []).append(answer)
    return min(found.items()) if found else None


def worth(question: Question, answer: tuple[int, ...]) -> tuple[int, int, int]:
    """Dosing times, doses moved, minutes moved."""
    chosen = [options[at] for options, at in zip(question.orders, answer, strict=True)]
    times = 0
    for option in chosen:
        times |= option.times
    return times.bit_count(), sum(option.cost[0] for option in chosen), sum(option.cost[1] for option in chosen)


def draw_question(seed: int, orders: int, times: int, density: float) -> Question:
    """So many orders at most, some of which stay; the same seed always gives the same question."""
    random = Random(f"times {seed}")  # noqa: S311 - reproducible cases, nothing secret
    made = tuple(_options(random, times) for _ in range(random.randint(1, orders)))
    pairs = [
        ((i, a), (j, b))
        for j, others in enumerate(made)
        for i, ones in enumerate(made[:j])
        for a in range(len(ones))
        for b in range(len(others))
    ]
    return Question(made, frozenset(pair for pair in pairs if random.random() < density))


def _options(random: Random, times: int) -> tuple[Option, ...]:
    often = random.choices((1, 2, 3), (0.6, 0.3, 0.1))[0]
    chosen = dict.fromkeys(sum(1 << bit for bit in random.sample(range(times), often)) for _ in range(random.choice((1, 1, 2, 3, 5, 8))))
    return tuple(
        Option(bits, (0, 0) if not at else (random.choice((4, 28, 28, 56)), 60 * random.randint(1, 30))) for at, bits in enumerate(chosen)
    )
