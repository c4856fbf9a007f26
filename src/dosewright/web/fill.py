"""Filling a card: scan the bottle, place one medicine over the map, say that it is done, stop anywhere and go on anywhere."""

from dataclasses import replace
from fractions import Fraction

from django.contrib import messages
from django.http import HttpResponse, HttpResponseBadRequest
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode
from django_htmx.http import HttpResponseClientRedirect

from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.outcome import Outcome
from dosewright.actions.place_medicine import Placement, place_medicine
from dosewright.actions.scan_bottle import Bottle, may_use, scan_bottle
from dosewright.core.checking.still_open import still_open
from dosewright.core.custody.cells import parse_cells
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.supply.placement import Cell
from dosewright.core.units.amount_words import format_count
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import CardNumber, MedicineCode
from dosewright.store.cards_at_hand import load_cards_of
from dosewright.store.catalogue import load_medicine
from dosewright.store.missing import Missing
from dosewright.store.work import set_of
from dosewright.web.batch import batch_place, next_in_batch, parse_batch
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.fill_screen import FillScreen, Halt, fill_screen
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion, today
from dosewright.web.rework_address import rework_address
from dosewright.web.scanned import BottleForm, InHand, PlaceForm, in_hand, read_card_number, unnamed

__all__ = ["fill", "fill_scan", "filled", "place"]


def fill(request: BenchRequest, number: str) -> HttpResponse:
    """The card as it stands, with the next medicine; with a bottle in the address, that bottle in the hand; `bare`: one without a code."""
    card = load_bench_card(CardNumber(number))
    if elsewhere := rework_address(card, "change-card"):
        return redirect(elsewhere)
    bottle = in_hand({}, today(request)) if "bare" in request.GET else _bottle_in_the_address(request, card)
    wanted = request.GET.get("medicine", "")
    if _batch(request) and not _asks(card, wanted):
        return _go(request, batch_place(_batch(request)))
    return _show(request, card, fill_screen(card, new_token(), wanted=wanted, bottle=bottle))


def fill_scan(request: BenchRequest, number: str) -> HttpResponse:
    """A scan: another card is gone to; the right bottle is in the hand now; a wrong one is a clear stop."""
    if other := read_card_number(request.POST.get("scan", "")):
        batch = _batch(request)
        there = reverse("fill", args=[other])
        return _go(request, f"{there}?{urlencode({'medicine': request.POST.get('medicine', ''), 'batch': batch})}" if batch else there)
    card = load_bench_card(CardNumber(number))
    form = BottleForm(request.POST)
    wanted = request.POST.get("medicine", "")
    if not form.is_valid() or wanted not in card.medicines:
        return HttpResponseBadRequest("a scan needs the medicine that it is for")
    bottle = in_hand(form.cleaned_data, today(request))
    findings = bottle.findings if blocks(bottle.findings) else _try_bottle(request, card, MedicineCode(wanted), bottle).findings
    halt = Halt(_title(findings), with_names(findings)) if blocks(findings) else None
    screen = fill_screen(card, new_token(), wanted=wanted, bottle=bottle, halt=halt)
    return _show(request, card, replace(screen, partly=screen.partly or "partly" in request.POST), status=422 if halt else 200)


def place(request: BenchRequest, number: str) -> HttpResponse:
    """The cells that were seen open are full now: all of them, or those that were ticked."""
    set_id, cards = set_of(CardNumber(number))
    form = PlaceForm(request.POST)
    if not form.is_valid():
        return HttpResponseBadRequest("a placement needs its medicine, lot and expiry")
    medicine, bottle = load_medicine(MedicineCode(form.cleaned_data["medicine"])), unnamed(form.cleaned_data, today(request))
    if blocks(bottle.findings):  # two packs' codes run together, or half a code: nobody knows what is in the hand
        return _halted(request, load_bench_card(CardNumber(number)), medicine.code, bottle, bottle.findings)
    try:
        cells = _ticked(request, parse_cells(CardNumber(number), tuple(request.POST.getlist("cell"))))
    except ValueError:
        return HttpResponseBadRequest("a cell is written as row.column=amount=order")
    what = Placement(medicine.code, bottle.lot, form.cleaned_data["expiry"], bottle.proof, cells)
    outcome = place_medicine(set_id, occasion(request), what)
    if not outcome.done:
        bottle = in_hand(form.cleaned_data, today(request))
        return _halted(request, load_bench_card(CardNumber(number)), medicine.code, bottle, outcome.findings)
    messages.success(request, f"{format_count(sum(cells.values(), Fraction(0))).capitalize()} placed: {medicine.label}.")
    return _go(request, _after_placing(request, CardNumber(number), medicine.code, bottle, set_id if cards > 1 else None))


