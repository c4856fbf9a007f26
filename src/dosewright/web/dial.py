"""The dial: a 24-hour face as SVG, noon at the top, midnight at the foot, the night shaded below its horizon, one hand.

Comes in: a wall-clock time. Goes out: SVG text without any style attribute (the page's policy forbids those); classes carry the ink.
With its clock time and its word beside it, the dial is the only sign of a dosing time; it needs no legend.
"""

import math
from datetime import time

__all__ = ["DAY_BEGINS", "DAY_ENDS", "draw_dial", "hand_point"]

# The night is shaded from 19:00 to 05:00, five hours either side of midnight (common practice, no source; it is drawn, not reckoned with).
DAY_BEGINS = time(5, 0)
DAY_ENDS = time(19, 0)

_CENTRE = 16.0
_RIM = 14.0
_HAND = 11.0
_TICKS = (time(0, 0), time(6, 0), time(12, 0), time(18, 0))


def hand_point(clock: time, reach: float = _HAND) -> tuple[float, float]:
    """Where a hand of that reach ends, in the drawing's units (0 to 32, down is more). Noon is up, 06:00 left, 18:00 right."""
    turn = 2 * math.pi * (clock.hour * 60 + clock.minute) / 1440
    return round(_CENTRE - reach * math.sin(turn), 2), round(_CENTRE + reach * math.cos(turn), 2)


def draw_dial(clock: time, size: str = "") -> str:
    """The face with its hand. Hidden from screen readers: the clock time and the word beside it say the same."""
    x, y = hand_point(clock)
    return (
        f'<svg class="{" ".join(filter(None, ("dial", size)))}" viewBox="0 0 32 32" aria-hidden="true" focusable="false">'
        f'<circle class="face" cx="16" cy="16" r="14"/>{_night()}<circle class="rim" cx="16" cy="16" r="14"/>{_ticks()}'
        f'<path class="hand" d="M16 16L{x} {y}"/></svg>'
    )


def _night() -> str:
    left, right = hand_point(DAY_BEGINS, _RIM), hand_point(DAY_ENDS, _RIM)
    return f'<path class="night" d="M{left[0]} {left[1]}A14 14 0 0 0 {right[0]} {right[1]}Z"/>'


def _ticks() -> str:
    ends = [(hand_point(hour, _RIM), hand_point(hour, _RIM - 2.5)) for hour in _TICKS]
    return f'<path class="tick" d="{"".join(f"M{a[0]} {a[1]}L{b[0]} {b[1]}" for a, b in ends)}"/>'
