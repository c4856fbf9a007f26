"""An order becomes doses: structure × timetable × days.

Comes in: one order, the dosing times of its person, the first day and how many. Goes out: an `Expansion`. What has one meaning is
scheduled; what has several, or needs a choice, is for a person (`decide`); what FHIR R4 forbids or contradicts itself is refused. One open
point in one dosage stops the whole order: a part of a schedule is never given for the whole.
"""

from datetime import date
from functools import lru_cache

from dosewright.core.regimen.agreement import check_agreement
from dosewright.core.regimen.course import Days, Start
from dosewright.core.regimen.directions import Directions, directions_of
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus, InSeries
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.structure import LaidOut, Structure, days_from, find_start, find_structure, give_in_series, give_to, lay_out
from dosewright.core.units.dosing_time import Moment, Timetable

__all__ = ["expand", "expand_in_series", "expand_structure"]


def expand(order: Order, timetable: Timetable, first: date, days: int) -> Expansion:
    """Every dose of the order on `days` days from `first` on, in order of day and clock. Raises ValueError for a negative number of days.

    Rhythms, counts and courses run from the start that the structure states, else from `order.anchor`, else from the day of `order.since`,
    else (named in `assumed`) from `first`. Days beyond the calendar's last year give no doses. Words that a dosage
    carries must agree with it.
    """
    return give_to(order, _find(order, timetable, first, days))


def expand_in_series(order: Order, timetable: Timetable, first: date, days: int) -> InSeries:
    """As `expand`, with the days of each amount and dosing time together."""
    return give_in_series(order, _find(order, timetable, first, days))


def expand_structure(order: Order, timetable: Timetable, first: date, days: int) -> Expansion:
    """As `expand`, once a person has confirmed the structure beside the words: the words are not compared again."""
    window = days_from(first, days)
    return give_to(
        order, lay_out(find_structure(order.dosages, find_start(order.anchor or order.since, window), timetable, window), window)
    )


def _find(order: Order, timetable: Timetable, first: date, days: int) -> LaidOut:
    find = _laid_out if days <= _KEPT_DAYS else _laid_out.__wrapped__
    return find(directions_of(order.dosages), order.anchor or order.since, timetable, first, days)


_KEPT_DAYS = 100  # the doses of a longer look ahead are not worth their memory


@lru_cache(maxsize=4096)
def _laid_out(directions: Directions, begun: date | Moment | None, timetable: Timetable, first: date, days: int) -> LaidOut:
    """Kept, because one order is expanded again and again (to plan, to recount, to show, to put right), and directions repeat."""
    window = days_from(first, days)
    return lay_out(_find_agreed(directions, find_start(begun, window), timetable, window), window)


@lru_cache(maxsize=8192)
def _find_agreed(directions: Directions, start: Start, timetable: Timetable, window: Days) -> Structure:
    structure = find_structure(directions.dosages, start, timetable, window)
    findings = check_agreement(directions.dosages, structure, timetable, window)
    return Structure(ExpansionStatus.DECIDE, findings=findings) if findings else structure
