"""The fewest dosing times and the least cost, against a constraint solver and against counting every choice."""

import pytest
from tests.core.packing.times_model import by_counting, by_solver, draw_question, worth

from dosewright.core.packing.dosing_times.choose import MOST_TIED, Chosen, Option, Question, choose


def value(found: Chosen) -> tuple[int, int, int] | None:
    return (found.count, *found.cost) if found.answers else None


@pytest.mark.parametrize("density", [0.0, 0.05, 0.2, 0.5])
def test_a_constraint_solver_finds_the_same_optimum(density: float) -> None:
    """CP-SAT, an independent model: fewest dosing times, then doses, then minutes."""
    for seed in range(150):
        question = draw_question(seed, orders=12, times=8, density=density)
        found = choose(question)
        assert found.proved
        assert value(found) == by_solver(question), f"seed {seed}"


@pytest.mark.parametrize("density", [0.0, 0.1, 0.4])
def test_counting_every_choice_finds_the_same_answers_and_all_of_them(density: float) -> None:
    for seed in range(250):
        question = draw_question(1000 + seed, orders=5, times=5, density=density)
        found, counted = choose(question), by_counting(question)
        assert list(found.answers) == (counted[1][:MOST_TIED] if counted else []), f"seed {seed}"
        assert value(found) == (counted[0] if counted else None)
        assert found.lower_bound == found.count
        assert all(worth(question, answer) == value(found) for answer in found.answers)


def test_what_stays_needs_no_search() -> None:
    assert choose(Question(((Option(0b01),), (Option(0b10),)))).answers == ((0, 0),)


def test_nobody_has_no_dosing_times() -> None:
    assert choose(Question(())).count == 0


def test_a_clash_costs_a_dosing_time() -> None:
    both = ((Option(0b01), Option(0b10, (28, 60))), (Option(0b01), Option(0b10, (28, 60))))
    assert value(choose(Question(both))) == (1, 0, 0)
    assert value(choose(Question(both, frozenset({((0, 0), (1, 0)), ((0, 1), (1, 1))})))) == (2, 28, 60)


def test_nothing_satisfies_every_clash() -> None:
    stuck = Question(((Option(1),), (Option(1),)), frozenset({((0, 0), (1, 0))}))
    assert (choose(stuck).answers, choose(stuck).proved) == ((), True)


def test_a_search_that_is_cut_short_says_so_and_keeps_the_bound_that_stands() -> None:
    """Whatever the limit: never a bound above the optimum, and proved only where it is the optimum."""
    question = draw_question(7, orders=12, times=8, density=0.1)
    best = choose(question)
    assert best.nodes > 20
    for limit in range(1, best.nodes + 1):
        cut = choose(question, limit)
        assert cut.lower_bound <= best.count
        assert cut.proved is (limit >= best.nodes)
        assert not cut.answers or value(cut) >= value(best)  # type: ignore[operator]


def test_more_equal_answers_than_are_kept_are_said_not_to_be_all() -> None:
    many = tuple((Option(0b01), Option(0b10, (1, 1)), Option(0b100, (1, 1))) for _ in range(2))
    wide = Question((*many, *((Option(0b1000), Option(0b1000), Option(0b1000)) for _ in range(4))))
    assert not choose(wide).all_tied
    assert len(choose(wide).answers) == MOST_TIED


def test_an_order_without_options_is_no_question() -> None:
    with pytest.raises(ValueError, match="needs an option"):
        Question(((),))
    with pytest.raises(ValueError, match="needs an option"):
        Question(((Option(0),),))
