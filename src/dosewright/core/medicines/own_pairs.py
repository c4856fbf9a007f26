"""The pharmacy's own rules about two medicines: what may not share a cavity, what must be apart in time; laid over the rules that ship.

A wording of a shipped rule's id stands in its place, or puts it out of force and says so; any other is added. Each has its source, the date
of that, why it was made, by whom and when.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.names import mentions, words_of
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.medicines.own_rules import OWN
from dosewright.core.medicines.spacing import SpacingRule, concerns
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["FARTHEST", "OwnPair", "PairBook", "PairKind", "check_own_pair", "concerned", "laid_over", "names_not_held", "say_pair"]

FARTHEST = 1440  # minutes: a day apart is never on one day; what looks at the days of a change of times looks no farther than two


class PairKind(StrEnum):
    """What a rule about two medicines forbids."""

    APART = "apart"  # to share a cavity
    SPACING = "spacing"  # to be given too close in time


@dataclass(frozen=True, slots=True)
class OwnPair:
    """One rule as the pharmacy wants it: any medicine of `one` and any of `other` (none: any other medicine), by generic names.

    `before`, `after`: minutes, for spacing alone, as in `SpacingRule`. Not `in_force`: the shipped rule of this id does not count here.
    `change` counts the pharmacy's changes, so that no two wordings of a rule have one date; `by`, `on`, `why`: who changed it, when, why.
    """

    id: str
    kind: PairKind
    one: tuple[str, ...]
    other: tuple[str, ...]
    reason: str
    source: str
    dated: str
    before: int = 0
    after: int = 0
    in_force: bool = True
    change: int = 0
    by: str = ""
    on: date = date.min
    why: str = ""

    def rule(self) -> PairRule | SpacingRule:
        """As the planner reads it. `dated` has the change in it: an answer given to an earlier wording does not count for this one."""
        dated = f"{self.dated}; change {self.change} of this pharmacy, {self.on}"
        if self.kind is PairKind.APART:
            return PairRule(self.id, self.one, self.other, self.reason, self.source, dated, OWN)
        return SpacingRule(self.id, self.one, self.other, self.before, self.after, self.reason, self.source, dated, OWN)


@dataclass(frozen=True, slots=True)
class PairBook:
    """Every rule about two medicines, in the order in which they are asked."""

    apart: tuple[PairRule, ...] = ()
    spacing: tuple[SpacingRule, ...] = ()

    @property
    def rules(self) -> tuple[PairRule | SpacingRule, ...]:
        """All of them, about cavities first."""
        return (*self.apart, *self.spacing)

    def find(self, rule: str) -> PairRule | SpacingRule | None:
        """The rule of that id, if there is one."""
        return next((one for one in self.rules if one.id == rule), None)


def laid_over(shipped: PairBook, own: Sequence[OwnPair]) -> PairBook:
    """The rules that count: the pharmacy's in their places, those that it put out of force left out, its new ones at the end."""
    if not own:
        return shipped
    out = {one.id for one in own}
    made = [one.rule() for one in own if one.in_force]
    apart = {rule.id: rule for rule in made if isinstance(rule, PairRule)}
    spacing = {rule.id: rule for rule in made if isinstance(rule, SpacingRule)}
    kept_apart = (apart.pop(rule.id, None) if rule.id in out else rule for rule in shipped.apart)
    kept_spacing = (spacing.pop(rule.id, None) if rule.id in out else rule for rule in shipped.spacing)
    in_their_places = tuple(rule for rule in kept_apart if rule), tuple(rule for rule in kept_spacing if rule)
    return PairBook((*in_their_places[0], *apart.values()), (*in_their_places[1], *spacing.values()))


def check_own_pair(rule: OwnPair, shipped: PairBook) -> tuple[Finding, ...]:
    """Every fault of a rule that somebody wants to keep, all at once."""
    return tuple(Finding(code, Severity.STOP, {"rule": rule.id}, facts) for code, facts in _faults(rule, shipped))


def _faults(rule: OwnPair, shipped: PairBook) -> Iterable[tuple[str, dict[str, Fact]]]:
    known = shipped.find(rule.id)
    if known is not None and isinstance(known, PairRule) is not (rule.kind is PairKind.APART):
        yield "rules.other-kind", {}
    if known is None and not rule.in_force:
        yield "rules.own-out-of-force", {}
    for field in ("reason", "source", "dated", "why"):
        if not getattr(rule, field).strip():
            yield "rules.field-empty", {"field": field}
    if not rule.one:
        yield "rules.pair-about-nothing", {}
    if wordless := tuple(name for name in (*rule.one, *rule.other) if not words_of(name)):
        yield "rules.no-word", {"found": wordless}
    if rule.kind is PairKind.SPACING and not (rule.before or rule.after):
        yield "rules.no-distance", {}
    if not all(0 <= minutes <= FARTHEST for minutes in (rule.before, rule.after)):
        yield "rules.too-far", {"longest": FARTHEST}
    if rule.kind is PairKind.APART and (rule.before or rule.after):
        yield "rules.no-minutes-here", {}


def names_not_held(rule: OwnPair, shipped: PairBook, held: Iterable[str]) -> tuple[str, ...]:
    """Names newly written that stand in none of the generic names that the catalogue has (`held`): right, perhaps, and perhaps a slip."""
    known = shipped.find(rule.id)
    before = {*known.one, *known.other} if known else set()
    texts = tuple(held)
    fresh = (name for name in dict.fromkeys((*rule.one, *rule.other)) if name not in before)
    return tuple(name for name in fresh if not any(mentions(text, name) for text in texts))


def concerned(rule: PairRule | SpacingRule, one: Medicine, other: Medicine) -> bool:
    """Whether the rule is about these two, in this order or, for a cavity, in either."""
    if isinstance(rule, SpacingRule):
        return concerns(rule, one, other)
    return one.code != other.code and rule.forbids(one, other)


def say_pair(rule: PairRule | SpacingRule) -> str:
    """What it asks, in a few words for the record."""
    return f"{rule.before} minutes before, {rule.after} after" if isinstance(rule, SpacingRule) else "never in one cavity"
