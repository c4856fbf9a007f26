"""Where else an order's doses could be taken: one order in, the dosing times that its own words leave it out, or why it stays.

An order is moved only where nothing ties it to its time: no named or clock time in its directions, no word beside them that is not known,
no rule that gives its medicine a time of its own. What is not known keeps it where it is. Several times a day keep their rhythm: no gap
shorter than the shortest, and none longer than the longest, of today's; "every 12 hours" strays by the window of such medicines.
Windows: STANDARDS of administration as data (`TimeRules`), each with its source.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from dosewright.core.medicines.food import FoodRelation, food_rule
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.time_of_day import MealRelation, TimeRules, Window, own_time, said_by
from dosewright.core.packing.dosing_times.retime import stated_repeat
from dosewright.core.packing.dosing_times.setting import Setting
from dosewright.core.regimen.dosage import Repeat, TimeUnit
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import DosingTime
from dosewright.core.units.finding import Fact, Finding

__all__ = ["Freedom", "Times", "freedom_of", "gaps", "hours_and_minutes", "is_critical", "minute_of", "relation_of"]

Times = tuple[DosingTime, ...]
_DAY = 24 * 60  # minutes
_MINUTES = {TimeUnit.HOUR: 60, TimeUnit.MINUTE: 1}
_WITH = frozenset({"C", "CM", "CD", "CV", "PC", "PCM", "PCD", "PCV"})
_BEFORE = frozenset({"AC", "ACM", "ACD", "ACV"})


@dataclass(frozen=True, slots=True)
class Freedom:
    """`options` are the dosing times that the order may have, today's first. `why` says what keeps it there, where that is all."""

    options: tuple[Times, ...]
    relies_on: tuple[Finding, ...] = ()
    why: Finding | None = None


def freedom_of(order: Order, today: Times, setting: Setting) -> Freedom:
    """Every choice of as many dosing times as today that the order's words and the rules leave open."""
    medicine = setting.medicine_of(order)
    if medicine is None:
        return Freedom((today,), why=setting.note("times.stays-unknown", order))
    if why := _kept(order, medicine, setting):
        return Freedom((today,), why=why)
    free, relation = _Free(order, medicine, today, setting), relation_of(order, medicine, setting)
    others = [times for times in combinations(setting.timetable.slots, len(today)) if times != today and free.allows(times, relation)]
    if not others:
        return Freedom((today,), why=setting.note("times.stays-nowhere", order))
    return Freedom((today, *others), free.relies_on())


def minute_of(slot: DosingTime) -> int:
    """Minutes from midnight."""
    return slot.time.hour * 60 + slot.time.minute


def gaps(times: Sequence[DosingTime]) -> tuple[int, ...]:
    """Minutes from each to the next, past midnight from the last to the first."""
    clock = [minute_of(slot) for slot in times]
    return tuple((later - sooner - 1) % _DAY + 1 for sooner, later in zip(clock, (*clock[1:], clock[0]), strict=True))


def is_critical(medicine: Medicine, rules: TimeRules) -> bool:
    """Whether it may stray by the critical window alone: marked so in the medicines file, or by a rule."""
    rule = own_time(medicine, rules.own)
    return "time-critical" in medicine.flags or (rule is not None and rule.critical)


def relation_of(order: Order, medicine: Medicine, setting: Setting) -> MealRelation:
    """How the order is taken with regard to meals: by its own events and words, else by its cautions, else by a rule of the pharmacy."""
    events = {event for dosage in order.dosages if (repeat := stated_repeat(dosage)) for event in repeat.when}
    by_events = MealRelation.WITH if events & _WITH else MealRelation.BEFORE if events & _BEFORE else MealRelation.ANY
    by_words = (_one_of(_relations(words, setting.rules)) for words in (_words_of(order), medicine.cautions))
    found = next((relation for relation in (by_events, *by_words) if relation is not MealRelation.ANY), None)
    if found:
        return found
    rule = food_rule(medicine, setting.request.rules.foods)
    if rule is None:
        return MealRelation.ANY
    return MealRelation.WITH if rule.relation is FoodRelation.WITH else MealRelation.EMPTY


def _relations(words: Iterable[str], rules: TimeRules) -> set[MealRelation]:
    return {known.relation for phrase in words if (known := said_by(phrase, rules))} - {MealRelation.ANY}


def _one_of(relations: set[MealRelation]) -> MealRelation:
    return min(relations, default=MealRelation.ANY)


def _words_of(order: Order) -> tuple[str, ...]:
    """Everything that stands beside the schedule in words; a code without words stands for itself, so that nobody knows it."""
    said = (one.text or f"{one.system} {one.code}" for dosage in order.dosages for one in dosage.additional)
    return tuple(words for words in (*said, *(dosage.patient_instruction for dosage in order.dosages)) if words.strip())


