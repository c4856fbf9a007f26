"""All addresses of this room under one roof: what it is called, its OpenAPI description, and how what goes wrong is told."""

from typing import Any

from django.core.exceptions import RequestDataTooBig
from django.http import HttpRequest, HttpResponse
from django.views.decorators.csrf import csrf_exempt
from ninja import NinjaAPI
from ninja.errors import HttpError, ValidationError

from dosewright.api import (
    accounts,
    cards,
    changes,
    charts,
    codes,
    fewer_times,
    fhir,
    labels,
    long_work,
    near_misses,
    orders,
    pair_rules,
    people,
    printers,
    recalls,
    records,
    rules,
    sets,
    settings,
    sheets,
    stock,
    times,
    tokens,
    unused,
    wordings,
)
from dosewright.api.answer import Refused, refusal, stop
from dosewright.core.interop.characters import shown
from dosewright.core.units.finding import Finding
from dosewright.store.missing import Missing

__all__ = ["fallback", "service"]

_MIB = 1024 * 1024

service = NinjaAPI(
    title="Dosewright",
    version="1",
    description="The bench's actions for other programs. Amounts are exact text; days are ISO dates; every refusal is a finding.",
    docs_url=None,  # its page would load scripts from elsewhere
    openapi_url="/openapi.json",
    urls_namespace="api",
)
# An address with more behind a name comes before the one that ends with the name.
_FIRST = (cards, sets, labels, long_work, sheets, changes, wordings, unused, orders, times, fewer_times, records, people)
_ROOMS = (*_FIRST, stock, codes, rules, pair_rules, settings, printers, recalls, near_misses, charts, tokens, accounts, fhir)
for _router in (room.router for room in _ROOMS):
    service.add_router("", _router)


@service.exception_handler(Refused)
def _refused(request: HttpRequest, error: Refused) -> HttpResponse:
    return refusal(error.status, error.findings)


@service.exception_handler(Missing)
def _missing(request: HttpRequest, error: Missing) -> HttpResponse:
    return refusal(404, stop("custody.not-there", kind=error.kind, id=shown(error.name)))


@service.exception_handler(ValidationError)
def _wrong(request: HttpRequest, error: ValidationError) -> HttpResponse:
    return refusal(422, tuple(finding for fault in error.errors for finding in _fault(fault)))


@service.exception_handler(HttpError)
def _unreadable(request: HttpRequest, error: HttpError) -> HttpResponse:
    return refusal(error.status_code, stop("custody.request-wrong", field="body", why="it is no JSON of the shape that openapi.json shows"))


@service.exception_handler(RequestDataTooBig)
def _too_big(request: HttpRequest, error: RequestDataTooBig) -> HttpResponse:
    from django.conf import settings  # noqa: PLC0415  read when asked: tests change it

    return refusal(413, stop("custody.request-too-large", most=settings.DATA_UPLOAD_MAX_MEMORY_SIZE // _MIB))


def _fault(fault: dict[str, Any]) -> tuple[Finding, ...]:
    """The field by its own path, without the library's words for where it stands; never the value that was sent."""
    field = ".".join(str(step) for step in fault["loc"] if step not in {"body", "query", "path"}) or "body"
    return stop("custody.request-wrong", field=shown(field), why=shown(str(fault["msg"]).rstrip("."), 200))


@csrf_exempt  # nothing is done here
def fallback(request: HttpRequest) -> HttpResponse:
    """Nothing is at this address."""
    return refusal(404, stop("custody.no-such-address"))
