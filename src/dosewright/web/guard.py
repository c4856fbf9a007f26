"""The door of every address: signed in, of a role that may, and by POST where something changes. A refusal is put on record (R14)."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Any, cast
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed
from django.shortcuts import redirect
from django.urls import reverse
from django_htmx.http import HttpResponseClientRedirect

from dosewright.actions.refuse_address import refuse_address
from dosewright.core.custody.rights import check_home
from dosewright.store.homes import homes_of
from dosewright.store.missing import Missing
from dosewright.web.bench_lock import keep_posted, touch
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, occasion
from dosewright.web.rights import Address
from dosewright.web.wording import say_roles

__all__ = ["NotForYou", "NotHere", "View", "guarded"]

View = Callable[..., HttpResponse]


@dataclass(frozen=True, slots=True)
class NotForYou:
    """The page of a refusal: whose work it is."""

    whose: str


@dataclass(frozen=True, slots=True)
class NotHere:
    """The page for what the store does not have."""

    kind: str
    name: str


def guarded(address: Address, view: View) -> Callable[..., HttpResponse]:
    """The view behind its door."""

    @wraps(view)
    def answer(request: HttpRequest, **kwargs: Any) -> HttpResponse:
        return _answer(address, view, cast(BenchRequest, request), kwargs)

    return answer


def _answer(address: Address, view: View, request: BenchRequest, kwargs: dict[str, Any]) -> HttpResponse:
    if not address.open:
        if request.person is None:
            return _to_badge(request) if request.locked else _to_sign_in(request)
        request.actor = request.person
        if not address.quiet:
            touch(request, request.clock.now())
        if why := _against(request, address, kwargs):
            return _refuse(request, address, why)
    if address.changes and request.method != "POST":
        return HttpResponseNotAllowed(["POST"])
    try:
        return view(request, **kwargs)
    except Missing as missing:
        return show(request, "missing.html", NotHere(missing.kind, missing.name), status=404)


def _against(request: BenchRequest, address: Address, kwargs: dict[str, Any]) -> str:
    """Why whoever asks may not come here: a finding's code; "" where they may (R14)."""
    if request.actor.role not in (address.roles if request.method == "POST" else address.readers):
        return "custody.no-right"
    if request.actor.home is not None and not address.of_a_home:
        return "custody.whole-pharmacy"
    return "custody.other-home" if _of_another_home(request, kwargs) else ""


def _to_sign_in(request: BenchRequest) -> HttpResponse:
    wanted = request.get_full_path() if request.method == "GET" else "/"
    place = f"{reverse('sign-in')}?{urlencode({'next': wanted})}"
    return HttpResponseClientRedirect(place) if request.htmx else redirect(place)


def _refuse(request: BenchRequest, address: Address, code: str) -> HttpResponse:
    refuse_address(address.name, occasion(request), (code,))
    whose = say_roles(address.roles) if code == "custody.no-right" else _WHOSE[code]
    return show(request, "refused.html", NotForYou(whose), status=403)


_WHOSE = {"custody.other-home": "the people of another home", "custody.whole-pharmacy": "the pharmacy's own people"}


def _of_another_home(request: BenchRequest, kwargs: dict[str, Any]) -> bool:
    """Whether somebody who belongs to a home asks about a person, an order, a set or a card of another (R14)."""
    if request.actor.home is None:
        return False
    homes = homes_of(kwargs)
    return any(check_home(request.actor, home) for home in homes)


def _to_badge(request: BenchRequest) -> HttpResponse:
    """The bench is locked; what was sent to it now waits with the page that it came from."""
    account = request.session.get("_auth_user_id")
    if request.method == "POST" and account:
        keep_posted(request, str(account))
    place = reverse("locked")
    return HttpResponseClientRedirect(place) if request.htmx else redirect(place)
