"""A lot is recalled: nothing of it is used any more; a sheet for the pharmacy, and a notice for each home and person that has some of it.
And a recall is lifted."""

from dataclasses import replace

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.carry_out_recall import carry_out_recall
from dosewright.actions.recall_lot import lift_recall
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.paper.recall import RecalledCard
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.store.catalogue import load_medicine
from dosewright.store.missing import Missing
from dosewright.store.paper_sources import load_recalled
from dosewright.store.stock import find_lot
from dosewright.web.decision import Decision, ReasonForm
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, local, new_token, occasion

__all__ = ["RecallForm", "lift", "recall"]


class RecallForm(forms.Form):
    """What the maker or the authority says."""

    urgency = forms.CharField(label="How urgent", help_text="as the recall says it, for example: Class 2, within 48 hours", max_length=120)
    reason = forms.CharField(label="Why, and what the recall asks", max_length=400, widget=forms.Textarea({"rows": 3}))


def recall(request: BenchRequest, medicine: str, lot: str) -> HttpResponse:
    """Say why; by POST, the lot is held, and both documents are made and kept where a card has units of it."""
    known, batch, why = _found(medicine, lot)
    form = RecallForm(request.POST or None)
    cards = load_recalled(known.code, batch)
    ask = Decision(
        title=f"Recall {known.label}, lot {lot}.",
        about=_about(cards, why),
        action=reverse("recall", args=[medicine, lot]),
        button="The lot is recalled; make the sheet and notices" if cards else "The lot is recalled",
        back=reverse("stock"),
        form=form,
        token=new_token(),
    )
    if request.method == "POST" and form.is_valid():
        said = (form.cleaned_data["urgency"], " ".join(form.cleaned_data["reason"].split()))
        at = local(request.clock.now()).replace(tzinfo=None, second=0, microsecond=0)
        outcome = carry_out_recall(known.code, occasion(request), batch, said, at)
        if outcome.done:
            messages.success(request, f"Lot {lot} is recalled: nothing of it is used any more. {_made(len(outcome.made))}")
            return redirect("sheet", outcome.made[0]) if outcome.made else redirect("stock")
        ask = replace(ask, findings=with_names(outcome.findings))
    return show(request, "decision.html", ask, status=422 if request.method == "POST" else 200)


def _made(sheets: int) -> str:
    if not sheets:
        return "No card has units of it."
    return f"The recall sheet is made. {'The notices are beside it.' if sheets > 1 else 'No card with it has left, so there is no notice.'}"


def lift(request: BenchRequest, medicine: str, lot: str) -> HttpResponse:
    """The lot may be used again, with a reason."""
    known, batch, why = _found(medicine, lot)
    form = ReasonForm(request.POST or None)
    ask = Decision(
        title=f"Lift the recall of {known.label}, lot {lot}.",
        about=f"It was recalled: {why.rstrip('.')}." if why else "It is not recalled.",
        action=reverse("lift-recall", args=[medicine, lot]),
        button="The lot may be used again" if why else "",
        back=reverse("stock"),
        form=form,
        token=new_token(),
    )
    if request.method == "POST" and form.is_valid():
        outcome = lift_recall(known.code, occasion(request), batch, form.cleaned_data["reason"])
        if outcome.done:
            messages.success(request, f"The recall is lifted: {known.label}, lot {lot}, may be used again.")
            return redirect("stock")
        ask = replace(ask, findings=with_names(outcome.findings))
    return show(request, "decision.html", ask, status=422 if request.method == "POST" else 200)


def _found(medicine: str, lot: str) -> tuple[Medicine, Lot, str]:
    """The medicine, its lot, and why that is recalled. Raises Missing."""
    known, batch = load_medicine(MedicineCode(medicine)), Lot(lot)
    held = find_lot(known.code, batch)
    if held is None:
        raise Missing("lot", lot)
    return known, batch, held.recalled


def _about(cards: tuple[RecalledCard, ...], why: str) -> str:
    away = sum(card.out for card in cards)
    said = f"{len(cards)} card{'s' if len(cards) != 1 else ''} with units of it, {away} of them out of the pharmacy."
    return (
        f"{said} It is recalled already: {why.rstrip('.')}."
        if why
        else f"{said} From now on nothing of it is placed, and no card with it leaves."
    )
