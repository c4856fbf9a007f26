"""Items become meanings: phases one after the other, each with its clauses, all checked against totals, maxima and the ordered strength.

Comes in: a row of items, and the setting. Goes out: every meaning that fits. Raises Unclear where there is none.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeVar

from dosewright.core.regimen.dosage import Coding, Dosage, Period, Span, TimeUnit, Weekday
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.clauses import Phase, find_phases
from dosewright.core.regimen.reading.folding import MASS, fold
from dosewright.core.regimen.reading.meals import settle_meals
from dosewright.core.regimen.reading.meaning import Doubt, Meaning, Unclear
from dosewright.core.regimen.reading.strengths import Product, in_units
from dosewright.core.regimen.reading.structure import Frame, Made, each_day, last_day, make_dosages
from dosewright.core.units.finding import Finding
from dosewright.core.units.quantity import Unit

__all__ = ["compose"]

_MOST_MEANINGS = 24
_T = TypeVar("_T", bound=p.Item)


@dataclass(frozen=True, slots=True)
class _Place:
    """Which phase of how many; and all days of the week that the line names."""

    number: int
    count: int
    named: tuple[Weekday, ...]


def compose(items: Sequence[p.Item], product: Product | None) -> list[Meaning]:
    """Every meaning of the row, without repeats, in a fixed order. Raises Unclear."""
    parts, doubts = _parts(_one_unit(items))
    named = tuple(dict.fromkeys(day for item in items if isinstance(item, p.OnDays) for day in item.days))
    rows: list[list[tuple[Meaning, Phase]]] = []
    for number, part in enumerate(parts):
        settled = settle_meals(part)
        doubts += settled.doubts
        place = _Place(number, len(parts), named)
        phases = find_phases(settled.items)
        made = [_phase_meaning(phase, place, product, settled.assumed) for phase in phases]
        rows.append(list(zip(made, phases, strict=True)))
    meanings = [_joined(row, doubts) for row in itertools.islice(itertools.product(*rows), _MOST_MEANINGS + 1)]
    if len(meanings) > _MOST_MEANINGS:
        raise Unclear("read.too-many", (items[0].span[0], items[-1].span[1]))
    return meanings


def _joined(row: Sequence[tuple[Meaning, Phase]], doubts: tuple[Doubt, ...]) -> Meaning:
    return Meaning(
        tuple(dosage for meaning, _ in row for dosage in meaning.dosages),
        doubts + tuple(doubt for meaning, _ in row for doubt in meaning.doubts),
        tuple(finding for meaning, _ in row for finding in meaning.assumed),
    )


def _one_unit(items: Sequence[p.Item]) -> list[p.Item]:
    """ "1 tablet in the morning and 2 at night": the bare amount is in the line's only unit. A bare number beside mg is not."""
    units = {item.unit for item in items if isinstance(item, p.HowMuch) and item.unit}
    bare = [item for item in items if isinstance(item, p.HowMuch) and not item.unit]
    alone = [item for item in items if isinstance(item, p.UnitAlone)]
    if len(units) > 1:
        raise Unclear("read.two-units", next(i for i in items if isinstance(i, p.HowMuch) and i.unit and i.unit != min(units)).span)
    if alone:
        return _with_noun(items, units, alone)
    if not (units and bare):
        return list(items)
    unit = units.pop()
    if unit in MASS:
        raise Unclear("read.unit-missing", bare[0].span)
    return [replace(item, unit=unit) if isinstance(item, p.HowMuch) else item for item in items]


def _with_noun(items: Sequence[p.Item], units: set[Unit], alone: Sequence[p.UnitAlone]) -> list[p.Item]:
    """ "tablets: 1 in the morning, 2 at night". A noun beside amounts of another unit is a second product, or a slip."""
    nouns = {item.unit for item in alone}
    amounts = [item for item in items if isinstance(item, p.HowMuch | p.Pattern)]
    if not amounts:
        raise Unclear("read.no-quantity", alone[0].span)
    if len(nouns | units) > 1 or nouns & MASS:
        raise Unclear("read.two-units", alone[0].span)
    noun = alone[0].unit
    kept = [item for item in items if not isinstance(item, p.UnitAlone)]
    return [replace(item, unit=noun) if isinstance(item, p.HowMuch | p.Pattern) else item for item in kept]


