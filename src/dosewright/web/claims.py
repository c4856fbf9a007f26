"""Who has a set in hand: take it, hand it to somebody, put it back."""

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.claim_set import claim_set, hand_on_set, put_back_set
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.units.finding import Finding
from dosewright.store.cards import load_set
from dosewright.store.claims import load_claim, load_colleagues
from dosewright.store.people import load_home_names
from dosewright.web.decision import Decision
from dosewright.web.page import show, strip_of
from dosewright.web.request import BenchRequest, local, new_token, occasion

__all__ = ["ClaimForm", "claim"]

_MINE, _NOBODY = "", "-"


class ClaimForm(forms.Form):
    """Whose it is to be."""

    to = forms.ChoiceField(label="Who has it in hand from now on", required=False, widget=forms.Select())

    def __init__(self, *args: object, colleagues: list[tuple[str, str]], **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        field = self.fields["to"]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101  declared above
        field.choices = [(_MINE, "I do"), *colleagues, (_NOBODY, "nobody: it goes back to the list")]


def claim(request: BenchRequest, set_id: int) -> HttpResponse:
    """The decision."""
    found, now = load_set(set_id), load_claim(set_id)
    others = [one for one in load_colleagues(RIGHTS[Ability.CLAIM_SET]) if one.id != request.actor.id]
    form = ClaimForm(request.POST or None, colleagues=[(one.username, f"{one.name}, {one.role.value}") for one in others])
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        to, on = form.cleaned_data["to"], occasion(request)
        outcome = claim_set(set_id, on) if to == _MINE else put_back_set(set_id, on) if to == _NOBODY else hand_on_set(set_id, on, to)
        if outcome.done:
            messages.success(request, f"{found.person.name}: {_said(form, to)}")
            return redirect("set", set_id)
        findings = outcome.findings
    since = local(now.since) if now else None
    about = f"{now.name} has it in hand since {since:%a %H:%M}." if now and since else "Nobody has it in hand."
    title, place = f"The set of {found.person.name}.", reverse("claim-set", args=[set_id])
    ask = Decision(title, about, place, "So it is", reverse("set", args=[set_id]), form, new_token(), findings)
    home = load_home_names().get(found.person.home, "") if found.person.home else ""
    strip = strip_of(found.person, home, plan=found.plan.basis)
    return show(request, "decision.html", ask, strip=strip, status=422 if request.method == "POST" else 200)


def _said(form: ClaimForm, to: str) -> str:
    if to == _MINE:
        return "you have it in hand."
    return "back on the list." if to == _NOBODY else f"{dict(form.fields['to'].choices)[to].split(',')[0]} has it in hand."  # type: ignore[attr-defined]
