"""Stock: what is there by lot, taking a bottle in by its scan, and units that are spoiled."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.receive_stock import receive_stock
from dosewright.actions.waste_units import waste_units
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.supply.lots import Stock
from dosewright.core.supply.movement import Batch
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.core.units.quantity import parse_amount
from dosewright.store.catalogue import load_catalogue, load_medicine
from dosewright.store.stock import load_stock
from dosewright.web.decision import Decision
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion, today
from dosewright.web.scanned import LONGEST_SCAN, InHand, in_hand

__all__ = ["LotLine", "StockForm", "StockScreen", "WasteForm", "stock", "waste"]


class StockForm(forms.Form):
    """What comes in. What the code said is filled in already and compared with what is typed."""

    medicine = forms.ChoiceField(label="Medicine")
    lot = forms.CharField(label="Lot", max_length=20)
    expiry = forms.DateField(label="Expires", widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    amount = forms.IntegerField(label="How many units", min_value=1, max_value=100_000)
    scan = forms.CharField(required=False, max_length=LONGEST_SCAN, strip=False, widget=forms.HiddenInput())
    reason = forms.CharField(label="Why it cannot be scanned", required=False, max_length=500)

    def __init__(self, *args: object, medicines: list[tuple[str, str]], scanned: bool, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        field = self.fields["medicine"]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101  declared above
        field.choices = medicines
        if scanned:
            del self.fields["reason"]


class WasteForm(forms.Form):
    """How much, and why."""

    amount = forms.CharField(label="How many units", help_text="a half is 0.5", max_length=20)
    reason = forms.CharField(label="What happened", max_length=500)

    def clean_amount(self) -> Fraction:
        """An exact amount."""
        try:
            return parse_amount(str(self.cleaned_data["amount"]).strip())
        except ValueError as error:
            raise forms.ValidationError("Write a number like 2, or 0.5 for a half.") from error


@dataclass(frozen=True, slots=True)
class LotLine:
    """A lot in stock. `past` and `recalled`: it may not be used any more."""

    code: str
    medicine: str
    lot: str
    expiry: date
    amount: Fraction
    past: bool
    recalled: bool


@dataclass(frozen=True, slots=True)
class StockScreen:
    """`form` is there once a bottle was scanned, or has no code."""

    scan: str
    label: str
    form: StockForm | None
    findings: tuple[Finding, ...]
    lots: tuple[LotLine, ...]
    may_waste: bool
    may_recall: bool
    may_receive: bool
    may_teach: bool
    token: str


def stock(request: BenchRequest) -> HttpResponse:
    """The lots; with a scan, the form that takes the bottle in."""
    if request.method == "POST":
        return _receive(request)
    scan, bare = request.GET.get("scan", "")[:LONGEST_SCAN], "bare" in request.GET
    if not scan.strip() and not bare:
        return _show(request, "", None, ())
    bottle = in_hand({"scan": scan}, today(request))
    if blocks(bottle.findings) and not bare:
        return _show(request, scan, None, bottle.findings, status=422)
    return _show(request, scan, _form(bottle, scanned=not bare), bottle.findings)


def waste(request: BenchRequest, medicine: str, lot: str) -> HttpResponse:
    """Units of a lot are spoiled."""
    known = load_medicine(MedicineCode(medicine))
    form = WasteForm(request.POST or None)
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        outcome = waste_units(known.code, occasion(request), Lot(lot), form.cleaned_data["amount"], form.cleaned_data["reason"])
        if outcome.done:
            messages.success(request, f"Put down as waste: {known.label}, lot {lot}.")
            return redirect("stock")
        findings = outcome.findings
    about = f"Lot {lot}. What is put down here is never stock again."
    action, back = reverse("waste", args=[medicine, lot]), reverse("stock")
    ask = Decision(f"Spoiled units of {known.label}.", about, action, "They are waste", back, form, new_token(), with_names(findings))
    return show(request, "decision.html", ask, status=422 if request.method == "POST" else 200)


def _receive(request: BenchRequest) -> HttpResponse:
    scan = request.POST.get("scan", "")[:LONGEST_SCAN]
    form = StockForm(request.POST, medicines=_medicines(), scanned=bool(scan.strip()))
    if not form.is_valid():
        return _show(request, scan, form, (), status=422)
    said = form.cleaned_data
    bottle = in_hand(said, today(request))
    if blocks(bottle.findings):
        return _show(request, scan, form, bottle.findings, status=422)
    batch = Batch(said["expiry"], Lot(said["lot"].strip()), MedicineCode(said["medicine"]))
    outcome = receive_stock(batch.medicine, occasion(request), batch, Fraction(said["amount"]), bottle.proof)
    if not outcome.done:
        return _show(request, scan, form, outcome.findings, status=422)
    messages.success(request, f"{said['amount']} in stock: {load_medicine(batch.medicine).label}, lot {batch.lot}.")
    return redirect("stock")


def _form(bottle: InHand, *, scanned: bool) -> StockForm:
    known = load_catalogue([bottle.proof.named]).get(bottle.proof.named) if bottle.proof.named else None
    first: dict[str, object] = {"medicine": bottle.proof.named, "lot": bottle.lot, "expiry": bottle.expiry, "scan": bottle.scan}
    if known and known.pack_size and known.pack_size.denominator == 1:
        first["amount"] = int(known.pack_size)
    return StockForm(initial=first, medicines=_medicines(), scanned=scanned)


def _medicines() -> list[tuple[str, str]]:
    return sorted(((code, medicine.label) for code, medicine in load_catalogue().items()), key=lambda pair: pair[1].casefold())


def _show(request: BenchRequest, scan: str, form: StockForm | None, findings: tuple[Finding, ...], status: int = 200) -> HttpResponse:
    medicines, day = load_catalogue(), today(request)
    may_recall = request.actor.role in RIGHTS[Ability.RECALL_LOT]
    # Whoever may recall sees a lot of which nothing is left here, too: it may lie in cards that are out.
    lots = sorted(
        (_line(held, medicines[held.batch.medicine].label, day) for held in load_stock() if held.amount or may_recall), key=_order
    )
    may_waste = request.actor.role in RIGHTS[Ability.WASTE_UNITS]
    bottle = in_hand({"scan": scan}, day) if scan.strip() else None
    named = bottle.proof.named if bottle else None
    label = medicines[named].label if named else ""
    may_receive = request.actor.role in RIGHTS[Ability.RECEIVE_STOCK]
    may_teach = request.actor.role in RIGHTS[Ability.TEACH_CODE]
    shown = form if may_receive else None
    screen = StockScreen(scan, label, shown, with_names(findings), tuple(lots), may_waste, may_recall, may_receive, may_teach, new_token())
    return show(request, "stock/screen.html", screen, status=status)


def _line(held: Stock, label: str, day: date) -> LotLine:
    return LotLine(held.batch.medicine, label, held.batch.lot, held.batch.expiry, held.amount, held.batch.expiry < day, bool(held.recalled))


def _order(line: LotLine) -> tuple[str, date, str]:
    return line.medicine.casefold(), line.expiry, line.lot