def _kept(order: Order, medicine: Medicine, setting: Setting) -> Finding | None:
    """The first thing that ties the order to its time; None where nothing does."""
    return _kept_by_structure(order, setting) or _kept_by_rule(order, medicine, setting) or _kept_by_words(order, medicine, setting)


def _kept_by_rule(order: Order, medicine: Medicine, setting: Setting) -> Finding | None:
    rule = own_time(medicine, setting.rules.own)
    if rule is None or rule.critical:
        return None
    return setting.note("times.stays-own-time", order, reason=rule.reason, source=rule.source, dated=rule.dated, rule=rule.id)


def _kept_by_structure(order: Order, setting: Setting) -> Finding | None:
    dosages = setting.worded(order).dosages
    stated = [repeat for dosage in dosages if (repeat := stated_repeat(dosage))]
    if len(stated) < len(dosages):
        return setting.note("times.stays-listed", order)
    if any(repeat.when or repeat.time_of_day for repeat in stated):
        return setting.note("times.stays-named", order)
    return setting.note("times.stays-phases", order) if len({_often(repeat) for repeat in stated}) > 1 else None


def _often(repeat: Repeat) -> tuple[object, ...]:
    return repeat.frequency, repeat.period, repeat.period_unit, repeat.day_of_week, repeat.days_of_cycle, repeat.days_of_month


def _kept_by_words(order: Order, medicine: Medicine, setting: Setting) -> Finding | None:
    """Words that nobody knows, or that ask for two things."""
    words = (*_words_of(order), *medicine.cautions)
    unknown = next((phrase for phrase in words if said_by(phrase, setting.rules) is None), None)
    if unknown is None and len(_relations(words, setting.rules)) > 1:
        unknown = "; ".join(words)
    return None if unknown is None else setting.note("times.stays-words", order, words=unknown)


class _Free:
    """What an order that may move is held to."""

    def __init__(self, order: Order, medicine: Medicine, today: Times, setting: Setting) -> None:
        self._order, self._today, self._setting, rules = order, today, setting, setting.rules
        self._critical = rules.window("critical") if is_critical(medicine, rules) else None
        stated = (stated_repeat(dosage) for dosage in setting.worded(order).dosages)
        self._hours = next((repeat for repeat in stated if repeat and repeat.period_unit in _MINUTES), None)
        self._window = rules.window("often" if len(today) > 1 else "daily")
        self._least, self._most = self._allowed_gaps()

    def allows(self, times: Times, relation: MealRelation) -> bool:
        """Whether the order may be taken then."""
        meals = all(_beside_a_meal(slot, relation) for slot in times)
        near = self._critical is None or _farthest(self._today, times) <= self._critical.minutes
        return meals and near and all(self._least <= gap <= self._most for gap in gaps(times))

    def relies_on(self) -> tuple[Finding, ...]:
        """The freedom itself, and the windows that it keeps to."""
        return tuple(self._relies_on())

    def _relies_on(self) -> Iterator[Finding]:
        if self._hours:
            yield self._setting.note("times.free-interval", self._order, **self._gap_facts(), **_cited(self._window))
        elif len(self._today) > 1:
            yield self._setting.note("times.free-often", self._order, times=len(self._today), **self._gap_facts())
        else:
            yield self._setting.note("times.free-once", self._order)
        if self._critical:
            yield self._setting.note("times.window-critical", self._order, **_cited(self._critical))

    def _allowed_gaps(self) -> tuple[int, int]:
        if len(self._today) == 1:
            return 0, _DAY
        if self._hours:
            step = int(Fraction(self._hours.period or 0) * _MINUTES[self._hours.period_unit or TimeUnit.HOUR])
            stray = self._window.minutes if self._window else 0
            return step - stray, step + stray
        return min(gaps(self._today)), max(gaps(self._today))

    def _gap_facts(self) -> dict[str, Fact]:
        return {"least": hours_and_minutes(self._least), "most": hours_and_minutes(self._most)}


def _farthest(today: Times, times: Times) -> int:
    return max(abs(minute_of(here) - minute_of(there)) for here, there in zip(today, times, strict=True))


def _beside_a_meal(slot: DosingTime, relation: MealRelation) -> bool:
    """An empty stomach needs no meal; that no medicine for with food lies beside it is for two orders to settle."""
    if relation is MealRelation.WITH:
        return bool(slot.when & _WITH)
    return relation is not MealRelation.BEFORE or bool(slot.when & _BEFORE)


def hours_and_minutes(minutes: int) -> str:
    """ "10 hours", "30 minutes", "1 hour 30 minutes": a length of time must not look like a clock time."""
    hours, rest = divmod(minutes, 60)
    said = [f"{count} {unit}{'' if count == 1 else 's'}" for count, unit in ((hours, "hour"), (rest, "minute")) if count]
    return " ".join(said) or "no time"


def _cited(window: Window | None) -> dict[str, Fact]:
    return (
        {"stray": hours_and_minutes(window.minutes), "source": window.source, "dated": window.dated}
        if window
        else {"stray": "no time", "source": "", "dated": ""}
    )
