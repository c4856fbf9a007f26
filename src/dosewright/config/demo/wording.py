"""The directions of a line as different prescribers would write them. Comes in: a line and a source of chance. Goes out: text."""

from fractions import Fraction
from random import Random

from dosewright.config.demo.regimen import Line
from dosewright.core.medicines.form_unit import unit_of_form

__all__ = ["word"]

_WORDS = {
    Fraction(1, 2): "half a",
    Fraction(1): "one",
    Fraction(3, 2): "one and a half",
    Fraction(2): "two",
    Fraction(3): "three",
    Fraction(4): "four",
}
_MOMENTS = ("in the morning", "at lunchtime", "in the evening", "at bedtime")

# For one amount at each of these dosing times. {n} "one", {N} "ONE", {d} "1", {unit} "tablet" or "tablets".
_VARIANTS: dict[tuple[int, ...], tuple[str, ...]] = {
    (0,): ("Take {N} {unit} in the morning", "Take {n} {unit} in the morning", "{d} om", "{d} mane", "{N} to be taken in the morning"),
    (1,): ("Take {N} {unit} at lunchtime", "Take {n} {unit} at midday"),
    (2,): ("Take {N} {unit} in the evening", "Take {n} {unit} with the evening meal"),
    (3,): ("Take {N} {unit} at bedtime", "{N} to be taken at night", "{d} nocte", "Take {n} {unit} at night"),
    (0, 2): (
        "Take {N} {unit} twice a day",
        "{d} bd",
        "Take {n} {unit} twice daily",
        "Take {n} {unit} in the morning and {n} in the evening",
    ),
    (0, 3): ("Take {n} {unit} in the morning and {n} at night", "{d} mane {d} nocte"),
    (0, 1, 2): ("Take {N} {unit} THREE times a day", "{d} tds", "Take {n} {unit} three times a day"),
    (0, 1, 2, 3): ("Take {N} {unit} FOUR times a day", "{d} qds", "Take {n} {unit} four times a day"),
}


def word(line: Line, chance: Random) -> str:
    """Directions with the rhythm and the length of a course, where there are any."""
    if line.words:
        return line.words
    text = _amounts(line, chance) if line.every == "day" and not line.days else _plain(line)
    return text + _rhythm(line.every) + (f" for {line.days} days" if line.days else "")


def _amounts(line: Line, chance: Random) -> str:
    variants = _VARIANTS.get(line.times)
    if line.halves or variants is None or len(set(_taken(line))) > 1:
        return _plain(line)
    amount = line.amounts[line.times[0]]
    words = _WORDS[amount]
    return chance.choice(variants).format(n=words, N=words.upper(), d=amount, unit=_unit(line, amount))


def _plain(line: Line) -> str:
    """Each amount with its moment: "Take one tablet in the morning, one at lunchtime and half a tablet at bedtime"."""
    first, *others = line.times
    parts = [f"{_WORDS[line.amounts[first]]} {_unit(line, line.amounts[first])} {_MOMENTS[first]}"]
    parts += [f"{_again(line, line.amounts[other])} {_MOMENTS[other]}" for other in others]
    return "Take " + (" and ".join([", ".join(parts[:-1]), parts[-1]]) if len(parts) > 1 else parts[0])


def _again(line: Line, amount: Fraction) -> str:
    return f"{_WORDS[amount]} {_unit(line, amount)}" if amount.denominator > 1 else _WORDS[amount]


def _rhythm(every: str) -> str:
    if every == "day":
        return ""
    return " every other day" if every == "2-days" else f" once a week on {every.capitalize()}s"


def _unit(line: Line, amount: Fraction) -> str:
    unit = unit_of_form(line.product.form) or ""
    return unit if amount <= 1 else f"{unit}s"


def _taken(line: Line) -> list[Fraction]:
    return [line.amounts[time] for time in line.times]
