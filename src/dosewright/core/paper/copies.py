"""A further copy of paper says on every sheet that it is one, and why it was made.

Comes in: which copy, and the reason in a person's own words. Goes out: paragraphs for headers and strips. The first copy says nothing.
"""

from dataclasses import dataclass

from dosewright.core.paper.words import Para, bold, given, plain

__all__ = ["FIRST_COPY", "Copy", "copy_mark", "copy_paras"]


@dataclass(frozen=True, slots=True)
class Copy:
    """The first copy, or a further one with its reason. Raises ValueError for a further copy without a reason, or a first with one."""

    number: int = 1
    reason: str = ""

    def __post_init__(self) -> None:
        if self.number < 1:
            raise ValueError(f"copies are counted from 1, not {self.number}")
        if (self.number > 1) != bool(self.reason.strip()):
            raise ValueError("a further copy needs a reason, and the first has none")


FIRST_COPY = Copy()


def copy_mark(copy: Copy) -> str:
    """ "copy 2"; "" for the first."""
    return f"copy {copy.number}" if copy.number > 1 else ""


def copy_paras(copy: Copy, size: float, floor: float) -> tuple[Para, ...]:
    """ "Copy 2, printed because: the printer jammed"; nothing for the first. The reason is printed as it was given."""
    if copy.number == 1:
        return ()
    return (Para((bold(f"Copy {copy.number},"), plain("printed because:"), given(copy.reason)), size, floor),)
