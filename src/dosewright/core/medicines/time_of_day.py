"""What a pharmacy knows about the time of day of medicines: which keep their time, how far a dose may stray, what words beside it mean.

Comes in: a medicine, or words that stand beside directions. Goes out: the rule that speaks of it, or None. Data with source and date
(shipped/suitability/times.toml). Words that no line names are not weighed: whoever asks must then leave the dose where it is.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.names import mentions, words_of

__all__ = ["NO_TIME_RULES", "MealRelation", "OwnTime", "Saying", "TimeRules", "Window", "own_time", "said_by"]


class MealRelation(StrEnum):
    """What words beside directions ask of a dosing time."""

    ANY = "any"  # nothing
    WITH = "with"  # a dosing time beside a meal
    BEFORE = "before"  # a dosing time before a meal
    EMPTY = "empty"  # an empty stomach: never together with a medicine that is taken with food


@dataclass(frozen=True, slots=True)
class OwnTime:
    """Any medicine of those generic names has a time of day of its own. `critical`: it may stray by its window alone; else it stays."""

    id: str
    names: tuple[str, ...]
    critical: bool
    reason: str
    source: str
    dated: str
    evidence: str


@dataclass(frozen=True, slots=True)
class Window:
    """How many minutes a dose may be given before or after its time. `about`: "critical", "daily" (also weekly, monthly) or "often"."""

    id: str
    about: str
    minutes: int
    source: str
    dated: str
    evidence: str


@dataclass(frozen=True, slots=True)
class Saying:
    """Words that are known: whole, or (`opens`) as the beginning of a phrase none of whose words is about time."""

    id: str
    words: tuple[str, ...]
    relation: MealRelation
    opens: bool
    source: str
    evidence: str


@dataclass(frozen=True, slots=True)
class TimeRules:
    """All of it. `timely` are words about time: a phrase that begins harmlessly and goes on with one of them is not known."""

    own: tuple[OwnTime, ...] = ()
    windows: tuple[Window, ...] = ()
    sayings: tuple[Saying, ...] = ()
    timely: tuple[str, ...] = ()

    def window(self, about: str) -> Window | None:
        """The window of that kind, if there is one."""
        return next((window for window in self.windows if window.about == about), None)


NO_TIME_RULES = TimeRules()


def own_time(medicine: Medicine, rules: Iterable[OwnTime]) -> OwnTime | None:
    """The rule that gives the medicine a time of its own: one that keeps it there before one that lets it stray."""
    about = [rule for rule in rules if any(mentions(medicine.name, name) for name in rule.names)]
    return min(about, key=lambda rule: rule.critical, default=None)


def said_by(phrase: str, rules: TimeRules) -> Saying | None:
    """The line that knows the phrase; None where nobody knows it."""
    held = words_of(phrase)
    whole = next((known for known in rules.sayings if not known.opens and any(words_of(words) == held for words in known.words)), None)
    if whole or any(mentions(phrase, word) for word in rules.timely):
        return whole
    return next((known for known in rules.sayings if known.opens and any(_opens(words_of(words), held) for words in known.words)), None)


def _opens(beginning: tuple[str, ...], held: tuple[str, ...]) -> bool:
    return bool(beginning) and held[: len(beginning)] == beginning
