"""A person's dosing times today, and the fewest that every order's freedom, the rules and the home's rounds leave: side by side.

Comes in: a person and the request that the next cycle would be planned from. Goes out: a `Proposal`. Fewest dosing times, then the gentlest
change: fewest doses moved, least clock time moved, fewest cards, catalogue order. Nothing is changed by it; a pharmacist takes it up.
"""

from collections.abc import Collection, Mapping
from dataclasses import replace
from datetime import timedelta
from itertools import combinations

from dosewright.core.medicines.time_of_day import TimeRules
from dosewright.core.packing.dosing_times.candidates import Seen, see_orders, without_options
from dosewright.core.packing.dosing_times.choose import Chosen, Option, Question, choose
from dosewright.core.packing.dosing_times.clashes import Clash, clashes_of
from dosewright.core.packing.dosing_times.freedom import Times, minute_of
from dosewright.core.packing.dosing_times.reported import Answered, report
from dosewright.core.packing.dosing_times.retime import Retiming, retime
from dosewright.core.packing.dosing_times.setting import Setting
from dosewright.core.packing.dosing_times.times_values import Proposal
from dosewright.core.packing.dosing_times.widen import widen
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.ids import OrderId
from dosewright.core.units.person import Person

__all__ = ["propose"]

_AS_ORDERED: Mapping[OrderId, tuple[Dosage, ...]] = {}
_BACK = timedelta(days=28)  # looked back, so that the cards that are out now read the same too
_Clashes = Mapping[tuple[int, int], tuple[Clash, ...]]


def propose(
    person: Person,
    request: PlanRequest,
    rules: TimeRules,
    stay: Collection[OrderId] = (),
    words: Mapping[OrderId, tuple[Dosage, ...]] = _AS_ORDERED,
) -> Proposal:
    """The proposal from the request's first day on. Orders in `stay` are left where they are, because a pharmacist says so; `words` holds
    the dosages as an order's own words gave them, where its times were taken up from an earlier proposal and so left it free."""
    own = request.timetable_of(person)
    timetable = _may_have(person, own, request)
    alone = replace(request, people=(person,), orders=request.orders_of(person.id), timetables={person.id: timetable})
    setting = Setting(person, alone, rules, words)
    return report(_answer(see_orders(setting, stay), setting), setting, own)


def _may_have(person: Person, own: Timetable, request: PlanRequest) -> Timetable:
    """A home's rounds are what they are. Somebody at home may have the standard times too, where no order would then read differently."""
    wider = widen(own)
    if person.home is not None or wider is own:
        return own
    orders = request.orders_of(person.id)
    first, days = request.first - _BACK, request.days + _BACK.days
    same = all(expand(order, own, first, days) == expand(order, wider, first, days) for order in orders)
    return wider if same else own


def _answer(seen: tuple[Seen, ...], setting: Setting) -> Answered:
    """Ask until every move of every answer can be written down as directions."""
    while True:
        clashes = _clashes(seen, setting)
        chosen = _choose(seen, clashes, setting)
        written = {
            (at, option): _write(seen[at], option, setting) for answer in chosen.answers for at, option in enumerate(answer) if option
        }
        if all(written.values()):
            return Answered(seen, chosen, clashes, {place: order for place, order in written.items() if order})
        none = {place for place, order in written.items() if order is None}
        seen = tuple(without_options(one, {option for order, option in none if order == at}, setting) for at, one in enumerate(seen))


def _clashes(seen: tuple[Seen, ...], setting: Setting) -> _Clashes:
    pairs = combinations(enumerate(one.candidate for one in seen), 2)
    found = {(i, j): clashes_of(one, other, setting.request.spacings) for (i, one), (j, other) in pairs}
    return {pair: clashes for pair, clashes in found.items() if clashes}


def _choose(seen: tuple[Seen, ...], clashes: _Clashes, setting: Setting) -> Chosen:
    """The best answer; where none keeps every rule, the best of those that break nothing but what today's times break."""
    chosen = choose(_question(seen, clashes, setting))
    if chosen.answers or not chosen.proved:
        return chosen
    excused = {pair: tuple(clash for clash in found if (clash.one, clash.other) != (0, 0)) for pair, found in clashes.items()}
    return choose(_question(seen, excused, setting))


def _question(seen: tuple[Seen, ...], clashes: _Clashes, setting: Setting) -> Question:
    bits = {slot.name: 1 << at for at, slot in enumerate(setting.timetable.slots)}
    barred = frozenset(((i, clash.one), (j, clash.other)) for (i, j), found in clashes.items() for clash in found)
    orders = (tuple(Option(sum(bits[slot.name] for slot in times), _cost(one, times)) for times in one.candidate.options) for one in seen)
    return Question(tuple(orders), barred)


def _cost(seen: Seen, times: Times) -> tuple[int, int]:
    """Doses of the cycle that move, and minutes that they move in all."""
    moved = [(here, there) for here, there in zip(seen.candidate.options[0], times, strict=True) if here != there]
    doses = [seen.doses[here.name] for here, _ in moved]
    return sum(doses), sum(count * abs(minute_of(here) - minute_of(there)) for count, (here, there) in zip(doses, moved, strict=True))


def _write(seen: Seen, option: int, setting: Setting) -> Order | None:
    candidate = seen.candidate
    meant = Retiming(candidate.options[0], candidate.options[option], setting.timetable, setting.request.first)
    return retime(candidate.order, setting.worded(candidate.order).dosages, meant)