def _parts(items: Sequence[p.Item]) -> tuple[list[list[p.Item]], tuple[Doubt, ...]]:
    """Cut at "then". "then stop" ends the last; a stop with nothing bounded before it says too little."""
    parts: list[list[p.Item]] = [[]]
    for item in items:
        if isinstance(item, p.Joint) and item.kind == "then":
            parts.append([])
        else:
            parts[-1].append(item)
    kept = [part for part in parts if any(not isinstance(item, p.Joint) for item in part)]
    if len(kept) > 1 and all(isinstance(item, p.StopTaking | p.Joint) for item in kept[-1]):
        kept[-2].extend(kept.pop())
    doubts: list[Doubt] = []
    _rounds_said_apart(kept)
    if len(kept) == 1:
        kept, doubts = _one_after_other(kept[0])
    _carry_frequency(kept, doubts)
    _bound_first(kept, doubts)
    _require_bounded(kept)
    return kept, tuple(doubts)


def _rounds_said_apart(parts: list[list[p.Item]]) -> None:
    """ "for 21 days 1 tablet daily, then 7 days off": the pause belongs to the phase before it."""
    if len(parts) < 2 or not isinstance(off := _first_said(parts[1]), p.Length) or off.role != "off":
        return
    rest = [item for part in parts[1:] for item in part if not isinstance(item, p.Joint) and item is not off]
    lengths = [item for item in parts[0] if isinstance(item, p.For)]
    if len(lengths) != 1 or any(not isinstance(item, p.Again) for item in rest):
        return
    row = [item for item in parts[0] if item is not lengths[0]]
    rounds = fold([lengths[0], p.Joint(off.span, "then"), off, *rest])
    parts[:] = [[*row, *rounds]]


def _first_said(part: Sequence[p.Item]) -> p.Item | None:
    return next((item for item in part if not isinstance(item, p.Joint)), None)


def _one_after_other(items: list[p.Item]) -> tuple[list[list[p.Item]], list[Doubt]]:
    """ "40 mg daily for 5 days, 30 mg daily for 5 days": meant one after the other, and not said; days 1, then 2 to 5 are said."""
    at = [n for n, item in enumerate(items) if isinstance(item, p.HowMuch)]
    if len(at) < 2:
        return [items], []
    cuts = [0, *at[1:], len(items)]
    parts = [items[a:b] for a, b in itertools.pairwise(cuts)]
    if not all(_is_bounded(part) for part in parts[:-1]) or any(isinstance(i, p.Until | p.From) for i in items):
        return [items], []
    numbered = all(any(isinstance(i, p.CycleDays) for i in part) for part in parts)
    if not numbered and not _is_bounded(parts[-1]):
        return [items], []
    return parts, [] if numbered else [Doubt("read.one-after-other", (items[0].span[0], items[-1].span[1]))]


def _carry_frequency(parts: list[list[p.Item]], doubts: list[Doubt]) -> None:
    """ "1 tablet twice daily for 7 days then 2 tablets": as often as before, most likely."""
    for before, part in itertools.pairwise(parts):
        amounts = [item for item in part if isinstance(item, p.HowMuch)]
        often = [item for item in before if isinstance(item, p.Firm | p.Times | p.Every | p.When | p.Clock | p.OnDays)]
        said = any(isinstance(i, p.Firm | p.Times | p.Every | p.When | p.Clock | p.OnDays | p.ByMeals | p.Stat | p.CycleDays) for i in part)
        if len(amounts) == 1 and often and not said and not any(isinstance(i, p.Pattern) for i in part):
            part.extend(often)
            doubts.append(Doubt("read.frequency-carried", amounts[0].span))


def _bound_first(parts: list[list[p.Item]], doubts: list[Doubt]) -> None:
    """ "2 at once, then 1 twice daily": whether the regular doses begin on the same day is not said."""
    if len(parts) < 2 or _is_bounded(parts[0]):
        return
    once = next((item for item in parts[0] if isinstance(item, p.Stat | p.Single)), None)
    if once is None or any(isinstance(item, p.Firm | p.Times | p.Every | p.When | p.Clock) for item in parts[0]):
        return
    day = p.Number(Fraction(1), Fraction(1))
    parts[0] = [item for item in parts[0] if item is not once]
    parts[0] += [p.Firm(once.span, day, day, TimeUnit.DAY), p.For(once.span, day, TimeUnit.DAY)]
    doubts.append(Doubt("read.after-first", once.span))


def _require_bounded(parts: Sequence[Sequence[p.Item]]) -> None:
    for number, part in enumerate(parts):
        stops = [item for item in part if isinstance(item, p.StopTaking)]
        bounded = _is_bounded(part)
        if stops and (not bounded or number < len(parts) - 1):
            raise Unclear("read.stop-when", stops[0].span)
        if number < len(parts) - 1 and not bounded:
            raise Unclear("read.phase-length", (part[0].span[0], part[-1].span[1]))


