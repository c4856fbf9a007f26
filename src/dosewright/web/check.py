"""The check: the orders and the looks first, then the checker's own counts, and only then what differs. The filler's work is not shown."""

from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect

from dosewright.actions.check_card import OwnCheck, check_card, may_check
from dosewright.actions.check_plan import load_check_plan
from dosewright.core.checking.check_plan import CheckPlan
from dosewright.core.packing.plan_values import PackedCavity
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import CardNumber, OrderId
from dosewright.store.orders import load_order
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.card_map import CardMap, MapCell, Spot, draw_card
from dosewright.web.check_words import PlanWords, plan_words
from dosewright.web.dates import short_day
from dosewright.web.findings import with_names
from dosewright.web.order_lines import OrderLine, order_line
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion
from dosewright.web.rework_address import rework_address
from dosewright.web.seen_events import seen_events
from dosewright.web.typed import CountedIn, counts_typed

__all__ = ["CheckFirst", "CountScreen", "Differences", "check", "check_counts"]

_ALONE = frozenset({"checking.alone-needs-reason"})


@dataclass(frozen=True, slots=True)
class CheckFirst:
    """What to read before counting, and what is to be counted. `findings`: why this person may not check this card."""

    number: str
    lines: tuple[OrderLine, ...]
    findings: tuple[Finding, ...]
    may_count: bool
    plan: PlanWords


@dataclass(frozen=True, slots=True)
class CountScreen:
    """The empty card, a field in each cavity that is to be counted. `every`: the checker counts all where the plan lets some be left out.
    `alone`: the checker filled it, and the profile asks why. `seen`: how many events the card had when the counting began."""

    number: str
    map: CardMap
    token: str
    wrong: str
    alone: bool
    reason: str
    plan: PlanWords
    every: bool
    seen: int


@dataclass(frozen=True, slots=True)
class Differences:
    """What the counts and the orders do not agree on. `whole`: why every cavity is counted next, where some could be left out before."""

    number: str
    whole: str
    findings: tuple[Finding, ...]
    lines: tuple[OrderLine, ...]


def check(request: BenchRequest, number: str) -> HttpResponse:
    """The orders with something in this card; one that was put right is checked as such."""
    card = load_bench_card(CardNumber(number))
    if elsewhere := rework_address(card, "change-check"):
        return redirect(elsewhere)
    findings = may_check(card.stored, occasion(request))
    may_count = not any(finding.code not in _ALONE and blocks([finding]) for finding in findings)
    screen = CheckFirst(number, _lines(card), with_names(findings), may_count, plan_words(load_check_plan(card.stored, request.actor)))
    return show(request, "check/first.html", screen, strip=card.strip)


def check_counts(request: BenchRequest, number: str) -> HttpResponse:
    """The counts: a field for each cavity that the check plan demands, or for all; then the card is accepted, or what differs is shown."""
    card = load_bench_card(CardNumber(number))
    plan = load_check_plan(card.stored, request.actor)
    if request.method != "POST":
        return _ask(request, card, plan, "", 200)
    typed = counts_typed(request.POST, _fields(card, _wanted(request, plan)))
    if typed.wrong:
        return _ask(request, card, plan, typed.wrong, 422)
    outcome = check_card(
        card.stored.number, occasion(request), OwnCheck(typed.counts, request.POST.get("reason", ""), seen=seen_events(request))
    )
    if not outcome.done:
        now = plan_words(load_check_plan(card.stored, request.actor))
        screen = Differences(number, now.whole, with_names(outcome.findings), _lines(card))
        return show(request, "check/differences.html", screen, strip=card.strip, status=422)
    messages.success(request, f"{_counted(plan, len(typed.counts))} what the orders ask. Checked by {request.actor.name}.")
    return redirect("card", number)


def _counted(plan: CheckPlan, counted: int) -> str:
    of = len(plan.cavities)
    return f"All {of} cavities hold" if counted == of else f"The {counted} cavities counted, of {of}, hold"


def _wanted(request: BenchRequest, plan: CheckPlan) -> frozenset[Spot]:
    """What is counted: what the plan demands, and all where the checker would rather."""
    return plan.cavities if _every(request) else plan.demanded


def _every(request: BenchRequest) -> bool:
    return bool((request.POST or request.GET).get("every"))


def _fields(card: BenchCard, wanted: frozenset[Spot]) -> dict[Spot, CountedIn]:
    return {
        (cavity.row, cavity.column): CountedIn(f"c{cavity.row}-{cavity.column}", _say_cavity(card, cavity))
        for cavity in card.stored.card.cavities
        if (cavity.row, cavity.column) in wanted
    }


def _ask(request: BenchRequest, card: BenchCard, plan: CheckPlan, wrong: str, status: int) -> HttpResponse:
    fields = _fields(card, _wanted(request, plan))
    said = {
        (cavity.row, cavity.column): MapCell(
            cavity.row,
            cavity.column,
            open=True,
            place=request.POST.get(field.name, "").strip() if field else "",
            inside="" if field else "not drawn",
            spoken=_say_slot(card, cavity),
        )
        for cavity in card.stored.card.cavities
        for field in [fields.get((cavity.row, cavity.column))]
    }
    alone = any(finding.code in _ALONE for finding in may_check(card.stored, occasion(request)))
    drawn = draw_card(card.stored.card, card.rules.card_format, said)
    reason = request.POST.get("reason", "")
    seen = seen_events(request)
    began = card.stored.state.events if seen is None else seen
    screen = CountScreen(card.stored.number, drawn, new_token(), wrong, alone, reason, plan_words(plan), _every(request), began)
    return show(request, "check/counts.html", screen, strip=card.strip, status=status)


def _say_cavity(card: BenchCard, cavity: PackedCavity) -> str:
    """ "Mon 2 Mar, 08:00 morning"."""
    part = f", part {cavity.part} of {cavity.parts}" if cavity.parts > 1 else ""
    if card.stored.card.as_needed:
        return f"row {cavity.row}, {_say_slot(card, cavity)}{part}"
    return f"{short_day(cavity.day)}, {_say_slot(card, cavity)}{part}"


def _say_slot(card: BenchCard, cavity: PackedCavity) -> str:
    """ "08:00 morning"; where nothing is due, in which column."""
    return f"column {cavity.column}, {cavity.slot}" if card.stored.card.as_needed else f"{cavity.time:%H:%M} {cavity.slot}"


def _lines(card: BenchCard) -> tuple[OrderLine, ...]:
    orders = {content.order: content.medicine for cavity in card.stored.card.cavities for content in cavity.contents}
    ordered = sorted(orders, key=lambda order: (card.filling_order.index(orders[order]), order))
    return tuple(_line(card, order) for order in ordered)


def _line(card: BenchCard, order: OrderId) -> OrderLine:
    return order_line(load_order(order), card.rules.profile, card.times_of(order))
