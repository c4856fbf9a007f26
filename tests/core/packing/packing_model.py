"""The same packing question put to a constraint solver: an independent model, the oracle for the fewest columns."""

from ortools.sat.python import cp_model

from dosewright.core.packing.solve import Problem

__all__ = ["fewest_columns", "is_packing"]


def fewest_columns(problem: Problem) -> int:
    """The optimum, proved. One variable for each item and column, one for each column used, one sum for each limit."""
    items, columns = range(len(problem.demands)), range(len(problem.demands))
    model = cp_model.CpModel()
    lies = [[model.new_bool_var(f"item {i} in {c}") for c in columns] for i in items]
    used = [model.new_bool_var(f"column {c} used") for c in columns]
    for i in items:
        model.add_exactly_one(lies[i])
    for c in columns:
        for at, limit in enumerate(problem.limits):
            model.add(sum(problem.demands[i][at] * lies[i][c] for i in items) <= limit * used[c])
        for one, other in problem.apart:
            model.add_at_most_one(lies[one][c], lies[other][c])
        for i in items:
            model.add_implication(lies[i][c], used[c])
        if c:
            model.add_implication(used[c], used[c - 1])
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def is_packing(problem: Problem, columns: tuple[int, ...]) -> bool:
    """Whether every limit holds in every column, and what is apart is apart."""
    for column in set(columns):
        held = [demand for demand, at in zip(problem.demands, columns, strict=True) if at == column]
        if any(sum(needs) > limit for needs, limit in zip(zip(*held, strict=True), problem.limits, strict=True)):
            return False
    return len(columns) == len(problem.demands) and not any(columns[one] == columns[other] for one, other in problem.apart)
