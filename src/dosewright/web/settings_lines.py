"""The card format and the profile, line by line: what each says, by which source; one line changed at a time, with a reason."""

from dataclasses import dataclass

from django import forms
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.change_setting import STILL_HERE, change_setting, setting_lines
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.interop.toml_line import TomlLine
from dosewright.core.units.finding import Finding
from dosewright.store.cards_on import count_cards_at
from dosewright.store.missing import Missing
from dosewright.store.pharmacy import load_pharmacy, load_rule_texts
from dosewright.web.page import show
from dosewright.web.record_history import Corrected, corrections_of
from dosewright.web.records import CorrectScreen, say_marked, show_correction
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["SettingForm", "SettingsScreen", "change", "settings"]

_TITLES = {"format": "The card format", "profile": "The profile"}


@dataclass(frozen=True, slots=True)
class SettingsScreen:
    """The lines that fit the words typed, and what was changed."""

    which: str
    title: str
    query: str
    lines: tuple[TomlLine, ...]
    may_change: bool
    history: tuple[Corrected, ...]


class SettingForm(forms.Form):
    """The value as its line shows it."""

    value = forms.CharField(
        label="It is to say", help_text="a number, true or false, a text in quotes, or all between the braces", max_length=2000
    )
    reason = forms.CharField(label="Why, and by which source", max_length=1000, widget=forms.Textarea({"rows": 2}))


def settings(request: BenchRequest, which: str) -> HttpResponse:
    """All lines, or those with a word."""
    query = " ".join(request.GET.get("q", "").split())[:100]
    lines = tuple(line for line in _lines(which) if query.casefold() in f"{line.section} {line.key} {line.value} {line.comment}".casefold())
    may = request.actor.role in RIGHTS[Ability.CHANGE_FORMAT]
    screen = SettingsScreen(which, _TITLES[which], query, lines, may, corrections_of("settings", which))
    return show(request, "records/settings.html", screen)


def change(request: BenchRequest, which: str, line: int) -> HttpResponse:
    """One line."""
    found = next((one for one in _lines(which) if one.number == line), None)
    if found is None:
        raise Missing("line", str(line))
    form = SettingForm(request.POST or None, initial={"value": found.value})
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        outcome = change_setting(which, occasion(request), line, form.cleaned_data["value"], form.cleaned_data["reason"])
        if outcome.done:
            say_marked(request, outcome)
            return redirect("settings", which)
        findings = outcome.findings
    many = count_cards_at(STILL_HERE)
    name = f"{found.section}, {found.key}" if found.section else found.key
    screen = CorrectScreen(
        title=f"{_TITLES[which]}: {name}.",
        about=f"{found.comment[:1].upper()}{found.comment[1:]}. It says {found.value} now. "
        f"A change puts {'every one of the ' if many > 1 else 'the '}{many} card{'' if many == 1 else 's'} still here out of date: "
        "they were planned by this line. What has left keeps its own.",
        action=reverse("change-setting", args=[which, line]),
        back=reverse("settings", args=[which]),
        form=form,
        findings=findings,
        history=corrections_of("settings", which),
        token=new_token(),
    )
    return show_correction(request, screen)


def _lines(which: str) -> tuple[TomlLine, ...]:
    return setting_lines(which, load_rule_texts(load_pharmacy().rules))
