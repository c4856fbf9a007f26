"""Something is wrong: what was laid into a card is taken out again. A card that came back is counted; what is left in one is destroyed."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.destroy_card import destroy_card
from dosewright.actions.take_out_medicine import TakenOut, take_out_medicine
from dosewright.actions.take_return import take_return
from dosewright.core.custody.cells import format_cells, parse_cells
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.packing.plan_values import PackedCavity
from dosewright.core.supply.movement import Place
from dosewright.core.supply.placement import Cell, Placed
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.dates import short_day
from dosewright.web.decision import Decision
from dosewright.web.findings import with_names
from dosewright.web.onward import onward
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion
from dosewright.web.typed import CountedIn, counts_typed, field_of

__all__ = ["CountedLine", "DestroyForm", "LaidIn", "ReturnScreen", "TakeOutScreen", "destroy", "return_card", "take_out"]


@dataclass(frozen=True, slots=True)
class LaidIn:
    """One medicine of one lot in this card: how much in how many cavities. `whole`: nothing but whole units, so they may go back."""

    medicine: str
    lot: str
    name: str
    amount: Fraction
    unit: str
    cavities: tuple[tuple[str, str], ...]
    whole: bool


@dataclass(frozen=True, slots=True)
class TakeOutScreen:
    """What lies in the card, to choose from; `chosen` is the one being taken out."""

    number: str
    laid: tuple[LaidIn, ...]
    chosen: LaidIn | None
    back_to_stock: bool
    findings: tuple[Finding, ...]
    token: str


@dataclass(frozen=True, slots=True)
class CountedLine:
    """One medicine in one cavity of a card that came back, and how much was laid in. No `day`: nothing was due, `slot` says the place."""

    field: str
    day: date | None
    slot: str
    name: str
    laid: Fraction
    typed: str


@dataclass(frozen=True, slots=True)
class ReturnScreen:
    """A field for what is left, cavity by cavity."""

    number: str
    lines: tuple[CountedLine, ...]
    wrong: str
    findings: tuple[Finding, ...]
    token: str


class DestroyForm(forms.Form):
    """Why, and before whom."""

    reason = forms.CharField(label="Why", max_length=1000)
    witness = forms.CharField(label="Witness", help_text="printed name of who watches", max_length=120)


def take_out(request: BenchRequest, number: str) -> HttpResponse:
    """Choose what, tick where, say why and whereto."""
    card = load_bench_card(CardNumber(number))
    laid = _laid(card)
    asked = (request.POST or request.GET).get("medicine", ""), (request.POST or request.GET).get("lot", "")
    chosen = next((one for one in laid if (one.medicine, one.lot) == asked), None)
    if request.method != "POST" or chosen is None:
        return _ask(request, card, chosen, ())
    try:
        cells = parse_cells(card.stored.number, tuple(request.POST.getlist("cell")))
    except ValueError:
        return _ask(request, card, chosen, (), status=422)
    to = Place.STOCK if request.POST.get("to") == "stock" else Place.WASTE
    what = TakenOut(MedicineCode(chosen.medicine), Lot(chosen.lot), cells, to, request.POST.get("reason", ""))
    outcome = take_out_medicine(card.stored.number, occasion(request), what)
    if not outcome.done:
        return _ask(request, card, chosen, outcome.findings, status=422)
    messages.success(request, f"Taken out of {len(cells)} cavit{'y' if len(cells) == 1 else 'ies'}: {chosen.name}.")
    return redirect("fill", number)


def return_card(request: BenchRequest, number: str) -> HttpResponse:
    """A card came back: what is left in it, cavity by cavity."""
    card = load_bench_card(CardNumber(number))
    if request.method != "POST":
        return _count(request, card, "", ())
    typed = counts_typed(request.POST, _fields(card))
    if typed.wrong:
        return _count(request, card, typed.wrong, (), status=422)
    outcome = take_return(card.stored.number, occasion(request), typed.counts)
    if not outcome.done:
        return _count(request, card, "", outcome.findings, status=422)
    messages.success(request, f"Card {format_card_number(card.stored.number)} is back. What is left in it waits to be destroyed.")
    return redirect(onward(request.actor.role, card.stored.number))


def destroy(request: BenchRequest, number: str) -> HttpResponse:
    """What is left is destroyed, before a witness."""
    card = load_bench_card(CardNumber(number))
    form = DestroyForm(request.POST or None)
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        outcome = destroy_card(card.stored.number, occasion(request), form.cleaned_data["reason"], form.cleaned_data["witness"])
        if outcome.done:
            messages.success(request, "Destroyed.")
            return redirect("card", number)
        findings = outcome.findings
    action, back = reverse("destroy", args=[number]), reverse("card", args=[number])
    about = "Everything left in the card is waste from then on."
    ask = Decision("Destroy what is in the card.", about, action, "It is destroyed", back, form, new_token(), with_names(findings))
    return show(request, "decision.html", ask, strip=card.strip, status=422 if request.method == "POST" else 200)


def _laid(card: BenchCard) -> tuple[LaidIn, ...]:
    groups: dict[tuple[MedicineCode, Lot], dict[Cell, Fraction]] = defaultdict(lambda: defaultdict(Fraction))
    for units in card.stored.state.placed:
        groups[units.medicine, units.lot][units.cell] += units.amount
    return tuple(_group(card, code, lot, cells) for (code, lot), cells in sorted(groups.items()))


def _group(card: BenchCard, code: MedicineCode, lot: Lot, cells: dict[Cell, Fraction]) -> LaidIn:
    days = {(cavity.row, cavity.column): _say_cavity(card, cavity) for cavity in card.stored.card.cavities}
    cavities = tuple(zip(format_cells(cells), (days[cell.row, cell.column] for cell in sorted(cells)), strict=True))
    whole = all(amount.denominator == 1 for amount in cells.values())
    unit = card.medicines[code].unit
    return LaidIn(code, lot, card.name_of(code), sum(cells.values(), Fraction(0)), unit, cavities, whole)


def _ask(request: BenchRequest, card: BenchCard, chosen: LaidIn | None, findings: tuple[Finding, ...], status: int = 200) -> HttpResponse:
    back = not (card.stored.state.sealed_once or card.stored.state.left)
    screen = TakeOutScreen(card.stored.number, _laid(card), chosen, back, with_names(findings), new_token())
    return show(request, "fill/take_out.html", screen, strip=card.strip, status=status)


def _fields(card: BenchCard) -> dict[Cell, CountedIn]:
    where = {(cavity.row, cavity.column): _say_cavity(card, cavity) for cavity in card.stored.card.cavities}
    held = {units.cell: units.medicine for units in card.stored.state.placed}
    return {
        cell: CountedIn(field_of(cell), f"{where[cell.row, cell.column]}, {card.name_of(medicine)}")
        for cell, medicine in sorted(held.items())
    }


def _count(request: BenchRequest, card: BenchCard, wrong: str, findings: tuple[Finding, ...], status: int = 200) -> HttpResponse:
    laid: dict[Cell, list[Placed]] = defaultdict(list)
    for units in card.stored.state.placed:
        laid[units.cell].append(units)
    where = {(cavity.row, cavity.column): _due(card, cavity) for cavity in card.stored.card.cavities}
    lines = tuple(_counted(request, card, cell, held, where[cell.row, cell.column]) for cell, held in sorted(laid.items()))
    screen = ReturnScreen(card.stored.number, lines, wrong, with_names(findings), new_token())
    return show(request, "card/return.html", screen, strip=card.strip, status=status)


def _due(card: BenchCard, cavity: PackedCavity) -> tuple[date | None, str]:
    """Day and dosing time; where nothing is due, the place on the card."""
    if card.stored.card.as_needed:
        return None, f"row {cavity.row}, column {cavity.column}, {cavity.slot}"
    return cavity.day, str(cavity.slot)


def _say_cavity(card: BenchCard, cavity: PackedCavity) -> str:
    day, said = _due(card, cavity)
    return f"{short_day(day)}, {said}" if day else said


def _counted(request: BenchRequest, card: BenchCard, cell: Cell, held: list[Placed], where: tuple[date | None, str]) -> CountedLine:
    laid = sum((units.amount for units in held), Fraction(0))
    return CountedLine(field_of(cell), *where, card.name_of(held[0].medicine), laid, request.POST.get(field_of(cell), ""))
