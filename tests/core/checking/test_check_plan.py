"""Which cavities a check demands, and what it misses: drawn by a seed, and reckoned exactly."""

from collections import Counter
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.card_maker import BISOPROLOL, METFORMIN, card, filled, right_units

from dosewright.core.checking.check_plan import CheckPlan, Draw, Marks, Spot, Whole, Why, chance_missed, plan_check, singled_out
from dosewright.core.checking.counts import check_counts
from dosewright.core.checking.filled import FilledCard, FilledCavity
from dosewright.core.packing.profile import Profile
from dosewright.core.units.ids import SlotName

HALVES = {(row, 1) for row in (1, 2, 3)}  # mornings hold half a metformin
WHOLE = {(row, 2) for row in (1, 2, 3)}
SPOTS = st.frozensets(st.sampled_from(sorted(HALVES | WHOLE)))
MARKS = st.builds(
    Marks,
    risky=st.sampled_from([frozenset(), frozenset({BISOPROLOL})]),
    alike=st.sampled_from([frozenset(), frozenset({METFORMIN})]),
    corrected=SPOTS,
    unscanned=SPOTS,
    opened=SPOTS,
)
PERCENT, SEED = st.integers(1, 99), st.text("0123456789abcdef", min_size=1, max_size=32)


def large(rows: int, columns: int) -> FilledCard:
    """A card of so many cavities, nothing in any of them that singles it out."""
    one = filled().cavities[1]
    cavities = [
        FilledCavity(one.card, row, column, one.day, SlotName("evening"), one.wanted, ())
        for row in range(1, rows + 1)
        for column in range(1, columns + 1)
    ]
    return FilledCard(one.card, one.day, tuple(cavities))


def test_a_profile_that_says_nothing_never_offers_a_choice() -> None:
    profile = Profile("x", "x", "GB", "", None, {}, {})
    plan = plan_check(filled(), Marks(), Draw(profile.counted_percent, "5eed"))
    assert (plan.is_choice, len(plan.drawn), plan.draw.whole) == (False, 0, Whole.PROFILE)
    assert plan.demanded == HALVES | WHOLE


def test_without_a_seed_nothing_is_left_out() -> None:
    plan = plan_check(filled(), Marks(), Draw(1))
    assert (plan.is_choice, plan.draw.whole, plan.missed(1)) == (False, Whole.NO_SEED, Fraction(0))


@pytest.mark.parametrize("whole", list(Whole))
def test_whatever_asks_for_the_whole_card_gets_it(whole: Whole) -> None:
    plan = plan_check(filled(), Marks(), Draw(1, "5eed", whole))
    assert (plan.demanded, plan.is_choice, plan.missed(1)) == (plan.cavities, False, Fraction(0))


SINGLED: list[tuple[Marks, Spot, Why]] = [
    (Marks(), (1, 1), Why.PART),
    (Marks(risky=frozenset({METFORMIN})), (3, 2), Why.HIGH_RISK),
    (Marks(alike=frozenset({METFORMIN})), (3, 2), Why.ALIKE),
    (Marks(corrected=frozenset({(3, 2)})), (3, 2), Why.CORRECTED),
    (Marks(unscanned=frozenset({(3, 2)})), (3, 2), Why.UNSCANNED),
    (Marks(opened=frozenset({(3, 2)})), (3, 2), Why.OPENED),
]


@pytest.mark.parametrize(("marks", "spot", "why"), SINGLED, ids=[why.value for _, _, why in SINGLED])
def test_each_mark_singles_its_cavities_out_and_nothing_else_does(marks: Marks, spot: Spot, why: Why) -> None:
    assert why in singled_out(filled(), marks)[spot]
    assert {one for reasons in singled_out(filled(), Marks()).values() for one in reasons} == {Why.PART}
    assert set(singled_out(filled(), Marks())) == HALVES


@given(MARKS, PERCENT, SEED)
def test_r8_what_is_singled_out_is_always_demanded_and_leaving_it_out_is_found(marks: Marks, percent: int, seed: str) -> None:
    """Every cavity of high risk, with a part, look-alike, corrected, unscanned or opened is counted at every check."""
    plan = plan_check(filled(), marks, Draw(percent, seed))
    must = HALVES | marks.corrected | marks.unscanned | marks.opened
    must |= WHOLE if marks.alike else set()
    assert must <= plan.demanded <= plan.cavities
    counts = {spot: cavity.asked for cavity in filled().cavities if (spot := (cavity.row, cavity.column)) in plan.demanded}
    assert check_counts(filled(), counts, plan.demanded) == ()
    for spot in plan.demanded:
        rest = {at: amount for at, amount in counts.items() if at != spot}
        assert [one.code for one in check_counts(filled(), rest, plan.demanded)] == ["checking.not-counted"]


