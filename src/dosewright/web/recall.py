"""A lot is recalled: every card with units of it, a sheet for the pharmacy, and a notice for each home and person that has one."""

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.recall_lot import recall_lot
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.store.catalogue import load_medicine
from dosewright.store.paper_sources import load_recalled
from dosewright.web.decision import Decision
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, local, new_token, occasion

__all__ = ["RecallForm", "recall"]


class RecallForm(forms.Form):
    """What the maker or the authority says."""

    urgency = forms.CharField(label="How urgent", help_text="as the recall says it, for example: Class 2, within 48 hours", max_length=120)
    reason = forms.CharField(label="Why, and what the recall asks", max_length=400, widget=forms.Textarea({"rows": 3}))


def recall(request: BenchRequest, medicine: str, lot: str) -> HttpResponse:
    """Say why; by POST, both documents are made and kept."""
    known, batch = load_medicine(MedicineCode(medicine)), Lot(lot)
    form = RecallForm(request.POST or None)
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        said = (form.cleaned_data["urgency"], " ".join(form.cleaned_data["reason"].split()))
        made = local(request.clock.now()).replace(tzinfo=None, second=0, microsecond=0)
        outcome = recall_lot(known.code, batch, occasion(request), said, made)
        if outcome.done:
            more = " The notices are beside it." if len(outcome.made) > 1 else " No card with it has left, so there is no notice."
            messages.success(request, f"The recall sheet is made.{more}")
            return redirect("sheet", outcome.made[0])
        findings = outcome.findings
    cards = load_recalled(known.code, batch)
    away = sum(card.out for card in cards)
    about = f"{len(cards)} card{'s' if len(cards) != 1 else ''} with units of it, {away} of them out of the pharmacy."
    ask = Decision(
        title=f"Recall {known.label}, lot {lot}.",
        about=about,
        action=reverse("recall", args=[medicine, lot]),
        button="Make the recall sheet and notices" if cards else "",
        back=reverse("stock"),
        form=form,
        token=new_token(),
        findings=with_names(findings),
    )
    return show(request, "decision.html", ask, status=422 if request.method == "POST" else 200)
