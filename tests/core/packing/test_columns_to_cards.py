"""Weeks of columns become cards: the arithmetic, the fewest, and whole weeks one after the other."""

from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.packing.makers import MONDAY, dosage, draft_week, medicine, order, profile, request
from tests.core.packing.makers import plan_of as planned

from dosewright.core.packing.cards import card_count, draft_cards

CARDS = [
    pytest.param(1, 28, 1, id="one dosing time: one 7×4 card for four weeks; common practice, no source"),
    pytest.param(2, 28, 2, id="two dosing times: one for two weeks; common practice, no source"),
    pytest.param(3, 28, 4, id="three: one a week"),
    pytest.param(4, 28, 4, id="four: one a week"),
    pytest.param(1, 7, 1, id="a week"),
    pytest.param(4, 14, 2, id="a fortnight"),
    pytest.param(1, 30, 2, id="30 days: four weeks and two days"),
    pytest.param(2, 31, 3, id="31 days: four weeks and three days"),
]


@pytest.mark.parametrize(("times", "days", "cards"), CARDS)
def test_dosing_times_a_day_settle_how_many_cards(times: int, days: int, cards: int) -> None:
    alpha = medicine("Alpha")
    whens = ("MORN", "NOON", "EVE", "HS")[:times]
    (person,) = planned(request([order("o1", alpha, *(dosage(1, when) for when in whens))], [alpha], days=days)).people
    assert len(person.cards) == cards == person.proof.cards == person.proof.cards_lower_bound
    assert person.proof.optimal


def test_six_columns_a_week_take_two_cards_a_week() -> None:
    """k = 6 on a card of 4: ceil(6/4)."""
    beta = medicine("Beta")
    orders = [order("o1", beta, dosage(16, "MORN"), dosage(16, "EVE"), dosage(1, "NOON"), dosage(1, "HS"))]
    (person,) = planned(request(orders, [beta], days=14)).people
    assert [len(card.columns) for card in person.cards] == [3, 3, 3, 3]
    assert {column.slot for column in person.cards[0].columns} == {"morning", "noon"}


def test_a_profile_or_a_person_may_allow_fewer_weeks_on_a_card() -> None:
    alpha = medicine("Alpha")
    orders = [order("o1", alpha, dosage(1, "MORN"))]
    assert len(planned(request(orders, [alpha], profile=profile(weeks_a_card_max=2))).people[0].cards) == 2
    assert len(planned(request(orders, [alpha], weeks_a_card={"p1": 1})).people[0].cards) == 4


def test_a_cycle_may_begin_in_the_middle_of_a_week() -> None:
    """The first row is the cycle's first day, whatever weekday that is."""
    alpha = medicine("Alpha")
    thursday = MONDAY.replace(day=5)
    (person,) = planned(request([order("o1", alpha, dosage(1, "MORN"))], [alpha], first=thursday)).people
    first = person.cards[0].cavities[0]
    assert (first.row, first.column, first.day) == (1, 1, thursday)
    assert [column.first.weekday() for column in person.cards[0].columns] == [3] * 4


used_weeks = st.lists(st.integers(0, 9), min_size=1, max_size=7)


@given(used_weeks, st.integers(1, 5), st.integers(1, 5))
def test_no_split_into_runs_of_weeks_needs_fewer_cards(used: list[int], columns: int, most_weeks: int) -> None:
    """Every way to cut the cycle into runs of weeks is the oracle; a week too wide for a card has cards of its own."""

    @cache
    def best(start: int) -> int:
        if start == len(used):
            return 0
        if used[start] > columns:
            return -(-used[start] // columns) + best(start + 1)
        ends = (end for end in range(start + 1, min(len(used), start + most_weeks) + 1) if sum(used[start:end]) <= columns)
        return min((1 if sum(used[start:end]) else 0) + best(end) for end in ends)

    assert card_count(used, columns, most_weeks) == best(0)


@given(used_weeks, st.integers(1, 5), st.integers(1, 5))
def test_every_column_is_on_exactly_one_card_in_order(used: list[int], columns: int, most_weeks: int) -> None:
    weeks = [draft_week(week, many) for week, many in enumerate(used)]
    cards = draft_cards(weeks, columns, most_weeks)
    assert [column for card in cards for column in card] == [column for week in weeks for column in week]
    assert all(1 <= len(card) <= columns for card in cards)
    assert len(cards) == card_count(used, columns, most_weeks)


@given(used_weeks, st.integers(1, 5), st.integers(1, 5))
def test_fewer_columns_in_a_week_never_need_more_cards(used: list[int], columns: int, most_weeks: int) -> None:
    fewer = [max(0, used[0] - 1), *used[1:]]
    assert card_count(fewer, columns, most_weeks) <= card_count(used, columns, most_weeks)
