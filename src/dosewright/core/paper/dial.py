"""The 24-hour dial: noon at the top, midnight at the foot, the night hatched, one hand at the clock time. Geometry only.

Comes in: a clock time or an hour. Goes out: points on a circle of radius 1, to the right and up. Works for any clock time.
"""

import math
from datetime import time

__all__ = ["NIGHT_FROM", "hand", "night_chords", "on_face"]

# The night on the face, from 19:00 to 05:00: a drawing convention of ours, the same the whole year.
NIGHT_FROM = 19.0
HAND_LENGTH = 0.8
CHORDS = 7


def on_face(hour: float) -> tuple[float, float]:
    """Where an hour lies on the rim: 12 is (0, 1), 18 is (1, 0), 0 is (0, -1), 6 is (-1, 0)."""
    turn = math.tau * (hour - 12) / 24
    return math.sin(turn), math.cos(turn)


def hand(at: time) -> tuple[float, float]:
    """The tip of the hand."""
    across, up = on_face(at.hour + at.minute / 60)
    return across * HAND_LENGTH, up * HAND_LENGTH


def night_chords() -> tuple[tuple[float, float, float], ...]:
    """Hatching of the night: level chords as (left, right, height), from dusk down to the foot."""
    dusk = on_face(NIGHT_FROM)[1]
    step = (dusk + 1) / CHORDS
    heights = [dusk - step * n for n in range(CHORDS)]
    return tuple((-math.sqrt(1 - h * h), math.sqrt(1 - h * h), h) for h in heights)
