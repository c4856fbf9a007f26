"""The badge screen of a locked bench: whoever scans a badge and types its PIN takes the place. And making one's own badge and PIN."""

from dataclasses import dataclass

from axes.decorators import axes_dispatch
from django import forms
from django.contrib.auth import authenticate
from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils.safestring import SafeString, mark_safe

from dosewright.actions.issue_badge import issue_badge
from dosewright.actions.record_sign_in import record_lock, record_taken
from dosewright.core.custody.event import Occasion
from dosewright.core.units.finding import Finding
from dosewright.store.accounts import actor_of
from dosewright.store.badges import find_badge, new_badge_code
from dosewright.store.models import Account
from dosewright.store.work import username_of
from dosewright.web.bench_lock import come_to_the_bench, is_open, keep_draft, lock, place_left
from dosewright.web.first_screen import first_screen
from dosewright.web.own_password import is_own_password, password_again
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion
from dosewright.web.symbol import draw_symbol

__all__ = ["BadgeForm", "BadgeScreen", "LockedBench", "PinForm", "locked", "my_badge"]


class PinForm(forms.Form):
    """The digits that belong to the badge."""

    pin = forms.CharField(
        label="Your PIN", max_length=12, widget=forms.PasswordInput({"inputmode": "numeric", "autocomplete": "off", "autofocus": True})
    )


@dataclass(frozen=True, slots=True)
class LockedBench:
    """`name`: whose badge was scanned, "" while none was. `open`: badge and PIN do here; else a password is needed first.
    `wrong`: "badge" or "pin", what did not fit."""

    open: bool
    name: str
    form: PinForm
    wrong: str = ""


@axes_dispatch  # type: ignore[untyped-decorator]
def locked(request: BenchRequest) -> HttpResponse:
    """Locks a bench that somebody leaves; then badge, then PIN. Somebody else's page and words are never shown."""
    if request.method == "POST" and request.person is not None:
        _leave(request)
    elif request.method != "POST" and request.person is not None:
        return redirect(first_screen(request.person))
    if not is_open(request, request.clock.now()):
        return show(request, "signin/badge.html", LockedBench(open=False, name="", form=PinForm()))
    if request.method == "POST" and "pin" in request.POST:
        return _try_pin(request)
    if request.method == "POST":
        return _try_badge(request)
    account = _whose_badge(request)
    return show(request, "signin/badge.html", LockedBench(open=True, name=account.name if account else "", form=PinForm()))


def _leave(request: BenchRequest) -> None:
    """What was typed waits for whoever leaves; the bench is locked, for this request too."""
    assert request.person is not None  # noqa: S101  for the type checker: the caller has looked
    keep_draft(request, request.person.id, request.POST.get("path", ""), request.POST.get("fields", ""))
    record_lock(Occasion(request.person, request.clock.now(), request.station))
    lock(request)
    request.person = None


def _try_badge(request: BenchRequest) -> HttpResponse:
    scanned = request.POST.get("scan", "")
    account = find_badge(scanned) if scanned else None
    request.session["badge"] = account.pk if account else None
    if scanned and account is None:
        return show(request, "signin/badge.html", LockedBench(open=True, name="", form=PinForm(), wrong="badge"), status=422)
    return redirect("locked")


def _try_pin(request: BenchRequest) -> HttpResponse:
    account, form = _whose_badge(request), PinForm(request.POST)
    if account is None:
        return redirect("locked")
    given = form.cleaned_data["pin"] if form.is_valid() else ""
    found = authenticate(request, username=account.username, pin_secret=given)
    if not isinstance(found, Account):
        return show(request, "signin/badge.html", LockedBench(open=True, name=account.name, form=PinForm(), wrong="pin"), status=422)
    come_to_the_bench(request, found, request.clock.now(), by_password=False)
    actor = actor_of(found)
    record_taken(Occasion(actor, request.clock.now(), request.station))
    return redirect(place_left(request, actor.id) or first_screen(actor))


def _whose_badge(request: BenchRequest) -> Account | None:
    badge = request.session.get("badge")
    return Account.objects.filter(pk=badge, is_active=True).exclude(badge=None).first() if badge else None


class BadgeForm(forms.Form):
    """A PIN of one's own choice, twice, and the password that says whose it is."""

    pin = forms.CharField(
        label="A PIN of your own",
        help_text="6 to 12 digits, not a run and not one digit again and again",
        max_length=12,
        widget=forms.PasswordInput({"inputmode": "numeric", "autocomplete": "off"}),
    )
    again = forms.CharField(
        label="The same PIN again", max_length=12, widget=forms.PasswordInput({"inputmode": "numeric", "autocomplete": "off"})
    )
    password = password_again()

    def clean(self) -> None:
        """Both the same."""
        super().clean()
        if self.cleaned_data.get("pin") != self.cleaned_data.get("again"):
            self.add_error("again", "The two differ. Type the same PIN twice.")


@dataclass(frozen=True, slots=True)
class BadgeScreen:
    """`symbol`: the new badge, shown this once. `has`: there is one already, which a new one voids. `wrong`: the password did not fit."""

    form: BadgeForm
    token: str
    has: bool
    wrong: bool = False
    findings: tuple[Finding, ...] = ()
    symbol: SafeString | None = None


def my_badge(request: BenchRequest) -> HttpResponse:
    """Make a badge: the code is made here, drawn once to be printed, and kept nowhere."""
    has = bool(Account.objects.filter(pk=request.actor.id).exclude(badge=None).exists())
    form = BadgeForm(request.POST or None)
    if request.method != "POST" or not form.is_valid():
        return _badge(request, BadgeScreen(form, new_token(), has), status=422 if request.method == "POST" else 200)
    if not is_own_password(request, form.cleaned_data["password"]):
        return _badge(request, BadgeScreen(form, new_token(), has, wrong=True), status=422)
    code = new_badge_code()
    outcome = issue_badge(username_of(request.actor.id), occasion(request), code, form.cleaned_data["pin"])
    if not outcome.done:
        return _badge(request, BadgeScreen(form, new_token(), has, findings=outcome.findings), status=422)
    drawn = mark_safe(draw_symbol(code))  # noqa: S308  made of digits and letters of our own
    return _badge(request, BadgeScreen(form, new_token(), has=True, symbol=drawn), status=200)


def _badge(request: BenchRequest, screen: BadgeScreen, status: int) -> HttpResponse:
    return show(request, "signin/my_badge.html", screen, status=status)