def _after_placing(request: BenchRequest, number: CardNumber, medicine: MedicineCode, bottle: InHand, others: int | None) -> str:
    """Where the hand goes on: the same medicine here, the next card of the batch or of the set that asks for it, or the card's next.
    `others`: the set, where it has more cards."""
    here = reverse("fill", args=[number])
    if "partly" in request.POST:
        return f"{here}?{urlencode({'medicine': medicine, 'batch': _batch(request)})}"
    if batch := _batch(request):
        return _next_of_batch(batch, number, medicine, bottle)
    return (others is not None and _next_card(others, number, medicine, bottle)) or here


def _batch(request: BenchRequest) -> str:
    """The batch that the card is filled with; "" where it is filled alone, or where that is no batch."""
    written = (request.POST.get("batch") or request.GET.get("batch") or "")[:230]
    try:
        parse_batch(written)
    except Missing:
        return ""
    return written


def _asks(card: BenchCard, medicine: str) -> bool:
    """Whether the card still asks for it: a batch goes on with the same medicine elsewhere, not with another here."""
    return bool(still_open([card.stored.filled], MedicineCode(medicine)))


def _next_of_batch(batch: str, number: CardNumber, medicine: MedicineCode, bottle: InHand) -> str:
    """The next card of the batch that asks for the medicine, the bottle still in the hand; the batch's own page where none does."""
    other = next_in_batch(batch, number, medicine)
    return f"{_with_bottle(other, medicine, bottle)}&{urlencode({'batch': batch})}" if other else batch_place(batch)


def _ticked(request: BenchRequest, seen: dict[Cell, Fraction]) -> dict[Cell, Fraction]:
    """All that the screen showed open; of a hand that stopped part way only what it ticked."""
    spots = set(request.POST.getlist("spot"))
    return {cell: amount for cell, amount in seen.items() if "partly" not in request.POST or f"{cell.row}-{cell.column}" in spots}


def filled(request: BenchRequest, number: str) -> HttpResponse:
    """The card goes to its check."""
    outcome = finish_filling(CardNumber(number), occasion(request))
    card = load_bench_card(CardNumber(number))
    if outcome.done:
        messages.success(request, f"Card {format_card_number(card.stored.number)} is filled. Somebody else checks it now.")
        return redirect("card", number)
    screen = fill_screen(card, new_token(), halt=Halt("The card is not full", with_names(outcome.findings)))
    return _show(request, card, screen, status=422)


def _bottle_in_the_address(request: BenchRequest, card: BenchCard) -> InHand | None:
    form = BottleForm(request.GET)
    if not request.GET.get("scan") or not form.is_valid():
        return None
    bottle = in_hand(form.cleaned_data, today(request))
    wanted = MedicineCode(request.GET.get("medicine", ""))
    findings = may_use(card.stored, Bottle(wanted, bottle.proof, bottle.lot, bottle.expiry))
    return None if blocks(findings) or blocks(bottle.findings) else bottle


def _try_bottle(request: BenchRequest, card: BenchCard, wanted: MedicineCode, bottle: InHand) -> Outcome:
    return scan_bottle(card.stored.number, occasion(request), Bottle(wanted, bottle.proof, bottle.lot, bottle.expiry))


def _title(findings: tuple[Finding, ...]) -> str:
    codes = {finding.code for finding in findings}
    if "supply.wrong-product" in codes:
        return "Stop: this is another medicine"
    return "Stop: this bottle cannot be used"


def _halted(request: BenchRequest, card: BenchCard, medicine: MedicineCode, bottle: InHand, findings: tuple[Finding, ...]) -> HttpResponse:
    halt = Halt("Not placed", with_names(findings))
    return _show(request, card, fill_screen(card, new_token(), wanted=medicine, bottle=bottle, halt=halt), status=422)


def _next_card(set_id: int, number: CardNumber, medicine: MedicineCode, bottle: InHand) -> str:
    """Where the set's next card is filled that asks for the same medicine, the bottle still in the hand; "" where none does."""
    for other in load_cards_of(set_id):
        if other.number != number and still_open([other.filled], medicine):
            return _with_bottle(other.number, medicine, bottle)
    return ""


def _with_bottle(number: CardNumber, medicine: MedicineCode, bottle: InHand) -> str:
    said = {"medicine": medicine, "scan": bottle.scan, "lot": bottle.lot, "expiry": str(bottle.expiry or "")}
    return f"{reverse('fill', args=[number])}?{urlencode(said | {'reason': bottle.proof.reason})}"


def _go(request: BenchRequest, place_to_go: str) -> HttpResponse:
    return HttpResponseClientRedirect(place_to_go) if request.htmx else redirect(place_to_go)


def _show(request: BenchRequest, card: BenchCard, screen: FillScreen, status: int = 200) -> HttpResponse:
    template = "fill/_bench.html" if request.htmx else "fill/screen.html"
    return show(request, template, replace(screen, batch=_batch(request)), strip=card.strip, status=status)
