"""What is answered while an account is locked after wrong passwords: a page at the bench, a finding to a program."""

from typing import Any

from django.http import HttpRequest, HttpResponse

from dosewright.api.answer import refusal, stop
from dosewright.web.signin import locked_out as page

__all__ = ["locked_out"]


def locked_out(request: HttpRequest, original: HttpResponse, credentials: dict[str, Any] | None) -> HttpResponse:
    """By the address that was asked for."""
    if request.path.startswith("/api/"):
        return refusal(429, stop("custody.wrong-password"))
    return page(request, original, credentials)
