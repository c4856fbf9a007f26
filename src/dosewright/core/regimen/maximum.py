"""Whether a schedule keeps within its own `maxDosePerPeriod`, in any stretch of that length, not only from midnight to midnight.

Source: HL7 FHIR R4 (4.0.1) Dosage.maxDosePerPeriod, maxDosePerLifetime.
"""

from collections.abc import Sequence
from fractions import Fraction

from dosewright.core.regimen.course import Days
from dosewright.core.regimen.dosage import Dosage, Maximum, Span, TimeUnit
from dosewright.core.regimen.expansion import decide
from dosewright.core.regimen.phases import Strand
from dosewright.core.regimen.recurrence import LAST
from dosewright.core.units.finding import Finding

__all__ = ["check_maxima", "check_on_demand"]

# Minutes in each unit; a month and a year are taken at their longest, so that a schedule is rather asked about than passed.
_MINUTES = {
    TimeUnit.SECOND: Fraction(1, 60),
    TimeUnit.MINUTE: Fraction(1),
    TimeUnit.HOUR: Fraction(60),
    TimeUnit.DAY: Fraction(1440),
    TimeUnit.WEEK: Fraction(10080),
    TimeUnit.MONTH: Fraction(31 * 1440),
    TimeUnit.YEAR: Fraction(366 * 1440),
}
_LONGEST = Fraction(366 * 1440)  # minutes; what a year's maximum needs looked at


def check_maxima(strands: Sequence[Strand], window: Days) -> tuple[Finding, ...]:
    """A `decide` for each maximum that the order's doses together break, or that cannot be compared with them."""
    maxima = dict.fromkeys(strand.part.dosage.max_per_period for strand in strands if strand.part.dosage.max_per_period)
    found = [finding for maximum in maxima if maximum and (finding := _check(maximum, strands, window))]
    return (*found, *_check_lifetime([strand.part.dosage for strand in strands]))


def check_on_demand(dosage: Dosage) -> tuple[Finding, ...]:
    """A `decide` where one dose of what is taken when needed is alone above its own maximum, at one time or in a period of whatever length.
    How often it is taken nobody knows: that a maximum is reached before the frequency is, is what a maximum is for."""
    largest = [
        quantity for amount in dosage.amounts for quantity in (amount.quantity, amount.range.high if amount.range else None) if quantity
    ]
    at_once, limit = dosage.max_per_administration, dosage.max_per_period
    found = [
        decide("dose.above-maximum", dose=dose.count, limit=at_once.count, unit=at_once.unit)
        for dose in largest
        if at_once and dose.unit == at_once.unit and dose.count > at_once.count
    ]
    found += [
        _above(dose.count, limit) for dose in largest if limit and dose.unit == limit.quantity.unit and dose.count > limit.quantity.count
    ]
    return tuple(found)


def _above(most: Fraction, maximum: Maximum) -> Finding:
    return decide(
        "dose.above-period-maximum",
        most=most,
        limit=maximum.quantity.count,
        unit=maximum.quantity.unit,
        length=maximum.span.value,
        period=str(maximum.span.unit),
    )


def _check_lifetime(dosages: Sequence[Dosage]) -> tuple[Finding, ...]:
    """What was taken before this order is not known, so that a lifetime's maximum is for a person."""
    return (decide("dose.lifetime-maximum"),) if any(dosage.max_per_lifetime for dosage in dosages) else ()


def _check(maximum: Maximum, strands: Sequence[Strand], window: Days) -> Finding | None:
    units = {strand.part.quantity.unit for strand in strands}
    if units != {maximum.quantity.unit}:
        return decide("dose.maximum-in-another-unit", unit=", ".join(sorted(units)), limit=maximum.quantity.unit)
    minutes = _minutes(maximum.span)
    if not 0 < minutes <= _LONGEST:
        return decide("dose.maximum-period-unusable", length=maximum.span.value, unit=str(maximum.span.unit))
    worst = _most_within(minutes, strands, window)
    return None if worst <= maximum.quantity.count else _above(worst, maximum)


def _minutes(span: Span) -> Fraction:
    return span.value * _MINUTES[span.unit]


def _most_within(minutes: Fraction, strands: Sequence[Strand], window: Days) -> Fraction:
    """The largest amount in any stretch of so many minutes about the window; its first minute counts, its last does not."""
    reach = int(minutes // 1440) + 1
    days = Days(max(1, window.first - reach), min(LAST, window.last + reach))
    given = sorted(
        (
            (moment.ordinal * 1440 + moment.slot.time.hour * 60 + moment.slot.time.minute, strand.part.quantity.count)
            for strand in strands
            for moment in strand.when.moments(days)
        ),
        key=lambda dose: dose[0],
    )
    most = total = Fraction(0)
    oldest = 0
    for at, count in given:
        total += count
        while given[oldest][0] <= at - minutes:
            total -= given[oldest][1]
            oldest += 1
        most = max(most, total)
    return most
