"""A card that was called back is here: what is left in it, cavity by cavity, beside what the record of doses says."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect

from dosewright.actions.take_back_card import CameBack, take_back_card
from dosewright.core.custody.event import Deed
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.reconciling import Returned
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber
from dosewright.store.changes import find_open_change
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.dates import short_day
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion
from dosewright.web.typed import CountedIn, counts_typed, field_of

__all__ = ["BackCavity", "BackScreen", "BackUnits", "take_back"]


@dataclass(frozen=True, slots=True)
class BackUnits:
    """One medicine in a cavity: how much was laid in; a field for what is left."""

    field: str
    name: str
    laid: Fraction
    typed: str


@dataclass(frozen=True, slots=True)
class BackCavity:
    """One cavity: when it was due; whether the record has it as given, as it was ticked."""

    spot: str
    day: date
    slot: str
    units: tuple[BackUnits, ...]
    recorded: bool


@dataclass(frozen=True, slots=True)
class BackScreen:
    """The card that came back. `blocked`: it cannot come back as it stands."""

    number: CardNumber
    change: int | None
    cavities: tuple[BackCavity, ...]
    blocked: tuple[Finding, ...]
    findings: tuple[Finding, ...]
    wrong: str
    typed: str
    token: str


def take_back(request: BenchRequest, number: str) -> HttpResponse:
    """Count it, tick what the record has as given."""
    card = load_bench_card(CardNumber(number))
    if request.method != "POST":
        return _ask(request, card)
    where = {(cavity.row, cavity.column): f"{short_day(cavity.day)}, {cavity.slot}" for cavity in card.stored.card.cavities}
    typed = counts_typed(request.POST, {cell: CountedIn(field_of(cell), _said(card, cell, where)) for cell in _cells(card)})
    if typed.wrong:
        return _ask(request, card, wrong=typed.wrong)
    ticked = set(request.POST.getlist("recorded"))
    recorded = frozenset(spot for spot in where if f"{spot[0]}-{spot[1]}" in ticked)
    what = CameBack(Returned(typed.counts, recorded), request.POST.get("reason", "")[:1000])
    outcome = take_back_card(card.stored.number, occasion(request), what)
    if not outcome.done:
        return _ask(request, card, findings=outcome.findings)
    messages.success(request, f"Card {format_card_number(card.stored.number)} is back and reconciled. It is put right for the same person.")
    change = find_open_change(card.stored.person.id)
    return redirect("change", change.id) if change else redirect("card", number)


def _said(card: BenchCard, cell: Cell, where: Mapping[tuple[int, int], str]) -> str:
    """ "Mon 2 Mar, morning, bisoprolol 5 mg tablet"."""
    medicine = next(units.medicine for units in card.stored.state.placed if units.cell == cell)
    name = card.name_of(medicine) if medicine in card.medicines else medicine
    return f"{where.get((cell.row, cell.column), f'row {cell.row}, column {cell.column}')}, {name}"


def _cells(card: BenchCard) -> tuple[Cell, ...]:
    return tuple(sorted({units.cell for units in card.stored.state.placed}))


def _ask(request: BenchRequest, card: BenchCard, *, findings: tuple[Finding, ...] = (), wrong: str = "") -> HttpResponse:
    change = find_open_change(card.stored.person.id)
    screen = BackScreen(
        number=card.stored.number,
        change=change.id if change else None,
        cavities=_cavities(request, card),
        blocked=with_names(check_follows(card.stored.state, Deed.CAME_BACK)),
        findings=with_names(findings),
        wrong=wrong,
        typed=request.POST.get("reason", "")[:1000],
        token=new_token(),
    )
    return show(request, "change/back.html", screen, strip=card.strip, status=422 if findings or wrong else 200)


def _cavities(request: BenchRequest, card: BenchCard) -> tuple[BackCavity, ...]:
    laid: dict[Cell, tuple[str, Fraction]] = {}
    for units in card.stored.state.placed:
        before = laid.get(units.cell, ("", Fraction(0)))[1]
        laid[units.cell] = (card.name_of(units.medicine) if units.medicine in card.medicines else units.medicine, before + units.amount)
    ticked = set(request.POST.getlist("recorded"))
    found = []
    for cavity in card.stored.card.cavities:
        cells = [cell for cell in sorted(laid) if (cell.row, cell.column) == (cavity.row, cavity.column)]
        lines = tuple(BackUnits(field_of(cell), *laid[cell], request.POST.get(field_of(cell), "")) for cell in cells)
        spot = f"{cavity.row}-{cavity.column}"
        found += [BackCavity(spot, cavity.day, f"{cavity.time:%H:%M} {cavity.slot}", lines, spot in ticked)] if lines else []
    return tuple(found)
