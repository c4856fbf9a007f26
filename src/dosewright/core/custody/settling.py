"""An order's standing: waiting until a pharmacist settles it, once. What is written about it in the ledger."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from dosewright.core.custody.confirming import Confirmation
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import OrderId

__all__ = ["check_stopping", "check_waiting", "end_at", "facts_of_order"]


def check_waiting(order: OrderId, standing: str) -> tuple[Finding, ...]:
    """A stop where somebody has settled the order already."""
    if standing == "waiting":
        return ()
    return (Finding("custody.already-settled", Severity.STOP, {"order": order}, {"standing": standing}),)


def check_stopping(order: Order, standing: str, at: Moment, reason: str) -> tuple[Finding, ...]:
    """Find an order that does not count, one that would end before it begins, and a missing reason."""
    return tuple(_check_stopping(order, standing, at, reason))


def _check_stopping(order: Order, standing: str, at: Moment, reason: str) -> Iterator[Finding]:
    if standing != "confirmed":
        yield Finding("custody.not-confirmed", Severity.STOP, {"order": order.id})
    if order.since is not None and at < order.since:
        yield Finding("custody.end-before-start", Severity.STOP, {"order": order.id})
    if not reason.strip():
        yield Finding("custody.no-reason", Severity.STOP, {"order": order.id})


def end_at(order: Order, at: Moment) -> Order:
    """The order, ending then: the dose at that moment is not given any more. An earlier end stays."""
    return order if order.until is not None and order.until <= at else replace(order, until=at)


def facts_of_order(order: Order, said: Confirmation, structure: tuple[str, ...], against: Iterable[Finding]) -> dict[str, Fact]:
    """Whose order, for what, in which words; the `structure` that counts from now on, written out dosage by dosage; from when until when;
    what the pharmacist chose, by which remembered wording, and what stood `against` it that the reason answers."""
    return {
        "person": order.person,
        "medicine": order.medicine,
        "text": order.text,
        "structure": structure,
        "since": _written(order.since),
        "until": _written(order.until),
        "anchor": order.anchor,
        "choice": said.choice,
        "reason": said.reason,
        "replaces": said.replaces,
        "restated": said.restated is not None,
        "wording": said.wording,
        "against": tuple(finding.code for finding in against if finding.severity is Severity.DECIDE),
    }


def _written(moment: Moment | None) -> str | None:
    return f"{moment.day} {moment.time:%H:%M}" if moment else None
