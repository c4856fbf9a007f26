"""What the screen of fewer dosing times says of cards."""

import pytest

from dosewright.core.packing.dosing_times.times_values import TimesProof
from dosewright.web.dosing_times import say_cards


@pytest.mark.parametrize(
    ("today", "proposed", "said"),
    [
        (8, 4, "4 cards instead of 8 in 28 days."),
        (4, 4, "4 cards as today in 28 days."),
        (2, 1, "1 card instead of 2 in 28 days."),
        (None, 4, "4 cards in 28 days; as it is today, something keeps the set from being packed."),
        (4, None, "Something keeps the next set from being packed; a plan says what."),
        (None, None, "Something keeps the next set from being packed; a plan says what."),
    ],
)
def test_cards_are_counted_only_where_they_can_be_packed(today: int | None, proposed: int | None, said: str) -> None:
    proof = TimesProof(2, 2, optimal=True, gentlest=True, nodes=1, cards_today=today, cards_proposed=proposed)
    assert say_cards(proof) == said
