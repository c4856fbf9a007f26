"""Directions to structure: lines a second, cold and warm, growth with the length of a line, against plain regular expressions.

The plain reader knows only amount + times of day or times a day, for these everyday lines, checks nothing and asks nothing: it is the least
that could be done, so the ratio says what the questions cost. A line read before is kept; both are timed. Growth: the exponent of a power
of the length, fitted; 1 is linear. The everyday lines: pharmacy practice, from memory.
"""

import math
import re
import subprocess
import sys
from collections.abc import Callable, Mapping
from statistics import linear_regression

from benchmarks.ratio import compare, grow, seconds
from dosewright.core.regimen.reading.read import LONGEST_LINE, read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting

GB = Setting("en", "GB")
EVERYDAY = (
    "Take ONE tablet in the morning",
    "Take 1 tablet twice a day",
    "Take TWO tablets FOUR times a day",
    "Take one capsule at night",
    "1 tablet three times daily",
    "Take one tablet in the morning and one at night",
    "2 tablets at bedtime",
    "1 bd",
)

_AMOUNTS = {"one": 1, "two": 2, "three": 3, "half": 0.5}
_TIMES = {"morning": "MORN", "night": "HS", "bedtime": "HS", "evening": "EVE"}
_OFTEN = {"once": 1, "twice": 2, "three times": 3, "four times": 4, "bd": 2, "tds": 3, "qds": 4}
_AMOUNT = re.compile(r"\b(\d+|one|two|three|half)\b(?: (tablet|capsule)s?)?", re.IGNORECASE)
_TIME = re.compile(r"\b(morning|night|bedtime|evening)\b", re.IGNORECASE)
_FREQUENCY = re.compile(r"\b(once|twice|three times|four times|bd|tds|qds)\b", re.IGNORECASE)


def plain_reader(line: str) -> list[tuple[float, str]]:
    """Amount and time of day, or times a day."""
    amounts = [_AMOUNTS.get(found.lower()) or float(found) for found, _ in _AMOUNT.findall(line)]
    times = [_TIMES[found.lower()] for found in _TIME.findall(line)]
    if times:
        return list(zip(amounts, times, strict=False))
    return [(amounts[0], f"{_OFTEN[_FREQUENCY.findall(line)[0].lower()]} a day")]


read_afresh = read.__wrapped__  # as if no line had been read before


def read_all() -> int:
    """Every everyday line, by the grammar."""
    return sum(read_afresh(line, GB).status is ReadingStatus.READ for line in EVERYDAY)


def read_again() -> int:
    """The same, once they have been read."""
    return sum(read(line, GB).status is ReadingStatus.READ for line in EVERYDAY)


def read_plainly() -> int:
    """The same lines, by regular expressions."""
    return sum(bool(plain_reader(line)) for line in EVERYDAY)


# A beginning, and what is said behind it again and again: instructions, further doses of the day, further phases.
SHAPES: Mapping[str, tuple[str, Callable[[int], str]]] = {
    "instructions": ("Take 1 tablet in the morning", lambda _: ". Do not crush or chew"),
    "times of day": ("1 tablet at 1 am", lambda place: f", 1 at {place % 11 + 2} {'pm' if place > 10 else 'am'}"),
    "phases": ("1 tablet daily for 3 days", lambda place: f", then {place % 9 + 2} daily for 3 days"),
}


def line_of(shape: str, tokens: int) -> str:
    """About so many tokens, and no more letters than a line may have."""
    line, more = SHAPES[shape]
    place = 0
    while len(line.split()) < tokens and len(line + more(place)) <= LONGEST_LINE:
        line, place = line + more(place), place + 1
    return line


def of_length(shape: str) -> Callable[[int], Callable[[], object]]:
    """One line of about so many tokens, ten times."""

    def make(tokens: int) -> Callable[[], object]:
        line = line_of(shape, tokens)
        return lambda: [read_afresh(line, GB) for _ in range(10)]

    return make


def exponent(each: Mapping[int, float], shape: str) -> float:
    """Of the power of the length that the time for a line grows by: a straight line through the logarithms, by least squares."""
    lengths = [math.log(len(line_of(shape, tokens))) for tokens in each]
    return linear_regression(lengths, [math.log(tokens * taken) for tokens, taken in each.items()]).slope


def cold(line: str, before: str = "") -> float:
    """Seconds from starting the interpreter to one line read; `before` runs first."""
    program = (
        "from dosewright.core.regimen.reading.read import read\n"
        "from dosewright.core.regimen.reading.reading_values import Setting\n"
        f"{before}\n"
        f"read({line!r}, Setting('en', 'GB'))"
    )
    return seconds(lambda: subprocess.run([sys.executable, "-c", program], check=True))


def rate(work: Callable[[], object]) -> float:
    """Everyday lines a second, in the best of some turns."""
    return 20 * len(EVERYDAY) / min(seconds(lambda: [work() for _ in range(20)]) for _ in range(7))


WITHOUT_TABLES = "from dosewright.core.regimen.reading import english_table; english_table.DIGEST = str()"


def main() -> None:
    """Run and print."""
    assert read_all() == read_again() == len(EVERYDAY)
    first, compiled = (min(cold(EVERYDAY[0], before) for _ in range(5)) for before in ("", WITHOUT_TABLES))
    bare = min(seconds(lambda: subprocess.run([sys.executable, "-c", "pass"], check=True)) for _ in range(5))
    print(f"cold: {first:.2f} s for the first line, of which {bare:.2f} s is the interpreter")
    print(f"cold, with the grammar compiled afresh: {compiled:.2f} s")
    warm, again = rate(read_all), rate(read_again)
    print(f"warm: {warm:.0f} everyday lines a second; {again:.0f} that were read before")
    compare("8 everyday lines, regular expressions that ask nothing", read_plainly, "the reader", read_all)
    compare("8 everyday lines, regular expressions that ask nothing", read_plainly, "the reader, lines read before", read_again)
    for shape in SHAPES:
        each = grow(f"ten lines of {shape} by tokens a line", of_length(shape), (5, 10, 20, 40, 80))
        print(f"ten lines of {shape}: time grows with the length to the power {exponent(each, shape):.2f}")


if __name__ == "__main__":
    main()
