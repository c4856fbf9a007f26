"""Signing in and out. Wrong passwords lock an account for a while; the page says until when, and never whether a name exists."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any, cast

from axes.helpers import get_cool_off
from django import forms
from django.conf import settings
from django.contrib.auth import authenticate, logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme

from dosewright.actions.record_sign_in import record_sign_in, record_sign_out
from dosewright.core.custody.event import Occasion
from dosewright.core.units.ids import StationId
from dosewright.store.accounts import actor_of
from dosewright.web.bench_lock import come_to_the_bench, place_left
from dosewright.web.first_screen import first_screen
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, occasion
from dosewright.web.station import LONGEST, UNKNOWN, keep_station

__all__ = ["LockedScreen", "SignInForm", "SignInScreen", "locked_out", "sign_in", "sign_out", "touched"]


class SignInForm(forms.Form):
    """Who, and at which station."""

    username = forms.CharField(label="Name you sign in with", max_length=60)
    password = forms.CharField(label="Password", max_length=200, strip=False, widget=forms.PasswordInput())
    station = forms.CharField(label="Where you stand", help_text="for example: bench 3", max_length=LONGEST)


@dataclass(frozen=True, slots=True)
class SignInScreen:
    """The form, and whether the name and password just given did not fit."""

    form: SignInForm
    wrong: bool
    onward: str


@dataclass(frozen=True, slots=True)
class LockedScreen:
    """How many wrong tries, and until when the account stays locked."""

    tries: int
    until: datetime | None


def sign_in(request: BenchRequest) -> HttpResponse:
    """The form, then the work list or the page that was asked for."""
    onward = _onward(request)
    if request.method != "POST":
        form = SignInForm(initial={"station": "" if request.station == UNKNOWN else request.station})
        return show(request, "signin/screen.html", SignInScreen(form, wrong=False, onward=onward))
    form = SignInForm(request.POST)
    if not form.is_valid():
        return show(request, "signin/screen.html", SignInScreen(form, wrong=False, onward=onward), status=422)
    given = form.cleaned_data
    account = authenticate(request, username=given["username"], password=given["password"])
    if account is None:
        return show(request, "signin/screen.html", SignInScreen(form, wrong=True, onward=onward), status=422)
    come_to_the_bench(request, account, request.clock.now(), by_password=True)
    actor = actor_of(account)
    record_sign_in(Occasion(actor, request.clock.now(), StationId(given["station"])))
    response = redirect(onward or place_left(request, actor.id) or first_screen(actor))
    keep_station(response, given["station"], secure=settings.SESSION_COOKIE_SECURE)
    return response


def sign_out(request: BenchRequest) -> HttpResponse:
    """The bench forgets who was there; the station stays."""
    record_sign_out(occasion(request))
    logout(request)
    return redirect("sign-in")


def locked_out(request: HttpRequest, original: HttpResponse, credentials: dict[str, Any] | None) -> HttpResponse:
    """What somebody sees whose account is locked after wrong passwords."""
    wait = get_cool_off(request)
    bench = cast(BenchRequest, request)
    screen = LockedScreen(settings.AXES_FAILURE_LIMIT, bench.clock.now() + wait if wait else None)
    return show(bench, "signin/locked.html", screen, status=429)


def _onward(request: BenchRequest) -> str:
    wanted = request.POST.get("next") or request.GET.get("next") or ""
    safe = url_has_allowed_host_and_scheme(wanted, allowed_hosts={request.get_host()}, require_https=request.is_secure())
    return wanted if safe else ""


def touched(request: BenchRequest) -> HttpResponse:
    """Somebody is typing, and has nothing to send yet: the bench stays theirs. The door has noted the touch itself."""
    return HttpResponse(status=204)
