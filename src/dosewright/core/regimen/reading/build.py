"""A parsed line becomes items: one method for each alias of the grammar. Comes in: words and items. Goes out: `phrases.Item`s in order.

`NotSaid` is raised where the words fit the grammar and still say nothing: "the 40th of the month".
"""

from datetime import date, time
from fractions import Fraction
from typing import NoReturn

from dosewright.core.regimen.dosage import TimeUnit, Weekday
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.children import (
    Children,
    Counted,
    NotSaid,
    Word,
    has,
    numbers,
    one,
    period,
    span_of,
    time_unit,
    tokens_of,
    unit_of,
    value_of,
)
from dosewright.core.regimen.reading.told import (
    date_of,
    day_run,
    hour_of,
    in_half,
    meal_code,
    minutes_of,
    step_period,
    week_run,
    weekday_of,
    words_of,
    words_said,
)
from dosewright.core.units.quantity import Unit, format_amount

__all__ = ["Builder"]

_DAYS = list(Weekday)
_ARTICLES = frozenset(["the", "le", "la", "les", "l'", "el", "los", "las", "dem", "der", "den", "das", "del", "de"])
_NEAR_BED = 60  # minutes before bed that still are at bedtime


def _many(c: Children, terminal: str) -> bool:
    """Whether the word is in the plural."""
    return any(token.value.text.casefold().rstrip(".").endswith(("s", "tage", "tagen", "wochen")) for token in tokens_of(c, terminal))


def _highest(c: Children) -> Fraction:
    """ "max 4-6" has two."""
    if not numbers(c)[0].exact and numbers(c)[0].low:
        raise NotSaid("read.range", span_of(c))
    return numbers(c)[0].high


