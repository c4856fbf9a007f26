"""The best combination over several cards: against every combination tried, and against a constraint solver."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from dosewright.core.rework.best import Priced, Shared, best_combination, price_together
from dosewright.core.units.ids import MedicineCode

CODES = [MedicineCode(name) for name in "abc"]
_amounts = st.sampled_from(["0.5", "1", "2.5", "0.25", "7"]).map(Fraction)
_priced = st.builds(Priced, st.integers(0, 12).map(lambda n: Fraction(n, 4)), st.dictionaries(st.sampled_from(CODES), _amounts, max_size=3))
_shared = st.builds(Shared, st.integers(0, 8).map(lambda n: Fraction(n, 2)), st.integers(0, 8).map(Fraction))


@given(st.lists(st.lists(_priced, min_size=1, max_size=4), max_size=5), _shared)
@settings(max_examples=300)
def test_no_combination_is_cheaper(cards: list[list[Priced]], shared: Shared) -> None:
    found = best_combination(cards, shared)
    every = [(price_together(chosen, shared), at) for at, chosen in _all(cards)]
    assert found == min(every)[1]


def _all(cards: Sequence[Sequence[Priced]]) -> list[tuple[tuple[int, ...], list[Priced]]]:
    places = product(*(range(len(choices)) for choices in cards))
    return [(at, [choices[n] for choices, n in zip(cards, at, strict=True)]) for at in places]


@given(st.lists(st.lists(_priced, min_size=2, max_size=4), min_size=6, max_size=12), _shared)
@settings(max_examples=20, deadline=None)
def test_a_constraint_solver_finds_nothing_cheaper(cards: list[list[Priced]], shared: Shared) -> None:
    found = best_combination(cards, shared)
    assert found is not None
    chosen = [choices[at] for choices, at in zip(cards, found, strict=True)]
    assert price_together(chosen, shared) * 16 == _cheapest(cards, shared)


def _cheapest(cards: Sequence[Sequence[Priced]], shared: Shared) -> int:
    """Sixteen times the optimum, so that all prices are whole: quarters of a minute times quarters of a unit."""
    model = cp_model.CpModel()
    taken = [[model.new_bool_var(f"card {c} choice {n}") for n in range(len(choices))] for c, choices in enumerate(cards)]
    for choices in taken:
        model.add_exactly_one(choices)
    cost = [
        int(choice.price * 16) * var for card, chosen in zip(cards, taken, strict=True) for choice, var in zip(card, chosen, strict=True)
    ]
    for code in CODES:
        drawing = [(choice, var) for card, chosen in zip(cards, taken, strict=True) for choice, var in zip(card, chosen, strict=True)]
        drawn = [(int(choice.draws[code] * 4), var) for choice, var in drawing if code in choice.draws]
        opened, whole = model.new_bool_var(f"{code} fetched"), model.new_int_var(0, 1000, f"{code} whole")
        for _, var in drawn:
            model.add_implication(var, opened)
        quarters = sum(count * var for count, var in drawn)
        model.add(4 * whole >= quarters)
        cost += [int(shared.fetch * 16) * opened, int(shared.leftover * 4) * (4 * whole - quarters)]
    model.minimize(sum(cost))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def test_card_by_card_is_not_always_best_together() -> None:
    """Each card alone would rather not fetch a bottle; both together share it, and the two halves of one tablet."""
    alone, with_bottle = Priced(Fraction(3)), Priced(Fraction(2), {CODES[0]: Fraction(1, 2)})
    shared = Shared(Fraction(3, 2), Fraction(0))
    assert best_combination([[alone, with_bottle]], shared) == (0,)
    assert best_combination([[alone, with_bottle]] * 2, shared) == (1, 1)


def test_a_card_without_a_choice_has_no_combination() -> None:
    assert best_combination([[Priced(Fraction(1))], []], Shared(Fraction(1), Fraction(1))) is None


def test_of_equals_the_earlier_choice_is_taken() -> None:
    same = Priced(Fraction(1))
    assert best_combination([[same, same], [same, same]], Shared(Fraction(1), Fraction(1))) == (0, 0)