def _is_bounded(part: Sequence[p.Item]) -> bool:
    return any(isinstance(i, p.For | p.Until | p.Length) or (isinstance(i, p.CycleDays) and i.length is None) for i in part)


def _phase_meaning(phase: Phase, place: _Place, product: Product | None, assumed: tuple[Finding, ...]) -> Meaning:
    frame, doubts = _frame(phase, place.number, place.count)
    converted = [in_units(clause.amount, product) for clause in phase.clauses]
    clauses = [replace(clause, amount=found.amount) for clause, found in zip(phase.clauses, converted, strict=True)]
    made = [make_dosages(clause, frame, place.named) for clause in clauses]
    _check_totals(phase, made)
    _check_maximum(phase, made)
    dosages = tuple(dosage for one in made for dosage in one.dosages)
    _require_no_clash(phase, dosages)
    doubts += tuple(doubt for one in made for doubt in one.doubts)
    supplied = tuple(dict.fromkeys(finding.code for found in converted for finding in found.assumed))
    notes = tuple(next(f for found in converted for f in found.assumed if f.code == code) for code in supplied)
    said = tuple(finding for one in made for finding in one.assumed)
    return Meaning(dosages, doubts, (*assumed, *notes, *said))


def _require_no_clash(phase: Phase, dosages: Sequence[Dosage]) -> None:
    """Two amounts for one moment: "1 in the morning and 1 in the morning"; "1 daily, 2 daily"."""
    seen: set[tuple[object, ...]] = set()
    for dosage in dosages:
        repeat = dosage.timing.repeat if dosage.timing else None
        days = repeat.day_of_week or tuple(Weekday) if repeat else tuple(Weekday)
        moments = (*repeat.when, *repeat.time_of_day) or ("any",) if repeat else ("any",)
        for moment in itertools.product(days, moments):
            if moment in seen:
                raise Unclear("read.twice-said", phase.clauses[-1].span)
            seen.add(moment)
    if len(dosages) > 1 and any(moment[1] == "any" for moment in seen) and any(moment[1] != "any" for moment in seen):
        raise Unclear("read.mixed", phase.clauses[-1].span)


def _frame(phase: Phase, number: int, count: int) -> tuple[Frame, tuple[Doubt, ...]]:
    shared = phase.shared
    doubts: tuple[Doubt, ...] = ()
    _require_known(shared)
    duration, period = _bounds(shared)
    firsts = [item for item in shared if isinstance(item, p.For) and item.first]
    if firsts and number == count - 1:
        raise Unclear("read.and-then", firsts[0].span)
    once = _only([item for item in shared if isinstance(item, p.Stat | p.Single)])
    if once is not None and any(clause.rates or _timed(clause.times) for clause in phase.clauses):
        if isinstance(once, p.Stat):
            raise Unclear("read.after-first", once.span)
        if not all(clause.rates or _each_day(clause.times) for clause in phase.clauses):
            doubts += (Doubt("read.once-or-each", once.span),)
    cycle = _only([item for item in shared if isinstance(item, p.CycleDays)])
    rounds = _only([item for item in shared if isinstance(item, p.Rounds)])
    if rounds is not None and not rounds.again:
        doubts += (Doubt("read.cycle-again", rounds.span, {"on": rounds.on, "off": rounds.off}),)
    if cycle is not None and cycle.length is None:
        duration = _cycle_bounds(cycle, number, count, duration)
    wanted = [item for item in shared if isinstance(item, p.Wanted)]
    asked = _only(wanted)
    if asked is not None and asked.conditional and any(_timed(clause.times) or clause.days for clause in phase.clauses):
        raise Unclear("read.condition", asked.span)
    reasons = [item for item in shared if isinstance(item, p.Reason)]
    quiet = tuple(Coding(text=text) for text in dict.fromkeys(_instruction(item) for item in shared) if text)
    purpose = tuple(Coding(text=item.whole) for item in reasons) if not wanted else ()
    route = next((item.text for item in shared if isinstance(item, p.Quiet) and item.kind == "route"), "")
    limits = tuple(item for item in shared if isinstance(item, p.AtMost | p.AtMostTimes))
    frame = Frame(
        bounds_duration=duration,
        bounds_period=period,
        rounds=rounds,
        cycle_days=cycle,
        wanted=bool(wanted),
        reason=" and ".join(text for text in (*(w.reason for w in wanted), *(r.text for r in reasons)) if text) if wanted else "",
        at_most=limits,
        once=once,
        additional=(*quiet, *purpose),
        route=route,
        site=next((item.text for item in shared if isinstance(item, p.Quiet) and item.kind == "site"), ""),
        sequence=number + 1 if count > 1 else None,
    )
    return frame, doubts


