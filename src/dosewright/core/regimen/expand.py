"""An order becomes doses: structure × timetable × days.

Comes in: one order, the dosing times of its person, the first day and how many. Goes out: an `Expansion`. What has one meaning is
scheduled; what has several, or needs a choice, is for a person (`decide`); what FHIR R4 forbids or contradicts itself is refused. One open
point in one dosage stops the whole order: a part of a schedule is never given for the whole.
"""

from collections.abc import Iterator
from datetime import date, datetime
from functools import lru_cache

from dosewright.core.regimen.agreement import check_agreement
from dosewright.core.regimen.course import Days, Start
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.structure import Structure, days_from, find_start, find_structure, lay_out
from dosewright.core.units.dosing_time import Timetable

__all__ = ["expand", "expand_structure"]


def expand(order: Order, timetable: Timetable, first: date, days: int) -> Expansion:
    """Every dose of the order on `days` days from `first` on, in order of day and clock. Raises ValueError for a negative number of days.

    Rhythms, counts and courses run from the start that the structure states, else from `order.anchor`, else from the day of `order.since`,
    else (named in `assumed`) from `first`. Days beyond the calendar's last year give no doses. Words that a dosage
    carries must agree with it.
    """
    window = days_from(first, days)
    found = _find_agreed(order.dosages, _wall_clocks(order.dosages), find_start(order, window), timetable, window)
    return lay_out(order, found, window)


def expand_structure(order: Order, timetable: Timetable, first: date, days: int) -> Expansion:
    """As `expand`, once a person has confirmed the structure beside the words: the words are not compared again."""
    window = days_from(first, days)
    return lay_out(order, find_structure(order.dosages, find_start(order, window), timetable, window), window)


@lru_cache(maxsize=8192)
def _find_agreed(dosages: tuple[Dosage, ...], _clocks: tuple[datetime, ...], start: Start, timetable: Timetable, window: Days) -> Structure:
    """Kept, because one order is expanded again and again: to plan, to recount, to show, to put right. The clocks are part of the key only:
    08:00 in London and 09:00 in Paris are equal to Python, and two different dosing times."""
    structure = find_structure(dosages, start, timetable, window)
    findings = check_agreement(dosages, structure, timetable, window)
    return Structure(ExpansionStatus.DECIDE, findings=findings) if findings else structure


def _wall_clocks(dosages: tuple[Dosage, ...]) -> tuple[datetime, ...]:
    return tuple(moment.replace(tzinfo=None) for dosage in dosages for moment in _moments(dosage))


def _moments(dosage: Dosage) -> Iterator[datetime]:
    timing = dosage.timing
    if timing is None:
        return
    period = timing.repeat.bounds_period if timing.repeat else None
    for moment in (*timing.events, *((period.start, period.end) if period else ())):
        if isinstance(moment, datetime):
            yield moment
