"""Changes laid out a second for people with 1, 4 and 12 open cards, against planning everything afresh; then a year of 300 people.

Everybody has about nine medicines, as published for people in homes; the mix of changes is the published one: 35 added, 34 of the dose,
26 stopped, of a hundred (the rest is left out). People, products and orders are invented and drawn with fixed seeds; all are of one
catalogue, as in a pharmacy.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from random import Random
from time import process_time

from benchmarks._changing_year import live_a_year
from benchmarks._drawn_changes import RATES, drawn_change, one_by_one
from benchmarks.planning import FIRST, published
from benchmarks.ratio import compare
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.rework.layout import lay_out
from dosewright.core.rework.situation import OpenCard, Situation
from dosewright.core.units.dosing_time import Moment

PEOPLE = 40
# A week is mostly one card, four are four; six weeks of somebody with many medicines are twelve.
DAYS_OF = {1: 7, 4: 28, 12: 42}


def situations(cards: int, people: int = PEOPLE, seed: int = 7) -> list[Situation]:
    """One change for each of so many people who have that many cards open. It comes before the first day: every card is still whole."""
    random = Random(seed)
    at = Moment(FIRST)
    found: list[Situation] = []
    for request in one_by_one(replace(published(4000, seed), days=DAYS_OF[cards])):
        (planned,) = plan_cycle(request).people
        open_cards = tuple(OpenCard(card, planned.person) for card in planned.cards)
        if len(open_cards) == cards:
            after = replace(request, orders=drawn_change(request, random, at), prepared_on=FIRST)
            found.append(Situation(request, after, at, at, open_cards, RATES))
        if len(found) == people:
            break
    return found


def _laying(cases: Iterable[Situation]) -> Callable[[], object]:
    return lambda: [lay_out(case) for case in cases]


def _planning(cases: Iterable[Situation]) -> Callable[[], object]:
    return lambda: [plan_cycle(case.after) for case in cases]


def time_changes() -> None:
    """All differences, all choices and the best combination, for one person's change; beside one plan of the same orders from scratch."""
    for cards in (1, 4, 12):
        cases = situations(cards, 10 if cards == 12 else PEOPLE)
        compare(
            f"{len(cases)} changes, {cards} open {'card' if cards == 1 else 'cards'} each",
            _laying(cases),
            "planning the sets afresh",
            _planning(cases),
            7,
        )
        ways = sum(len(layout.choices) for case in cases for layout in lay_out(case)) / len(cases)
        taken = min(_of_one_core(_laying(cases)) for _ in range(_TURNS)) / len(cases)
        print(f"  {1 / taken:.0f} changes a second of one core; {taken * 1000:.1f} ms a change of {ways:.1f} choices")


_TURNS = 5


def _of_one_core(work: Callable[[], object]) -> float:
    """Seconds that this process had a core for: what else runs on the machine counts as little as may be."""
    begun = process_time()
    work()
    return process_time() - begun


def main() -> None:
    """Print every figure."""
    time_changes()
    print()
    print("\n".join(live_a_year().table()))


if __name__ == "__main__":
    main()
