"""A parsed line becomes items: one method for each alias of the grammar. Comes in: lark's tokens. Goes out: `phrases.Item`s in order.

`NotSaid` is raised where the words fit the grammar and still say nothing: "the 40th of the month".
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction
from typing import Any, NoReturn

from lark import Token, Transformer

from dosewright.core.regimen.dosage import TimeUnit, Weekday
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.lexicon import Sense
from dosewright.core.regimen.reading.reading_values import Place
from dosewright.core.units.quantity import Unit

__all__ = ["Builder", "Leaf", "NotSaid"]

_DAYS = list(Weekday)


@dataclass(frozen=True, slots=True)
class Leaf:
    """What a token of the parser carries: the sense chosen, and the letters."""

    sense: Sense
    text: str

    def __str__(self) -> str:
        return self.text


class NotSaid(Exception):
    """The words at `span` make no sense together; `code` is the question."""

    def __init__(self, code: str, span: Place) -> None:
        super().__init__(code)
        self.code, self.span = code, span


@dataclass(frozen=True, slots=True)
class _Counted:
    number: p.Number
    span: Place


Children = Sequence[Any]


def _span(children: Children) -> Place:
    places = [(c.start_pos, c.end_pos) if isinstance(c, Token) else c.span for c in children]
    return min(s for s, _ in places), max(e for _, e in places)


def _tokens(children: Children, *kinds: str) -> list[Token]:
    return [c for c in children if isinstance(c, Token) and c.type in kinds]


def _has(children: Children, kind: str) -> bool:
    return bool(_tokens(children, kind))


def _value(children: Children, kind: str) -> Any:
    return _tokens(children, kind)[0].value.sense.value


def _numbers(children: Children) -> list[p.Number]:
    return [c.number for c in children if isinstance(c, _Counted)]


def _unit(children: Children) -> Unit:
    found = _tokens(children, "UNIT")
    return Unit(str(found[0].value.sense.value)) if found else Unit("")


def _time_unit(children: Children) -> TimeUnit:
    return TimeUnit(str(_value(children, "TIMEUNIT")))


def _one(value: int | Fraction = 1) -> p.Number:
    return p.Number(Fraction(value), Fraction(value))


def _period(text: str) -> tuple[p.Number, TimeUnit]:
    """ "3/d" of the tables: every three days."""
    number, _, unit = text.partition("/")
    return _one(Fraction(number)), TimeUnit(unit)


class Builder(Transformer[Token, Any]):
    """Shared by the languages; a method is named for the grammar's alias."""

    def start(self, c: Children) -> list[p.Item]:
        return list(c)

    def joint(self, c: Children) -> p.Item:
        return p.Joint(_span(c), c[0].type.lower())

    def quiet(self, c: Children) -> p.Item:
        return p.Quiet(_span(c), c[0].type.lower(), c[0].value.text)

    def blocked(self, c: Children) -> p.Item:
        leaf = c[0].value
        code = {"COND": "read.condition", "DIRECTED": "read.as-directed", "NEG": "read.negation", "STEP": "read.step"}.get(c[0].type)
        return p.Blocked(_span(c), code or f"read.{leaf.sense.value}", leaf.text)

    # how much

    def exactly(self, c: Children) -> _Counted:
        return _Counted(_one(_value(c, "NUM")), _span(c))

    def between(self, c: Children) -> _Counted:
        low, high = (token.value.sense.value for token in _tokens(c, "NUM"))
        if not low < high:
            raise NotSaid("read.odd-range", _span(c))
        return _Counted(p.Number(low, high), _span(c))

    def up_to(self, c: Children) -> _Counted:
        return _Counted(p.Number(Fraction(0), _value(c, "NUM")), _span(c))

    def amount(self, c: Children) -> p.Item:
        if not _numbers(c):
            return c[0]  # type: ignore[no-any-return]
        return p.HowMuch(_span(c), _numbers(c)[0], _unit(c))

    bare_amount = amount

    def amount_half(self, c: Children) -> p.Item:
        return c[0]  # type: ignore[no-any-return]

    def one_unit(self, c: Children) -> p.Item:
        return p.HowMuch(_span(c), _one(), _unit(c))

    def amount_and_half(self, c: Children) -> p.Item:
        number, half = _numbers(c)[0], _value(c, "AND_HALF")
        return p.HowMuch(_span(c), p.Number(number.low + half, number.high + half), _unit(c))

    def unit_alone(self, c: Children) -> p.Item:
        return p.UnitAlone(_span(c), _unit(c))

    def cross(self, c: Children) -> p.Item:
        first, second = _tokens(c, "NUM")
        span = (second.start_pos or 0, _span(c)[1])
        return p.Cross(_span(c), first.value.sense.value, p.HowMuch(span, _one(second.value.sense.value), _unit(c)))

    def counted(self, c: Children) -> p.Item:
        return p.HowMuch(_span(c), _one(_value(c, "NUM")), _unit(c))

    def pattern(self, c: Children) -> p.Item:
        return p.Pattern(_span(c), _value(c, "PATTERN"), _unit(c))

    # how often

    def times(self, c: Children) -> p.Item:
        return p.Times(_span(c), _numbers(c)[0])

    times_after = times

    def adverb_times(self, c: Children) -> p.Item:
        counts = [Fraction(str(token.value.sense.value)) for token in _tokens(c, "ADVTIMES")]
        if len(counts) == 2 and not counts[0] < counts[1]:
            raise NotSaid("read.odd-range", _span(c))
        low = Fraction(0) if _has(c, "UPTO") else counts[0]
        return p.Times(_span(c), p.Number(low, counts[-1]))

    def firm(self, c: Children) -> p.Item:
        times, _, rest = str(_value(c, "FREQ")).partition(" in ")
        number, unit = _period(rest)
        return p.Firm(_span(c), _one(Fraction(times)), number, unit)

    def adverb_period(self, c: Children) -> p.Item:
        return p.Every(_span(c), *_period(_value(c, "ADVPERIOD")), "daily")

    def a_period(self, c: Children) -> p.Item:
        return p.Every(_span(c), _one(), _time_unit(c), "a")

    def slash_period(self, c: Children) -> p.Item:
        return p.Every(_span(c), _one(), _time_unit(c), "slash")

    def each_period(self, c: Children) -> p.Item:
        return p.Every(_span(c), _one(), _time_unit(c), "every")

    def every_number(self, c: Children) -> p.Item:
        return p.Every(_span(c), _numbers(c)[0], _time_unit(c), "every")

    def every_other(self, c: Children) -> p.Item:
        return p.Every(_span(c), _one(2), _time_unit(c), "every")

    def every_ordinal(self, c: Children) -> p.Item:
        return p.Every(_span(c), _one(int(_value(c, "ORD"))), _time_unit(c), "every")

    def every_word(self, c: Children) -> p.Item:
        return p.Every(_span(c), *_period(_value(c, "EVERYX")), "every")

    def hourly(self, c: Children) -> p.Item:
        return p.Every(_span(c), _numbers(c)[0], TimeUnit.HOUR, "every")

    # when in the day

    def day_part(self, c: Children) -> p.Item:
        bare = len(c) == 1 and " " not in c[0].value.text
        return p.When(_span(c), str(_value(c, "DAYPART")), bare=bare)

    def every_day_part(self, c: Children) -> p.Item:
        return p.When(_span(c), str(_value(c, "DAYPART")), stride=1)

    def every_other_day_part(self, c: Children) -> p.Item:
        return p.When(_span(c), str(_value(c, "DAYPART")), stride=2)

    def every_ordinal_day_part(self, c: Children) -> p.Item:
        return p.When(_span(c), str(_value(c, "DAYPART")), stride=int(_value(c, "ORD")))

    def when_word(self, c: Children) -> p.Item:
        code, _, stride = str(_value(c, "WHENX")).partition(" ")
        return p.When(_span(c), code, stride=int(stride) if stride else None)

    def meal(self, c: Children) -> p.Item:
        relation = str(_value(c, "REL")) if _has(c, "REL") else "C"
        return p.When(_span(c), _meal_code(relation, str(_value(c, "MEAL"))), stride=1 if _has(c, "EVERY") else None)

    def offset_meal(self, c: Children) -> p.Item:
        return p.When(_span(c), _meal_code(str(_value(c, "REL")), str(_value(c, "MEAL"))), offset=_minutes(c))

    def offset_day_part(self, c: Children) -> NoReturn:
        raise NotSaid("read.offset", _span(c))

    def by_meals(self, c: Children) -> p.Item:
        words = [t.value.text for t in c]
        kind = str(_value(c, "MEALANY"))
        return p.ByMeals(_span(c), str(_value(c, "REL")), kind if not _has(c, "EVERY") else "each", " ".join(words))

    def offset_meals(self, c: Children) -> p.Item:
        _minutes(c)
        words = [t.value.text for t in c if isinstance(t, Token)]
        return p.ByMeals(_span(c), str(_value(c, "REL")), "each" if _has(c, "EVERY") else str(_value(c, "MEALANY")), " ".join(words))

    def meals_word(self, c: Children) -> p.Item:
        relation, _, plain = str(_value(c, "MEALSX")).partition(" ")
        return p.ByMeals(_span(c), relation, "meals", plain or c[0].value.text)

    def each_meal(self, c: Children) -> p.Item:
        return p.ByMeals(_span(c), str(_value(c, "EACHMEAL")), "each", c[0].value.text)

    def clock(self, c: Children) -> p.Item:
        return p.Clock(_span(c), _value(c, "CLOCK")[0])

    def at_hour(self, c: Children) -> p.Item:
        return p.Hour(_span(c), _hour(c, _numbers(c)[0]))

    def hour_half(self, c: Children) -> p.Item:
        return p.Clock(_span(c), _in_half(c, time(_hour(c, _numbers(c)[0]))))

    def clock_half(self, c: Children) -> p.Item:
        return p.Clock(_span(c), _in_half(c, _value(c, "CLOCK")[0]))

    # which days

    def weekday(self, c: Children) -> p.Item:
        return p.OnDays(_span(c), (_weekday(_tokens(c, "WEEKDAY")[0]),))

    def weekday_list(self, c: Children) -> p.Item:
        days = tuple(_weekday(token) for token in _tokens(c, "WEEKDAY"))
        if len(set(days)) < len(days):
            raise NotSaid("read.twice-said", _span(c))
        return p.OnDays(_span(c), days)

    def weekday_other(self, c: Children) -> p.Item:
        return p.OnDays(_span(c), (_weekday(_tokens(c, "WEEKDAY")[0]),), stride=2)

    def weekday_ordinal(self, c: Children) -> p.Item:
        return p.OnDays(_span(c), (_weekday(_tokens(c, "WEEKDAY")[0]),), stride=int(_value(c, "ORD")))

    def weekday_range(self, c: Children) -> p.Item:
        first, last = (_weekday(token).number for token in _tokens(c, "WEEKDAY"))
        return p.OnDays(_span(c), tuple(sorted({_DAYS[(first + n) % 7] for n in range((last - first) % 7 + 1)}, key=_DAYS.index)))

    def weekday_set(self, c: Children) -> p.Item:
        return p.OnDays(_span(c), tuple(Weekday(day) for day in str(_value(c, "WEEKDAYSET")).split(",")))

    def other_days(self, c: Children) -> p.Item:
        return p.OtherDays(_span(c))

    def except_(self, c: Children) -> p.Item:
        return p.Except(_span(c))

    def cycle_days(self, c: Children) -> p.Item:
        return c[0]  # type: ignore[no-any-return]

    def on_day(self, c: Children) -> p.Item:
        return p.CycleDays(_span(c), *_day_run(c, _numbers(c)[0]))

    def first_day(self, c: Children) -> p.Item:
        if _time_unit(c) is not TimeUnit.DAY:
            raise NotSaid("read.not-understood", _span(c))
        return p.CycleDays(_span(c), 1, 1)

    def on_days_of(self, c: Children) -> p.Item:
        days, length = _numbers(c)
        unit = _time_unit(c) if _has(c, "TIMEUNIT") else TimeUnit.DAY
        if not length.exact or unit not in (TimeUnit.DAY, TimeUnit.WEEK) or length.low.denominator != 1:
            raise NotSaid("read.odd-cycle", _span(c))
        return p.CycleDays(_span(c), *_day_run(c, days), int(length.low) * (7 if unit is TimeUnit.WEEK else 1))

    def month_day(self, c: Children) -> p.Item:
        day = int(_value(c, "ORD"))
        if not 1 <= day <= 31:
            raise NotSaid("read.odd-day", _span(c))
        return p.MonthDays(_span(c), (day,))

    def day_of_month(self, c: Children) -> p.Item:
        first, last = _day_run(c, _numbers(c)[0])
        if _time_unit(c) is not TimeUnit.MONTH or last > 31:
            raise NotSaid("read.odd-day", _span(c))
        return p.OfMonth(_span(c), tuple(range(first, last + 1)))

    def first_days(self, c: Children) -> p.Item:
        number = _numbers(c)[0]
        if _time_unit(c) is not TimeUnit.DAY or not number.exact or number.low.denominator != 1 or not 1 <= number.low <= 28:
            raise NotSaid("read.odd-day", _span(c))
        return p.MonthDays(_span(c), tuple(range(1, int(number.low) + 1)))

    def each_month(self, c: Children) -> p.Item:
        if _time_unit(c) is not TimeUnit.MONTH:
            raise NotSaid("read.not-understood", _span(c))
        return p.EachMonth(_span(c))

    def until(self, c: Children) -> p.Item:
        return p.Until(_span(c), c[-1].day)

    def start_day(self, c: Children) -> p.Item:
        return p.From(_span(c), c[-1].day)

    def from_to(self, c: Children) -> p.Item:
        first, last = (child.day for child in c if isinstance(child, p.Until))
        if last < first:
            raise NotSaid("read.odd-day", _span(c))
        return p.From(_span(c), first, last)

    def date(self, c: Children) -> p.Until:
        return p.Until(_span(c), _value(c, "DATE")[0])

    def day_month_year(self, c: Children) -> p.Until:
        day = _numbers(c)[0].low if _numbers(c) else Fraction(int(_value(c, "ORD")))
        return p.Until(_span(c), _date(c, _value(c, "NUM"), day))

    def month_day_year(self, c: Children) -> p.Until:
        return p.Until(_span(c), _date(c, _value(c, "NUM"), _numbers(c)[0].low))

    # how long

    def for_number(self, c: Children) -> p.Item:
        return p.For(_span(c), _numbers(c)[0], _time_unit(c))

    def for_one(self, c: Children) -> p.Item:
        return p.For(_span(c), _one(), _time_unit(c))

    def for_every(self, c: Children) -> NoReturn:
        raise NotSaid("read.not-understood", _span(c))

    def for_span(self, c: Children) -> p.Item:
        count, unit = _value(c, "SPAN")
        return p.For(_span(c), _one(count), TimeUnit(unit))

    def for_first(self, c: Children) -> p.Item:
        return p.For(_span(c), _numbers(c)[0], _time_unit(c), first=True)

    def length(self, c: Children) -> p.Item:
        return p.Length(_span(c), _numbers(c)[0], _time_unit(c), "")

    def length_off(self, c: Children) -> p.Item:
        return p.Length(_span(c), _numbers(c)[0], _time_unit(c), "off")

    def length_on(self, c: Children) -> p.Item:
        return p.Length(_span(c), _numbers(c)[0], _time_unit(c), "on")

    def days_out_of(self, c: Children) -> p.Item:
        """ "21 days out of 28". Of a week it may be any days: not said."""
        on, whole = _numbers(c)
        units = {token.value.sense.value for token in _tokens(c, "TIMEUNIT")}
        length = {"d": 1, "wk": 7}.get(str(units.pop()), 0) if len(units) == 1 else 0
        exact = on.exact and whole.exact and on.low.denominator == whole.low.denominator == 1
        if not exact or not 14 <= whole.low * length <= 400 or not 1 <= on.low < whole.low:
            raise NotSaid("read.odd-cycle", _span(c))
        return p.CycleDays(_span(c), 1, int(on.low) * length, int(whole.low) * length)

    def rounds(self, c: Children) -> p.Item:
        """ "21 days on/7 days off"."""
        days = []
        for number, token in zip(_numbers(c), _tokens(c, "TIMEUNIT"), strict=True):
            count = number.low * {"d": 1, "wk": 7}.get(str(token.value.sense.value), 0)
            if not number.exact or count.denominator != 1 or not 1 <= count <= 400:
                raise NotSaid("read.odd-cycle", _span(c))
            days.append(int(count))
        return p.Rounds(_span(c), days[0], days[1], again=True)

    def one_off(self, c: Children) -> p.Item:
        return p.Length(_span(c), _one(), _time_unit(c), "off")

    def stop_taking(self, c: Children) -> p.Item:
        return p.StopTaking(_span(c))

    def again(self, c: Children) -> p.Item:
        return p.Again(_span(c))

    # on demand, at most

    def wanted(self, c: Children) -> p.Item:
        return p.Wanted(_span(c), " ".join(token.value.text for token in c[1:]))

    def wanted_for(self, c: Children) -> p.Item:
        return p.Wanted(_span(c), " ".join(token.value.text for token in c[1:]), conditional=True)

    def wanted_because(self, c: Children) -> p.Item:
        return p.Wanted(_span(c), " ".join(token.value.text for token in c[2:]))

    def reason(self, c: Children) -> p.Item:
        text = " ".join(token.value.text for token in _tokens(c, "REASONW", "PURPOSE"))
        return p.Reason(_span(c), text, " ".join(token.value.text for token in c))

    def reason_tail(self, c: Children) -> p.Item:
        return p.ReasonTail(_span(c), " ".join(token.value.text for token in c))

    def within_number(self, c: Children) -> p.For:
        return p.For(_span(c), _numbers(c)[0], _time_unit(c))

    def within_one(self, c: Children) -> p.For:
        return p.For(_span(c), _one(), _time_unit(c))

    def within_adverb(self, c: Children) -> p.For:
        return p.For(_span(c), *_period(_value(c, "ADVPERIOD")))

    def at_most(self, c: Children) -> p.Item:
        within = c[-1]
        half = _value(c, "AND_HALF") if _has(c, "AND_HALF") else 0
        return p.AtMost(_span(c), _numbers(c)[0].high + half, _unit(c), within.number.low, within.unit)

    def at_most_of(self, c: Children) -> p.Item:
        return p.AtMost(_span(c), _numbers(c)[0].high, _unit(c), None, None)

    def at_most_times(self, c: Children) -> p.Item:
        return p.AtMostTimes(_span(c), _numbers(c)[0].high, c[-1].number.low, c[-1].unit)

    def at_most_adverb_times(self, c: Children) -> p.Item:
        return p.AtMostTimes(_span(c), Fraction(str(_value(c, "ADVTIMES"))), c[-1].number.low, c[-1].unit)

    def total(self, c: Children) -> p.Item:
        within = c[-1] if isinstance(c[-1], p.For) else None
        if within is not None and (within.unit, within.number.low) not in ((TimeUnit.DAY, 1), (TimeUnit.HOUR, 24)):
            raise NotSaid("read.not-understood", _span(c))
        return p.Total(_span(c), _numbers(c)[0], _unit(c))

    def stat(self, c: Children) -> p.Item:
        return p.Stat(_span(c))

    def single(self, c: Children) -> p.Item:
        return p.Single(_span(c))


