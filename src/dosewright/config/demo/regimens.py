"""Draw everybody's regular and as-needed medicines. Comes in: the tables and the seed. Goes out: lines by person, the same every time.

Regimen sizes follow the published figures for aged care: 8.9 regular medicines ± 4.1, cut at 1 and 22 (JAMDA 2024, 24-month residents).
"""

from collections.abc import Sequence
from functools import cache
from random import Random

from dosewright.config.demo.conditions import APART, AS_NEEDED, CONDITIONS, Condition
from dosewright.config.demo.regimen import Line, parse_line
from dosewright.config.demo.sources import DemoPerson, people
from dosewright.config.demo.stories import SIZES, STORIES, WITHOUT

__all__ = ["SEED", "as_needed", "draw", "regular"]

SEED = "Tern Street 9"


@cache
def draw() -> dict[str, tuple[Line, ...]]:
    """Everybody's lines by person id: regular medicines first, then those taken as needed."""
    return {person.id: (*regular(person), *as_needed(person)) for person in people()}


def regular(person: DemoPerson) -> tuple[Line, ...]:
    """The person's story first, then what their conditions bring, until the drawn size is reached."""
    chance = Random(f"{SEED} regular {person.id}")
    size = SIZES.get(person.id) or _size(chance)
    lines = list(STORIES.get(person.id, ()))
    for condition in _in_drawn_order(person, chance):
        brought = [parse_line(text) for choices in condition.lines if (text := chance.choice(choices.split(" | "))) != "-"]
        if not _may_join(brought[0], lines, person):
            continue  # without its first medicine the rest would make no sense
        for line in brought:
            if len(lines) < size and _may_join(line, lines, person):
                lines.append(line)
    return tuple(lines)


def as_needed(person: DemoPerson) -> tuple[Line, ...]:
    """None, one or two medicines taken on demand that go with the regular ones."""
    if person.id in SIZES:
        return ()
    chance = Random(f"{SEED} as needed {person.id}")
    lines = list(regular(person))
    found: list[Line] = []
    for needs, text in chance.sample(AS_NEEDED, k=len(AS_NEEDED)):
        line = parse_line(text)
        fits = not needs or any(other.product.kind == needs for other in lines)
        if len(found) < chance.choice((0, 1, 1, 2)) and fits and _may_join(line, [*lines, *found], person):
            found.append(line)
    return tuple(found)


def _size(chance: Random) -> int:
    while not 1 <= (size := round(chance.gauss(8.9, 4.1))) <= 22:
        pass
    return size


def _in_drawn_order(person: DemoPerson, chance: Random) -> list[Condition]:
    """Weighted, without repetition: the smallest of exponential waiting times comes first."""
    fitting = [condition for condition in CONDITIONS if person.sex in condition.sex]
    return sorted(fitting, key=lambda condition: chance.expovariate(condition.weight))


def _may_join(line: Line, others: Sequence[Line], person: DemoPerson) -> bool:
    taken = {name for other in others for name in _names(other)}
    if _names(line) & (taken | WITHOUT.get(person.id, frozenset())):
        return False
    return not any(pair & _names(line) and pair - _names(line) and pair - _names(line) <= taken for pair in APART)


def _names(line: Line) -> frozenset[str]:
    return frozenset({line.medicine, line.product.kind})
