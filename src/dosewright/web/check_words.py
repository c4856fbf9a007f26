"""What a check plan demands, in words: for the checker before counting, and afterwards for whoever releases or reads the card's history."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import ceil

from dosewright.core.checking.check_plan import CheckPlan, Whole, Why, chance_missed
from dosewright.core.units.finding import Fact

__all__ = ["PlanWords", "counted_words", "plan_words"]

# What people see of planted mistakes. Source: 35 % of 103 pharmacists found all of five (0.811 each, if independent); 93 to 97 % of
# planted errors found by an independent second check.
_SEEN = "Besides, people see only 81 to 97 of 100 mistakes in what they do count (published trials)."
_WRONG = (1, 2, 4)  # so many wrong cavities the chances are said for

_BECAUSE = {
    Why.HIGH_RISK: "with a medicine of high risk",
    Why.PART: "with a part of a unit",
    Why.ALIKE: "with a medicine that another in this card could be taken for",
    Why.CORRECTED: "where something was taken out again",
    Why.UNSCANNED: "filled without a scan",
    Why.OPENED: "opened since the last check",
}
_WHOLE = {
    Whole.PROFILE: "",
    Whole.NO_SEED: "Every cavity is counted: this card was filled before cavities were drawn.",
    Whole.SENT_BACK: "Every cavity is counted: this card was sent back.",
    Whole.DIFFERED: "Every cavity is counted: a count differed.",
    Whole.ALONE: "Every cavity is counted: you filled this card yourself.",
}


@dataclass(frozen=True, slots=True)
class PlanWords:
    """`count` of `of` cavities are demanded. `whole`: why all are where a choice is lawful ("" where no choice is); `always` and `drawn`:
    how the choice came about; `missed`: what it misses. All empty where every cavity is counted as a matter of course."""

    choice: bool
    count: int
    of: int
    whole: str
    always: tuple[str, ...]
    drawn: str
    missed: str


def plan_words(plan: CheckPlan) -> PlanWords:
    """The plan as the checker reads it. Nothing of what the filler counted is in it."""
    count, of = len(plan.demanded), len(plan.cavities)
    if not plan.is_choice:
        return PlanWords(False, of, of, _WHOLE[plan.draw.whole] if plan.draw.whole else "", (), "", "")  # noqa: FBT003 - its first field
    drawn = f"{len(plan.drawn)} of the other {plan.others}, drawn by chance when the card was full"
    return PlanWords(True, count, of, "", tuple(_always(plan)), drawn, f"{_missed(plan.others, len(plan.drawn))} {_SEEN}")  # noqa: FBT003


def counted_words(facts: Mapping[str, Fact]) -> str:
    """What a check left uncounted, from its entry in the ledger; "" where every cavity was counted."""
    numbers = [facts.get(name) for name in ("cavities", "of", "always", "drawn", "others")]
    cavities, of, always, drawn, others = (one if isinstance(one, int) else None for one in numbers)
    if cavities is None or of is None or always is None or drawn is None or others is None:
        return ""
    return f"{cavities} of {of} cavities counted, {always} always, {drawn} of {others} drawn. {_missed(others, drawn)}"


def _always(plan: CheckPlan) -> Iterator[str]:
    found = Counter(why for reasons in plan.always.values() for why in reasons)
    yield from (f"{found[why]} {words}" for why, words in _BECAUSE.items() if found[why])


def _missed(others: int, drawn: int) -> str:
    """ "If 1 of these 14 is wrong, this check misses it in 58 of 100 cards; if 2 are, both in 33; …" Rounded up, never down."""
    return "; ".join(_say_missed(others, drawn, wrong) for wrong in _WRONG if wrong <= others) + "."


def _say_missed(others: int, drawn: int, wrong: int) -> str:
    cards = ceil(100 * chance_missed(others, drawn, wrong))
    if wrong == 1:
        return f"If 1 of these {others} is wrong, this check misses it in {cards} of 100 cards"
    together = {2: "both"}.get(wrong, f"all {wrong}")
    return f"if {wrong} are, it misses {together} in {cards}" if cards else f"if {wrong} are, it never misses {together}"
