"""Who signs in: everybody by name and role; somebody new, a new password, a badge that is void, an account that is closed.

Each change asks for one's own password again: whoever may let others in must be who the bench believes them to be.
"""

from collections.abc import Callable
from dataclasses import dataclass

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.add_account import add_account
from dosewright.actions.close_account import close_account
from dosewright.actions.outcome import Outcome
from dosewright.actions.set_password import set_password
from dosewright.actions.take_badge import take_badge
from dosewright.core.custody.event import Occasion, Role
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import HomeId
from dosewright.store.accounts import KnownAccount, NewAccount, load_account, load_accounts
from dosewright.store.people import load_home_names
from dosewright.web.decision import Decision
from dosewright.web.own_password import is_own_password, password_again
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["AccountsScreen", "AddForm", "AgainForm", "NewPasswordForm", "accounts", "add", "close", "password", "void_badge"]


@dataclass(frozen=True, slots=True)
class AccountsScreen:
    """Everybody, the open accounts first. `own`: the account that one cannot close oneself."""

    open: int
    accounts: tuple[KnownAccount, ...]
    own: str
    may: bool


def accounts(request: BenchRequest) -> HttpResponse:
    """The list."""
    found = load_accounts()
    may = request.actor.role in RIGHTS[Ability.SET_UP]
    screen = AccountsScreen(sum(one.open for one in found), found, request.user.get_username(), may)
    return show(request, "accounts/list.html", screen)


class AgainForm(forms.Form):
    """One's own password."""

    password = password_again()


class NewPasswordForm(forms.Form):
    """Somebody's new password, and one's own."""

    theirs = forms.CharField(
        label="Their new password",
        help_text="10 signs at least; they change it when they sign in",
        max_length=200,
        strip=False,
        widget=forms.PasswordInput({"autocomplete": "new-password"}),
    )
    password = password_again()


class AddForm(forms.Form):
    """Somebody new."""

    username = forms.RegexField(
        r"^[A-Za-z0-9._-]+$",
        label="Name they sign in with",
        help_text="letters, digits, dot, dash",
        max_length=60,
        error_messages={"invalid": "Use letters, digits, dots and dashes only, for example: r.tamm"},
    )
    name = forms.CharField(label="Name as it is printed", max_length=120)
    role = forms.ChoiceField(label="What they do", choices=[(role.value, role.value.capitalize()) for role in Role])
    home = forms.ChoiceField(label="Home", help_text="a carer’s: they see its people only", required=False)
    another = forms.CharField(
        label="How you know that they are another person",
        help_text="only where somebody of this printed name has an account already: nobody has two",
        max_length=300,
        required=False,
    )
    theirs = forms.CharField(
        label="Their password",
        help_text="10 signs at least",
        max_length=200,
        strip=False,
        widget=forms.PasswordInput({"autocomplete": "new-password"}),
    )
    password = password_again()

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        homes = sorted(load_home_names().items(), key=lambda pair: pair[1])
        self.fields["home"].choices = [("", "none: they work at the pharmacy"), *homes]  # type: ignore[attr-defined]


def add(request: BenchRequest) -> HttpResponse:
    """Somebody may sign in from now on."""

    def act(on: Occasion, said: dict[str, str]) -> Outcome:
        who = NewAccount(
            said["username"], said["name"].strip(), Role(said["role"]), HomeId(said["home"]) if said["home"] else None, said["another"]
        )
        return add_account(said["username"], on, who, said["theirs"])

    words = ("Who is to sign in?", "They see and do what their role allows, and every refusal is on record.", "They may sign in now")
    return _decide(request, words, reverse("add-account"), AddForm(request.POST or None), act)


def password(request: BenchRequest, username: str) -> HttpResponse:
    """Somebody forgot theirs."""
    who = load_account(username)
    words = (f"A new password for {who.name}.", "Wherever they are signed in, they are signed out by it.", "This is their password now")
    form = NewPasswordForm(request.POST or None)
    return _decide(
        request, words, reverse("account-password", args=[username]), form, lambda on, said: set_password(username, on, said["theirs"])
    )


def void_badge(request: BenchRequest, username: str) -> HttpResponse:
    """A badge is lost."""
    who = load_account(username)
    words = (
        f"The badge of {who.name} is lost.",
        "It opens nothing any more. They make a new one with their password.",
        "The badge is void",
    )
    place = reverse("void-badge", args=[username])
    return _decide(request, words, place, AgainForm(request.POST or None), lambda on, _: take_badge(username, on))


def close(request: BenchRequest, username: str) -> HttpResponse:
    """Somebody signs in no more."""
    who = load_account(username)
    words = (f"{who.name} signs in no more.", "The account is closed, not deleted: the ledger goes on naming it.", "The account is closed")
    place = reverse("close-account", args=[username])
    return _decide(request, words, place, AgainForm(request.POST or None), lambda on, _: close_account(username, on))


def _decide(
    request: BenchRequest,
    words: tuple[str, str, str],
    place: str,
    form: forms.Form,
    act: Callable[[Occasion, dict[str, str]], Outcome],
) -> HttpResponse:
    """`words`: the title, what it is about, the button. Shown, or carried out once the password is right."""
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        if is_own_password(request, form.cleaned_data["password"]):
            outcome = act(occasion(request), form.cleaned_data)
            if outcome.done:
                messages.success(request, f"{words[2]}.")
                return redirect("accounts")
            findings = outcome.findings
        else:
            form.add_error("password", "That is not your password. Nothing was changed.")
    title, about, button = words
    ask = Decision(title, about, place, button, reverse("accounts"), form, new_token(), findings)
    return show(request, "decision.html", ask, status=422 if request.method == "POST" else 200)
