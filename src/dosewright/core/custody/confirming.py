"""A pharmacist confirms what was read: which structure counts, from when, and beside or instead of which order (R13).

Comes in: an order as received with its reading, what the pharmacist says, the person's other confirmed orders. Goes out: the order as it
counts from now on, or the findings why it cannot. Nothing is guessed: what several readings leave open, somebody chooses.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.reading_values import Choice, Reading, ReadingStatus
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.finding import Finding, Severity, blocks
from dosewright.core.units.ids import OrderId

__all__ = ["Around", "Confirmation", "Settled", "choices_of", "settle"]

_LOOK_AHEAD = 28  # days over which the order must be schedulable before it is confirmed: one cycle


@dataclass(frozen=True, slots=True)
class Confirmation:
    """What the pharmacist says. `choice` counts the readings laid out (None where there was one). `replaces`: the order that this one takes
    the place of; `beside`: it is meant to count together with the others for the same medicine. `restated` is the reading of directions
    that the pharmacist wrote anew, where what was received cannot be used; the text as received stays on record."""

    choice: int | None = None
    reason: str = ""
    since: Moment | None = None
    until: Moment | None = None
    anchor: date | None = None
    replaces: OrderId | None = None
    beside: bool = False
    restated: Reading | None = None


@dataclass(frozen=True, slots=True)
class Around:
    """What the order is confirmed among: the person's other confirmed orders, their dosing times, the day; and what was found about the
    order when it came in."""

    others: Sequence[Order]
    timetable: Timetable
    today: date
    found: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Settled:
    """`order` is None where it cannot be confirmed; `findings` say why, or what was noted. `replaced` ends when the new order begins."""

    order: Order | None
    replaced: Order | None = None
    findings: tuple[Finding, ...] = ()


def choices_of(reading: Reading | None) -> tuple[Choice, ...]:
    """All readings laid out, question after question: what `Confirmation.choice` counts, from 0."""
    return tuple(choice for question in reading.questions for choice in question.choices) if reading else ()


def settle(order: Order, reading: Reading | None, said: Confirmation, around: Around) -> Settled:
    """The order with the structure that counts. It must be schedulable from today, or from its start where that is later; a rhythm or a
    course must have a day from which it runs, or it would begin anew with every cycle."""
    dosages = _dosages(order, reading, said)
    kept = replace(_dated(order, said), dosages=dosages)
    findings = (*_about_reading(kept, reading, said), *_about_receipt(order, said, around.found), *_about_others(kept, said, around.others))
    if dosages and not blocks(findings):
        findings += _about_schedule(kept, around)
    if blocks(findings):
        return Settled(None, findings=findings)
    replaced = next((other for other in around.others if other.id == said.replaces), None)
    return Settled(kept, replace(replaced, until=kept.since) if replaced else None, findings)


def _dated(order: Order, said: Confirmation) -> Order:
    """Rhythms run from the day that the pharmacist names, else from where the order has them run, else from its start."""
    since = said.since or order.since
    anchor = said.anchor or order.anchor or (said.since.day if said.since else None)
    return replace(order, since=since, until=said.until or order.until, anchor=anchor)


def _about_receipt(order: Order, said: Confirmation, found: tuple[Finding, ...]) -> Iterator[Finding]:
    """A structure that came with a question about it is confirmed with a reason only."""
    if order.dosages and not said.reason.strip() and any(finding.severity is Severity.DECIDE for finding in found):
        yield _stop("custody.no-reason", order)


def _dosages(order: Order, reading: Reading | None, said: Confirmation) -> tuple[Dosage, ...]:
    if said.restated is not None:
        return said.restated.dosages
    if order.dosages or reading is None:
        return order.dosages
    if reading.status is ReadingStatus.READ:
        return reading.dosages
    choices = choices_of(reading)
    chosen = said.choice is not None and 0 <= said.choice < len(choices)
    return choices[said.choice].dosages if chosen and said.choice is not None else ()


def _about_reading(order: Order, reading: Reading | None, said: Confirmation) -> Iterator[Finding]:
    if said.restated is not None:
        if said.restated.status is not ReadingStatus.READ:
            yield _stop("custody.restated-not-read", order)
        if not said.reason.strip():
            yield _stop("custody.no-reason", order)
    elif reading is not None and reading.status is ReadingStatus.REFUSE:
        yield _stop("custody.reading-refused", order)
    elif not order.dosages:
        yield _stop("custody.reading-not-chosen", order)


def _about_others(order: Order, said: Confirmation, others: Sequence[Order]) -> Iterator[Finding]:
    same = [other for other in others if other.medicine == order.medicine and _overlap(order, other)]
    if said.replaces is not None and said.replaces not in {other.id for other in others}:
        yield Finding("custody.not-there", Severity.STOP, {"order": order.id}, {"kind": "order", "id": said.replaces})
    if said.replaces is not None and order.since is None:
        yield _stop("custody.replacing-needs-start", order)
    if same and said.replaces is None and not said.beside:
        names = tuple(other.id for other in same)
        yield Finding("custody.same-medicine", Severity.STOP, {"order": order.id}, {"orders": names, "medicine": order.medicine})


def _overlap(one: Order, other: Order) -> bool:
    starts = one.until is None or other.since is None or other.since < one.until
    return starts and (other.until is None or one.since is None or one.since < other.until)


def _about_schedule(order: Order, around: Around) -> tuple[Finding, ...]:
    first = max(around.today, order.since.day) if order.since else around.today
    found = expand(order, around.timetable, first, _LOOK_AHEAD)
    if any(assumed.code == "assumed.anchor" for assumed in found.assumed):
        return (_stop("custody.needs-start", order),)
    if found.status in {ExpansionStatus.SCHEDULED, ExpansionStatus.AS_NEEDED}:
        return ()
    return (_stop("custody.not-schedulable", order), *found.findings)


def _stop(code: str, order: Order) -> Finding:
    return Finding(code, Severity.STOP, {"order": order.id})
