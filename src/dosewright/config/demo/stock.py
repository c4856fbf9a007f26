"""What stands on the shelf: for each product two lots, the earlier one opened first, together enough for the cycle and something over."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from math import ceil
from random import Random

from dosewright.config.demo.medicines_file import gtin_of
from dosewright.config.demo.orders import CYCLE_DAYS, CYCLE_FIRST
from dosewright.config.demo.regimen import Line
from dosewright.config.demo.regimens import SEED, draw
from dosewright.config.demo.sources import Product, catalogue

__all__ = ["DemoLot", "bottles_csv", "lots"]

_SPARE = Fraction(6, 5)  # a fifth over what the cycle needs
_UNTIMED = 28  # days, for lines whose amounts stand only in their words


@dataclass(frozen=True, slots=True)
class DemoLot:
    """So many units of one lot; invented number, expiry as printed on a bottle."""

    medicine: str
    lot: str
    expiry: date
    amount: int


def lots() -> tuple[DemoLot, ...]:
    """In order of medicine, then expiry. Only what is packed: nothing that is supplied in the maker's pack."""
    return tuple(lot for product in catalogue().values() if product.shape for lot in _two(product))


def bottles_csv() -> str:
    """Each bottle's label, and its GS1 element string for somebody without a scanner: (01) number, (17) expiry, (10) lot."""
    rows = ["medicine,lot,expiry,scan"]
    rows += [f"{lot.medicine},{lot.lot},{lot.expiry},01{gtin_of(lot.medicine)}17{lot.expiry:%y%m%d}10{lot.lot}" for lot in lots()]
    return "\n".join(rows) + "\n"


def _two(product: Product) -> Iterator[DemoLot]:
    chance = Random(f"{SEED} stock {product.code}")
    packs = max(2, ceil(_need(product.code) * _SPARE / Fraction(product.pack_size)))
    expiry = CYCLE_FIRST + timedelta(days=chance.randint(180, 500))
    for part in (packs - packs // 2, packs // 2):
        yield DemoLot(product.code, _number(product, chance), _month_end(expiry), part * int(product.pack_size))
        expiry += timedelta(days=chance.randint(60, 300))


def _need(medicine: str) -> Fraction:
    return sum((_taken(line) for lines in draw().values() for line in lines if line.medicine == medicine), Fraction(0))


def _taken(line: Line) -> Fraction:
    """Units of one line in the cycle; a half counts whole, for it is cut from a unit of its own. Words without amounts: four a day."""
    if not line.amounts:
        return Fraction(_UNTIMED * 4)
    days = {"day": line.days or CYCLE_DAYS, "2-days": CYCLE_DAYS // 2}.get(line.every, CYCLE_DAYS // 7)
    return Fraction(sum(map(ceil, line.amounts)) * days)


def _number(product: Product, chance: Random) -> str:
    """Two letters, four digits, a letter. The digits 5 to 9 only: no two read like a GS1 identifier where a separator is missing."""
    digits = "".join(chance.choice("56789") for _ in range(4))
    return f"{product.maker[0]}{product.name[0]}{digits}{chance.choice('ABCDEFGH')}"


def _month_end(day: date) -> date:
    following = date(day.year + day.month // 12, day.month % 12 + 1, 1)
    return following - timedelta(days=1)
