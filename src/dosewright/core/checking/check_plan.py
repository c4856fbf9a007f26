"""Which cavities a second person must count: all of them, or each that something singles out and some of the others drawn by chance.

Comes in: a filled card, what is known about its medicines and its filling, the share that the profile lets a checker draw, and a seed.
Goes out: `CheckPlan`, with the chance that a wrong cavity is not among those that are counted. The draw can be made again by anybody who
has the seed: of the other cavities those come first whose SHA-256 of "seed|card|row.column" is lowest. Nobody can foresee it who has not.
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from math import comb

from dosewright.core.checking.filled import FilledCard, FilledCavity
from dosewright.core.units.ids import CardNumber, MedicineCode

__all__ = ["ALL", "CheckPlan", "Draw", "Marks", "Spot", "Whole", "Why", "chance_missed", "plan_check", "singled_out"]

Spot = tuple[int, int]  # row, column
ALL = 100  # percent


class Why(StrEnum):
    """What singles a cavity out: it is counted at every check."""

    HIGH_RISK = "high risk"  # a medicine with which a mistake does grave harm
    PART = "part of a unit"  # a half or another part
    ALIKE = "alike"  # a medicine that looks like, or is named like, another of this card
    CORRECTED = "corrected"  # something was taken out of it again
    UNSCANNED = "not scanned"  # laid in with a reason instead of a scan
    OPENED = "opened"  # opened to be put right after an order changed


class Whole(StrEnum):
    """Why every cavity is counted, whatever the share."""

    PROFILE = "profile"  # the profile knows no other check
    NO_SEED = "no seed"  # it was filled before there was a draw
    SENT_BACK = "sent back"
    DIFFERED = "a count differed"
    ALONE = "alone"  # whoever filled it checks it


@dataclass(frozen=True, slots=True)
class Marks:
    """What is known besides the plan: `risky` medicines, those `alike` to another of this card, and cavities by what befell them."""

    risky: frozenset[MedicineCode] = frozenset()
    alike: frozenset[MedicineCode] = frozenset()
    corrected: frozenset[Spot] = frozenset()
    unscanned: frozenset[Spot] = frozenset()
    opened: frozenset[Spot] = frozenset()


@dataclass(frozen=True, slots=True)
class Draw:
    """`percent` of the other cavities, rounded up, drawn by `seed`; `whole` says why all are counted all the same. Raises ValueError for a
    share that is none."""

    percent: int = ALL
    seed: str = ""
    whole: Whole | None = None

    def __post_init__(self) -> None:
        if not 1 <= self.percent <= ALL:
            raise ValueError(f"a share from 1 to {ALL} percent, not {self.percent}")


@dataclass(frozen=True, slots=True)
class CheckPlan:
    """`always`: the cavities that something singles out, with what it is; `drawn` of the `others` by chance. Where `whole` says why, all
    cavities of the card are demanded, and nothing is drawn."""

    cavities: frozenset[Spot]
    always: Mapping[Spot, tuple[Why, ...]] = field(default_factory=dict)
    drawn: frozenset[Spot] = frozenset()
    others: int = 0
    draw: Draw = Draw()

    @property
    def demanded(self) -> frozenset[Spot]:
        """The cavities that must be counted."""
        return self.cavities if self.draw.whole else frozenset(self.always) | self.drawn

    @property
    def is_choice(self) -> bool:
        """Whether any cavity may be left uncounted."""
        return self.demanded != self.cavities

    def missed(self, wrong: int) -> Fraction:
        """The chance that so many wrong cavities among the others are all left uncounted; 0 where every cavity is counted."""
        return chance_missed(self.others, len(self.drawn), wrong) if self.is_choice else Fraction(0)


def chance_missed(others: int, drawn: int, wrong: int) -> Fraction:
    """The chance that none of `wrong` cavities is among `drawn` of `others`: C(others - wrong, drawn) / C(others, drawn), exactly.

    Raises ValueError for more drawn or wrong than there are. Source: the hypergeometric distribution at zero, as for lots inspected by
    attributes (NIST/SEMATECH e-Handbook of Statistical Methods 6.2, from memory).
    """
    if not (0 <= drawn <= others and 0 <= wrong <= others):
        raise ValueError(f"cannot draw {drawn}, or be wrong in {wrong}, of {others}")
    return Fraction(comb(others - wrong, drawn), comb(others, drawn))


def plan_check(card: FilledCard, marks: Marks, draw: Draw) -> CheckPlan:
    """What must be counted in this card. A share of 100 percent, or a draw without a seed, is no draw: all are counted."""
    cavities = frozenset((cavity.row, cavity.column) for cavity in card.cavities)
    always = dict(singled_out(card, marks))
    others = cavities - always.keys()
    whole = draw.whole or (Whole.PROFILE if draw.percent == ALL else None if draw.seed else Whole.NO_SEED)
    many = -(-len(others) * draw.percent // ALL)
    drawn = () if whole else sorted(others, key=lambda spot: _rank(draw.seed, card.number, spot))[:many]
    return CheckPlan(cavities, always, frozenset(drawn), len(others), Draw(draw.percent, draw.seed, whole))


def singled_out(card: FilledCard, marks: Marks) -> Mapping[Spot, tuple[Why, ...]]:
    """The cavities that are counted at every check, each with everything that says so."""
    found = {(cavity.row, cavity.column): tuple(_reasons(cavity, marks)) for cavity in card.cavities}
    return {spot: why for spot, why in found.items() if why}


def _reasons(cavity: FilledCavity, marks: Marks) -> Iterator[Why]:
    spot, held = (cavity.row, cavity.column), tuple(cavity.wanted.values())
    if _any_of(marks.risky, held):
        yield Why.HIGH_RISK
    if any(amount.denominator != 1 for _, amount in held):
        yield Why.PART
    if _any_of(marks.alike, held):
        yield Why.ALIKE
    yield from (why for why, spots in _BEFALLEN.items() if spot in getattr(marks, spots))


_BEFALLEN = {Why.CORRECTED: "corrected", Why.UNSCANNED: "unscanned", Why.OPENED: "opened"}


def _any_of(medicines: frozenset[MedicineCode], held: Iterable[tuple[MedicineCode, Fraction]]) -> bool:
    return any(medicine in medicines for medicine, _ in held)


def _rank(seed: str, card: CardNumber, spot: Spot) -> str:
    return hashlib.sha256(f"{seed}|{card}|{spot[0]}.{spot[1]}".encode()).hexdigest()
