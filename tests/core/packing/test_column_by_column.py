"""Filling column by column, and the rounded bound: against exact packings by an independent model, and against placing item by item."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.core.packing.packing_families import FAMILIES, draw
from tests.core.packing.packing_model import fewest_columns

from dosewright.core.packing.bounds import reduce_limits, rounded_bound, summed_bound
from dosewright.core.packing.completion import Completion
from dosewright.core.packing.search import Search
from dosewright.core.packing.solve import Problem, _clashes, solve


def both(problem: Problem) -> tuple[Search, Completion]:
    demands, limits = reduce_limits(problem.demands, problem.limits)
    clashes = _clashes(demands, limits, problem.apart)
    search = Search(demands, limits, clashes, 300_000)
    return search, Completion(demands, limits, clashes, search.order, 300_000)


def allowed(problem: Problem, columns: list[int]) -> bool:
    """Counted from the problem itself: every limit of every column, and every pair."""
    within = all(
        sum(demand[at] for demand, column in zip(problem.demands, columns, strict=True) if column == one) <= limit
        for one in set(columns)
        for at, limit in enumerate(problem.limits)
    )
    return within and all(columns[one] != columns[other] for one, other in problem.apart)


@st.composite
def problems(draw_one: st.DrawFn) -> Problem:
    """Small ones of every kind: one to three limits, few or many items to a column, pairs apart."""
    limits = tuple(draw_one(st.lists(st.integers(5, 40), min_size=1, max_size=3)))
    need = st.tuples(*(st.integers(0, limit) for limit in limits))
    demands = tuple(draw_one(st.lists(need, min_size=1, max_size=9)))
    pairs = st.tuples(st.integers(0, len(demands) - 1), st.integers(0, len(demands) - 1)).filter(lambda pair: pair[0] < pair[1])
    apart = frozenset(draw_one(st.lists(pairs, max_size=6))) if len(demands) > 1 else frozenset()
    return Problem(demands, limits, apart)


@given(problems(), st.integers(1, 6))
@settings(max_examples=300, deadline=None)
def test_both_ways_of_searching_give_the_same_answer(problem: Problem, count: int) -> None:
    search, completion = both(problem)
    one, other = search.within(count), completion.within(count)
    assert (one is None) == (other is None)
    if other is not None:
        assert max(other) < count
        assert allowed(problem, other)


@given(problems())
@settings(max_examples=150, deadline=None)
def test_the_rounded_bound_never_exceeds_the_fewest(problem: Problem) -> None:
    assert rounded_bound(problem.demands, problem.limits) <= fewest_columns(problem)


@pytest.mark.parametrize("family", FAMILIES)
def test_column_by_column_agrees_with_an_independent_model_on_every_family(family: str) -> None:
    for seed in range(20):
        problem = draw(family, seed)
        fewest = fewest_columns(problem)
        _, completion = both(problem)
        found = completion.within(fewest)
        assert found is not None
        assert allowed(problem, found)
        if fewest > 1 and family == "threes":
            assert completion.within(fewest - 1) is None
            assert not completion.exhausted


def test_five_of_just_over_a_third_need_three_columns_which_their_sum_does_not_show() -> None:
    """Two of 34 fill a column of 100, three do not fit: so five need three columns, where their sum says two."""
    five = ((34,),) * 5
    assert summed_bound(five, (100,)) == 2
    assert rounded_bound(five, (100,)) == 3


@pytest.mark.parametrize("seed", [519, 344, 829])
def test_the_hardest_of_three_to_a_column_end_within_a_few_thousand_nodes(seed: int) -> None:
    """Item by item alone they took 232,072, 74,555 and 18,410."""
    found = solve(draw("threes", seed))
    assert found.optimal
    assert found.nodes < 6_000
