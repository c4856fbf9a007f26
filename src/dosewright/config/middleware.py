"""What every request carries, and what every answer forbids.

On the way in: the clock, the station (a signed cookie of this browser) and the person signed in. On the way out: a content policy without
any inline script or style, and no copy kept by the browser, so that nothing of a person stays on a shared bench.
"""

from collections.abc import Callable
from typing import cast

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from dosewright.core.custody.event import Actor
from dosewright.core.units.ids import StationId
from dosewright.store.accounts import actor_of
from dosewright.store.models import Account
from dosewright.web.bench_lock import is_locked
from dosewright.web.request import BenchRequest
from dosewright.web.station import read_station

__all__ = ["POLICY", "bench_middleware", "policy_middleware"]

_Answer = Callable[[HttpRequest], HttpResponse]

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
    )
)


def bench_middleware(get_response: _Answer) -> _Answer:
    """Clock, station and person on the request."""

    def answer(request: HttpRequest) -> HttpResponse:
        bench = cast(BenchRequest, request)
        bench.clock = settings.BENCH_CLOCK
        bench.station = StationId(read_station(request))
        bench.locked = is_locked(request, settings.BENCH_CLOCK.now())
        bench.person = None if bench.locked else _actor(request)
        return get_response(request)

    return answer


def policy_middleware(get_response: _Answer) -> _Answer:
    """The headers of every answer that is not a file of the program's own."""

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        response.headers.setdefault("Content-Security-Policy", POLICY)
        response.headers.setdefault("Cache-Control", "no-store")
        response.headers.setdefault("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
        if request.path.startswith("/api/"):  # for programs: no browser shows it as a page
            response.headers.setdefault("Content-Disposition", 'attachment; filename="api.json"')
        return response

    return answer


def _actor(request: HttpRequest) -> Actor | None:
    account = request.user
    return actor_of(account) if isinstance(account, Account) and account.is_active else None
