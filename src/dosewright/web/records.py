"""Records put right: one way to all of them, and a person's own record corrected with a reason and its history beside it."""

from dataclasses import dataclass, replace

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.correct_person import PersonCorrection, correct_person
from dosewright.actions.outcome import Outcome
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.core.units.person import Person
from dosewright.store.people import load_home_names, load_person
from dosewright.web.findings import with_names
from dosewright.web.page import NOBODY, Strip, show, strip_of
from dosewright.web.record_history import Corrected, corrections_of
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["CorrectScreen", "PersonForm", "RecordsScreen", "correct", "records", "say_marked", "show_correction"]

_FOLLOWS = (
    "Cards that bear the old name, birth date or home are out of date from then on, wherever they are. Room and address are found at the "
    "door: change them, and tell whoever has the card. Two records are never merged into one."
)


@dataclass(frozen=True, slots=True)
class RecordsScreen:
    """Each record that may be put right: words, what it holds, where."""

    ways: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class CorrectScreen:
    """A form with its reason, what follows from a change (`about`), and what was changed before."""

    title: str
    about: str
    action: str
    back: str
    form: forms.Form
    findings: tuple[Finding, ...]
    history: tuple[Corrected, ...]
    token: str


class PersonForm(forms.Form):
    """The record as it is to stand."""

    name = forms.CharField(label="Name, as it is printed", max_length=1000)
    born = forms.DateField(label="Born", required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    home = forms.ChoiceField(label="Home", required=False)
    room = forms.CharField(label="Room", max_length=200, required=False)
    address = forms.CharField(label="Address", max_length=1000, required=False, widget=forms.Textarea({"rows": 2}))
    told_apart = forms.ChoiceField(
        label="Somebody of the same name, born the same day, is on record",
        choices=[("", "no, or not known"), ("yes", "yes, and they are two people")],
        required=False,
    )
    reason = forms.CharField(label="Why, and who said so", max_length=1000, widget=forms.Textarea({"rows": 2}))

    def __init__(self, *args: object, homes: list[tuple[str, str]], **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        field = self.fields["home"]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101  declared above
        field.choices = [("", "no home: the person lives at home"), *homes]


def records(request: BenchRequest) -> HttpResponse:
    """What may be put right, and where."""
    ways = (
        ("People", "name, birth date, home, room, address; found by part of a name", reverse("people")),
        ("Medicines", "looks, size, pack code, flags, cautions", reverse("medicines")),
        ("Dosing times", "of the pharmacy, of a home, of one person", reverse("timetables")),
        ("Card format", "each measure of the card and its label stock", reverse("settings", args=["format"])),
        ("Profile", "what the country asks of a card: fields, limits, words", reverse("settings", args=["profile"])),
        ("Rules", "what may lie in a card", reverse("rules")),
    )
    return show(request, "records/list.html", RecordsScreen(ways))


def correct(request: BenchRequest, person: str) -> HttpResponse:
    """One person's record."""
    someone = load_person(PersonId(person))
    homes = load_home_names()
    form = PersonForm(request.POST or None, initial=_as_it_is(someone), homes=sorted(homes.items(), key=lambda pair: pair[1]))
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        wanted = PersonCorrection(_said(someone, form), form.cleaned_data["reason"], told_apart=bool(form.cleaned_data["told_apart"]))
        outcome = correct_person(someone.id, occasion(request), wanted)
        if outcome.done:
            say_marked(request, outcome)
            return redirect("person", someone.id)
        findings = outcome.findings
    screen = CorrectScreen(
        title="Correct this person’s record.",
        about=_FOLLOWS,
        action=reverse("correct-person", args=[someone.id]),
        back=reverse("person", args=[someone.id]),
        form=form,
        findings=with_names(findings),
        history=corrections_of("person", someone.id),
        token=new_token(),
    )
    return show_correction(request, screen, strip_of(someone, homes.get(someone.home, "") if someone.home else ""))


def show_correction(request: BenchRequest, screen: CorrectScreen, strip: Strip = NOBODY) -> HttpResponse:
    """The form, or the form again with what is wrong."""
    return show(request, "records/correct.html", screen, strip=strip, status=422 if request.method == "POST" else 200)


def say_marked(request: BenchRequest, outcome: Outcome) -> None:
    """It stands, and how many cards wait for a pharmacist by it."""
    many = sum(finding.code in {"rework.record-changed", "rework.times-changed"} for finding in outcome.findings)
    stale = f" {many} card{'s are' if many > 1 else ' is'} out of date now: a pharmacist decides about each." if many else ""
    messages.success(request, f"The record stands so.{stale or ' No card rests on what was changed.'}")


def _as_it_is(someone: Person) -> dict[str, object]:
    return {name: getattr(someone, name) for name in ("name", "born", "home", "room", "address")}


def _said(someone: Person, form: PersonForm) -> Person:
    said = form.cleaned_data
    home = HomeId(said["home"]) if said["home"] else None
    return replace(
        someone, name=said["name"].strip(), born=said["born"], home=home, room=said["room"].strip(), address=said["address"].strip()
    )
