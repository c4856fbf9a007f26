"""Directions to structure: lines a second, cold and warm, growth with the length of a line, against plain regular expressions.

The plain reader knows only amount + times of day or times a day, for these everyday lines, checks nothing and asks nothing: it is the least
that could be done, so the ratio says what the questions cost. The everyday lines: pharmacy practice, from memory.
"""

import re
import subprocess
import sys
from collections.abc import Callable

from benchmarks.ratio import compare, grow, seconds
from dosewright.core.regimen.reading.read import read
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


def read_all() -> int:
    """Every everyday line, by the grammar."""
    return sum(read(line, GB).status is ReadingStatus.READ for line in EVERYDAY)


def read_plainly() -> int:
    """The same lines, by regular expressions."""
    return sum(bool(plain_reader(line)) for line in EVERYDAY)


def of_length(tokens: int) -> Callable[[], object]:
    """One line of about so many tokens: instructions one after another behind a schedule."""
    line = "Take 1 tablet in the morning"
    while len(line.split()) < tokens:
        line += ". Do not crush or chew"
    return lambda: [read(line[:400], GB) for _ in range(10)]


def cold(line: str) -> float:
    """Seconds from starting the interpreter to one line read."""
    program = (
        "from dosewright.core.regimen.reading.read import read\n"
        "from dosewright.core.regimen.reading.reading_values import Setting\n"
        f"read({line!r}, Setting('en', 'GB'))"
    )
    return seconds(lambda: subprocess.run([sys.executable, "-c", program], check=True))


def main() -> None:
    """Run and print."""
    assert read_all() == len(EVERYDAY)
    first = min(cold(EVERYDAY[0]) for _ in range(3))
    bare = min(seconds(lambda: subprocess.run([sys.executable, "-c", "pass"], check=True)) for _ in range(3))
    print(f"cold: {first:.2f} s for the first line, of which {bare:.2f} s is the interpreter")
    warm = min(seconds(lambda: [read_all() for _ in range(20)]) for _ in range(5)) / (20 * len(EVERYDAY))
    print(f"warm: {1 / warm:.0f} everyday lines a second")
    compare("8 everyday lines, regular expressions that ask nothing", read_plainly, "the reader", read_all)
    grow("ten lines by tokens a line", of_length, (5, 10, 20, 40, 80))


if __name__ == "__main__":
    main()
