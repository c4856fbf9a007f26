"""The check: the orders and the looks first, then the checker's own counts, and only then what differs. The filler's work is not shown."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect

from dosewright.actions.check_card import OwnCheck, check_card, may_check
from dosewright.core.packing.plan_values import PackedCavity
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import CardNumber, OrderId
from dosewright.core.units.quantity import parse_amount
from dosewright.store.orders import load_order
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.card_map import CardMap, MapCell, Spot, draw_card
from dosewright.web.findings import with_names
from dosewright.web.order_lines import OrderLine, order_line
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion
from dosewright.web.rework_address import rework_address

__all__ = ["CheckFirst", "CountScreen", "Differences", "check", "check_counts"]

_ALONE = frozenset({"checking.alone-needs-reason"})


@dataclass(frozen=True, slots=True)
class CheckFirst:
    """What to read before counting. `findings`: why this person may not check this card."""

    number: str
    lines: tuple[OrderLine, ...]
    findings: tuple[Finding, ...]
    may_count: bool


@dataclass(frozen=True, slots=True)
class CountScreen:
    """The empty card, a field in each cavity. `alone`: the checker filled it, and the profile asks why."""

    number: str
    map: CardMap
    token: str
    wrong: str
    alone: bool
    reason: str


@dataclass(frozen=True, slots=True)
class Differences:
    """What the counts and the orders do not agree on."""

    number: str
    findings: tuple[Finding, ...]
    lines: tuple[OrderLine, ...]


def check(request: BenchRequest, number: str) -> HttpResponse:
    """The orders with something in this card; one that was put right is checked as such."""
    card = load_bench_card(CardNumber(number))
    if elsewhere := rework_address(card, "change-check"):
        return redirect(elsewhere)
    findings = may_check(card.stored, occasion(request))
    may_count = not any(finding.code not in _ALONE and blocks([finding]) for finding in findings)
    return show(request, "check/first.html", CheckFirst(number, _lines(card), with_names(findings), may_count), strip=card.strip)


def check_counts(request: BenchRequest, number: str) -> HttpResponse:
    """The counts: a field for each cavity, then the card is accepted, or what differs is laid out."""
    card = load_bench_card(CardNumber(number))
    if request.method != "POST":
        return _ask(request, card, {}, "", 200)
    typed = {spot: request.POST.get(f"c{spot[0]}-{spot[1]}", "").strip() for spot in _spots(card)}
    try:
        counts = {spot: _count(text) for spot, text in typed.items() if text}
    except ValueError:
        return _ask(request, card, typed, "A count is a number like 2, or 0.5 for a half. Mend the field that holds something else.", 422)
    if missing := len(typed) - len(counts):
        return _ask(request, card, typed, f"{missing} of {len(typed)} cavities not counted. Write 0 where a cavity is empty.", 422)
    outcome = check_card(card.stored.number, occasion(request), OwnCheck(counts, request.POST.get("reason", "")))
    if not outcome.done:
        screen = Differences(number, with_names(outcome.findings), _lines(card))
        return show(request, "check/differences.html", screen, strip=card.strip, status=422)
    messages.success(request, f"All {len(counts)} cavities hold what the orders ask. Checked by {request.actor.name}.")
    return redirect("card", number)


def _ask(request: BenchRequest, card: BenchCard, typed: Mapping[Spot, str], wrong: str, status: int) -> HttpResponse:
    said = {
        (cavity.row, cavity.column): MapCell(
            cavity.row,
            cavity.column,
            open=True,
            place=typed.get((cavity.row, cavity.column), ""),
            spoken=_say_slot(card, cavity),
        )
        for cavity in card.stored.card.cavities
    }
    alone = any(finding.code in _ALONE for finding in may_check(card.stored, occasion(request)))
    drawn = draw_card(card.stored.card, card.rules.card_format, said)
    screen = CountScreen(card.stored.number, drawn, new_token(), wrong, alone, request.POST.get("reason", ""))
    return show(request, "check/counts.html", screen, strip=card.strip, status=status)


def _say_slot(card: BenchCard, cavity: PackedCavity) -> str:
    """ "08:00 morning"; where nothing is due, in which column."""
    return f"column {cavity.column}, {cavity.slot}" if card.stored.card.as_needed else f"{cavity.time:%H:%M} {cavity.slot}"


def _spots(card: BenchCard) -> tuple[Spot, ...]:
    return tuple((cavity.row, cavity.column) for cavity in card.stored.card.cavities)


def _count(text: str) -> Fraction:
    """ "2", "0.5", "1/2", "½": what people write for a count. Raises ValueError."""
    return parse_amount(text.replace(",", ".").replace("½", ".5" if text[0] != "½" else "0.5"))


def _lines(card: BenchCard) -> tuple[OrderLine, ...]:
    orders = {content.order: content.medicine for cavity in card.stored.card.cavities for content in cavity.contents}
    ordered = sorted(orders, key=lambda order: (card.filling_order.index(orders[order]), order))
    return tuple(_line(card, order) for order in ordered)


def _line(card: BenchCard, order: OrderId) -> OrderLine:
    return order_line(load_order(order), card.rules.profile, card.times_of(order))
