"""Everybody's orders: each line with its directions, dates, prescriber and number. Then the orders that are there to make the tool ask."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from random import Random

from dosewright.config.demo.regimen import Line, parse_line
from dosewright.config.demo.regimens import SEED, draw
from dosewright.config.demo.structure import structure
from dosewright.config.demo.wording import word
from dosewright.core.interop.json_text import Writable

__all__ = ["CYCLE_DAYS", "CYCLE_FIRST", "DemoOrder", "changes", "orders"]

CYCLE_FIRST = date(2026, 3, 2)  # a Monday
CYCLE_DAYS = 28
_PRESCRIBERS = ("Dr A. Whitlow", "Dr S. Odunsi", "Dr P. Marchbank", "Dr H. Lindqvist", "Nurse J. Corrigan")
_FIRST_NUMBER = 410_001


@dataclass(frozen=True, slots=True)
class DemoOrder:
    """One order as both kinds of file write it. `medicine` may be a code that the catalogue lacks, `product` words beside the code."""

    id: str
    person: str
    medicine: str
    text: str
    dosages: tuple[Writable, ...]
    start: date
    prescriber: str
    rx_no: str
    product: str = ""
    stop: date | None = None


@cache
def orders() -> tuple[DemoOrder, ...]:
    """Person by person; the puzzles last among their person's."""
    found = [order for person, lines in draw().items() for order in (*_ordinary(person, lines), *_puzzles(person))]
    return tuple(replace(order, rx_no=str(_FIRST_NUMBER + at)) for at, order in enumerate(found))


def changes() -> tuple[DemoOrder, ...]:
    """What the surgery sends when the cycle's cards are already being made: a dose doubled, a medicine added, one stopped."""
    furosemide, thiamine = _existing("sh01", "furosemide-40"), _existing("li08", "thiamine-100")
    doubled = replace(furosemide, text="Take TWO tablets in the morning", start=CYCLE_FIRST + timedelta(days=7))
    added = _order("sh07", 50, parse_line("lansoprazole-15 1-0-0-0"), Random(f"{SEED} changes"))
    return (
        doubled,
        replace(added, start=CYCLE_FIRST + timedelta(days=8), rx_no=str(_FIRST_NUMBER + 900)),
        replace(thiamine, stop=CYCLE_FIRST + timedelta(days=13)),
    )


def _existing(person: str, medicine: str) -> DemoOrder:
    return next(order for order in orders() if (order.person, order.medicine) == (person, medicine))


def _ordinary(person: str, lines: tuple[Line, ...]) -> tuple[DemoOrder, ...]:
    chance = Random(f"{SEED} orders {person}")
    return tuple(_order(person, at, line, chance) for at, line in enumerate(lines, start=1))


def _order(person: str, number: int, line: Line, chance: Random, text: str = "") -> DemoOrder:
    text = text or word(line, chance)
    long_ago = CYCLE_FIRST - timedelta(days=chance.randint(10, 700))
    start = long_ago if line.starts is None else CYCLE_FIRST + timedelta(days=line.starts)
    prescriber = Random(f"{SEED} prescriber {person}").choice(_PRESCRIBERS)
    dosages = tuple(structure(line, text, start))
    return DemoOrder(f"{person}-{number:02}", person, line.medicine, text, dosages, start, prescriber, rx_no="")


def _puzzles(person: str) -> tuple[DemoOrder, ...]:
    """What real files bring: each of these must become a question or a finding, never a dose."""
    chance = Random(f"{SEED} puzzles {person}")
    match person:
        case "hm13":  # the bundle has no such Medication
            return (replace(_order(person, 90, parse_line("folic-5 1-0-0-0"), chance), medicine="folic-acid-5-mg"),)
        case "hm14":  # text and structure disagree
            return (_order(person, 90, parse_line("senna-7.5 0-0-0-2"), chance, "Take TWO tablets twice a day"),)
        case "hm03":  # the words beside the code name another strength
            return (replace(_order(person, 90, parse_line("bisoprolol-2.5 1-0-0-0"), chance), product="Bisoprolol 5 mg tablet"),)
        case "li10":  # a medicine that the catalogue does not have
            return (replace(_order(person, 90, parse_line("furosemide-40 1-0-0-0"), chance), medicine="bumetanide-1"),)
    return ()
