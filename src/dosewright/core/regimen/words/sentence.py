"""One phase in words: its amounts with their times, on which days, for how long.

Comes in: dosages that run together, a phrasebook. Goes out: the phrase without its full stop. Raises `Unsayable` for what has no plain
words of one meaning; every field of a dosage is either said or raises.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from fractions import Fraction

from dosewright.core.regimen.cut_short import is_cut_short
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, Span, TimeUnit, Weekday
from dosewright.core.regimen.routes import by_mouth, under_the_tongue
from dosewright.core.regimen.words.phrasebook import Phrasebook, list_words
from dosewright.core.units.amount_words import NumberStyle

__all__ = ["Unsayable", "say_phase"]

_DAY_ORDER = ("WAKE", "ACM", "MORN", "CM", "PCM", "ACD", "NOON", "CD", "PCD", "ACV", "EVE", "CV", "PCV", "HS")
_WEEK = tuple(Weekday)
_EACH_DAY = (Fraction(1), TimeUnit.DAY)


class Unsayable(Exception):
    """There is no plain sentence for this structure."""


def say_phase(dosages: Sequence[Dosage], book: Phrasebook, style: NumberStyle, *, opening: bool) -> str:
    """The phrase; with its verb and a capital where it opens the sentence."""
    for dosage in dosages:
        _require_plain(dosage)
    body = _timed(dosages, book, style) if all(_has_times(d) for d in dosages) else _counted(dosages, book, style)
    wanted = _wanted(dosages, book)
    if wanted and _moments(dosages) > 1:
        if body[0] or not opening:
            raise Unsayable
        body, wanted = (wanted, body[1]), ""  # behind a list it might be of the last alone
    tail = " ".join(part for part in (_lasting(dosages, book), wanted) if part)
    rest = f"{body[1]} {tail}".strip()
    if not opening:
        return f"{body[0]} {rest}".strip()
    verb = book.verb_other.get(_unit(dosages), book.verb)
    if body[0]:
        return book.verb_after.format(first=body[0][0].upper() + body[0][1:], verb=verb.lower(), rest=rest)
    return f"{verb} {rest}"


def _moments(dosages: Sequence[Dosage]) -> int:
    return sum(max(1, len(_repeat(dosage).when) + len(_repeat(dosage).time_of_day)) for dosage in dosages)


def _unit(dosages: Sequence[Dosage]) -> str:
    amount = dosages[0].amounts[0]
    quantity = amount.quantity or (amount.range.high if amount.range else None)
    return str(quantity.unit) if quantity else ""


def _require_plain(dosage: Dosage) -> None:
    timing = dosage.timing
    if len(dosage.amounts) != 1 or dosage.amounts[0].rated or dosage.site or dosage.method:
        raise Unsayable
    if not by_mouth(dosage.route) and not under_the_tongue(dosage.route):
        raise Unsayable
    if timing is not None and (timing.events or timing.code):
        raise Unsayable
    repeat = _repeat(dosage)
    if repeat.duration is not None or repeat.bounds_range is not None or repeat.count_max is not None or is_cut_short(repeat):
        raise Unsayable
    if repeat.count is not None and replace(repeat, count=None) != Repeat():
        raise Unsayable


def _repeat(dosage: Dosage) -> Repeat:
    return (dosage.timing.repeat if dosage.timing else None) or Repeat()


def _has_times(dosage: Dosage) -> bool:
    return bool(_repeat(dosage).when or _repeat(dosage).time_of_day)


def _same(dosages: Sequence[Dosage], *fields: str) -> bool:
    return len({tuple(getattr(_repeat(dosage), name) for name in fields) for dosage in dosages}) == 1


def _timed(dosages: Sequence[Dosage], book: Phrasebook, style: NumberStyle) -> tuple[str, str]:
    """What comes before the verb, and the amounts each with its time of day, in the order of the day."""
    if not _same(dosages, "period", "period_max", "period_unit", "days_of_cycle", "cycle_length", "days_of_month"):
        raise Unsayable
    pairs = sorted((pair for dosage in dosages for pair in _pairs(dosage, book, style)), key=lambda pair: pair[0])
    if len(pairs) == 1:
        return _at_one_time(dosages[0], pairs[0][1], pairs[0][2], book)
    if any(_run_together(amount, when) for _, amount, when in pairs):  # "one 30 minutes before breakfast"
        spelled = sorted((pair for dosage in dosages for pair in _pairs(dosage, book, "words")), key=lambda pair: pair[0])
        pairs = [(key, amount.lower(), when) for key, amount, when in spelled]
    said = [_apart(amount, when) for _, amount, when in pairs]
    if len({key for key, _, _ in pairs}) < len(pairs) and _same(dosages, "day_of_week"):
        raise Unsayable
    if not _same(dosages, "day_of_week"):
        return "", _list([f"{amount} {when} {_days_of(key, book)}" for key, amount, when in _by_days(dosages, book, style)], book)
    return _which_days(_repeat(dosages[0]), len(pairs), book), _list(said, book)


def _at_one_time(dosage: Dosage, amount: str, when: str, book: Phrasebook) -> tuple[str, str]:
    """The time first where it begins with a number and the amount ends with one; some weeks apart first too, since "at bedtime every 2
    weeks" may be each night of one week in two.
    """
    repeat = _repeat(dosage)
    if repeat.period_unit is TimeUnit.WEEK and repeat.period and repeat.period > 1 and not repeat.day_of_week:
        return _which_days(repeat, 1, book), _apart(amount, when)
    first, rest = (when, amount) if _run_together(amount, when) else ("", f"{amount} {when}")
    return first, _apart(rest, _which_days(repeat, 1, book))


def _by_days(dosages: Sequence[Dosage], book: Phrasebook, style: NumberStyle) -> list[tuple[tuple[Weekday, ...], str, str]]:
    """Amounts whose days differ: each is said with its own days."""
    found = []
    for dosage in dosages:
        repeat = _repeat(dosage)
        if not repeat.day_of_week or (repeat.period, repeat.period_unit) != _EACH_DAY or repeat.days_of_month or repeat.days_of_cycle:
            raise Unsayable
        found += [(repeat.day_of_week, amount, when) for _, amount, when in sorted(_pairs(dosage, book, style), key=lambda pair: pair[0])]
    return found


def _days_of(days: tuple[Weekday, ...], book: Phrasebook) -> str:
    return book.on_days.format(a=_list([book.weekdays[day.number] for day in sorted(days, key=_WEEK.index)], book))


def _pairs(dosage: Dosage, book: Phrasebook, style: NumberStyle) -> list[tuple[tuple[int, str], str, str]]:
    """Amount and time of day, with a key that puts them in the order of the day."""
    repeat = _repeat(dosage)
    amount = _amount(dosage.amounts[0], book, style)
    moments = len(repeat.when) + len(repeat.time_of_day)
    if repeat.frequency not in (None, moments) and repeat.period_unit is TimeUnit.DAY:
        raise Unsayable
    if repeat.frequency is not None and moments > 1 and repeat.period_unit is TimeUnit.DAY and repeat.period != 1:
        raise Unsayable  # twice in two days at two times: both on one day, or one on each, is asked when doses are made
    if repeat.frequency_max is not None or (repeat.when and repeat.time_of_day):
        raise Unsayable
    found = [((_place(code), code), amount, _when(code, repeat.offset, book)) for code in repeat.when]
    for clock in repeat.time_of_day:
        if clock.second:
            raise Unsayable
        found.append(((clock.hour * 60 + clock.minute, "clock"), amount, book.clock.format(a=clock.strftime("%H:%M"))))
    if len({len(key[1]) == 5 for key, _, _ in found}) > 1:
        raise Unsayable
    return found


def _place(code: str) -> int:
    if code not in _DAY_ORDER:
        raise Unsayable
    return (360, 450, 480, 485, 490, 700, 720, 725, 730, 1070, 1080, 1085, 1090, 1320)[_DAY_ORDER.index(code)]


def _when(code: str, offset: int | None, book: Phrasebook) -> str:
    if code not in book.when:
        raise Unsayable
    if offset is None:
        return book.when[code]
    if not code.startswith(("AC", "PC")) or not 0 < offset <= 240 or offset == 1:
        raise Unsayable
    hours, minutes = divmod(offset, 60)
    said = book.offset.format(n=offset) if minutes else _entry(book.offset_hours, TimeUnit.HOUR, hours)
    return f"{said} {book.when[code]}"


def _amount(amount: Amount, book: Phrasebook, style: NumberStyle) -> str:
    if amount.quantity is not None and amount.range is None:
        said = book.say_amount(amount.quantity, style) if amount.quantity.count > 0 else None
    elif amount.range is not None and amount.range.low and amount.range.high and amount.range.low.unit == amount.range.high.unit:
        low, high = amount.range.low, amount.range.high
        if low.count.denominator != 1 or high.count.denominator != 1 or not 0 < low.count < high.count:
            raise Unsayable
        after = book.say_amount(high, "digits")
        said = f"{low.count} {book.to_word} {after}" if after else None
    else:
        said = None
    if said is None:
        raise Unsayable
    return said


def _which_days(repeat: Repeat, moments: int, book: Phrasebook) -> str:
    """On which days; "" for every day."""
    special = [bool(repeat.day_of_week), bool(repeat.days_of_month), bool(repeat.days_of_cycle)]
    if sum(special) > 1:
        raise Unsayable
    daily = (repeat.period, repeat.period_unit) in ((None, None), (Fraction(1), TimeUnit.DAY)) and repeat.period_max is None
    if repeat.day_of_week:
        weekly = (
            (repeat.period, repeat.period_unit) == (Fraction(1), TimeUnit.WEEK)
            and repeat.frequency == len(repeat.day_of_week)
            and moments == 1
        )
        if _some_weeks_apart(repeat) and moments == 1:
            return f"{_entry(book.every, TimeUnit.WEEK, int(repeat.period or 0))} {_days_of(repeat.day_of_week, book)}"
        if not daily and not weekly:
            raise Unsayable
        return _days_of(repeat.day_of_week, book)
    if repeat.days_of_month:
        if not daily or max(repeat.days_of_month) > 28:
            raise Unsayable
        return _of_month(repeat.days_of_month, book)
    if repeat.days_of_cycle:
        if not daily:
            raise Unsayable
        return _cycle(repeat, book)
    return "" if daily else _rhythm(repeat, moments, book)


def _some_weeks_apart(repeat: Repeat) -> bool:
    """Every so many weeks, on one day of the week."""
    whole = repeat.period is not None and repeat.period.denominator == 1 and repeat.period > 1 and repeat.period_max is None
    return whole and repeat.period_unit is TimeUnit.WEEK and len(repeat.day_of_week) == 1 and repeat.frequency == 1


def _of_month(days: tuple[int, ...], book: Phrasebook) -> str:
    if len(days) > 1 and days == tuple(range(1, len(days) + 1)):
        return book.first_month_days.format(n=len(days))
    return book.say_month_days(sorted(days))


def _cycle(repeat: Repeat, book: Phrasebook) -> str:
    days = repeat.days_of_cycle
    if repeat.cycle_length is None or days != tuple(range(days[0], days[-1] + 1)) or len(days) < 2:
        raise Unsayable
    return book.cycle.format(a=days[0], b=days[-1], n=repeat.cycle_length)


def _rhythm(repeat: Repeat, moments: int, book: Phrasebook) -> str:
    """ "every other day", "once a week" beside a time of day."""
    if repeat.period is None or repeat.period_unit is None or repeat.period_max is not None or repeat.period.denominator != 1:
        raise Unsayable
    number = int(repeat.period)
    if repeat.period_unit is TimeUnit.DAY and number > 1:
        return _entry(book.every, TimeUnit.DAY, number)
    if moments == 1 and repeat.frequency == 1 and repeat.period_unit in (TimeUnit.WEEK, TimeUnit.MONTH):
        return _entry(book.times, repeat.period_unit, 1) if number == 1 else _entry(book.every, repeat.period_unit, number)
    raise Unsayable


def _entry(table: Mapping[tuple[TimeUnit, int | None], str], unit: TimeUnit, number: int) -> str:
    return _template(table, unit, number).format(n=number)


def _template(table: Mapping[tuple[TimeUnit, int | None], str], unit: TimeUnit, number: int) -> str:
    template = table.get((unit, number), table.get((unit, None)))
    if not template:  # missing, or "" where the language's words for that number are said of another: "tous les 15 jours"
        raise Unsayable
    return template


def _counted(dosages: Sequence[Dosage], book: Phrasebook, style: NumberStyle) -> tuple[str, str]:
    """One amount and how often, with no time of day."""
    if len(dosages) > 1:
        return "", _list([f"{_amount(d.amounts[0], book, style)} {_days_only(d, book)}" for d in dosages], book)
    dosage, repeat = dosages[0], _repeat(dosages[0])
    amount = _amount(dosage.amounts[0], book, style)
    if repeat.count is not None:
        if repeat.count != 1:
            raise Unsayable
        return "", f"{amount} {book.once}"
    if repeat.period is None and not repeat.day_of_week:
        if not dosage.as_needed or repeat.frequency is not None:
            raise Unsayable
        return "", amount
    often = _how_often(repeat, book, style)
    if _run_together(amount, often):  # "1 3 times a day"
        count, _, rest = _how_often(repeat, book, "words").partition(" ")
        often = f"{count.lower()} {rest}"
    return "", _apart(amount, often)


def _run_together(amount: str, rest: str) -> bool:
    """Two numbers side by side, which are read as one. Source: ISMP, error-prone dose expressions: space and separate; from memory."""
    return bool(rest) and not amount[-1].isalpha() and rest[0].isdigit()


def _apart(amount: str, rest: str) -> str:
    if _run_together(amount, rest):
        raise Unsayable
    return f"{amount} {rest}".strip()


def _days_only(dosage: Dosage, book: Phrasebook) -> str:
    repeat = _repeat(dosage)
    once = (
        repeat.frequency in (None, 1) and repeat.frequency_max is None and (repeat.period, repeat.period_unit) in (_EACH_DAY, (None, None))
    )
    if not repeat.day_of_week or not once or repeat.days_of_cycle or repeat.days_of_month or repeat.offset is not None:
        raise Unsayable
    return _days_of(repeat.day_of_week, book)


def _how_often(repeat: Repeat, book: Phrasebook, style: NumberStyle) -> str:
    if repeat.period is None or repeat.period_unit is None or repeat.period.denominator != 1 or repeat.offset is not None:
        raise Unsayable
    special = repeat.day_of_week or repeat.days_of_month or repeat.days_of_cycle
    if repeat.period_max is not None:
        return _interval_range(repeat, book)
    often, number, unit = repeat.frequency or 1, int(repeat.period), repeat.period_unit
    if repeat.frequency_max is not None:
        if special or often != 1 or (number, unit) != (1, TimeUnit.DAY) or repeat.frequency_max < 2:
            raise Unsayable
        return _with_number(book.up_to_times, repeat.frequency_max, book, style)
    if special:
        return _often_on_days(repeat, often, book, style)
    if number == 1 and unit in (TimeUnit.DAY, TimeUnit.WEEK, TimeUnit.MONTH):
        return _times(unit, often, book, style)
    if often != 1 or number == 1:
        raise Unsayable
    return _entry(book.every, unit, number)


def _times(unit: TimeUnit, often: int, book: Phrasebook, style: NumberStyle) -> str:
    """ "3 times a day"; in words "THREE times a day", "TWICE a day"."""
    template = book.times.get((unit, often))
    if template is None:
        return _with_number(_template(book.times, unit, often), often, book, style)
    count, _, rest = template.partition(" ")
    return f"{count.upper()} {rest}" if style == "words" else template


def _with_number(template: str, number: int, book: Phrasebook, style: NumberStyle) -> str:
    if style == "digits" or number >= len(book.number_words):
        return template.format(n=number)
    return template.replace("{n}-", "{n}").replace("{n}mal", "{n}MAL").format(n=book.number_words[number].upper())


def _often_on_days(repeat: Repeat, often: int, book: Phrasebook, style: NumberStyle) -> str:
    days = _which_days(repeat, 1, book)
    if (repeat.period, repeat.period_unit) != _EACH_DAY:
        return days
    if often == 1 and repeat.day_of_week:
        return days
    return f"{_times(TimeUnit.DAY, often, book, style)} {days}"


def _interval_range(repeat: Repeat, book: Phrasebook) -> str:
    low, high = repeat.period, repeat.period_max
    whole = low is not None and high is not None and low.denominator == high.denominator == 1
    if not whole or repeat.period_unit is not TimeUnit.HOUR or repeat.frequency not in (None, 1) or repeat.day_of_week:
        raise Unsayable
    return book.every_range.format(a=low, b=high)


def _lasting(dosages: Sequence[Dosage], book: Phrasebook) -> str:
    if not _same(dosages, "bounds_duration", "bounds_period"):
        raise Unsayable
    repeat = _repeat(dosages[0])
    if repeat.bounds_duration is not None:
        return _span(repeat.bounds_duration, book)
    period = repeat.bounds_period
    if period is None or (period.start is None and period.end is None):
        return ""
    if period.start_latest is not None:
        raise Unsayable
    start, end = (_day(moment) for moment in (period.start, period.end))
    if start and end:
        return book.since_until.format(a=book.say_date(start), b=book.say_date(end))
    return book.since.format(a=book.say_date(start)) if start else book.until.format(a=book.say_date(end)) if end else ""


def _day(moment: date | datetime | None) -> date | None:
    if isinstance(moment, datetime):
        raise Unsayable
    return moment


def _span(span: Span, book: Phrasebook) -> str:
    if span.value.denominator != 1 or span.value < 1:
        raise Unsayable
    return _entry(book.lasting, span.unit, int(span.value))


def _wanted(dosages: Sequence[Dosage], book: Phrasebook) -> str:
    kinds = {(dosage.as_needed, dosage.as_needed_for.text if dosage.as_needed_for else None) for dosage in dosages}
    if len(kinds) > 1 or any(d.as_needed_for is not None and not d.as_needed_for.text for d in dosages):
        raise Unsayable
    needed, reason = kinds.pop()
    if not needed:
        return ""
    if reason and reason.split()[0].lower() in book.own_openers:
        return f"{book.wanted} {reason}"
    return book.wanted_for.format(a=reason) if reason else book.wanted


def _list(parts: Sequence[str], book: Phrasebook) -> str:
    return list_words(parts, book.and_word)