class Builder:
    """Shared by the languages; a method is named for the grammar's alias."""

    def start(self, c: Children) -> list[p.Item]:
        return list(c)

    def joint(self, c: Children) -> p.Item:
        return p.Joint(span_of(c), c[0].type.lower(), c[0].value.text)

    def quiet(self, c: Children) -> p.Item:
        leaf = c[0].value
        return p.Quiet(span_of(c), c[0].type.lower(), leaf.text, str(leaf.sense.value) if c[0].type in ("INSTR", "ALSO") else "")

    def blocked(self, c: Children) -> p.Item:
        leaf = c[0].value
        code = {"COND": "read.condition", "DIRECTED": "read.as-directed", "NEG": "read.negation", "STEP": "read.step"}.get(c[0].type)
        return p.Blocked(span_of(c), code or f"read.{leaf.sense.value}", leaf.text)

    # how much

    def exactly(self, c: Children) -> Counted:
        return Counted(one(value_of(c, "NUM")), span_of(c), c[0].value.text)

    def between(self, c: Children) -> Counted:
        low, high = (token.value.sense.value for token in tokens_of(c, "NUM"))
        if not low < high:
            raise NotSaid("read.odd-range", span_of(c))
        return Counted(p.Number(low, high), span_of(c), " ".join(token.value.text for token in c), either=has(c, "OR"))

    def up_to(self, c: Children) -> Counted:
        return Counted(p.Number(Fraction(0), value_of(c, "NUM")), span_of(c), " ".join(token.value.text for token in c))

    def amount(self, c: Children) -> p.Item:
        if not numbers(c):
            return c[0]  # type: ignore[no-any-return]
        return p.HowMuch(span_of(c), numbers(c)[0], unit_of(c))

    bare_amount = amount

    def amount_half(self, c: Children) -> p.Item:
        return c[0]  # type: ignore[no-any-return]

    def one_unit(self, c: Children) -> p.Item:
        return p.HowMuch(span_of(c), one(), unit_of(c))

    def amount_and_half(self, c: Children) -> p.Item:
        number, half = numbers(c)[0], value_of(c, "AND_HALF")
        return p.HowMuch(span_of(c), p.Number(number.low + half, number.high + half), unit_of(c))

    def amount_of(self, c: Children) -> p.Item:
        """ "1 comprimé de 500 mg"."""
        (count, content), (unit, mass) = numbers(c), (Unit(str(t.value.sense.value)) for t in tokens_of(c, "UNIT"))
        if mass not in p.MASS or unit in p.MASS or not content.exact:
            raise NotSaid("read.two-units", span_of(c))
        return p.HowMuch(span_of(c), count, unit, (content.low, mass))

    def one_and_half(self, c: Children) -> p.Item:
        """ "comprimido y medio"; "comprimidos y medio" has lost its number."""
        if c[0].value.text.casefold().endswith(("s", "n")):
            raise NotSaid("read.no-quantity", span_of(c))
        return p.HowMuch(span_of(c), one(1 + value_of(c, "AND_HALF")), unit_of(c))

    def unit_alone(self, c: Children) -> p.Item:
        return p.UnitAlone(span_of(c), unit_of(c))

    def cross(self, c: Children) -> p.Item:
        first, second = tokens_of(c, "NUM")
        span = (second.start_pos, span_of(c)[1])
        return p.Cross(span_of(c), first.value.sense.value, p.HowMuch(span, one(second.value.sense.value), unit_of(c)))

    def counted(self, c: Children) -> p.Item:
        return p.HowMuch(span_of(c), one(value_of(c, "NUM")), unit_of(c))

    def pattern(self, c: Children) -> p.Item:
        return p.Pattern(span_of(c), value_of(c, "PATTERN"), unit_of(c))

    # how often

    def times(self, c: Children) -> p.Item:
        return p.Times(span_of(c), numbers(c)[0])

    def times_after(self, c: Children) -> p.Item:
        return p.Times(span_of(c), numbers(c)[0], crossed=True)

    def adverb_times(self, c: Children) -> p.Item:
        counts = [Fraction(str(token.value.sense.value)) for token in tokens_of(c, "ADVTIMES")]
        if len(counts) == 2 and not counts[0] < counts[1]:
            raise NotSaid("read.odd-range", span_of(c))
        low = Fraction(0) if has(c, "UPTO") else counts[0]
        return p.Times(span_of(c), p.Number(low, counts[-1]))

    def firm(self, c: Children) -> p.Item:
        times, _, rest = str(value_of(c, "FREQ")).partition(" in ")
        number, unit = period(rest)
        most = Fraction(times)
        return p.Firm(span_of(c), p.Number(Fraction(0) if has(c, "UPTO") else most, most), number, unit)

    def times_a_unit(self, c: Children) -> p.Item:
        """ "3 times day"."""
        return p.Firm(span_of(c), numbers(c)[0], one(), time_unit(c))

    def same_day(self, c: Children) -> p.Item:
        """ "on the same day each week": how often, where nothing else says it; else words that must agree with it."""
        return p.Every(span_of(c), one(), TimeUnit(str(value_of(c, "SAMEDAY"))), "same", c[0].value.text)

    def adverb_period(self, c: Children) -> p.Item:
        said, _, manner = str(value_of(c, "ADVPERIOD")).partition(" ")
        return p.Every(span_of(c), *period(said), manner or "daily")

    def a_period(self, c: Children) -> p.Item:
        return p.Every(span_of(c), one(), time_unit(c), "a")

    def slash_period(self, c: Children) -> p.Item:
        return p.Every(span_of(c), one(), time_unit(c), "slash")

    def each_period(self, c: Children) -> p.Item:
        return p.Every(span_of(c), one(), time_unit(c), "every")

    def every_number(self, c: Children) -> p.Item:
        return p.Every(span_of(c), numbers(c)[0], time_unit(c), "every")

    def every_other(self, c: Children) -> p.Item:
        return p.Every(span_of(c), one(2), time_unit(c), "every")

    def every_ordinal(self, c: Children) -> p.Item:
        return p.Every(span_of(c), one(int(value_of(c, "ORD"))), time_unit(c), "every")

    def every_word(self, c: Children) -> p.Item:
        said, _, manner = str(value_of(c, "EVERYX")).partition(" ")
        return p.Every(span_of(c), *period(said), manner or "every")

    def slash_hours(self, c: Children) -> p.Item:
        """ "1 g/8 h": every eight hours. Of days or weeks it may be how long."""
        if time_unit(c) is not TimeUnit.HOUR:
            raise NotSaid("read.not-understood", span_of(c))
        return p.Every(span_of(c), numbers(c)[0], TimeUnit.HOUR, "every")

    def split(self, c: Children) -> p.Item:
        return p.Split(span_of(c), numbers(c)[0])

    def hourly(self, c: Children) -> p.Item:
        return p.Every(span_of(c), numbers(c)[0], TimeUnit.HOUR, "every")

    # when in the day

    def day_part(self, c: Children) -> p.Item:
        bare = len(c) == 1 and " " not in c[0].value.text
        return p.When(span_of(c), str(value_of(c, "DAYPART")), bare=bare, led=any(has(c, kind) for kind in ("IN", "AT", "ON")))

    def every_day_part(self, c: Children) -> p.Item:
        return p.When(span_of(c), str(value_of(c, "DAYPART")), stride=1)

    def every_other_day_part(self, c: Children) -> p.Item:
        return p.When(span_of(c), str(value_of(c, "DAYPART")), stride=2)

    def every_ordinal_day_part(self, c: Children) -> p.Item:
        return p.When(span_of(c), str(value_of(c, "DAYPART")), stride=int(value_of(c, "ORD")))

    def when_word(self, c: Children) -> p.Item:
        code, _, stride = str(value_of(c, "WHENX")).partition(" ")
        return p.When(span_of(c), code, stride=int(stride) if stride else None)

    def meal(self, c: Children) -> p.Item:
        relation = str(value_of(c, "REL")) if has(c, "REL") else "C"
        code = meal_code(relation, str(value_of(c, "MEAL")))
        bare = not has(c, "REL") and all(token.value.text.casefold() in _ARTICLES for token in c[:-1])
        return p.When(span_of(c), code, stride=1 if has(c, "EVERY") else None, bare=bare)

    def offset_meal(self, c: Children) -> p.Item:
        code = meal_code(str(value_of(c, "REL")), str(value_of(c, "MEAL")))
        if numbers(c) and not numbers(c)[0].exact:
            minutes_of(c)
            return p.When(span_of(c), code, said=words_of(c))
        return p.When(span_of(c), code, offset=minutes_of(c))

    def offset_bed(self, c: Children) -> p.Item:
        """ "30 minutes before bed": FHIR R4 counts no minutes from going to bed, so the words go along."""
        if minutes_of(c) > _NEAR_BED:
            raise NotSaid("read.offset", span_of(c))
        return p.When(span_of(c), "HS", said=words_of(c))

    def offset_day_part(self, c: Children) -> NoReturn:
        raise NotSaid("read.offset", span_of(c))

    def by_meals(self, c: Children) -> p.Item:
        words = [t.value.text for t in c]
        kind = str(value_of(c, "MEALANY"))
        return p.ByMeals(span_of(c), str(value_of(c, "REL")), kind if not has(c, "EVERY") else "each", " ".join(words))

    def offset_meals(self, c: Children) -> p.Item:
        words = " ".join(t.value.text if isinstance(t, Word) else t.text for t in c)
        kind = "each" if has(c, "EVERY") else str(value_of(c, "MEALANY"))
        return p.ByMeals(span_of(c), str(value_of(c, "REL")), kind, words, minutes_of(c))

    def meals_word(self, c: Children) -> p.Item:
        relation, _, plain = str(value_of(c, "MEALSX")).partition(" ")
        return p.ByMeals(span_of(c), relation, "latin" if plain else "meals", plain or c[0].value.text)

    def each_meal(self, c: Children) -> p.Item:
        return p.ByMeals(span_of(c), str(value_of(c, "EACHMEAL")), "each", c[0].value.text)

    def clock(self, c: Children) -> p.Item:
        return p.Clock(span_of(c), value_of(c, "CLOCK")[0])

    def at_hour(self, c: Children) -> p.Item:
        return p.Hour(span_of(c), hour_of(c, numbers(c)[0]))

    def loose_hour(self, c: Children) -> p.Item:
        return p.Hour(span_of(c), hour_of(c, numbers(c)[0]), loose=True)

    def hour_half(self, c: Children) -> p.Item:
        return p.Clock(span_of(c), in_half(c, time(hour_of(c, numbers(c)[0]))), half=True)

    def clock_half(self, c: Children) -> p.Item:
        return p.Clock(span_of(c), in_half(c, value_of(c, "CLOCK")[0]), half=True)

    # which days

    def weekday(self, c: Children) -> p.Item:
        return p.OnDays(span_of(c), (weekday_of(tokens_of(c, "WEEKDAY")[0]),))

    def weekday_list(self, c: Children) -> p.Item:
        days = tuple(weekday_of(token) for token in tokens_of(c, "WEEKDAY"))
        if len(set(days)) < len(days):
            raise NotSaid("read.twice-said", span_of(c))
        return p.OnDays(span_of(c), days)

    def weekday_other(self, c: Children) -> p.Item:
        return p.OnDays(span_of(c), (weekday_of(tokens_of(c, "WEEKDAY")[0]),), stride=2)

    def weekday_ordinal(self, c: Children) -> NoReturn:
        """ "every third Monday" is every three weeks, or the third Monday of a month."""
        raise NotSaid("read.mixed-days", span_of(c))

    def weekday_range(self, c: Children) -> p.Item:
        first, last = (weekday_of(token).number for token in tokens_of(c, "WEEKDAY"))
        return p.OnDays(span_of(c), tuple(sorted({_DAYS[(first + n) % 7] for n in range((last - first) % 7 + 1)}, key=_DAYS.index)))

    def weekday_set(self, c: Children) -> p.Item:
        return p.OnDays(span_of(c), tuple(Weekday(day) for day in str(value_of(c, "WEEKDAYSET")).split(",")))

    def other_days(self, c: Children) -> p.Item:
        return p.OtherDays(span_of(c))

    def except_(self, c: Children) -> p.Item:
        return p.Except(span_of(c))

    def cycle_days(self, c: Children) -> p.Item:
        return c[0]  # type: ignore[no-any-return]

    def on_day(self, c: Children) -> p.Item:
        """ "3 days 1" is no day of the course."""
        if numbers(c)[0].exact and _many(c, "DAYNO"):
            raise NotSaid("read.word", span_of(c))
        return p.CycleDays(span_of(c), *day_run(c, numbers(c)[0]))

    def from_day(self, c: Children) -> p.Item:
        """ "from day 2" on; "du jour 2 au 5" ends."""
        first, last = day_run(c, numbers(c)[0])
        return p.CycleDays(span_of(c), first, last, open=first == last)

    def on_week(self, c: Children) -> p.Item:
        """ "week 2": days 8 to 14."""
        if numbers(c)[0].exact and _many(c, "WEEKNO"):
            raise NotSaid("read.word", span_of(c))
        return p.CycleDays(span_of(c), *week_run(c), weeks=True)

    def from_week(self, c: Children) -> p.Item:
        return p.CycleDays(span_of(c), *week_run(c), open=True, weeks=True)

    def first_day(self, c: Children) -> p.Item:
        if time_unit(c) not in (TimeUnit.DAY, TimeUnit.WEEK):
            raise NotSaid("read.not-understood", span_of(c))
        return p.CycleDays(span_of(c), 1, 1 if time_unit(c) is TimeUnit.DAY else 7, weeks=time_unit(c) is TimeUnit.WEEK)

    def nth_day(self, c: Children) -> p.Item:
        """ "on the second day"."""
        number = int(value_of(c, "ORD"))
        if time_unit(c) not in (TimeUnit.DAY, TimeUnit.WEEK) or not 1 <= number <= 31:
            raise NotSaid("read.not-understood", span_of(c))
        length = 1 if time_unit(c) is TimeUnit.DAY else 7
        return p.CycleDays(span_of(c), number * length - length + 1, number * length, weeks=length > 1)

    def on_days_of(self, c: Children) -> p.Item:
        days, length = numbers(c)
        unit = time_unit(c) if has(c, "TIMEUNIT") else TimeUnit.DAY
        if not length.exact or unit not in (TimeUnit.DAY, TimeUnit.WEEK) or length.low.denominator != 1:
            raise NotSaid("read.odd-cycle", span_of(c))
        return p.CycleDays(span_of(c), *day_run(c, days), int(length.low) * (7 if unit is TimeUnit.WEEK else 1))

    def month_day(self, c: Children) -> p.Item:
        day = int(value_of(c, "ORD"))
        if not 1 <= day <= 31:
            raise NotSaid("read.odd-day", span_of(c))
        return p.MonthDays(span_of(c), (day,))

    def day_of_month(self, c: Children) -> p.Item:
        first, last = day_run(c, numbers(c)[0])
        if time_unit(c) is not TimeUnit.MONTH or last > 31:
            raise NotSaid("read.odd-day", span_of(c))
        return p.OfMonth(span_of(c), tuple(range(first, last + 1)))

    def first_days(self, c: Children) -> p.Item:
        number = numbers(c)[0]
        if time_unit(c) is not TimeUnit.DAY or not number.exact or number.low.denominator != 1 or not 1 <= number.low <= 28:
            raise NotSaid("read.odd-day", span_of(c))
        return p.MonthDays(span_of(c), tuple(range(1, int(number.low) + 1)))

    def month_run(self, c: Children) -> p.Item:
        """ "du 1er au 10" and, once joined, "de chaque mois"."""
        first, last = (int(token.value.sense.value) for token in tokens_of(c, "ORD", "NUM"))
        if not 1 <= first < last <= 31:
            raise NotSaid("read.odd-day", span_of(c))
        return p.MonthDays(span_of(c), tuple(range(first, last + 1)))

    def of_month(self, c: Children) -> p.Item:
        """ "am 1. und 15. des Monats"."""
        days = [number.low for number in numbers(c)]
        if any(not n.exact for n in numbers(c)) or any(day.denominator != 1 or not 1 <= day <= 31 for day in days):
            raise NotSaid("read.odd-day", span_of(c))
        return p.OfMonth(span_of(c), tuple(dict.fromkeys(int(day) for day in days)))

    def of_month_run(self, c: Children) -> p.Item:
        first, last = (number.low for number in numbers(c))
        if first.denominator != 1 or last.denominator != 1 or not 1 <= first < last <= 31:
            raise NotSaid("read.odd-day", span_of(c))
        return p.OfMonth(span_of(c), tuple(range(int(first), int(last) + 1)))

    def each_month(self, c: Children) -> p.Item:
        if time_unit(c) is not TimeUnit.MONTH:
            raise NotSaid("read.not-understood", span_of(c))
        return p.EachMonth(span_of(c))

    def until(self, c: Children) -> p.Item:
        return p.Until(span_of(c), c[-1].day)

    def start_day(self, c: Children) -> p.Item:
        return p.From(span_of(c), c[-1].day)

    def from_to(self, c: Children) -> p.Item:
        first, last = (child.day for child in c if isinstance(child, p.Until))
        if last < first:
            raise NotSaid("read.odd-day", span_of(c))
        return p.From(span_of(c), first, last)

    def from_to_of_month(self, c: Children) -> p.Item:
        """ "from 1st to 12th December 2026"."""
        first, last = (date_of(c, value_of(c, "NUM"), Fraction(int(token.value.sense.value))) for token in tokens_of(c, "ORD"))
        if last < first:
            raise NotSaid("read.odd-day", span_of(c))
        return p.From(span_of(c), first, last)

    def date(self, c: Children) -> p.Until:
        return p.Until(span_of(c), value_of(c, "DATE")[0])

    def day_month_year(self, c: Children) -> p.Until:
        if numbers(c) and not numbers(c)[0].exact:
            raise NotSaid("read.range", span_of(c))
        day = numbers(c)[0].low if numbers(c) else Fraction(int(value_of(c, "ORD")))
        return p.Until(span_of(c), date_of(c, value_of(c, "NUM"), day))

    month_day_year = day_month_year

    def weekday_date(self, c: Children) -> p.Until:
        """ "from Monday 30 November 2026": a day of the week that the date is not is a slip in one of the two."""
        day: date = c[-1].day
        if weekday_of(tokens_of(c, "WEEKDAY")[0]).number != day.weekday():
            raise NotSaid("read.odd-day", span_of(c))
        return p.Until(span_of(c), day)

    # how long

    def for_number(self, c: Children) -> p.Item:
        return p.For(span_of(c), numbers(c)[0], time_unit(c))

    def for_one(self, c: Children) -> p.Item:
        return p.For(span_of(c), one(), time_unit(c))

    def for_nights(self, c: Children) -> p.Item:
        """ "for 3 nights": so many days, each with one night."""
        return p.For(span_of(c), numbers(c)[0], TimeUnit.DAY)

    def for_every(self, c: Children) -> NoReturn:
        raise NotSaid("read.not-understood", span_of(c))

    def for_span(self, c: Children) -> p.Item:
        count, unit = value_of(c, "SPAN")
        return p.For(span_of(c), one(count), TimeUnit(unit))

    def for_first(self, c: Children) -> p.Item:
        return p.For(span_of(c), numbers(c)[0], time_unit(c), first=True)

    def length(self, c: Children) -> p.Item:
        words = [t.value.text if isinstance(t, Word) else t.text for t in c]
        return p.Length(span_of(c), numbers(c)[0], time_unit(c), "", " ".join(words))

    def length_off(self, c: Children) -> p.Item:
        return p.Length(span_of(c), numbers(c)[0], time_unit(c), "off")

    def length_on(self, c: Children) -> p.Item:
        return p.Length(span_of(c), numbers(c)[0], time_unit(c), "on")

    def days_out_of(self, c: Children) -> p.Item:
        """ "21 days out of 28". Of a week it may be any days: not said."""
        on, whole = numbers(c)
        units = {token.value.sense.value for token in tokens_of(c, "TIMEUNIT")}
        length = {"d": 1, "wk": 7}.get(str(units.pop()), 0) if len(units) == 1 else 0
        exact = on.exact and whole.exact and on.low.denominator == whole.low.denominator == 1
        if not exact or not 14 <= whole.low * length <= 400 or not 1 <= on.low < whole.low:
            raise NotSaid("read.odd-cycle", span_of(c))
        return p.CycleDays(span_of(c), 1, int(on.low) * length, int(whole.low) * length)

    def rounds(self, c: Children) -> p.Item:
        """ "21 days on/7 days off"."""
        days = []
        for number, token in zip(numbers(c), tokens_of(c, "TIMEUNIT"), strict=True):
            count = number.low * {"d": 1, "wk": 7}.get(str(token.value.sense.value), 0)
            if not number.exact or count.denominator != 1 or not 1 <= count <= 400:
                raise NotSaid("read.odd-cycle", span_of(c))
            days.append(int(count))
        return p.Rounds(span_of(c), days[0], days[1], again=True)

    def one_off(self, c: Children) -> p.Item:
        return p.Length(span_of(c), one(), time_unit(c), "off")

    def after_length(self, c: Children) -> p.Item:
        """ "after 2 weeks"; before or with so long, and so many hours, say no change."""
        if str(value_of(c, "REL")) != "PC" or time_unit(c) in (TimeUnit.HOUR, TimeUnit.MINUTE):
            raise NotSaid("read.not-understood", span_of(c))
        return p.After(span_of(c), (numbers(c) or [one()])[0], time_unit(c))

    def gone(self, c: Children) -> p.Item:
        return p.Gone(span_of(c), c[0].value.text)

    def step_by(self, c: Children) -> p.Item:
        """ "reducing by 5 mg every 3 days to 10 mg"."""
        count, *rest = numbers(c)
        ends = [child for child in c if isinstance(child, p.HowMuch)]
        unit = unit_of(c)
        if ends and (not ends[0].number.exact or (ends[0].unit and unit and ends[0].unit != unit)):
            raise NotSaid("read.step", span_of(c))
        every = step_period(c, rest)
        end = ends[0].number.low if ends else Fraction(0) if has(c, "TOZERO") else None
        sign = -1 if has(c, "STEPDOWN") else 1
        return p.StepBy(span_of(c), sign, count, unit, every[0] if every else None, every[1] if every else TimeUnit.DAY, end)

    def stop_taking(self, c: Children) -> p.Item:
        return p.StopTaking(span_of(c))

    def again(self, c: Children) -> p.Item:
        return p.Again(span_of(c))

    # on demand, at most

    def wanted(self, c: Children) -> p.Item:
        return p.Wanted(span_of(c), words_said(c[1:]))

    def wanted_for(self, c: Children) -> p.Item:
        return p.Wanted(span_of(c), words_said(c[1:]), conditional=True, either=c[0].value.sense.value == "either")

    def wanted_because(self, c: Children) -> p.Item:
        return p.Wanted(span_of(c), words_said(c[2:]))

    def reason(self, c: Children) -> p.Item:
        """For what it is: the words that lead in are not the reason, but that it is to help is."""
        text = words_said(tokens_of(c, "TOVERB", "REASONW", "PURPOSE", "SLASH"))
        return p.Reason(span_of(c), text, " ".join(token.value.text for token in c).replace(" :", ":"))

    def reason_tail(self, c: Children) -> p.Item:
        return p.ReasonTail(span_of(c), words_of(c))

    def within_number(self, c: Children) -> p.For:
        return p.For(span_of(c), numbers(c)[0], time_unit(c))

    def within_day_hours(self, c: Children) -> p.For:
        """ "max 8/24": in 24 hours."""
        return p.For(span_of(c), one(24), TimeUnit.HOUR)

    def within_one(self, c: Children) -> p.For:
        return p.For(span_of(c), one(), time_unit(c))

    def within_adverb(self, c: Children) -> p.For:
        return p.For(span_of(c), *period(str(value_of(c, "ADVPERIOD")).partition(" ")[0]))

    def at_most(self, c: Children) -> p.Item:
        within = c[-1]
        half = value_of(c, "AND_HALF") if has(c, "AND_HALF") else 0
        return p.AtMost(span_of(c), _highest(c) + half, unit_of(c), within.number.low, within.unit)

    def at_most_of(self, c: Children) -> p.Item:
        return p.AtMost(span_of(c), _highest(c), unit_of(c), None, None)

    def at_most_times(self, c: Children) -> p.Item:
        return p.AtMostTimes(span_of(c), _highest(c), c[-1].number.low, c[-1].unit)

    def at_most_adverb_times(self, c: Children) -> p.Item:
        return p.AtMostTimes(span_of(c), Fraction(str(value_of(c, "ADVTIMES"))), c[-1].number.low, c[-1].unit)

    def at_most_often(self, c: Children) -> p.Item:
        """ "max qds"."""
        times, _, rest = str(value_of(c, "FREQ")).partition(" in ")
        number, unit = period(rest)
        return p.AtMostTimes(span_of(c), Fraction(times), number.low, unit)

    def supply(self, c: Children) -> p.Item:
        if not numbers(c)[0].exact:
            raise NotSaid("read.total", span_of(c))
        return p.Supply(span_of(c), numbers(c)[0].low, unit_of(c))

    def supply_length(self, c: Children) -> p.Item:
        """ "qsp 3 mois", "mitte 28 days": for how long is supplied, not for how long it is taken; carried as it is written."""
        count = numbers(c)[0]
        if not count.exact:
            raise NotSaid("read.total", span_of(c))
        unit = tokens_of(c, "TIMEUNIT")[0].value.text
        return p.Quiet(span_of(c), "instr", f"{tokens_of(c, 'SUPPLY')[0].value.text} {format_amount(count.low)} {unit}")

    def apart(self, c: Children) -> p.Item:
        """ "at least 4 hours between doses", "12 hours apart"."""
        number = numbers(c)[0]
        if time_unit(c) is not TimeUnit.HOUR or number.low <= 0:
            raise NotSaid("read.not-understood", span_of(c))
        return p.Apart(span_of(c), number.low, words_of(c))

    def total(self, c: Children) -> p.Item:
        within = c[-1] if isinstance(c[-1], p.For) else None
        if within is not None and (within.unit, within.number.low) not in ((TimeUnit.DAY, Fraction(1)), (TimeUnit.HOUR, Fraction(24))):
            raise NotSaid("read.not-understood", span_of(c))
        return p.Total(span_of(c), numbers(c)[0], unit_of(c))

    def ceiling(self, c: Children) -> p.Item:
        return p.Ceiling(span_of(c))

    def stat(self, c: Children) -> p.Item:
        return p.Stat(span_of(c))

    def single(self, c: Children) -> p.Item:
        kind = str(value_of(c, "SINGLE"))
        return p.Single(span_of(c), at_once=kind == "at-once", only=kind == "only")
