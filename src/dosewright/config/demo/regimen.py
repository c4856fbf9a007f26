"""One line of somebody's medicines: the amounts at the four dosing times, or directions in words of their own.

`pattern` is the amounts at morning, noon, evening and bedtime: "1-0-0-0.5". That notation is this generator's own shorthand.
"""

from dataclasses import dataclass
from fractions import Fraction

from dosewright.config.demo.sources import Product, catalogue

__all__ = ["DEFAULT_TIMES", "Line", "parse_line"]

# At which dosing times "once a day" … "four times a day" fall, as the standard timetable has it.
DEFAULT_TIMES = {1: (0,), 2: (0, 2), 3: (0, 1, 2), 4: (0, 1, 2, 3)}


@dataclass(frozen=True, slots=True)
class Line:
    """`every` is "day", "2-days" or a weekday's name; `days` limits a course; `words`, where given, are the directions as written.

    `starts` and `days` count from the cycle's first day (0); None: it started long ago.
    """

    medicine: str
    amounts: tuple[Fraction, ...] = ()
    every: str = "day"
    words: str = ""
    as_needed: bool = False
    starts: int | None = None
    days: int | None = None

    @property
    def product(self) -> Product:
        return catalogue()[self.medicine]

    @property
    def times(self) -> tuple[int, ...]:
        """Which of the four dosing times have an amount."""
        return tuple(index for index, amount in enumerate(self.amounts) if amount)

    @property
    def halves(self) -> bool:
        """Whether any amount is not whole."""
        return any(amount.denominator > 1 for amount in self.amounts)


def parse_line(text: str) -> Line:
    """Text to line, as conditions and stories write it: "CODE PATTERN", "CODE PATTERN RHYTHM", "CODE PATTERN: WORDS" or "CODE: WORDS"."""
    head, _, words = text.partition(": ")
    code, *rest = head.split()
    amounts = tuple(map(Fraction, rest[0].split("-"))) if rest else ()
    return Line(code, amounts, every=rest[1] if rest[1:] else "day", words=words, as_needed="when required" in words)
