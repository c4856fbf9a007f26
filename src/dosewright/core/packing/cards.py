"""Columns become cards: each week's columns in, drafts of cards out, the fewest there can be.

With C columns on a card and k used in a week: floor(C/k) weeks go on one card when k ≤ C, else ceil(k/C) cards take one week (common
practice, no source; it is arithmetic). Weeks that differ go on cards one after the other: a card holds whole weeks that follow each other,
so that nobody goes back to an earlier card. Weeks share a card only where all that lies in them keeps to the last of their days. Filling
each card with as many weeks as it takes is then the fewest, for whatever lets weeks share a card lets any fewer of them share one.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, time

from dosewright.core.packing.load import Item
from dosewright.core.units.ids import SlotName

__all__ = ["DraftColumn", "MayShare", "card_count", "draft_cards", "draft_rolls"]

MayShare = Callable[[int, int], bool]  # whether all weeks from the first to the last, counted from 0, keep on one card


def _always(_first: int, _last: int) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class DraftColumn:
    """One dosing time of one week, or one part of it: the days from `first` on, one a row, and the items in it."""

    slot: SlotName
    time: time
    days: tuple[date, ...]
    part: int
    parts: int
    items: tuple[Item, ...]


def card_count(used: Sequence[int], columns: int, most_weeks: int, may_share: MayShare = _always) -> int:
    """How many cards the weeks need, where `used[w]` columns are used in week w."""
    return sum(max(1, -(-sum(used[week] for week in weeks) // columns)) for weeks in _grouped(used, columns, most_weeks, may_share))


def _grouped(used: Sequence[int], columns: int, most_weeks: int, may_share: MayShare) -> list[list[int]]:
    """Weeks that share a card, in order; weeks without any column are on none."""
    groups: list[list[int]] = []
    room = weeks_left = 0
    for week, need in enumerate(used):
        if not need:
            weeks_left -= 1
        elif need <= room and weeks_left > 0 and may_share(groups[-1][0], week):
            groups[-1].append(week)
            room, weeks_left = room - need, weeks_left - 1
        else:
            groups.append([week])
            room, weeks_left = columns - need, most_weeks - 1
    return groups


def draft_cards(
    weeks: Sequence[Sequence[DraftColumn]], columns: int, most_weeks: int, may_share: MayShare = _always
) -> list[list[DraftColumn]]:
    """The columns of each card, by week, then by the clock, then by part."""
    cards = []
    for group in _grouped([len(week) for week in weeks], columns, most_weeks, may_share):
        together = [column for week in group for column in weeks[week]]
        cards += _split(together, columns)
    return cards


def _split(together: Sequence[DraftColumn], columns: int) -> list[list[DraftColumn]]:
    """One week too wide for a card: the parts of one dosing time stay on one card where that costs no card."""
    fewest = -(-len(together) // columns)
    whole = _whole_dosing_times(together, columns)
    return whole if len(whole) == fewest else [list(together[at : at + columns]) for at in range(0, len(together), columns)]


def _whole_dosing_times(together: Sequence[DraftColumn], columns: int) -> list[list[DraftColumn]]:
    cards: list[list[DraftColumn]] = [[]]
    for column in together:
        held = len(cards[-1])
        if held == columns or (held and column.part == 1 and held + column.parts > columns):
            cards.append([])
        cards[-1].append(column)
    return cards


def draft_rolls(pouches: Sequence[DraftColumn], columns: int, keeps: Callable[[Sequence[DraftColumn]], bool]) -> list[list[DraftColumn]]:
    """Pouches in order of time, as many on a roll's strip as it takes and as keep together."""
    strips: list[list[DraftColumn]] = []
    for pouch in pouches:
        if strips and len(strips[-1]) < columns and keeps([*strips[-1], pouch]):
            strips[-1].append(pouch)
        else:
            strips.append([pouch])
    return strips
