"""Families of packing problems, drawn from a seed: as published, crowded, tight, full of conflicts, three to a column, wide.

Figures of a person's regimen: 8.9 ± 4.1 regular medicines (24 months after admission to aged care, JAMDA 2024), shares of the dosing times
0.50, 0.12, 0.20, 0.18 (an assumption of the demonstration data). Unit volumes: 60 to 900 mm³, small tablets to size 0 capsules.
"""

from random import Random

from dosewright.core.packing.solve import Problem

__all__ = ["FAMILIES", "draw"]

USABLE, PIECES = 4_752_000, 8  # the shipped seven-by-four format: thousandths of mm³, pieces
FAMILIES = ("published", "crowded", "tight", "conflicts", "threes", "wide")
_SHARES = (0.50, 0.12, 0.20, 0.18)


def draw(family: str, seed: int) -> Problem:
    """The seed's problem of that family; always the same one."""
    random = Random(f"{family} {seed}")  # noqa: S311 - reproducible cases, nothing secret
    return {"published": _published, "crowded": _crowded, "tight": _tight, "conflicts": _conflicts, "threes": _threes, "wide": _wide}[
        family
    ](random)


def _volume(random: Random) -> int:
    return round(min(900, max(60, random.lognormvariate(5.3, 0.6))) * 1000)


def _count(random: Random) -> tuple[int, int]:
    """Halves of units, and pieces."""
    halves = random.choice((2, 2, 2, 2, 2, 4, 4, 1, 3, 6))
    return halves, -(-halves // 2)


def _item(random: Random, days: int, usable: int) -> tuple[int, ...]:
    """Volume and pieces on each day: mostly every day, some on alternate days or once a week."""
    halves, pieces = _count(random)
    volume = min(usable, -(-_volume(random) * halves // 2))
    rhythm = random.choices(("daily", "alternate", "weekly"), (0.9, 0.06, 0.04))[0]
    start = random.randrange(days)
    on = [rhythm == "daily" or (rhythm == "alternate" and (d + start) % 2 == 0) or (rhythm == "weekly" and d == start) for d in range(days)]
    return tuple(figure for due in on for figure in ((volume, pieces) if due else (0, 0)))


def _made(random: Random, items: int, days: int, density: float = 0.0, room: tuple[int, int] = (USABLE, PIECES)) -> Problem:
    demands = tuple(_item(random, days, room[0]) for _ in range(items))
    apart = frozenset((i, j) for j in range(items) for i in range(j) if random.random() < density)
    return Problem(demands, room * days, apart)


def _published(random: Random) -> Problem:
    regular = min(22, max(1, round(random.gauss(8.9, 4.1))))
    at_one_time = sum(random.choices(range(4), _SHARES)[0] == 0 for _ in range(regular))
    return _made(random, max(1, at_one_time), 7)


def _crowded(random: Random) -> Problem:
    return _made(random, random.randint(12, 22), 7, density=0.03)


def _tight(random: Random) -> Problem:
    return _made(random, random.randint(6, 14), 2, room=(1_900_000, 30))


def _conflicts(random: Random) -> Problem:
    return _made(random, random.randint(6, 14), 2, density=random.uniform(0.2, 0.6))


def _threes(random: Random) -> Problem:
    """Sizes between a quarter and a half of the limit: two or three to a column, the classic hard case."""
    items = random.randint(6, 15)
    return Problem(tuple((random.randint(251, 499),) for _ in range(items)), (1000,))


def _wide(random: Random) -> Problem:
    """Five columns and more: many medicines at one time in small cavities."""
    return _made(random, random.randint(14, 20), 2, density=0.05, room=(1_500_000, 6))
