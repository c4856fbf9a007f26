"""An order becomes doses: structure × timetable × days.

Comes in: one order, the dosing times of its person, the first day and how many. Goes out: an `Expansion`. What has one meaning is
scheduled; what has several, or needs a choice, is for a person (`decide`); what FHIR R4 forbids or contradicts itself is refused. One open
point in one dosage stops the whole order: a part of a schedule is never given for the whole.
"""

from datetime import date

from dosewright.core.regimen.agreement import check_agreement
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.structure import days_from, find_structure, lay_out
from dosewright.core.units.dosing_time import Timetable

__all__ = ["expand", "expand_structure"]


def expand(order: Order, timetable: Timetable, first: date, days: int) -> Expansion:
    """Every dose of the order on `days` days from `first` on, in order of day and clock. Raises ValueError for a negative number of days.

    Rhythms, counts and courses run from the start that the structure states, else from `order.anchor`, else from the day of `order.since`,
    else (named in `assumed`) from `first`. Days beyond the calendar's last year give no doses. Words that a dosage
    carries must agree with it.
    """
    window = days_from(first, days)
    structure = find_structure(order, timetable, window)
    findings = check_agreement(order, structure, timetable, window)
    return Expansion(ExpansionStatus.DECIDE, findings=findings) if findings else lay_out(order, structure, window)


def expand_structure(order: Order, timetable: Timetable, first: date, days: int) -> Expansion:
    """As `expand`, once a person has confirmed the structure beside the words: the words are not compared again."""
    window = days_from(first, days)
    return lay_out(order, find_structure(order, timetable, window), window)
