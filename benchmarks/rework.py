"""Changes laid out a second for people with 1, 4 and 12 open cards, against planning everything afresh; then what putting right saves.

Everybody has about nine medicines, as published for people in homes; the mix of changes is the published one: 35 added, 34 of the dose,
26 stopped, of a hundred (the rest is left out). People, products and orders are invented and drawn with fixed seeds.
"""

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from random import Random

from benchmarks.planning import FIRST, published
from benchmarks.ratio import compare
from dosewright.core.interop.rework_rates_toml import parse_rates
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.regimen.order import Order
from dosewright.core.rework.layout import PersonLayout, lay_out
from dosewright.core.rework.proof import check_layout
from dosewright.core.rework.situation import OpenCard, Situation
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import OrderId
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.shipped import read_shipped

PEOPLE = 40
MIX = (("added", 35), ("dose", 34), ("stopped", 26))
RATES = parse_rates(read_shipped("rework", "rates.toml"))


def situations(cards: int, people: int = PEOPLE, seed: int = 7) -> list[Situation]:
    """One change for each of so many people who have that many cards still open; on a day of the cycle drawn at random."""
    random = Random(seed)
    found: list[Situation] = []
    while len(found) < people:
        request = _cycle(cards, random.randrange(10**6))
        (planned,) = plan_cycle(request).people
        # The change comes before the first day, so that every card is still whole.
        open_cards = tuple(OpenCard(card, planned.person) for card in planned.cards)
        if len(open_cards) == cards:
            at = Moment(FIRST)
            after = replace(request, orders=changed(request, random, at), prepared_on=FIRST)
            found.append(Situation(request, after, at, at, open_cards, RATES))
    return found


def _cycle(cards: int, seed: int) -> PlanRequest:
    """A week is mostly one card, four are four; six weeks of somebody with many medicines are twelve."""
    return replace(published(1, seed), days={1: 7, 4: 28, 12: 42}[cards])


def changed(request: PlanRequest, random: Random, at: Moment) -> tuple[Order, ...]:
    """One change of the published mix, from the moment on."""
    kind = random.choices([name for name, _ in MIX], [share for _, share in MIX])[0]
    orders = list(request.orders)
    at_hand = random.randrange(len(orders))
    if kind == "stopped":
        del orders[at_hand]
    elif kind == "dose":
        orders[at_hand] = replace(orders[at_hand], dosages=(_daily(random.choice(("MORN", "EVE")), Fraction(3)),))
    else:
        free = sorted(set(request.medicines) - {order.medicine for order in orders})
        new = replace(orders[0], id=OrderId("new"), medicine=random.choice(free), since=at, dosages=(_daily("MORN", Fraction(1)),))
        orders.append(new)
    return tuple(orders)


def _daily(when: str, count: Fraction) -> Dosage:
    repeat = Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=(when,))
    return Dosage(timing=Timing(repeat=repeat), amounts=(Amount(quantity=Quantity(count, Unit("tablet"))),))


def _laying(cases: list[Situation]) -> Callable[[], object]:
    return lambda: [lay_out(case) for case in cases]


def _planning(cases: list[Situation]) -> Callable[[], object]:
    return lambda: [plan_cycle(case.after) for case in cases]


def time_changes() -> None:
    """All differences, all choices and the best combination, for one person's change; beside a plan of the same orders from scratch."""
    for cards in (1, 4, 12):
        cases = situations(cards, 10 if cards == 12 else PEOPLE)
        found = compare(
            f"{len(cases)} changes, {cards} open {'card' if cards == 1 else 'cards'} each",
            _laying(cases),
            "planning the sets afresh",
            _planning(cases),
            7,
        )
        print(f"  {len(cases) / found.ours:.0f} changes a second; {found.ours / len(cases) * 1000:.1f} ms a change")


def count_savings(people: int = 300) -> None:
    """A change for each person on a day of the cycle drawn at random: the best combination beside filling all that it touches afresh."""
    random = Random(300)
    best: Counter[str] = Counter()
    afresh: Counter[str] = Counter()
    names: Counter[str] = Counter()
    for seed in range(people):
        request = published(1, 10_000 + seed)
        (planned,) = plan_cycle(request).people
        at = Moment(FIRST + timedelta(days=random.randrange(28)))
        cards = tuple(
            OpenCard(card, planned.person, used=frozenset((c.row, c.column) for c in card.cavities if Moment(c.day, c.time) < at))
            for card in planned.cards
        )
        after = replace(request, orders=changed(request, random, at), prepared_on=at.day)
        case = Situation(request, after, at, at, cards, RATES)
        (layout,) = lay_out(case)
        assert check_layout(layout, case) == ()
        names.update(str(choice.name) for choice in layout.chosen)
        _add(best, layout)
        _add(afresh, _all_afresh(layout))
    print(f"{people} changes on a random day of 28; chosen: {', '.join(f'{name} {many}' for name, many in names.most_common())}")
    for what in ("minutes", "placements", "units wasted"):
        share = 100 * (1 - best[what] / afresh[what])
        print(f"  {what}: {best[what]:.0f} put right, {afresh[what]:.0f} filled afresh; {share:.0f} % saved")


def _all_afresh(layout: PersonLayout) -> PersonLayout:
    """Every card that the change touches filled afresh instead."""
    touched = {number for choice in layout.choices if choice.name != "afresh" for number in choice.cards}
    fresh = [choice for choice in layout.choices if choice.name == "afresh" and choice.lawful and set(choice.cards) & touched]
    groups = [choice for choice in fresh if not any(set(other.cards) < set(choice.cards) for other in fresh)]
    return replace(layout, chosen=tuple(groups))


def _add(sums: Counter[str], layout: PersonLayout) -> None:
    for choice in layout.chosen:
        fetched = len(choice.cost.drawn) * RATES.minutes.fetch_medicine
        sums["minutes"] += float(choice.cost.minutes + fetched)  # type: ignore[assignment]  # for reading only
        sums["placements"] += choice.cost.placements
        sums["units wasted"] += float(sum(choice.cost.waste.values()))  # type: ignore[assignment]


def main() -> None:
    """Print every figure."""
    time_changes()
    count_savings()


if __name__ == "__main__":
    main()
