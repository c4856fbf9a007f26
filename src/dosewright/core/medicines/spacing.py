"""Medicines that must be apart in time: rules and the clock times of two medicines in, the times that break a rule out.

Every dose of `one` is held against the doses of `other` around it, past midnight too: 22:00 and the next 08:00 are ten hours apart.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from functools import lru_cache

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.names import mentions

__all__ = ["SpacingRule", "breaches", "concerns", "named"]


@dataclass(frozen=True, slots=True)
class SpacingRule:
    """A dose of any of `one` comes at least `before` minutes before, or at least `after` minutes after, each dose of any of `other`."""

    id: str
    one: tuple[str, ...]
    other: tuple[str, ...]
    before: int
    after: int
    reason: str
    source: str
    dated: str
    evidence: str

    def __post_init__(self) -> None:
        if min(self.before, self.after) < 0:
            raise ValueError("minutes apart must not be below zero")


@lru_cache(maxsize=65536)
def named(names: tuple[str, ...], medicine: Medicine) -> bool:
    """Whether the medicine's generic name holds any of the names."""
    return any(mentions(medicine.name, name) for name in names)


def concerns(rule: SpacingRule, one: Medicine, other: Medicine) -> bool:
    """Whether the rule is about this medicine before and after that one. An empty `other` means: any other medicine."""
    return one.code != other.code and named(rule.one, one) and (not rule.other or named(rule.other, other))


def breaches(
    rule: SpacingRule, ones: Iterable[tuple[date, time]], others: Sequence[tuple[date, time]]
) -> Iterable[tuple[tuple[date, time], tuple[date, time]]]:
    """Every pair of doses that is too close, in the order of `ones`. At exactly the rule's distance a pair is far enough apart."""
    moments = [(datetime.combine(*other), other) for other in others]
    for one in ones:
        taken = datetime.combine(*one)
        for moment, other in moments:
            minutes = (moment - taken).total_seconds() / 60
            if -rule.after < minutes < rule.before:
                yield one, other
