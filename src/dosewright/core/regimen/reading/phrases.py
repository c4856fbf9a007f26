"""What the phrases of a line say, in no language: the items that a grammar makes and that meanings are composed from.

Every item keeps `span`, the letters it came from. Codes of `When` are FHIR R4 event-timing.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit, Weekday
from dosewright.core.regimen.reading.reading_values import Place
from dosewright.core.units.quantity import Unit

__all__ = [
    "MASS",
    "After",
    "Again",
    "Apart",
    "AtMost",
    "AtMostTimes",
    "Blocked",
    "ByMeals",
    "Ceiling",
    "Clock",
    "Cross",
    "CycleDays",
    "EachMonth",
    "Every",
    "Except",
    "Firm",
    "For",
    "From",
    "Gone",
    "Hour",
    "HourOrAmount",
    "HowMuch",
    "Item",
    "Joint",
    "Length",
    "MonthDays",
    "Number",
    "OfMonth",
    "OnDays",
    "OtherDays",
    "Pattern",
    "Quiet",
    "Reason",
    "ReasonTail",
    "Rounds",
    "Single",
    "Split",
    "Stat",
    "StepBy",
    "StopTaking",
    "Supply",
    "Times",
    "Total",
    "UnitAlone",
    "Until",
    "Wanted",
    "When",
    "whole",
]


MASS = frozenset({"mg", "microgram", "g", "mmol", "mEq"})  # what a unit of a medicine holds, not what is counted out


@dataclass(frozen=True, slots=True)
class Number:
    """Exactly `low`, or from `low` to `high`."""

    low: Fraction
    high: Fraction

    @property
    def exact(self) -> bool:
        return self.low == self.high


@dataclass(frozen=True, slots=True)
class Item:
    """One phrase of the line."""

    span: Place


@dataclass(frozen=True, slots=True)
class Joint(Item):
    """What stands between phrases: and, or, comma, stop, newline, then, but, plus, lpar, rpar, dash, colon. `text` is as written."""

    kind: str
    text: str = ""


@dataclass(frozen=True, slots=True)
class HowMuch(Item):
    """An amount; `unit` "" where none was said; `each` is what one unit holds where that was said too: 1 tablet (20 mg)."""

    number: Number
    unit: Unit
    each: tuple[Fraction, Unit] | None = None


@dataclass(frozen=True, slots=True)
class UnitAlone(Item):
    """A unit with no number beside it: "tablets"."""

    unit: Unit


@dataclass(frozen=True, slots=True)
class Cross(Item):
    """ "3x1": so many times so much, or so much so many times: the language says which."""

    first: Fraction
    second: HowMuch


@dataclass(frozen=True, slots=True)
class Times(Item):
    """How often, with no period said: "twice". `a_day` where the notation means the day: "3x1"; `crossed`: "x 3"."""

    number: Number
    a_day: bool = False
    crossed: bool = False


@dataclass(frozen=True, slots=True)
class Every(Item):
    """A period: every `number` `unit`. `manner`: "daily" (once a day, or only each day), "every", "a" (in all in a day), "slash" (/day),
    "at-most" (no more often than that, for doses as needed), "about" (one week in two: once in it, or each day of it),
    "about-once" (every second week: once, where nothing says how often),
    "same" (on the same day of it, which `said` keeps as written).
    """

    number: Number
    unit: TimeUnit
    manner: str
    said: str = ""


@dataclass(frozen=True, slots=True)
class Firm(Item):
    """How often in a period, all in one word: bd, tds, "twice daily" once joined. `days` where it counts days: "5 days a week"."""

    times: Number
    number: Number
    unit: TimeUnit
    days: bool = False


@dataclass(frozen=True, slots=True)
class When(Item):
    """A part of the day, a meal or another event; `offset` in minutes away from it; `stride` days between, where the phrase says so.

    `bare`: a single word, as in a list of them; "at bedtime" is not. `said`: words that no structure holds and that go along as they are:
    "30 to 60 minutes before breakfast". `led`: a preposition leads in: "at night".
    """

    code: str
    offset: int | None = None
    stride: int | None = None
    bare: bool = False
    said: str = ""
    led: bool = False


@dataclass(frozen=True, slots=True)
class ByMeals(Item):
    """Before, with or after food: `kind` "each" (every meal), "meals" (which is not said), "latin" (pc: meals or food),
    "food" (says nothing about when). `offset` in minutes away from them.
    """

    relation: str
    kind: str
    text: str
    offset: int | None = None


@dataclass(frozen=True, slots=True)
class Clock(Item):
    """A clock time; `half` where "am" or "pm" was said with it."""

    time: time
    half: bool = False


@dataclass(frozen=True, slots=True)
class Hour(Item):
    """An hour without its half of the day: "at 8". `loose` where no "at" stands before it: "8 h" alone may be every 8 hours."""

    hour: int
    loose: bool = False


@dataclass(frozen=True, slots=True)
class HourOrAmount(Item):
    """ "at 8 am and | 6 in the evening": a second hour, or a second amount."""

    clock: Clock
    amount: HowMuch
    when: When


@dataclass(frozen=True, slots=True)
class OnDays(Item):
    """Days of the week; `stride` weeks between."""

    days: tuple[Weekday, ...]
    stride: int = 1


@dataclass(frozen=True, slots=True)
class OtherDays(Item):
    """All days not named elsewhere in the line."""


@dataclass(frozen=True, slots=True)
class Except(Item):
    """The days that follow are left out."""


@dataclass(frozen=True, slots=True)
class Pattern(Item):
    """Amounts at morning, noon, evening and (where there are four) bedtime: 1-0-1."""

    counts: tuple[Fraction, ...]
    unit: Unit


@dataclass(frozen=True, slots=True)
class For(Item):
    """For how long. `first` where it says the first so many: then something else must follow."""

    number: Number
    unit: TimeUnit
    first: bool = False


@dataclass(frozen=True, slots=True)
class Length(Item):
    """A length of time, with `role` "" | "on" | "off"; `text` is as written."""

    number: Number
    unit: TimeUnit
    role: str
    text: str = ""


@dataclass(frozen=True, slots=True)
class Rounds(Item):
    """So many days on, so many off, and round again where `again` says so."""

    on: int
    off: int
    again: bool


@dataclass(frozen=True, slots=True)
class Until(Item):
    """Up to and with that day."""

    day: date


@dataclass(frozen=True, slots=True)
class From(Item):
    """From that day on, and up to and with `last` where the same phrase says so."""

    day: date
    last: date | None = None


@dataclass(frozen=True, slots=True)
class CycleDays(Item):
    """Days `first` to `last`, counted from the start; of a cycle of `length` days where that was said; `open` from `first` on.

    `weeks`: they were said in weeks.
    """

    first: int
    last: int
    length: int | None = None
    open: bool = False
    weeks: bool = False


@dataclass(frozen=True, slots=True)
class MonthDays(Item):
    """Days of the month."""

    days: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class OfMonth(Item):
    """Days of every month."""

    days: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class EachMonth(Item):
    """ "of each month"."""


@dataclass(frozen=True, slots=True)
class Wanted(Item):
    """As needed, with the reason where the same phrase says it; `conditional` where the phrase is "in case of" that reason, `either`
    where it may as well be what the medicine is for: "bei Schmerzen".
    """

    reason: str = ""
    conditional: bool = False
    either: bool = False


@dataclass(frozen=True, slots=True)
class Reason(Item):
    """What it is for: `text` without, `whole` with the word that leads in."""

    text: str
    whole: str


@dataclass(frozen=True, slots=True)
class ReasonTail(Item):
    """More of a reason: the words after its "or"."""

    text: str


@dataclass(frozen=True, slots=True)
class AtMost(Item):
    """The most within a length of time; `hours` None where no time was said."""

    most: Fraction
    unit: Unit
    value: Fraction | None
    span_unit: TimeUnit | None


@dataclass(frozen=True, slots=True)
class AtMostTimes(Item):
    """The most doses in a length of time."""

    times: Fraction
    value: Fraction
    span_unit: TimeUnit


@dataclass(frozen=True, slots=True)
class Ceiling(Item):
    """ "maximum", after what it is the most of."""


@dataclass(frozen=True, slots=True)
class Total(Item):
    """How much in all in a day, said beside the schedule."""

    number: Number
    unit: Unit


@dataclass(frozen=True, slots=True)
class Supply(Item):
    """How much is supplied for the whole course."""

    count: Fraction
    unit: Unit


@dataclass(frozen=True, slots=True)
class Apart(Item):
    """ "at least 4 hours between doses"."""

    hours: Fraction
    text: str


@dataclass(frozen=True, slots=True)
class After(Item):
    """After that time: what follows in the line replaces what went before."""

    number: Number
    unit: TimeUnit


@dataclass(frozen=True, slots=True)
class StepBy(Item):
    """The amount changes by `count` every so often: down (`sign` -1) or up, to `end`. 0 is until nothing is taken, None is not said."""

    sign: int
    count: Number
    of: Unit
    every: Number | None
    every_unit: TimeUnit
    end: Fraction | None


@dataclass(frozen=True, slots=True)
class Gone(Item):
    """ "until all taken": says no length by itself."""

    text: str


@dataclass(frozen=True, slots=True)
class Again(Item):
    """ "and repeat": the cycle goes round."""


@dataclass(frozen=True, slots=True)
class Stat(Item):
    """At once."""


@dataclass(frozen=True, slots=True)
class Split(Item):
    """A day's amount in so many doses: "en deux prises"."""

    number: Number


@dataclass(frozen=True, slots=True)
class Single(Item):
    """One dose in all; `at_once` where the words only say that the amount is not divided: "en une prise"; `only` where they
    say that there is no other: "once only"."""

    at_once: bool = False
    only: bool = False


@dataclass(frozen=True, slots=True)
class StopTaking(Item):
    """ "then stop"."""


@dataclass(frozen=True, slots=True)
class Quiet(Item):
    """Words that do not touch the schedule: `kind` verb, route, site, instruction. `text` is as written.

    `role` of an instruction: "how" the dose is taken, "fasting" and "spaced" two kinds of it; "thing", the name of another thing, after
    "avoid"; "step", an amount that changes; "" says something else: what to avoid, to expect, to go on with.
    """

    kind: str
    text: str
    role: str = ""


@dataclass(frozen=True, slots=True)
class Blocked(Item):
    """A phrase that is known and that no schedule can hold: `code` is the question it raises."""

    code: str
    text: str


def whole(items: Iterable[Item]) -> Place:
    """From the first letter of any of them to the last: phrases that are carried on stand behind those that come later in the line."""
    places = [item.span for item in items]
    return (min(start for start, _ in places), max(end for _, end in places)) if places else (0, 0)
