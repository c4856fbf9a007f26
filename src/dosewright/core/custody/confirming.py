"""A pharmacist confirms what was read: which structure counts, from when, and beside or instead of which order (R13).

Comes in: an order as received with its reading, what the pharmacist says, the person's other confirmed orders. Goes out: the order as it
counts from now on, or the findings why it cannot. Nothing is guessed: what several readings leave open, somebody chooses.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from dosewright.core.custody.conflicts import Known, check_conflicts
from dosewright.core.custody.meanings import LaidOut, choices_of, lay_out_meanings, schedule_of
from dosewright.core.custody.replacing import held_alike, of_one_substance
from dosewright.core.custody.wordings import Wording, choice_by
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.reading_values import Reading, ReadingStatus
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.finding import Finding, Severity, blocks
from dosewright.core.units.ids import OrderId

__all__ = ["Around", "Confirmation", "Settled", "Standing", "alike", "asked_beside_reading", "check_against", "choices_of", "settle"]


@dataclass(frozen=True, slots=True)
class Confirmation:
    """What the pharmacist says. `choice` counts the meanings laid out (None where there was one). `replaces`: the order that this one takes
    the place of; `beside`: it is meant to count together with the others for the same medicine. `restated` is the reading of directions
    that the pharmacist wrote anew, where what was received cannot be used; the text as received stays on record. `wording`: the number of
    the remembered wording by which the choice was made, where it was."""

    choice: int | None = None
    reason: str = ""
    since: Moment | None = None
    until: Moment | None = None
    anchor: date | None = None
    replaces: OrderId | None = None
    beside: bool = False
    restated: Reading | None = None
    wording: int | None = None


@dataclass(frozen=True, slots=True)
class Standing:
    """A remembered wording that is in force, and its number."""

    number: int
    wording: Wording


@dataclass(frozen=True, slots=True)
class Around:
    """What the order is confirmed among: the person's other confirmed orders, their dosing times, the day; what was found about the order
    when it came in; what is `known` of products and rules (None: nothing is held against them); what the `words` beside a structure say
    when they are read alone; the wording that is remembered for these words."""

    others: Sequence[Order]
    timetable: Timetable
    today: date
    found: tuple[Finding, ...] = ()
    known: Known | None = None
    words: Reading | None = None
    wording: Standing | None = None


@dataclass(frozen=True, slots=True)
class Settled:
    """`order` is None where it cannot be confirmed; `findings` say why, or what was noted. `replaced` ends when the new order begins."""

    order: Order | None
    replaced: Order | None = None
    findings: tuple[Finding, ...] = ()


def settle(order: Order, reading: Reading | None, said: Confirmation, around: Around) -> Settled:
    """The order with the structure that counts. It must be schedulable from today, or from its start where that is later; a rhythm or a
    course must have a day from which it runs, or it would begin anew with every cycle. What stands against it needs a reason."""
    laid = lay_out_meanings(order, reading, around.words, around.timetable, around.today)
    kept = replace(_dated(order, said), dosages=_dosages(order, laid, reading, said))
    findings = (
        *_about_reading(kept, laid, reading, said),
        *_about_wording(reading, said, around),
        *_about_others(kept, said, around),
    )
    if kept.dosages and not blocks(findings):
        findings += _about_schedule(kept, around)
    against = check_against(kept, said.replaces, around) if kept.dosages and not blocks(findings) else ()
    findings += against
    if not said.reason.strip() and (said.restated is not None or _needs_reason(laid, against, around.found)):
        findings += (_stop("custody.no-reason", order),)
    if blocks(findings):
        return Settled(None, findings=findings)
    replaced = next((other for other in around.others if other.id == said.replaces), None)
    return Settled(kept, replace(replaced, until=kept.since) if replaced else None, findings)


def _dated(order: Order, said: Confirmation) -> Order:
    """Rhythms run from the day that the pharmacist names, else from where the order has them run, else from its start."""
    since = said.since or order.since
    anchor = said.anchor or order.anchor or (said.since.day if said.since else None)
    return replace(order, since=since, until=said.until or order.until, anchor=anchor)


def _needs_reason(laid: LaidOut, against: tuple[Finding, ...], found: tuple[Finding, ...]) -> bool:
    """Words and structure that disagree, whatever stands against the order now, and what was asked about it when it came in."""
    return asked_beside_reading(found) or laid.apart or any(finding.severity is Severity.DECIDE for finding in against)


def asked_beside_reading(found: tuple[Finding, ...]) -> bool:
    """Whether something was asked about an order when it came in beside the questions of its reading: those are answered by choosing."""
    return any(one.severity is Severity.DECIDE and not one.code.startswith(("read.", "order.directions-open")) for one in found)


def _dosages(order: Order, laid: LaidOut, reading: Reading | None, said: Confirmation) -> tuple[Dosage, ...]:
    if said.restated is not None:
        return said.restated.dosages
    if not laid.apart and (order.dosages or (reading is not None and reading.status is ReadingStatus.READ)):
        return laid.meanings[0] if laid.meanings else ()
    chosen = said.choice is not None and 0 <= said.choice < len(laid.meanings)
    return laid.meanings[said.choice] if chosen and said.choice is not None else ()


def _about_reading(order: Order, laid: LaidOut, reading: Reading | None, said: Confirmation) -> Iterator[Finding]:
    if said.restated is not None:
        if said.restated.status is not ReadingStatus.READ:
            yield _stop("custody.restated-not-read", order)
    elif reading is not None and reading.status is ReadingStatus.REFUSE:
        yield _stop("custody.reading-refused", order)
    elif not order.dosages:
        yield _stop("custody.words-and-structure" if laid.apart else "custody.reading-not-chosen", order)


def _about_wording(reading: Reading | None, said: Confirmation, around: Around) -> Iterator[Finding]:
    """A choice made by a remembered wording counts only while that wording is in force and says so of this very reading."""
    if said.wording is None or said.restated is not None:
        return
    standing = around.wording
    if standing is None or standing.number != said.wording or said.choice is None or choice_by(standing.wording, reading) != said.choice:
        yield Finding("custody.wording-gone", Severity.STOP)


def alike(order: Order, around: Around) -> tuple[Order, ...]:
    """The person's confirmed orders that are in force together with this one and hold the same substance: of them somebody must say
    whether this one replaces them or counts beside them."""
    return tuple(other for other in held_alike(order, around.others, around.today) if _one_substance(order, other, around.known))


def _one_substance(order: Order, other: Order, known: Known | None) -> bool:
    if order.medicine == other.medicine:
        return True
    if known is None or not {order.medicine, other.medicine} <= set(known.medicines):
        return False
    return of_one_substance(known.medicines[order.medicine], known.medicines[other.medicine], known.rules.blends)


def _about_others(order: Order, said: Confirmation, around: Around) -> Iterator[Finding]:
    same = alike(order, around)
    if said.replaces is not None and said.replaces not in {other.id for other in around.others}:
        yield Finding("custody.not-there", Severity.STOP, {"order": order.id}, {"kind": "order", "id": said.replaces})
    if said.replaces is not None and order.since is None:
        yield _stop("custody.replacing-needs-start", order)
    if same and said.replaces is None and not said.beside:
        names = tuple(other.id for other in same)
        code = "custody.same-medicine" if any(other.medicine == order.medicine for other in same) else "custody.same-substance"
        yield Finding(code, Severity.STOP, {"order": order.id}, {"orders": names, "medicine": order.medicine})


def _about_schedule(order: Order, around: Around) -> tuple[Finding, ...]:
    found = schedule_of(order, around.timetable, around.today)
    if any(assumed.code == "assumed.anchor" for assumed in found.assumed):
        return (_stop("custody.needs-start", order),)
    if found.status in {ExpansionStatus.SCHEDULED, ExpansionStatus.AS_NEEDED}:
        return ()
    return (_stop("custody.not-schedulable", order), *found.findings)


def check_against(order: Order, replaces: OrderId | None, around: Around) -> tuple[Finding, ...]:
    """What stands against the order as it would count, the one that it replaces ended."""
    if around.known is None:
        return ()
    first = max(around.today, order.since.day) if order.since else around.today
    held = [other for other in around.others if other.id != order.id]
    others = tuple(replace(other, until=order.since) if other.id == replaces and order.since else other for other in held)
    return check_conflicts(order, others, around.known, around.timetable, first)


def _stop(code: str, order: Order) -> Finding:
    return Finding(code, Severity.STOP, {"order": order.id})
