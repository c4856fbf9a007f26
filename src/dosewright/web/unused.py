"""Orders that came in a file and could not be used: shown where readings wait, and settled by a pharmacist with a reason."""

from dataclasses import dataclass

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.settle_unused import settle_unused
from dosewright.core.custody.unused import UnusedOrder, UnusedStanding
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import PersonId
from dosewright.store.people import find_person
from dosewright.store.unused import StoredUnused, load_unused, load_waiting_unused
from dosewright.web.decision import Decision
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["SettleForm", "UnusedLine", "settle", "unused_lines"]


class SettleForm(forms.Form):
    """What becomes of it, and why."""

    becomes = forms.ChoiceField(
        label="What becomes of it",
        choices=[
            (UnusedStanding.TURNED_DOWN.value, "It is turned down: nothing is given from it"),
            (UnusedStanding.SUPPLIED_OTHERWISE.value, "It is supplied otherwise, not in these cards"),
        ],
    )
    reason = forms.CharField(label="Why, and who said so", max_length=1000, widget=forms.Textarea({"rows": 3}))


@dataclass(frozen=True, slots=True)
class UnusedLine:
    """One of them: whose, as received in which file, and what is wrong with it."""

    id: int
    person: str
    order: str
    text: str
    file: str
    findings: tuple[Finding, ...]


def unused_lines(person: PersonId | None = None) -> tuple[UnusedLine, ...]:
    """All that wait, or those that one person waits for, in order of arrival."""
    return tuple(_line(stored) for stored in load_waiting_unused(person))


def _line(stored: StoredUnused) -> UnusedLine:
    unused = stored.unused
    return UnusedLine(stored.id, _whose(unused), unused.order, unused.text, stored.file, with_names(unused.findings))


def _whose(unused: UnusedOrder) -> str:
    if not unused.person:
        return "Nobody can tell whose"
    known = find_person(unused.person)
    return known.name if known else f"Person {unused.person}"


def settle(request: BenchRequest, unused: int) -> HttpResponse:
    """Turned down or supplied otherwise, with a reason."""
    line = _line(load_unused(unused))
    form, findings = SettleForm(request.POST or None), line.findings
    if request.method == "POST" and form.is_valid():
        outcome = settle_unused(unused, occasion(request), form.cleaned_data["becomes"], form.cleaned_data["reason"])
        if outcome.done:
            messages.success(request, f"Settled: {line.order or 'an order'} for {line.person}.")
            return redirect("readings")
        findings = with_names(outcome.findings)
    screen = Decision(
        title=f"Settle an order that could not be used: {line.person}.",
        about=f"As received in {line.file}: “{line.text or 'no words'}”.",
        action=reverse("settle-unused", args=[unused]),
        button="This order is settled",
        back=reverse("readings"),
        form=form,
        token=new_token(),
        findings=findings,
    )
    return show(request, "decision.html", screen, status=422 if request.method == "POST" else 200)