@given(MARKS, PERCENT, SEED)
def test_the_share_is_rounded_up_and_drawn_of_the_others_only(marks: Marks, percent: int, seed: str) -> None:
    plan = plan_check(filled(), marks, Draw(percent, seed))
    assert plan.others == 6 - len(plan.always)
    assert len(plan.drawn) * 100 >= percent * plan.others > (len(plan.drawn) - 1) * 100 or plan.others == len(plan.drawn) == 0
    assert not plan.drawn & plan.always.keys()


@given(PERCENT, SEED, SEED)
def test_the_same_seed_draws_the_same_and_what_lies_in_the_card_plays_no_part(percent: int, seed: str, other: str) -> None:
    drawn = plan_check(filled(), Marks(), Draw(percent, seed))
    assert plan_check(filled(right_units(card())[1:]), Marks(), Draw(percent, seed)).demanded == drawn.demanded
    assert len(plan_check(filled(), Marks(), Draw(percent, other)).drawn) == len(drawn.drawn)


def test_counts_of_what_was_not_demanded_are_held_against_the_orders_too() -> None:
    plan = plan_check(filled(), Marks(), Draw(1, "5eed"))
    left = next(iter(plan.cavities - plan.demanded))
    counts = {(one.row, one.column): one.asked for one in filled().cavities if (one.row, one.column) in plan.demanded}
    found = check_counts(filled(), counts | {left: Fraction(9)}, plan.demanded)
    assert [(one.code, one.where["row"], one.where["column"]) for one in found] == [("checking.count-differs", *left)]


def test_every_cavity_is_drawn_about_as_often_as_any_other() -> None:
    """Over 2,000 seeds each of 28 cavities is drawn 1,000 times, give or take five standard deviations."""
    one = large(7, 4)
    times = Counter(spot for seed in range(2000) for spot in plan_check(one, Marks(), Draw(50, f"{seed:x}")).drawn)
    assert len(times) == 28
    assert all(abs(drawn - 1000) < 5 * (2000 / 4) ** 0.5 for drawn in times.values())


# An urn of 50 with 5 marked, 10 drawn: none of them marked. Source: the worked table of the article on the hypergeometric distribution in a
# public encyclopaedia, from memory: 0.310562782. Lots of one: arithmetic.
PUBLISHED = [(50, 10, 5, "0.310562782"), (20, 5, 1, "0.75"), (10, 0, 1, "1"), (10, 10, 1, "0"), (7, 4, 7, "0"), (0, 0, 0, "1")]


@pytest.mark.parametrize(("others", "drawn", "wrong", "expected"), PUBLISHED)
def test_the_chance_is_the_published_one(others: int, drawn: int, wrong: int, expected: str) -> None:
    assert abs(chance_missed(others, drawn, wrong) - Fraction(expected)) < Fraction(1, 10**9)


@given(st.integers(0, 9).flatmap(lambda n: st.tuples(st.just(n), st.integers(0, n), st.integers(0, n))))
def test_the_chance_is_what_listing_every_draw_gives(numbers: tuple[int, int, int]) -> None:
    """An oracle that shares no formula: every possible draw is written out, and those counted in which no wrong cavity is."""
    others, drawn, wrong = numbers
    draws = list(combinations(range(others), drawn))
    missing = [one for one in draws if not set(one) & set(range(wrong))]
    assert chance_missed(others, drawn, wrong) == Fraction(len(missing), len(draws))


@pytest.mark.parametrize(("others", "drawn", "wrong"), [(3, 4, 0), (3, 1, 4), (3, -1, 1), (3, 1, -1)])
def test_a_draw_that_cannot_be_is_refused(others: int, drawn: int, wrong: int) -> None:
    with pytest.raises(ValueError, match="cannot draw"):
        chance_missed(others, drawn, wrong)


@pytest.mark.parametrize("percent", [0, -1, 101])
def test_a_share_that_is_none_is_refused(percent: int) -> None:
    with pytest.raises(ValueError, match="percent"):
        Draw(percent)


@given(PERCENT, SEED, st.integers(1, 28))
def test_what_a_plan_says_it_misses_it_misses(percent: int, seed: str, wrong: int) -> None:
    plan: CheckPlan = plan_check(large(7, 4), Marks(), Draw(percent, seed))
    assert plan.missed(wrong) == chance_missed(28, len(plan.drawn), wrong)
    assert plan.missed(wrong) <= plan.missed(1) == 1 - Fraction(len(plan.drawn), 28)
