"""Why a set needs as many cards as it needs, and not one fewer: the columns of each week in, what keeps weeks apart on cards out.

A card holds whole weeks that follow each other, and filling each with as many as it takes is the fewest there can be. So the cards are
counted by what ends each: no room for the next week, the most weeks allowed, what does not keep until the next week's end, or a week that
one card cannot hold; and the strips of a roll by what ends each of them. The counts add up.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from operator import itemgetter

from dosewright.core.packing.last_day import last_day_of
from dosewright.core.packing.load import Load
from dosewright.core.packing.person_weeks import PersonWeeks
from dosewright.core.packing.sharing import sharing, shortest_lived
from dosewright.core.units.finding import Fact, Finding

__all__ = ["why_so_many_cards"]

_Ending = tuple[str, tuple[tuple[str, Fact], ...], int]  # the code, what it says, and how many cards more it makes


def why_so_many_cards(mine: PersonWeeks, used: Sequence[int], loads: Sequence[Load]) -> Iterator[Finding]:
    """Each reason once, with the number of cards that it makes; nothing where one card holds the cycle. `loads`: what lies in them."""
    each = _ends_of_strips(mine, loads) if mine.request.format.roll else _Endings(mine, used, loads).each()
    for (code, facts, more), times in Counter(each).items():
        yield mine.note(code, None, **dict(facts), times=times, more=more * times)


@dataclass(frozen=True, slots=True)
class _Endings:
    """What makes each card after the first necessary, in order; weeks without a column are on no card."""

    mine: PersonWeeks
    used: Sequence[int]
    loads: Sequence[Load]

    def each(self) -> Iterator[_Ending]:
        """As the cards are filled one after the other."""
        may_share, width = sharing(self.loads, self.mine.weeks, self.mine.request), self.mine.request.format.columns
        left, weeks, first = 0, 0, None
        for week, columns in enumerate(self.used):
            if not columns:
                weeks += 1
            elif first is not None and columns <= left and weeks < self.mine.most_weeks and may_share(first, week):
                left, weeks = left - columns, weeks + 1
            else:
                if first is not None:
                    yield self._between(first, week, left, weeks)
                if columns > width:
                    cards = -(-columns // width)
                    yield "explain.week-wide", (("columns", columns), ("width", width), ("cards", cards)), cards - 1
                left, weeks, first = width - columns, 1, week

    def _between(self, first: int, week: int, left: int, weeks: int) -> _Ending:
        """Why the card that began with the one week does not take the other."""
        if self.used[week] > left:
            return "explain.no-room", (("left", max(0, left)), ("columns", self.used[week])), 1
        if weeks >= self.mine.most_weeks:
            return "explain.most-weeks", (("most", self.mine.most_weeks),), 1
        days = [day for held in self.mine.weeks[first : week + 1] for day in held]
        item, limit = shortest_lived(self.loads, days, self.mine.request)
        last = max(day for load in self.loads for day in load.days() if day in days)
        return "explain.keeps", (("medicine", item.medicine.label), ("limit", limit), ("last", last)), 1


def _ends_of_strips(mine: PersonWeeks, loads: Sequence[Load]) -> Iterator[_Ending]:
    """Why each strip of a roll takes no further pouch, in order: it is full, or what lies in it does not keep until the next one's day."""
    width = mine.request.format.columns
    for strip, (after, *_) in pairwise(mine.strips(loads)):
        if len(strip) == width:
            yield "explain.strip-full", (("width", width),), 1
        else:
            medicines = dict.fromkeys(item.medicine for pouch in (*strip, after) for item in pouch.items)
            limit, medicine = min(((last_day_of([one], mine.request), one) for one in medicines), key=itemgetter(0))
            yield "explain.strip-keeps", (("medicine", medicine.label), ("limit", limit), ("last", after.days[-1])), 1
