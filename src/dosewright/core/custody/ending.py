"""Several orders of one person end together, begin again, or are put back as they were: suspended for a stay in hospital, resumed, the
whole regimen replaced at discharge, death, a change that is withdrawn.

Comes in: orders and moments. Goes out: the orders as they count from then on, and findings. Rhythms run on from where they began.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from datetime import date

from dosewright.core.custody.changing import Cause
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import OrderId, PersonId

__all__ = ["ENDED", "RESUMED", "EndAsk", "check_ending", "ends_by", "facts_of_ending", "put_back", "resumed", "still_suspended"]

ENDED, RESUMED = "orders ended", "orders resumed"
_TOGETHER = (Cause.SUSPENDED, Cause.DISCHARGED, Cause.DIED)


@dataclass(frozen=True, slots=True)
class EndAsk:
    """From when no dose is due any more, of which orders (all of them where it names none), what it is about, and why."""

    at: Moment
    cause: Cause
    reason: str
    only: frozenset[OrderId] = frozenset()


def ends_by(ask: EndAsk, orders: Iterable[Order]) -> tuple[Order, ...]:
    """The orders that end by it, as they then are; those that end earlier anyway, and those that begin later, too."""
    meant = (order for order in orders if not ask.only or order.id in ask.only)
    still = (order for order in meant if order.until is None or order.until > ask.at)
    return tuple(replace(order, until=max(ask.at, order.since) if order.since else ask.at) for order in still)


def check_ending(ask: EndAsk, ending: Collection[Order]) -> tuple[Finding, ...]:
    """Find a reason that is missing, a cause that ends nothing, and nothing to end: the same change that came before."""
    found: list[Finding] = []
    if not ask.reason.strip():
        found.append(Finding("custody.no-reason", Severity.STOP))
    if ask.cause not in _TOGETHER:
        names = tuple(one.value for one in _TOGETHER)
        found.append(Finding("custody.unknown-choice", Severity.STOP, facts={"choice": ask.cause.value, "choices": names}))
    if not ending:
        found.append(Finding("change.nothing-to-end", Severity.STOP))
    return tuple(found)


def facts_of_ending(person: PersonId, ask: EndAsk, before: Iterable[Order]) -> dict[str, Fact]:
    """Which orders, and until when each of them would have counted: what resuming needs."""
    ids, ends = zip(*((order.id, _written(order.until)) for order in before), strict=True)
    facts: dict[str, Fact] = {"person": person, "cause": ask.cause.value, "reason": ask.reason, "day": ask.at.day, "time": ask.at.time}
    return facts | {"orders": tuple(ids), "ends": tuple(ends)}


def _written(moment: Moment | None) -> str:
    return f"{moment.day} {moment.time:%H:%M}" if moment else ""


def still_suspended(ended: dict[str, Fact], orders: Iterable[Order]) -> tuple[tuple[Order, Moment | None], ...]:
    """The orders that a suspension ended and that nobody has touched since, each with the end that it had before."""
    known = {order.id: order for order in orders}
    at = (ended["day"], ended["time"])
    ids, ends = ended.get("orders"), ended.get("ends")
    if not isinstance(ids, tuple) or not isinstance(ends, tuple):
        return ()
    pairs = ((known.get(OrderId(one)), _read(end)) for one, end in zip(ids, ends, strict=True))
    return tuple((order, end) for order, end in pairs if order is not None and order.until and _is_at(order, at))


def _is_at(order: Order, at: tuple[Fact, Fact]) -> bool:
    """Whether it ended when the suspension began, or never began because of it."""
    return order.until is not None and ((order.until.day, order.until.time) == at or order.until == order.since)


def _read(text: str) -> Moment | None:
    if not text:
        return None
    day, clock = text.split()
    hour, minute = clock.split(":")
    return Moment(date.fromisoformat(day), type(Moment(date.min).time)(int(hour), int(minute)))


def resumed(order: Order, end: Moment | None, at: Moment) -> Order | None:
    """The order as it counts from the moment on; None where it would have ended meanwhile. Its rhythm runs from where it always ran."""
    if end is not None and end <= at:
        return None
    anchor = order.anchor or (order.since.day if order.since else None)
    return replace(order, since=max(at, order.since) if order.since and order.since > at else at, until=end, anchor=anchor)


def put_back(before: Iterable[Order], now: Iterable[Order]) -> tuple[Order, ...]:
    """What has to be saved so that the person's orders ask again what they asked before: the same orders as they were, and an end from the
    start for those that came since."""
    was = {order.id: order for order in before}
    changed = [was[order.id] for order in now if order.id in was and was[order.id] != order]
    new = [
        replace(order, until=order.since) for order in now if order.id not in was and order.since is not None and order.until != order.since
    ]
    endless = [
        replace(order, since=Moment(date.min), until=Moment(date.min)) for order in now if order.id not in was and order.since is None
    ]
    return (*changed, *new, *endless)
