"""The solver's optimum against every packing there is (small problems) and against a constraint solver's model (families)."""

import os
from fractions import Fraction
from itertools import product
from random import Random

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.core.packing.makers import dosage, medicine, order, request
from tests.core.packing.packing_families import FAMILIES, draw
from tests.core.packing.packing_model import fewest_columns, is_packing

from dosewright.core.medicines.medicine import Size
from dosewright.core.packing import columns
from dosewright.core.packing.bounds import reduce_limits
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.solve import Problem, solve
from dosewright.core.packing.verify import verify
from dosewright.core.paper.say import say

# Instances of each family; DOSEWRIGHT_PACKING_INSTANCES=5000 is the nightly size.
INSTANCES = int(os.environ.get("DOSEWRIGHT_PACKING_INSTANCES", "100"))


@st.composite
def small_problems(draw: st.DrawFn) -> Problem:
    limits = tuple(draw(st.lists(st.integers(1, 12), min_size=1, max_size=4)))
    items = draw(st.lists(st.tuples(*(st.integers(0, limit) for limit in limits)), max_size=6))
    pairs = [(i, j) for j in range(len(items)) for i in range(j)]
    return Problem(tuple(items), limits, frozenset(draw(st.lists(st.sampled_from(pairs), max_size=6)) if pairs else ()))


def tried_one_by_one(problem: Problem) -> int:
    items = len(problem.demands)
    return next(k for k in range(items + 1) if any(is_packing(problem, columns) for columns in product(range(k), repeat=items)))


@given(small_problems())
def test_no_packing_at_all_has_fewer_columns(problem: Problem) -> None:
    found = solve(problem)
    assert found.optimal
    assert is_packing(problem, found.columns)
    assert found.count == len(set(found.columns)) == tried_one_by_one(problem)


@pytest.mark.parametrize("family", FAMILIES)
def test_a_constraint_solver_finds_no_fewer(family: str) -> None:
    """An independent model of the same question; each instance is proved by both, but for at most five in a thousand of the wide ones:
    there the bound that the answer gives must hold."""
    open_ones = 0
    instances = INSTANCES // 5 if family == "wide" else INSTANCES  # a wide one takes the constraint solver ten times as long
    for seed in range(instances):
        problem = draw(family, seed)
        found, fewest = solve(problem), fewest_columns(problem)
        assert is_packing(problem, found.columns), (family, seed)
        assert found.lower_bound <= fewest <= found.count, (family, seed)
        assert found.count == fewest or not found.optimal, (family, seed)
        open_ones += not found.optimal
    assert open_ones <= (instances * 5 // 1000 if family == "wide" else 0)


@pytest.mark.parametrize("family", FAMILIES)
def test_every_family_reaches_problems_of_more_than_one_column(family: str) -> None:
    counts = {solve(draw(family, seed)).count for seed in range(60)}
    assert len(counts) > 1 if family != "threes" else min(counts) > 1
    assert family != "wide" or sum(count >= 5 for count in (solve(draw("wide", seed)).count for seed in range(60))) > 30


@given(small_problems(), st.data())
def test_another_medicine_never_needs_fewer_columns(problem: Problem, data: st.DataObject) -> None:
    if problem.demands:
        gone = data.draw(st.integers(0, len(problem.demands) - 1))
        rest = problem.demands[:gone] + problem.demands[gone + 1 :]
        apart = frozenset((i - (i > gone), j - (j > gone)) for i, j in problem.apart if gone not in (i, j))
        assert solve(Problem(rest, problem.limits, apart)).count <= solve(problem).count


@given(small_problems(), st.randoms(use_true_random=False))
def test_the_order_of_the_items_changes_no_count(problem: Problem, random: Random) -> None:
    places = list(range(len(problem.demands)))
    random.shuffle(places)
    moved = {old: new for new, old in enumerate(places)}
    apart = frozenset((min(moved[i], moved[j]), max(moved[i], moved[j])) for i, j in problem.apart)
    assert solve(Problem(tuple(problem.demands[old] for old in places), problem.limits, apart)).count == solve(problem).count


@settings(max_examples=300)
@given(small_problems())
@example(Problem(((12, 0), (12, 0), (12, 0), (1, 1), (1, 1), (1, 1), (1, 1)), (12, 3)))
def test_whatever_keeps_the_limits_that_are_left_keeps_them_all(problem: Problem) -> None:
    """Limits that cannot bind are left out of the search: every set of items is the oracle."""
    reduced, limits = reduce_limits(problem.demands, problem.limits)
    for mask in range(1 << len(problem.demands)):
        held = [at for at in range(len(problem.demands)) if mask >> at & 1]
        kept_all = all(sum(problem.demands[i][at] for i in held) <= limit for at, limit in enumerate(problem.limits))
        assert kept_all == all(sum(reduced[i][at] for i in held) <= limit for at, limit in enumerate(limits))


def test_the_same_problem_has_the_same_answer_node_by_node() -> None:
    for seed in range(20):
        problem = draw("crowded", seed)
        assert solve(problem) == solve(problem)


def test_at_the_node_limit_the_best_found_stands_with_the_bound() -> None:
    """One node is never enough here: the answer is still a packing, and it does not claim to be proved."""
    problem = Problem(tuple((size,) for size in (41, 31, 26, 34, 33, 35)), (100,))
    proved, cut = solve(problem), solve(problem, node_limit=1)
    assert proved.optimal
    assert proved.count == 2
    assert cut.nodes > 1
    assert is_packing(problem, cut.columns)
    assert cut.count == 3
    assert cut.lower_bound == 2
    assert not cut.optimal


def test_an_item_that_no_column_can_hold_is_refused() -> None:
    with pytest.raises(ValueError, match="does not fit"):
        Problem(((5,), (11,)), (10,))


def test_a_plan_says_what_is_not_proved_and_gives_the_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    """The planner with a search of one node: the plan is right all the same, and says that fewer may do."""
    monkeypatch.setattr(columns, "solve", lambda problem: solve(problem, node_limit=1))
    sizes = (41, 31, 26, 34, 33, 35)  # of a hundred: two columns are enough, and the first fit takes three
    catalogue = [
        medicine(f"M{at}", size=Size(Fraction(8), Fraction(8), Fraction(many * 3240 * 4 * 113, 100 * 64 * 355)))
        for at, many in enumerate(sizes)
    ]
    asked = request([order(f"o{at}", one, dosage(1, "MORN")) for at, one in enumerate(catalogue)], catalogue, days=7)
    plan = plan_cycle(asked)
    assert verify(plan, asked) == ()
    (said,) = (finding for finding in plan.findings if finding.code == "proof.open")
    assert (said.facts["columns"], said.facts["lower_bound"]) == (3, 2)
    assert "not proved" in say(said)
    assert not plan.people[0].proof.optimal
