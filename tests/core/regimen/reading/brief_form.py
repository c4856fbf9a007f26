"""A reading in one short line, for tables that a pharmacist can read through."""

from collections.abc import Iterator

from dosewright.core.regimen.dosage import Amount, Dosage, Repeat
from dosewright.core.regimen.reading.reading_values import Reading, ReadingStatus
from dosewright.core.units.quantity import format_amount


def in_brief(reading: Reading) -> str:
    if reading.status is ReadingStatus.READ:
        return "; ".join(_dosage(dosage) for dosage in reading.dosages)
    mark = "?" if reading.status is ReadingStatus.DECIDE else "!"
    return mark + " ".join(question.code.removeprefix("read.") for question in reading.questions)


def _dosage(dosage: Dosage) -> str:
    repeat = dosage.timing.repeat if dosage.timing else None
    return " ".join(part for part in (_amount(dosage.amounts[0]), *(_timing(repeat) if repeat else ()), *_rest(dosage)) if part)


def _amount(amount: Amount) -> str:
    if amount.quantity:
        return f"{format_amount(amount.quantity.count)} {amount.quantity.unit}".strip()
    assert amount.range
    assert amount.range.high
    low = format_amount(amount.range.low.count) if amount.range.low else ""
    return f"{low}-{format_amount(amount.range.high.count)} {amount.range.high.unit}".strip()


def _timing(repeat: Repeat) -> Iterator[str]:
    if repeat.count:
        yield f"count {repeat.count}"
    if repeat.period is not None:
        often = f"{repeat.frequency}" + (f"-{repeat.frequency_max}" if repeat.frequency_max else "")
        period = format_amount(repeat.period) + (f"-{format_amount(repeat.period_max)}" if repeat.period_max else "")
        yield f"x{often}/{period}{repeat.period_unit}"
    if repeat.when:
        yield "@" + ",".join(repeat.when) + (f"~{repeat.offset}" if repeat.offset else "")
    if repeat.time_of_day:
        yield "@" + ",".join(clock.strftime("%H:%M") for clock in repeat.time_of_day)
    yield from _days(repeat)


def _days(repeat: Repeat) -> Iterator[str]:
    if repeat.day_of_week:
        yield "on " + ",".join(repeat.day_of_week)
    if repeat.days_of_month:
        yield "month " + ",".join(map(str, repeat.days_of_month))
    if repeat.days_of_cycle:
        yield f"cycle {repeat.days_of_cycle[0]}-{repeat.days_of_cycle[-1]}/{repeat.cycle_length}"
    if repeat.bounds_duration:
        yield f"for {format_amount(repeat.bounds_duration.value)}{repeat.bounds_duration.unit}"
    if repeat.bounds_period:
        yield f"from {repeat.bounds_period.start or ''} to {repeat.bounds_period.end or ''}"


def _rest(dosage: Dosage) -> Iterator[str]:
    if dosage.as_needed:
        yield "prn" + (f"({dosage.as_needed_for.text})" if dosage.as_needed_for else "")
    if limit := dosage.max_per_period:
        yield f"max {format_amount(limit.quantity.count)} {limit.quantity.unit}/{format_amount(limit.span.value)}{limit.span.unit}"
    if dosage.sequence:
        yield f"#{dosage.sequence}"
