"""What a change in the work means for the limits of the charts."""

from enum import StrEnum

__all__ = ["Turn"]


class Turn(StrEnum):
    """A note says what changed; whoever writes it says what follows."""

    SAID = "said"  # it stands beside the points, no more
    LEFT_OUT = "left out"  # its cause is known and gone: this week or month is left out of the limits
    ANEW = "anew"  # the work is another one from here on: limits are reckoned anew
