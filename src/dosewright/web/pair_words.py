"""Rules about two medicines in words: what may not share a cavity, what must be apart in time, and what this pharmacy put out of force."""

from collections.abc import Iterator
from dataclasses import dataclass

from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.medicines.own_pairs import OwnPair
from dosewright.core.medicines.spacing import SpacingRule
from dosewright.core.packing.dosing_times.freedom import hours_and_minutes
from dosewright.store.pharmacy import RulesInForce

__all__ = ["Pair", "find_pair", "say_about", "say_apart", "say_others", "say_standing", "standing_pairs"]


@dataclass(frozen=True, slots=True)
class Pair:
    """A rule as it stands: as it ships, or as the pharmacy words it (`own`), which may be out of force."""

    rule: PairRule | SpacingRule
    own: OwnPair | None
    shipped: PairRule | SpacingRule | None


def standing_pairs(rules: RulesInForce) -> Iterator[Pair]:
    """Every one once, those that are out of force too."""
    own = {one.id: one for one in rules.own_pairs}
    for shipped in rules.shipped_pairs.rules:
        mine = own.pop(shipped.id, None)
        yield Pair(mine.rule() if mine else shipped, mine, shipped)
    yield from (Pair(one.rule(), one, None) for one in own.values())


def find_pair(rule: str, rules: RulesInForce) -> Pair | None:
    """The one of that id, if it is about two medicines."""
    return next((pair for pair in standing_pairs(rules) if pair.rule.id == rule), None)


def say_about(rule: PairRule | SpacingRule) -> str:
    """ "levodopa, co-careldopa – with ferrous, iron"."""
    return f"{', '.join(rule.one)} – with {say_others(rule)}"


def say_others(rule: PairRule | SpacingRule) -> str:
    """The second names."""
    return ", ".join(rule.other) or "any other medicine"


def say_standing(pair: Pair) -> str:
    """What follows from it as it stands; why nothing does, where the pharmacy put it out of force."""
    if pair.own and not pair.own.in_force:
        return f"Out of force in this pharmacy, and nothing follows from it. Why: {pair.own.why}"
    return say_apart(pair.rule)


def say_apart(rule: PairRule | SpacingRule) -> str:
    """ "At least 2 hours before, or at least 6 hours after."."""
    if isinstance(rule, PairRule):
        return "Never in one cavity."
    if rule.before == rule.after:
        return f"At least {hours_and_minutes(rule.before)} apart."
    before, after = (
        f"at least {hours_and_minutes(minutes)} {side}" if minutes else f"at any time {side}"
        for minutes, side in ((rule.before, "before"), (rule.after, "after"))
    )
    return f"{before}, or {after}.".capitalize()
