"""The screen on which a rule is changed or added, of whatever kind: one form; and the way back to the list with what was found."""

from dataclasses import dataclass

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.core.units.finding import Finding
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token
from dosewright.web.wording import say_finding

__all__ = ["ChangeScreen", "back_to_rules", "names_typed", "show_change"]


@dataclass(frozen=True, slots=True)
class ChangeScreen:
    """The form, and what it is about."""

    title: str
    about: str
    action: str
    back: str
    form: forms.Form
    findings: tuple[Finding, ...]
    token: str


def show_change(request: BenchRequest, form: forms.Form, said: tuple[str, str, str], findings: tuple[Finding, ...]) -> HttpResponse:
    """The form, with what stands against it. `said`: title, what it is about, where it goes."""
    title, about, action = said
    screen = ChangeScreen(title, about, action, reverse("rules"), form, with_names(findings), new_token())
    return show(request, "rules/change.html", screen, status=422 if request.method == "POST" else 200)


def back_to_rules(request: BenchRequest, done: str, findings: tuple[Finding, ...]) -> HttpResponse:
    """Back to the list; what was found of open cards is said there."""
    messages.success(request, done)
    for finding in with_names(findings):
        messages.warning(request, say_finding(finding))
    return redirect("rules")


def names_typed(text: str) -> tuple[str, ...]:
    """Generic names, a comma between two."""
    return tuple(dict.fromkeys(name.strip() for name in text.split(",") if name.strip()))
