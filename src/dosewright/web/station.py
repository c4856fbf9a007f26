"""The station: which place at the bench this browser stands at. Kept in a signed cookie, so that it outlives signing out."""

from django.http import HttpRequest, HttpResponse

__all__ = ["LONGEST", "UNKNOWN", "keep_station", "read_station"]

UNKNOWN = "station not named"
LONGEST = 40  # characters; the ledger keeps 60
_COOKIE = "station"
_YEAR = 60 * 60 * 24 * 365  # seconds


def read_station(request: HttpRequest) -> str:
    """The station's name, or `UNKNOWN` where this browser has none or the cookie was altered."""
    return str(request.get_signed_cookie(_COOKIE, default=UNKNOWN, salt=_COOKIE))


def keep_station(response: HttpResponse, name: str, *, secure: bool) -> None:
    """Remember the station in this browser for a year."""
    response.set_signed_cookie(_COOKIE, name, salt=_COOKIE, max_age=_YEAR, secure=secure, httponly=True, samesite="Strict")
