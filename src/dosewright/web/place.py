"""Where one person's medicine goes in spite of a rule: the rule in words, two choices, and why."""

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.decide_place import decide_place
from dosewright.core.medicines.suitability import Rule, Standing, holds_back, rules_about
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import OrderId
from dosewright.store.answers import load_answers
from dosewright.store.orders import StoredOrder, load_order
from dosewright.store.people import load_home_names
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.web.decision import Decision
from dosewright.web.findings import with_names
from dosewright.web.page import show, strip_of
from dosewright.web.request import BenchRequest, new_token, occasion
from dosewright.web.rules import say_follows

__all__ = ["PlaceForm", "place_order"]


class PlaceForm(forms.Form):
    """Where, and why."""

    choice = forms.ChoiceField(label="Where it goes", choices=[("card", "Into a card"), ("alongside", "Alongside, not into a card")])
    reason = forms.CharField(label="Why, and on which authority", max_length=1000, widget=forms.Textarea({"rows": 3}))


def place_order(request: BenchRequest, order: str) -> HttpResponse:
    """Ask, then keep the answer."""
    stored = load_order(OrderId(order))
    rule = holds_back(rules_about(stored.medicine, load_rules(load_pharmacy().rules).suitability))
    form = PlaceForm(request.POST or None, initial=_answered(stored, rule))
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        outcome = decide_place(OrderId(order), occasion(request), form.cleaned_data["choice"], form.cleaned_data["reason"])
        if outcome.done:
            messages.success(request, f"Decided for {stored.person.name}: {stored.medicine.label}. It counts from the next plan on.")
            return redirect("person", stored.person.id)
        findings = outcome.findings
    home = load_home_names().get(stored.person.home, "") if stored.person.home else ""
    screen = _screen(stored, rule, form, findings)
    return show(request, "decision.html", screen, strip=strip_of(stored.person, home), status=422 if request.method == "POST" else 200)


def _screen(stored: StoredOrder, rule: Rule | None, form: PlaceForm, findings: tuple[Finding, ...]) -> Decision:
    open_to_choice = rule is not None and rule.standing is not Standing.EXCLUDED
    return Decision(
        title=f"Where does {stored.medicine.label} go?",
        about=_about(rule),
        action=reverse("place-order", args=[stored.order.id]),
        button="This is where it goes" if open_to_choice else "",
        back=reverse("person", args=[stored.person.id]),
        form=form,
        token=new_token(),
        findings=with_names(findings),
    )


def _about(rule: Rule | None) -> str:
    if rule is None:
        return "No rule holds it back: it goes into a card."
    said = f"{say_follows(rule)} {rule.reason[:1].upper()}{rule.reason[1:]} ({rule.source}, {rule.dated}; rule {rule.id})."
    return f"{said} Nothing lets it in." if rule.standing is Standing.EXCLUDED else f"{said} If the rule changes, it is asked again."


def _answered(stored: StoredOrder, rule: Rule | None) -> dict[str, str]:
    """What was answered before, where it still counts."""
    mine = (one for one in load_answers(stored.person.id) if one.order == stored.order.id)
    counts = (one for one in mine if rule and (one.about, one.dated) == (rule.id, rule.dated))
    return next(({"choice": one.choice, "reason": one.reason} for one in counts), {})
