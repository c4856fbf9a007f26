"""The account in which no unit is lost: per lot, received = in stock + in cards + given + returned + waste (R11).

Comes in: movements in any order, and what was counted without them. Goes out: where every unit is, and findings where the two differ.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from dosewright.core.supply.movement import ROUTES, Movement, Place
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import Lot, MedicineCode

__all__ = ["Account", "LotKey", "accounts", "check_accounts"]

LotKey = tuple[MedicineCode, Lot]


@dataclass(frozen=True, slots=True)
class Account:
    """Where the units of one lot are."""

    held: Mapping[Place, Fraction]

    @property
    def received(self) -> Fraction:
        """Units that ever came in."""
        return -self.held.get(Place.OUTSIDE, Fraction(0))

    def at(self, place: Place) -> Fraction:
        """Units at one place."""
        return self.held.get(place, Fraction(0))


def accounts(movements: Iterable[Movement]) -> dict[LotKey, Account]:
    """One account a lot. Every movement takes from one place what it gives to another, so that nothing can be lost between them."""
    held: dict[LotKey, dict[Place, Fraction]] = defaultdict(lambda: defaultdict(Fraction))
    for movement in movements:
        source, destination = ROUTES[movement.kind]
        held[movement.medicine, movement.lot][source] -= movement.amount
        held[movement.medicine, movement.lot][destination] += movement.amount
    return {key: Account(dict(places)) for key, places in held.items()}


def check_accounts(
    movements: Iterable[Movement], stock: Mapping[LotKey, Fraction], cards: Mapping[LotKey, Fraction]
) -> tuple[Finding, ...]:
    """Find every lot whose account is impossible or disagrees with what stock and cards hold, counted without the movements (R11)."""
    found = accounts(movements)
    keys = sorted({*found, *stock, *cards})
    return tuple(finding for key in keys for finding in _check_lot(key, found.get(key, Account({})), stock, cards))


def _check_lot(key: LotKey, account: Account, stock: Mapping[LotKey, Fraction], cards: Mapping[LotKey, Fraction]) -> Iterator[Finding]:
    for place in (Place.STOCK, Place.CARD, Place.GIVEN, Place.RETURNED, Place.WASTE):
        if account.at(place) < 0:
            yield _wrong("supply.less-than-nothing", key, place=place.value, amount=account.at(place))
    for place, counted in ((Place.STOCK, stock), (Place.CARD, cards)):
        if account.at(place) != counted.get(key, Fraction(0)):
            facts = {"place": place.value, "moved": account.at(place), "counted": counted.get(key, Fraction(0))}
            yield _wrong("supply.account-differs", key, **facts)


def _wrong(code: str, key: LotKey, **facts: Fact) -> Finding:
    return Finding(code, Severity.STOP, where={"medicine": key[0], "lot": key[1]}, facts=facts)
