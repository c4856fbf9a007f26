"""How the rules that join phrases look at a row: what kinds stand next to each other, and from which letter to which.

Comes in: a row of items. Goes out: whether it begins so. A joint is named by its kind, "and comma"; anything else by its class.
"""

from collections.abc import Callable, Collection, Sequence
from types import UnionType

from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.reading_values import Place

__all__ = ["Rule", "begins", "is_a", "is_joint", "together"]

Kind = type | UnionType | str
Rule = Callable[[Sequence[p.Item]], tuple[int, list[p.Item]] | None]


def together(first: p.Item, last: p.Item) -> Place:
    """From the first letter of one to the last of the other."""
    return first.span[0], last.span[1]


def begins(row: Sequence[p.Item], *kinds: Kind) -> bool:
    """Whether the row begins with items of these kinds, one after the other."""
    if len(row) < len(kinds):
        return False
    return all(is_a(item, kind) for item, kind in zip(row, kinds, strict=False))


def is_a(item: p.Item, kind: Kind) -> bool:
    """Whether the item is a joint of one of the kinds named, or of the class."""
    if isinstance(kind, str):
        return is_joint(item, kind.split())
    return isinstance(item, kind)


def is_joint(item: p.Item, kinds: Collection[str]) -> bool:
    """Whether the item is a joint of one of the kinds."""
    return isinstance(item, p.Joint) and item.kind in kinds
