"""The dial as SVG: a 24-hour face, noon at the top, midnight at the foot, the night shaded below its horizon, one hand.

Comes in: a wall-clock time. Goes out: SVG text without any style attribute (the page's policy forbids those); classes carry the ink. The
geometry is the paper's own, so that screen and sheet show the same face. With its clock time and its word beside it the dial is the only
sign of a dosing time; it needs no legend.
"""

from datetime import time

from dosewright.core.paper.dial import NIGHT_FROM, hand, on_face

__all__ = ["draw_dial"]

_CENTRE = 16
_RIM = 14  # in the drawing's units: the face is 32 wide
_TICK = 11.5
_TICKS = (0, 6, 12, 18)


def draw_dial(clock: time, size: str = "") -> str:
    """The face with its hand. Hidden from screen readers: the clock time and the word beside it say the same."""
    return (
        f'<svg class="{f"dial {size}".strip()}" viewBox="0 0 32 32" aria-hidden="true" focusable="false">'
        f'<circle class="face" cx="16" cy="16" r="14"/>{_NIGHT}<circle class="rim" cx="16" cy="16" r="14"/>{_MARKS}'
        f'<path class="hand" d="M16 16L{_point(hand(clock), _RIM)}"/></svg>'
    )


def _point(place: tuple[float, float], reach: float) -> str:
    across, up = place
    return f"{_CENTRE + reach * across:.2f} {_CENTRE - reach * up:.2f}"


_NIGHT = f'<path class="night" d="M{_point(on_face(24 - NIGHT_FROM), _RIM)}A14 14 0 0 0 {_point(on_face(NIGHT_FROM), _RIM)}Z"/>'
_MARKS = f'<path class="tick" d="{"".join(f"M{_point(on_face(h), _RIM)}L{_point(on_face(h), _TICK)}" for h in _TICKS)}"/>'
