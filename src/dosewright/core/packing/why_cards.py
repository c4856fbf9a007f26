"""Why a set needs as many cards as it needs, and not one fewer: the columns of each week in, what keeps weeks apart on cards out.

A card holds whole weeks that follow each other, and filling each with as many as it takes is the fewest there can be. So the cards are
counted by what ends each: no room for the next week, the most weeks allowed, or a week that one card cannot hold. The counts add up.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from dosewright.core.packing.person_weeks import PersonWeeks
from dosewright.core.units.finding import Finding

__all__ = ["why_so_many_cards"]

_Ending = tuple[str, int, int]  # the code; columns that are left, or weeks on the card; columns that the next week needs


def why_so_many_cards(mine: PersonWeeks, used: Sequence[int]) -> Iterator[Finding]:
    """Each reason once, with the number of cards that it makes; nothing where one card holds the cycle."""
    if mine.request.format.roll:
        return
    width = mine.request.format.columns
    for (code, left, needs), times in Counter(_endings(used, width, mine.most_weeks)).items():
        if code == "explain.week-wide":
            more = -(-needs // width) - 1
            yield mine.note("explain.week-wide", None, columns=needs, width=width, cards=more + 1, times=times, more=more * times)
        elif code == "explain.most-weeks":
            yield mine.note("explain.most-weeks", None, most=left, times=times, more=times)
        else:
            yield mine.note("explain.no-room", None, left=left, columns=needs, times=times, more=times)


def _endings(used: Sequence[int], width: int, most_weeks: int) -> Iterator[_Ending]:
    """What makes each card after the first necessary, in order; weeks without a column are on no card."""
    left, weeks, begun = 0, 0, False
    for columns in used:
        if not columns:
            weeks += 1
            continue
        if begun and columns <= left and weeks < most_weeks:
            left, weeks = left - columns, weeks + 1
            continue
        if begun:
            yield ("explain.most-weeks", most_weeks, 0) if columns <= left else ("explain.no-room", max(0, left), columns)
        if columns > width:
            yield "explain.week-wide", 0, columns
        left, weeks, begun = width - columns, 1, True
