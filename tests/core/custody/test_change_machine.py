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