def _timed(times: Sequence[p.Item]) -> bool:
    return any(not isinstance(item, p.Joint) for item in times)


def _each_day(times: Sequence[p.Item]) -> bool:
    return any(isinstance(item, p.When) and item.stride for item in times)


def _instruction(item: p.Item) -> str:
    if isinstance(item, p.ByMeals):
        return item.text
    return item.text if isinstance(item, p.Quiet) and item.kind == "instr" else ""


_KNOWN = (
    p.For, p.Until, p.From, p.Length, p.CycleDays, p.Rounds, p.Wanted, p.Reason, p.AtMost, p.AtMostTimes, p.Total, p.Stat, p.Single,
    p.StopTaking, p.Quiet, p.ByMeals,
)  # fmt: skip


def _require_known(shared: Sequence[p.Item]) -> None:
    """What no rule has taken up is a question, never dropped."""
    for item in shared:
        if not isinstance(item, _KNOWN):
            raise Unclear("read.not-understood", item.span)


def _only(items: Sequence[_T]) -> _T | None:
    if len(items) > 1:
        raise Unclear("read.twice-said", items[1].span)
    return items[0] if items else None


def _bounds(shared: Sequence[p.Item]) -> tuple[Span | None, Period | None]:
    length = _only([item for item in shared if isinstance(item, p.For | p.Length)])
    if isinstance(length, p.Length) and length.role:
        raise Unclear("read.cycle-again", length.span)
    start = _only([item for item in shared if isinstance(item, p.From)])
    end = _only([item for item in shared if isinstance(item, p.Until)])
    span = Span(length.number.low, length.unit) if length else None
    if span is not None and (span.value <= 0 or span.unit in (TimeUnit.HOUR, TimeUnit.MINUTE)):
        raise Unclear("read.odd-length", length.span if length else (0, 0))
    if start is None and end is None:
        return span, None
    if start is not None and start.last is not None:
        if end is not None or span is not None:
            raise Unclear("read.twice-said", start.span)
        return None, Period(start.day, start.last)
    if span is None:
        return None, Period(start.day if start else None, end.day if end else None)
    period = last_day(Period(start.day), span) if start else None
    if period is None or (end is not None and end.day != period.end):
        raise Unclear("read.odd-length", length.span if length else (0, 0))
    return None, period


def _cycle_bounds(cycle: p.CycleDays, number: int, count: int, duration: Span | None) -> Span:
    """ "on day 1", "on days 2-5", one phase after the other, counted from the first."""
    if count == 1 or duration is not None or (number == 0 and cycle.first != 1):
        raise Unclear("read.odd-cycle", cycle.span)
    return Span(Fraction(cycle.last - cycle.first + 1), TimeUnit.DAY)


def _check_totals(phase: Phase, made: Sequence[Made]) -> None:
    for item in phase.shared:
        if not isinstance(item, p.Total):
            continue
        found = _daily(made)
        same_unit = {dosage.amounts[0].quantity.unit for one in made for dosage in one.dosages if dosage.amounts[0].quantity}
        if not item.number.exact or found is None or found != item.number.low or (item.unit and {item.unit} != same_unit):
            raise Unclear("read.total", item.span)


def _daily(made: Sequence[Made]) -> Fraction | None:
    total = Fraction(0)
    for dosage in (dosage for one in made for dosage in one.dosages):
        repeat = dosage.timing.repeat if dosage.timing else None
        times = each_day(repeat) if repeat else None
        quantity = dosage.amounts[0].quantity
        if times is None or quantity is None:
            return None
        total += times * quantity.count
    return total


def _check_maximum(phase: Phase, made: Sequence[Made]) -> None:
    """A maximum below what the schedule gives in a day contradicts it. As-needed doses are what a maximum is for."""
    for dosage in (dosage for one in made for dosage in one.dosages):
        limit = dosage.max_per_period
        if limit is None or dosage.as_needed:
            continue
        total = _daily(made)
        quantity = dosage.amounts[0].quantity
        day = (limit.span.value, limit.span.unit) in ((Fraction(24), TimeUnit.HOUR), (Fraction(1), TimeUnit.DAY))
        if not day or total is None or quantity is None or limit.quantity.unit != quantity.unit or total > limit.quantity.count:
            span = next(item.span for item in phase.shared if isinstance(item, p.AtMost | p.AtMostTimes))
            raise Unclear("read.maximum", span)
