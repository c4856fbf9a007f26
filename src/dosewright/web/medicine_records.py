"""Medicines' records: found by a word, each with facts and history, corrected with a reason; a correction is read as a file is."""

from dataclasses import dataclass

from django import forms
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.correct_medicine import correct_medicine
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.interop.medicine_row import medicine_row, read_corrected
from dosewright.core.medicines.flags import FLAGS
from dosewright.core.medicines.medicine import Shape
from dosewright.core.paper.medicine_words import described
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import MedicineCode
from dosewright.store.catalogue import load_catalogue, load_medicine
from dosewright.store.open_cards import medicines_in_open_cards
from dosewright.web.page import show
from dosewright.web.record_history import Corrected, corrections_of
from dosewright.web.records import CorrectScreen, say_marked, show_correction
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["MedicineForm", "MedicineLine", "MedicineScreen", "MedicinesScreen", "correct", "medicine", "medicines"]

_SHOWN = 200
_FOLLOWS = (
    "Other flags or cautions put every one of them out of date; another size or look those that are still here. "
    "Name, strength and form stay: another product has a code of its own."
)


@dataclass(frozen=True, slots=True)
class MedicineLine:
    """One product on the list."""

    code: str
    label: str
    looks: str


@dataclass(frozen=True, slots=True)
class MedicinesScreen:
    """Products that fit the words typed; `more` whether there are others."""

    query: str
    count: int
    lines: tuple[MedicineLine, ...]
    more: bool


@dataclass(frozen=True, slots=True)
class MedicineScreen:
    """One product: each fact by its name, in how many open cards it lies, what was corrected."""

    code: str
    label: str
    facts: tuple[tuple[str, str], ...]
    cards: int
    may_correct: bool
    history: tuple[Corrected, ...]


class MedicineForm(forms.Form):
    """What may be corrected. What it is (name, strength, form) is not among it."""

    shape = forms.ChoiceField(label="Shape", choices=[("", "not measured"), *((one.value, one.value) for one in Shape)], required=False)
    length_mm = forms.CharField(label="Length, mm", max_length=12, required=False)
    width_mm = forms.CharField(label="Width, mm", max_length=12, required=False)
    thickness_mm = forms.CharField(label="Thickness, mm", max_length=12, required=False)
    colour = forms.CharField(label="Colour", max_length=200, required=False)
    mark = forms.CharField(label="Marking", max_length=200, required=False)
    maker = forms.CharField(label="Maker", max_length=200, required=False)
    gtin = forms.CharField(label="Code on the pack", max_length=14, required=False)
    pack_size = forms.CharField(label="Units in a pack", max_length=12, required=False)
    flags = forms.CharField(label="Flags", help_text="a semicolon between two", max_length=400, required=False)
    cautions = forms.CharField(label="Cautions", help_text="a semicolon between two", max_length=1000, required=False)
    reason = forms.CharField(label="Why, and by what", max_length=1000, widget=forms.Textarea({"rows": 2}))


_NAMES = {name: field.label or name for name, field in MedicineForm.base_fields.items() if name != "reason"}


def medicines(request: BenchRequest) -> HttpResponse:
    """The list, by name."""
    query = " ".join(request.GET.get("q", "").split())[:100]
    word = query.casefold()
    found = [one for one in load_catalogue().values() if word in f"{one.label} {one.code} {one.gtin or ''} {one.maker}".casefold()]
    lines = [MedicineLine(one.code, one.label, described(one)) for one in sorted(found, key=lambda one: (one.label.casefold(), one.code))]
    return show(request, "records/medicines.html", MedicinesScreen(query, len(lines), tuple(lines[:_SHOWN]), len(lines) > _SHOWN))


def medicine(request: BenchRequest, medicine: str) -> HttpResponse:
    """One record."""
    found = load_medicine(MedicineCode(medicine))
    row = medicine_row(found)
    screen = MedicineScreen(
        code=found.code,
        label=found.label,
        facts=tuple((str(words), row[name]) for name, words in _NAMES.items()),
        cards=medicines_in_open_cards().get(found.code, 0),
        may_correct=request.actor.role in RIGHTS[Ability.CORRECT_MEDICINE],
        history=corrections_of("medicine", found.code),
    )
    return show(request, "records/medicine.html", screen)


def correct(request: BenchRequest, medicine: str) -> HttpResponse:
    """The form; what is typed is read as a row of a medicines file is."""
    found = load_medicine(MedicineCode(medicine))
    form = MedicineForm(request.POST or None, initial=medicine_row(found))
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        said, findings = read_corrected(found, {name: form.cleaned_data[name] for name in _NAMES})
        if said is not None:
            outcome = correct_medicine(found.code, occasion(request), said, form.cleaned_data["reason"])
            if outcome.done:
                say_marked(request, outcome)
                return redirect("medicine", found.code)
            findings = outcome.findings
    cards = medicines_in_open_cards().get(found.code, 0)
    screen = CorrectScreen(
        title=f"Correct the record of {found.label}.",
        about=f"{cards} open card{' holds' if cards == 1 else 's hold'} it. {_FOLLOWS} Flags: {', '.join(sorted(FLAGS))}.",
        action=reverse("correct-medicine", args=[found.code]),
        back=reverse("medicine", args=[found.code]),
        form=form,
        findings=findings,
        history=corrections_of("medicine", found.code),
        token=new_token(),
    )
    return show_correction(request, screen)
