"""Printers: the measuring sheet, and the form that takes what was measured on it."""

import re
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from urllib.parse import urlencode

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.measure_printer import measure_printer
from dosewright.core.packing.card_format import LabelSheet
from dosewright.core.paper.measuring import draw_measuring_sheet
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.printer import Measures, nominal_measures
from dosewright.core.units.finding import Finding
from dosewright.core.units.quantity import format_amount
from dosewright.devices.fonts import load_fonts
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.store.printers import StoredPrinter, load_printers
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion
from dosewright.web.typed import number_typed

__all__ = ["MillimetresField", "PrinterForm", "PrinterLine", "PrintersScreen", "measuring_sheet", "printers"]

_RESOLUTIONS = (203, 300, 600)
_LENGTH = re.compile(r"[0-9]{1,4}(?:[.,][0-9]{1,3})?")


class MillimetresField(forms.Field):
    """A length as it is read off a ruler, exact. No fraction: "41/2" may mean 4.5 or 20.5."""

    widget = forms.TextInput(attrs={"maxlength": 10})

    def __init__(self, *, label: str) -> None:
        super().__init__(label=label, help_text="mm")

    def clean(self, value: object) -> Fraction:
        """The length, or the one sentence that says how to write it."""
        if not _LENGTH.fullmatch(text := str(value or "").strip()):
            raise forms.ValidationError("Write millimetres like 20 or 19.5.")
        return number_typed(text)


class PrinterForm(forms.Form):
    """What was read off the ruler."""

    name = forms.CharField(
        label="Name",
        help_text="as people here call it",
        max_length=60,
        error_messages={"required": "Write the name by which people here call it.", "max_length": "Write 60 letters at most."},
    )
    dpi = forms.TypedChoiceField(
        label="Dots per inch",
        coerce=int,
        choices=[(dpi, str(dpi)) for dpi in _RESOLUTIONS],
        error_messages=dict.fromkeys(("required", "invalid_choice"), "Choose 203, 300 or 600."),
    )
    left = MillimetresField(label="1. Left edge to the first mark")
    top = MillimetresField(label="2. Upper edge to the first mark")
    across = MillimetresField(label="3. Across to the second mark")
    down = MillimetresField(label="4. Down to the second mark")


@dataclass(frozen=True, slots=True)
class PrinterLine:
    """One printer with its correction in words, and who measured it when."""

    name: str
    dpi: int
    off: str
    measured_by: str
    measured_at: datetime | None
    again: str


@dataclass(frozen=True, slots=True)
class PrintersScreen:
    """All printers; the form for one of them, or a new one."""

    lines: tuple[PrinterLine, ...]
    meant: str
    sheet_url: str
    form: PrinterForm
    wrong: tuple[Finding, ...]
    token: str


def printers(request: BenchRequest) -> HttpResponse:
    """The list and the form; by POST, the measures count."""
    if request.method != "POST":
        return _show(request, _form(request.GET.get("name", "")), ())
    form = PrinterForm(request.POST)
    if not form.is_valid():
        return _show(request, form, (), status=422)
    said, sheet = form.cleaned_data, _sheet()
    measures = Measures(said["left"], said["top"], said["across"], said["down"])
    printer = StoredPrinter(said["name"].strip(), said["dpi"], sheet.width, sheet.height, measures)
    outcome = measure_printer(printer.name, occasion(request), printer)
    if not outcome.done:
        return _show(request, form, outcome.findings, status=422)
    messages.success(request, f"{printer.name} is measured. Paper drawn for it from now on is put right.")
    return redirect("printers")


def measuring_sheet(request: BenchRequest) -> HttpResponse:
    """The sheet to print and measure."""
    name, sheet, pharmacy = request.GET.get("name", "")[:60], _sheet(), load_pharmacy()
    page = draw_measuring_sheet(sheet.width, sheet.height, name, load_fonts())
    pdf = write_pdf([page], load_fonts(), Heading("Measuring sheet", pharmacy.name, "", "en"))
    return HttpResponse(pdf, content_type="application/pdf", headers={"Content-Disposition": 'inline; filename="measuring-sheet.pdf"'})


def _sheet() -> LabelSheet:
    """The label stock of the pharmacy's card format."""
    return load_rules(load_pharmacy().rules).card_format.sheet


def _form(name: str) -> PrinterForm:
    known = next((printer for printer in load_printers() if printer.name == name), None)
    return PrinterForm(initial={"name": known.name, "dpi": known.dpi} if known else {"dpi": 600})


def _show(request: BenchRequest, form: PrinterForm, wrong: tuple[Finding, ...], status: int = 200) -> HttpResponse:
    sheet = _sheet()
    meant = nominal_measures(sheet.width, sheet.height)
    words = ", ".join(format_amount(side) for side in (meant.left, meant.top, meant.across, meant.down))
    lines = tuple(_line(printer) for printer in load_printers())
    screen = PrintersScreen(lines, words, reverse("measuring-sheet"), form, with_names(wrong), new_token())
    return show(request, "printers/screen.html", screen, status=status)


def _line(stored: StoredPrinter) -> PrinterLine:
    meant = nominal_measures(stored.width, stored.height)
    off = (("right", "left", stored.measures.left - meant.left), ("down", "up", stored.measures.top - meant.top))
    stretch = (("across", stored.measures.across - meant.across), ("along", stored.measures.down - meant.down))
    said = [f"{_millimetres(by)} too far {one if by > 0 else other}" for one, other, by in off if by]
    said += [f"{_millimetres(by)} too {'long' if by > 0 else 'short'} {way}" for way, by in stretch if by]
    words = "; ".join(said) or "as drawn"
    return PrinterLine(
        stored.name, stored.dpi, words, stored.measured_by, stored.measured_at, f"{reverse('printers')}?{urlencode({'name': stored.name})}"
    )


def _millimetres(by: Fraction) -> str:
    """ "0.5 mm", whichever way."""
    return f"{format_amount(abs(by))} mm"
