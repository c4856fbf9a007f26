"""Other programs that act here in somebody's name: the list, a new token shown once, and taking one back."""

import base64
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.crypto import salted_hmac

from dosewright.actions.make_token import make_token
from dosewright.actions.revoke_token import revoke_token
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.tokens import GIVEN, TokenAsk, check_in_force
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import HomeId
from dosewright.store.accounts import find_actor
from dosewright.store.api_tokens import StoredToken, hash_of, load_tokens
from dosewright.store.missing import Missing
from dosewright.store.people import load_home_names
from dosewright.web.dates import day_of_year
from dosewright.web.decision import Decision
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion, today

__all__ = ["MadeScreen", "ProgramForm", "ProgramLine", "ProgramsScreen", "programs", "revoke"]

_QUARTER = timedelta(days=92)


class ProgramForm(forms.Form):
    """What it is called, for whom it acts, until when, at which home, and what it may do."""

    name = forms.CharField(label="What the program is called", max_length=40)
    username = forms.CharField(label="Acts in the name of", help_text="the name that person signs in with", max_length=60)
    until = forms.DateField(label="Last day", widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    home = forms.ChoiceField(label="Only this home", required=False)
    abilities = forms.MultipleChoiceField(label="It may", widget=forms.CheckboxSelectMultiple)

    def __init__(self, *args: object, homes: Iterable[tuple[str, str]] = (), **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        home, abilities = self.fields["home"], self.fields["abilities"]
        assert isinstance(home, forms.ChoiceField)  # noqa: S101  declared above
        assert isinstance(abilities, forms.MultipleChoiceField)  # noqa: S101  declared above
        home.choices = [("", "as that person may"), *homes]
        abilities.choices = [(one.value, one.value.capitalize()) for one in Ability if one in GIVEN]


@dataclass(frozen=True, slots=True)
class ProgramLine:
    """One token: whose name its deeds bear, what it may do, and how it stands."""

    id: int
    name: str
    acts_for: str
    where: str
    may: str
    made: str
    at: datetime
    standing: str
    counts: bool


@dataclass(frozen=True, slots=True)
class ProgramsScreen:
    """All tokens ever made, and the form for a new one."""

    lines: tuple[ProgramLine, ...]
    form: ProgramForm
    findings: tuple[Finding, ...]
    token: str


@dataclass(frozen=True, slots=True)
class MadeScreen:
    """The new token, this once."""

    name: str
    secret: str
    until: date


def programs(request: BenchRequest) -> HttpResponse:
    """The list and the form; by POST a token is made."""
    homes = [(str(home), name) for home, name in load_home_names().items()]
    if request.method != "POST":
        return _show(request, ProgramForm(initial={"until": today(request) + _QUARTER}, homes=homes), ())
    form = ProgramForm(request.POST, homes=homes)
    if not form.is_valid():
        return _show(request, form, (), status=422)
    secret = _secret(request)
    outcome = make_token(form.cleaned_data["name"], occasion(request), _ask(form), hash_of(secret))
    if not outcome.done:
        return _show(request, form, outcome.findings, status=422)
    return show(request, "programs/made.html", MadeScreen(form.cleaned_data["name"], secret, form.cleaned_data["until"]))


def revoke(request: BenchRequest, token: int) -> HttpResponse:
    """Ask, then the token counts no more."""
    found = next((one for one in load_tokens() if one.id == token), None)
    if found is None:
        raise Missing("token", str(token))
    if request.method == "POST":
        revoke_token(token, occasion(request))
        messages.success(request, f"Revoked: {found.name}.")
        return redirect("programs")
    about = f"It acts in the name of {found.actor.name}. Its next request is refused already; what it did stays on record."
    action = reverse("revoke-token", args=[token])
    ask = Decision(f"Revoke {found.name}.", about, action, "It may do nothing any more", reverse("programs"), forms.Form(), new_token())
    return show(request, "decision.html", ask)


def _secret(request: BenchRequest) -> str:
    """Made of the form's own mark, which nobody else has seen, by this pharmacy's key: the second of two clicks shows the same token."""
    made = salted_hmac("dosewright.token", f"{request.actor.id} {request.POST.get('token') or new_token()}", algorithm="sha256").digest()
    return "dw_" + base64.urlsafe_b64encode(made).decode().rstrip("=")


def _ask(form: ProgramForm) -> TokenAsk:
    said = form.cleaned_data
    account = find_actor(said["username"])
    abilities = frozenset(Ability(value) for value in said["abilities"])
    return TokenAsk(said["name"].strip(), account, abilities, HomeId(said["home"]) if said["home"] else None, said["until"])


def _show(request: BenchRequest, form: ProgramForm, findings: tuple[Finding, ...], status: int = 200) -> HttpResponse:
    homes = load_home_names()
    lines = tuple(_line(stored, homes, today(request)) for stored in load_tokens())
    return show(request, "programs/screen.html", ProgramsScreen(lines, form, with_names(findings), new_token()), status=status)


def _line(stored: StoredToken, homes: Mapping[HomeId, str], day: date) -> ProgramLine:
    over = check_in_force(revoked=stored.revoked_at is not None, until=stored.until, today=day, account_open=stored.account_open)
    last = f"until {day_of_year(stored.until)}"
    standing = (f"revoked by {stored.revoked_by}" if stored.revoked_at else str(over[0].facts["why"])) if over else last
    where = homes.get(stored.actor.home, "") if stored.actor.home else "every home"
    may = ", ".join(sorted(stored.abilities))
    return ProgramLine(stored.id, stored.name, stored.actor.name, where, may, stored.made_by, stored.made_at, standing, not over)
