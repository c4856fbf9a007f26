"""The dial on screen: the hand stands at the clock time, noon at the top, and nothing needs a style attribute."""

import re
from datetime import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.web.dial import draw_dial

HANDS = [
    pytest.param("12:00", "up", id="noon at the top"),
    pytest.param("00:00", "down", id="midnight at the foot"),
    pytest.param("06:00", "left", id="six in the morning at the left"),
    pytest.param("18:00", "right", id="six in the evening at the right"),
]


def hand_of(drawing: str) -> tuple[float, float]:
    """How far the hand reaches right and down of the middle."""
    found = re.search(r'class="hand" d="M16 16L([\d.]+) ([\d.]+)"', drawing)
    assert found, drawing
    return float(found[1]) - 16, float(found[2]) - 16


@pytest.mark.parametrize(("clock", "way"), HANDS)
def test_the_hand_points_where_the_time_stands_on_a_day_of_24_hours(clock: str, way: str) -> None:
    across, down = hand_of(draw_dial(time.fromisoformat(clock)))
    assert way == {(0, -1): "up", (0, 1): "down", (-1, 0): "left", (1, 0): "right"}[round(across / 11), round(down / 11)]


@given(st.times(), st.times())
def test_two_times_a_quarter_of_an_hour_apart_never_look_alike(one: time, other: time) -> None:
    minutes = [clock.hour * 60 + clock.minute for clock in (one, other)]
    apart = abs(minutes[0] - minutes[1])
    if min(apart, 1440 - apart) >= 15:
        assert hand_of(draw_dial(one)) != hand_of(draw_dial(other))


@given(st.times())
def test_a_dial_has_no_style_attribute_and_is_hidden_from_screen_readers(clock: time) -> None:
    drawing = draw_dial(clock)
    assert "style=" not in drawing
    assert 'aria-hidden="true"' in drawing
