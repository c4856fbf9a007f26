"""What a person's orders ask and what lies in the person's cards, counted by hand in plain dictionaries: the model of the change machine.

It shares nothing with the code that it is held against: no expansion, no plan, no event is read here. Amounts are whole numbers of half
tablets, so that counting them after every step costs little; `halves` refuses whatever is no half.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, time
from fractions import Fraction

When = tuple[date, time]
Spot = tuple[int, int]  # row and column


def halves(amount: Fraction) -> int:
    """So many half tablets. No amount of these orders is anything else."""
    assert amount.denominator in {1, 2}, f"{amount} tablets are not in halves"
    return amount.numerator * 2 // amount.denominator


@dataclass
class Said:
    """An order as the model has it: so much at one clock time every day, from a moment until a moment."""

    id: str
    code: str
    clock: time
    count: Fraction
    since: When
    until: When | None = None

    def asks(self, when: When) -> int:
        counts = when[1] == self.clock and self.since <= when and (self.until is None or when < self.until)
        return halves(self.count) if counts else 0


@dataclass
class Model:
    """`said`: the orders. `lying`: card → cavity and medicine → how much. `given`: the same of what was given from there and is on no
    record of the pharmacy yet. `stock`, `gone`: by medicine, what bottles hold, and what was given, destroyed or wasted for good."""

    stock: dict[str, int]
    said: list[Said] = field(default_factory=list)
    lying: dict[str, dict[tuple[Spot, str], int]] = field(default_factory=lambda: defaultdict(dict))
    given: dict[str, dict[tuple[Spot, str], int]] = field(default_factory=lambda: defaultdict(dict))
    gone: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    inside: dict[str, int] = field(default_factory=lambda: defaultdict(int))  # `lying` and `given` together, kept up with them
    _asked: dict[tuple[str, When], int] = field(default_factory=dict)  # as long as the orders are what they are

    def asked(self, code: str, when: When) -> int:
        """How much of the medicine is asked then, over all orders."""
        if (code, when) not in self._asked:
            self._asked[code, when] = sum(one.asks(when) for one in self.said if one.code == code)
        return self._asked[code, when]

    def orders_changed(self) -> None:
        self._asked.clear()

    def lay(self, card: str, spot: Spot, code: str, amount: int) -> None:
        """Into the cavity, or out of it where the amount is below zero."""
        now = self.lying[card].get((spot, code), 0) + amount
        assert now >= 0, f"more {code} left cavity {spot} of {card} than lay in it"
        self.lying[card][spot, code] = now
        if not now:
            del self.lying[card][spot, code]
        self.inside[code] += amount

    def give(self, card: str, spots: Iterable[Spot]) -> int:
        """Everything in those cavities is given. How many held something."""
        keys = [key for key in self.lying[card] if key[0] in set(spots)]
        for key in keys:
            self.given[card][key] = self.lying[card].pop(key)
        return len({spot for spot, _ in keys})

    def forget(self, card: str) -> None:
        """What was given from the card is on record now."""
        for (_, code), amount in self.given.pop(card, {}).items():
            self.inside[code] -= amount

    def empty(self, card: str) -> None:
        """Whatever is left in the card is destroyed."""
        for (_, code), amount in self.lying.pop(card, {}).items():
            self.inside[code] -= amount

    def in_events(self, card: str) -> dict[tuple[Spot, str], int]:
        """What the pharmacy's record should say lies in the card: what lies there, and what was given and is not on record."""
        both = dict(self.lying.get(card, {}))
        for key, amount in self.given.get(card, {}).items():
            both[key] = both.get(key, 0) + amount
        return both

    def held(self, card: str) -> Iterator[tuple[Spot, str, int]]:
        """What lies in the card."""
        return ((spot, code, amount) for (spot, code), amount in self.lying.get(card, {}).items())

    def check_conserved(self, received: int) -> None:
        """R11: every unit is somewhere."""
        for code, left in self.stock.items():
            assert left + self.inside[code] + self.gone[code] == received, f"R11: {code} is not conserved"

    def recount(self) -> None:
        """What is kept up step by step, counted again from the beginning."""
        sums: dict[str, int] = defaultdict(int)
        for cards in (self.lying, self.given):
            for cells in cards.values():
                for (_, code), amount in cells.items():
                    assert amount > 0
                    sums[code] += amount
        assert sums == {code: amount for code, amount in self.inside.items() if amount}
