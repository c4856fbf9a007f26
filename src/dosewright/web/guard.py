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
from dosewright.store.missing import Missing
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
            return _to_sign_in(request)
        request.actor = request.person
        if request.actor.role not in address.roles:
            refuse_address(address.name, occasion(request))
            return show(request, "refused.html", NotForYou(say_roles(address.roles)), status=403)
    if address.changes and request.method != "POST":
        return HttpResponseNotAllowed(["POST"])
    try:
        return view(request, **kwargs)
    except Missing as missing:
        return show(request, "missing.html", NotHere(missing.kind, missing.name), status=404)


def _to_sign_in(request: BenchRequest) -> HttpResponse:
    wanted = request.get_full_path() if request.method == "GET" else "/"
    place = f"{reverse('sign-in')}?{urlencode({'next': wanted})}"
    return HttpResponseClientRedirect(place) if request.htmx else redirect(place)
