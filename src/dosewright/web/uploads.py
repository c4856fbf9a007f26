"""Files brought to the bench: orders (FHIR or CSV) and medicines (CSV). What was found is listed: what, where, what would mend it."""

from dataclasses import dataclass

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpResponse

from dosewright.actions.outcome import Outcome
from dosewright.actions.receive_medicines import receive_medicines
from dosewright.actions.receive_orders import receive_orders
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.units.finding import Finding
from dosewright.store.work import count_medicines, count_waiting
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["LARGEST", "FileForm", "MedicinesScreen", "OrdersScreen", "TakenScreen", "medicines_in", "orders_in"]

LARGEST = 64 * 1024 * 1024  # bytes, as on the command line; a home's bundle is under one megabyte


class FileForm(forms.Form):
    """One file."""

    file = forms.FileField(label="The file", max_length=200)

    def clean_file(self) -> "UploadedFile[bytes]":
        """Not larger than a home's orders could ever be."""
        file: UploadedFile[bytes] = self.cleaned_data["file"]
        if file.size is None or file.size > LARGEST:
            raise forms.ValidationError(f"The file is larger than {LARGEST // 1024 // 1024} MiB. Split it by home or by person.")
        return file


@dataclass(frozen=True, slots=True)
class OrdersScreen:
    """The form for a file of orders."""

    form: FileForm
    token: str


@dataclass(frozen=True, slots=True)
class MedicinesScreen:
    """The form for a list of medicines, and how many are on file."""

    form: FileForm
    known: int
    token: str


@dataclass(frozen=True, slots=True)
class TakenScreen:
    """What came of a file: whether anything of it was kept, how many things, what was found, how many orders wait now."""

    name: str
    kept: bool
    headline: str
    findings: tuple[Finding, ...]
    waiting: int
    may_confirm: bool
    again: str


def orders_in(request: BenchRequest) -> HttpResponse:
    """Take in a file of orders."""
    form = FileForm(request.POST, request.FILES) if request.method == "POST" else FileForm()
    if request.method != "POST" or not form.is_valid():
        return show(request, "orders/in.html", OrdersScreen(form, new_token()), status=422 if form.errors else 200)
    file: UploadedFile[bytes] = form.cleaned_data["file"]
    outcome = receive_orders(_name(file), occasion(request), file.read())
    many = len(outcome.made) - 1
    headline = f"{many} order{'' if many == 1 else 's'} taken in." if outcome.done else "Nothing in this file can be used."
    return _taken(request, _name(file), outcome, headline, "orders-in")


def medicines_in(request: BenchRequest) -> HttpResponse:
    """Take in a list of medicines."""
    form = FileForm(request.POST, request.FILES) if request.method == "POST" else FileForm()
    if request.method != "POST" or not form.is_valid():
        screen = MedicinesScreen(form, count_medicines(), new_token())
        return show(request, "orders/medicines.html", screen, status=422 if form.errors else 200)
    file: UploadedFile[bytes] = form.cleaned_data["file"]
    outcome = receive_medicines(_name(file), occasion(request), file.read())
    many = len(outcome.made)
    headline = f"{many} medicine{'' if many == 1 else 's'} new or changed." if outcome.done else "Nothing in this file can be used."
    return _taken(request, _name(file), outcome, headline, "medicines-in")


def _name(file: "UploadedFile[bytes]") -> str:
    return (file.name or "unnamed file")[:200]


def _taken(request: BenchRequest, name: str, outcome: Outcome, headline: str, again: str) -> HttpResponse:
    may_confirm = request.actor.role in RIGHTS[Ability.CONFIRM_READING]
    waiting = count_waiting()
    screen = TakenScreen(name, outcome.done, headline, with_names(outcome.findings), waiting, may_confirm, again)
    return show(request, "orders/taken.html", screen, status=200 if outcome.done else 422)