def _meal_code(relation: str, meal: str) -> str:
    """FHIR R4 event-timing: AC + M is ACM, C + M is CM."""
    return relation + meal


def _minutes(c: Children) -> int:
    number, unit = _numbers(c)[0], _time_unit(c)
    minutes = number.low * {TimeUnit.MINUTE: 1, TimeUnit.HOUR: 60}.get(unit, 0)
    if not number.exact or minutes.denominator != 1 or not 0 < minutes <= 240:
        raise NotSaid("read.offset", _span(c))
    return int(minutes)


def _hour(c: Children, number: p.Number) -> int:
    if not number.exact or number.low.denominator != 1 or number.low > 23:
        raise NotSaid("read.clock", _span(c))
    return int(number.low)


def _in_half(c: Children, clock: time) -> time:
    """8 + "pm" is 20:00; 12 + "am" is midnight, which some take for noon: not said clearly enough. 14 + "pm" is itself."""
    after_noon = _value(c, "AMPM") == "pm"
    if clock.hour > 12 or clock.hour == 0:
        if after_noon == (clock.hour > 12):
            return clock
        raise NotSaid("read.clock", _span(c))
    if clock.hour == 12:
        raise NotSaid("read.twelve", _span(c))
    return clock.replace(hour=clock.hour + 12) if after_noon else clock


def _weekday(token: Token) -> Weekday:
    return Weekday(token.value.sense.value)


def _day_run(c: Children, number: p.Number) -> tuple[int, int]:
    if number.low.denominator != 1 or number.high.denominator != 1 or number.low < 1 or number.high > 400:
        raise NotSaid("read.odd-day", _span(c))
    return int(number.low), int(number.high)


def _date(c: Children, year: Fraction, day: Fraction) -> date:
    try:
        if 2000 <= year <= 2199:
            return date(int(year), int(_value(c, "MONTHNAME")), int(day))
    except ValueError:
        pass
    raise NotSaid("read.odd-day", _span(c))
