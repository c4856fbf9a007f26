"""Changes drawn at random over many cycles of cards, followed by a model that shares nothing with the code.

Orders of every kind change, back-dated and ahead, twice and out of order, and are taken back; cards are planned, filled, checked, handed
over, given from, called back, lost and found; work is killed and taken up again from the events. After every step R1 to R5, R9 to R11 and
R17 hold by the model's own count: a filled card holds its plan, one that is being filled no more than that; on each day whose cards or
orders the step changed their plans hold what the model's orders ask, each dose once, and nothing else, or one of these cards is held,
waits, is called back or replaced, and says so. Whenever a cycle is planned or a change is said to be done all of it is counted anew, from
what lies in the cards.

Most steps are taken by lives drawn from a seed each, which costs least; a machine of Hypothesis takes the same ones for its shrinking.
"""

import os
from collections import Counter
from random import Random

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, rule, run_state_machine_as_test
from tests.core.custody.change_life import DEEDS, KINDS, Life

STEPS = int(os.environ.get("DOSEWRIGHT_CHANGE_STEPS", "100000"))
SEED = os.environ.get("DOSEWRIGHT_CHANGE_SEED", "changes")
_DEEDS_A_LIFE = 150
_TOLD_EVERY = 50_000  # steps: how far it is, where pytest shows what is printed
_REACHED = (
    *(f"orders {kind}" for kind in sorted(set(KINDS))),
    *("withdrawn", "choice made", "reworked", "taken out", "came back", "returned", "relabelled", "taken up again", "change done"),
)
Script = list[tuple[str, int]]


def drawn_script(seed: str) -> Script:
    random = Random(seed)  # noqa: S311 - reproducible cases, nothing secret
    names = random.choices(list(DEEDS), list(DEEDS.values()), k=_DEEDS_A_LIFE)
    return [(name, random.randrange(2**32)) for name in names]


def lived(start: int, script: Script) -> tuple[Life | None, str]:
    """The life, and what was found wrong with it, "" for nothing."""
    life = None
    try:
        life = Life(start)
        for deed, seed in script:
            life.do(deed, seed)
        life.killed_and_taken_up_again()
    except Exception as fault:
        return life, f"{type(fault).__name__}: {fault}"
    return life, ""


def shortened(start: int, script: Script) -> Script:
    """The same without whatever may be left out while something is still found wrong: halves first, single deeds last."""
    size = len(script) // 2
    while size:
        at = 0
        while at < len(script):
            less = script[:at] + script[at + size :]
            if lived(start, less)[1]:
                script = less
            else:
                at += size
        size //= 2
    return script


def test_changes_leave_every_card_right_or_held_or_waiting_with_a_reason() -> None:
    steps: Counter[str] = Counter()
    lives = 0
    while steps.total() < STEPS:
        script = drawn_script(f"{SEED} {lives}")
        life, fault = lived(lives, script)
        if fault:
            short = shortened(lives, script)
            raise AssertionError(f"life {lives} of seed {SEED!r}: {lived(lives, short)[1]}; again with Life({lives}) and {short}")
        assert life is not None
        told = steps.total() // _TOLD_EVERY
        steps += life.steps
        lives += 1
        if steps.total() // _TOLD_EVERY > told:
            print(f"{steps.total():,} steps of {lives:,} lives", flush=True)
    print(f"{steps.total():,} steps of {lives:,} lives: {dict(steps.most_common())}")
    # The draws reach every part of it: changes come to their end, cards come back and are put right, are replaced, and go out.
    for what in (
        "orders stop",
        "orders replaced",
        "orders sooner",
        "withdrawn",
        "choice made",
        "reworked",
        "taken out",
        "came back",
        "change done",
    ):
        assert steps[what] >= STEPS // 20000, what
    assert steps["change done"] >= steps["choice made"] // 4


# Lives that went wrong once, cut down to what was needed for it: where a life begins, and its deeds.
WENT_WRONG: dict[str, tuple[int, Script]] = {
    "a day that no card was to have got a card, and the next cycle another": (
        32,
        [
            ("time_passes", 3525816721),
            ("days_as_they_should_be", 2955144493),
            ("days_as_they_should_be", 539695397),
            ("a_good_day", 3766755463),
            ("days_as_they_should_be", 2637263926),
            ("days_as_they_should_be", 3462926294),
            ("days_as_they_should_be", 666929538),
            ("time_passes", 2471606289),
            ("time_passes", 1661973374),
            ("comes_back", 3578517899),
            ("change_orders", 2862105650),
            ("time_passes", 3119954107),
            ("time_passes", 1841717392),
            ("withdraw", 1716507105),
            ("time_passes", 790117171),
            ("comes_back", 282027907),
            ("days_as_they_should_be", 320048165),
        ],
    ),
    "the doses lay in cards that others had replaced, and the new ones were empty": (
        12,
        [
            ("days_as_they_should_be", 2394316791),
            ("change_orders", 2969780751),
            ("decide", 3103875851),
            ("change_orders", 4062006786),
            ("decide", 424216716),
        ],
    ),
    "a card that was replaced kept the one in its place from being marked": (
        73,
        [
            ("change_orders", 4122809589),
            ("time_passes", 123806134),
            ("time_passes", 3871158853),
            ("a_good_day", 3459005066),
            ("time_passes", 2455958039),
            ("time_passes", 2741001556),
            ("change_orders", 3372826431),
            ("decide", 4121056505),
            ("change_orders", 3315236275),
            ("change_orders", 1810693140),
        ],
    ),
    "a card that came back was put right, and what went into it left to another that stayed closed": (
        21,
        [
            ("days_as_they_should_be", 2697933540),
            ("change_orders", 1989087135),
            ("change_orders", 2868887395),
            ("change_orders", 2101699690),
            ("days_as_they_should_be", 2634630645),
            ("time_passes", 3888779632),
            ("days_as_they_should_be", 3009243875),
            ("change_orders", 1693713427),
            ("change_orders", 2094351280),
            ("days_as_they_should_be", 88640595),
            ("time_passes", 181231121),
            ("change_orders", 1119317026),
            ("time_passes", 1562187727),
            ("time_passes", 623839500),
            ("decide", 1642451412),
            ("change_orders", 244931759),
            ("change_orders", 2517915686),
            ("time_passes", 345968970),
            ("days_as_they_should_be", 3690120504),
            ("a_good_day", 411853399),
            ("time_passes", 1820559626),
            ("change_orders", 2781121245),
            ("change_orders", 3565768932),
            ("time_passes", 2195790343),
            ("time_passes", 3787177022),
            ("time_passes", 451590706),
            ("days_as_they_should_be", 1026510323),
        ],
    ),
}


@pytest.mark.parametrize("what", WENT_WRONG)
def test_what_went_wrong_once_does_not_again(what: str) -> None:
    life, fault = lived(*WENT_WRONG[what])
    assert not fault, fault
    assert life is not None
    assert life.stepped > len(WENT_WRONG[what][1])


class Changes(RuleBasedStateMachine):
    """The same deeds, drawn by Hypothesis, which cuts a failing run down to what is needed for it."""

    def __init__(self) -> None:
        super().__init__()
        self.life = Life()

    @rule(deed=st.sampled_from(list(DEEDS)), seed=st.integers(0, 999))
    def something_is_done(self, deed: str, seed: int) -> None:
        self.life.do(deed, seed)


def test_hypothesis_finds_no_shorter_way_to_a_wrong_card() -> None:
    run_state_machine_as_test(Changes, settings=settings(max_examples=5, stateful_step_count=30, deadline=None))
