"""Fewer dosing times: `choose` against a constraint-solver model of the same questions; then whole proposals, beside planning the person.

Questions: a dozen orders at most, eight dosing times, some options clashing. People: one to twelve orders whose words name no time or one
of four, among them calcium, iron and levothyroxine; an assumption, no source.
"""

from random import Random
from statistics import median

from tests.core.packing.times_makers import asked, time_rules, written
from tests.core.packing.times_model import by_solver, draw_question

from benchmarks.ratio import compare, seconds
from dosewright.core.packing.dosing_times.choose import choose
from dosewright.core.packing.dosing_times.propose import propose
from dosewright.core.packing.person_plan import plan_person
from dosewright.core.packing.request import PlanRequest

QUESTIONS, PEOPLE = 60, 200
WORDS = (
    "Take 1 tablet once daily",
    "Take 1 tablet twice a day",
    "Take 1 tablet twice a day with food",
    "Take 1 tablet three times a day",
    "Take 1 tablet in the morning",
    "Take 1 tablet in the evening",
    "Take 1 tablet at bedtime",
    "Take 1 tablet once a week on Sunday",
)
PRODUCTS = ("levothyroxine", "calcium carbonate", "ferrous fumarate", *(f"Product{letter}" for letter in "abcdefghijkl"))


def person(seed: int) -> PlanRequest:
    """The seed's person; always the same one."""
    random = Random(f"times {seed}")
    products = random.sample(PRODUCTS, random.randint(1, 12))
    return asked([written(f"o{at}", what, random.choice(WORDS)) for at, what in enumerate(products)])


def time_questions() -> None:
    """The search alone, against CP-SAT."""
    questions = [draw_question(seed, orders=12, times=8, density=0.1) for seed in range(QUESTIONS)]
    assert all(choose(one).proved for one in questions)
    compare(
        f"choose, {QUESTIONS} questions",
        lambda: [choose(one) for one in questions],
        "CP-SAT",
        lambda: [by_solver(one) for one in questions],
        5,
    )


def time_people() -> None:
    """Whole proposals, and what they gain; the plan of the same person beside them."""
    requests = [person(seed) for seed in range(PEOPLE)]
    found = [propose(one.people[0], one, time_rules()) for one in requests]
    taken = sorted(seconds(lambda one=one: propose(one.people[0], one, time_rules())) for one in requests)  # type: ignore[misc]
    planned = sorted(seconds(lambda one=one: plan_person(one.people[0], one, "")) for one in requests)  # type: ignore[misc]
    fewer = sum(len(one.proposed) < len(one.today) for one in found)
    cards = [sum(getattr(one.proof, name) for one in found) for name in ("cards_today", "cards_proposed")]
    print(f"{PEOPLE} people: {fewer} could have fewer dosing times; cards {cards[0]} today, {cards[1]} proposed; all proved: ", end="")
    print(f"{all(one.proof.optimal and one.proof.gentlest for one in found)}; most nodes {max(one.proof.nodes for one in found)}")
    print(f"a proposal: median {median(taken) * 1e3:.1f} ms, p99 {taken[-PEOPLE // 100] * 1e3:.1f} ms; ", end="")
    print(f"the plan of the same person: median {median(planned) * 1e3:.1f} ms; ratio {median(taken) / median(planned):.1f}")


def main() -> None:
    """Print every figure."""
    time_questions()
    time_people()


if __name__ == "__main__":
    main()
