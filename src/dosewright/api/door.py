"""The door of every address here: a known token that counts, given this right, for this home, not too often; refusals are on record (R14).

Comes in: the bearer token of a request. Goes out: the caller, or a refusal. A program's rights are the fewest of three: what
its token was given, what the person's role may, and the home that either is bounded to. Each is asked anew with every request.
"""

import base64
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from typing import cast

from django.http import HttpRequest
from django.utils.crypto import salted_hmac
from ninja.security import HttpBearer
from ninja.throttling import SimpleRateThrottle

from dosewright.actions.refuse_address import refuse_address
from dosewright.api.answer import Refused, stop
from dosewright.api.request import ApiRequest, Caller
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability, check_home, check_right
from dosewright.core.custody.tokens import check_home_of_token, check_in_force
from dosewright.core.interop.characters import find_forbidden
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, HomeId, OrderId, PersonId, StationId
from dosewright.store.api_tokens import StoredToken, find_token, same_request
from dosewright.store.calendar import wall_day
from dosewright.store.cards import load_card, load_set
from dosewright.store.changes import load_change
from dosewright.store.missing import Missing
from dosewright.store.orders import load_order
from dosewright.store.people import load_home_names, load_person
from dosewright.store.turns import write_turn

__all__ = ["KEY", "Door", "Route", "Scope", "secret_of_program"]

KEY = "Idempotency-Key"


class Scope(Enum):
    """What of the store an address is about: one thing named in its path, a list that is cut to the caller's home, or everything."""

    SUBJECT = "subject"
    LIST = "list"
    PHARMACY = "pharmacy"


@dataclass(frozen=True, slots=True)
class Route:
    """One address: the same for all of its kind. `abilities`: any of them is enough. `changes`: it needs a key."""

    name: str
    method: str
    path: str
    abilities: tuple[Ability, ...]
    scope: Scope
    changes: bool


class _Throttle(SimpleRateThrottle):
    """So many requests of one key. Several processes count each for themselves; the measures are our own, no source."""

    def __init__(self, rate: str, key: str) -> None:
        super().__init__(rate)
        self._key = key

    def get_cache_key(self, request: HttpRequest) -> str:
        return f"api-{self._key}"


_OFTEN = "1200/m"  # of one token
_STRANGER = "60/m"  # without a good token, from one network address: nobody tries tokens in bulk


class Door(HttpBearer):
    """Lets a request in to one route, as a `Caller`. Raises Refused."""

    def __init__(self, route: Route) -> None:
        super().__init__()
        self._route = route

    def __call__(self, request: HttpRequest) -> Caller:
        return self._let_in(cast(ApiRequest, request), _word(request))

    def authenticate(self, request: HttpRequest, token: str) -> Caller:
        """The caller behind a token."""
        return self._let_in(cast(ApiRequest, request), token)

    def _let_in(self, request: ApiRequest, word: str) -> Caller:
        token = find_token(word) if word else None
        if token is None:
            _hold_back(_Throttle(_STRANGER, f"address-{request.META.get('REMOTE_ADDR', '')}"), request)
            raise Refused(401, stop("custody.token-unknown"))
        request.auth = _caller(token, request)
        _hold_back(_Throttle(_OFTEN, f"token-{token.id}"), request)
        self._require(request, self._against(request, token))
        if self._route.changes:
            _require_key(request)
        return request.auth

    def _against(self, request: ApiRequest, token: StoredToken) -> tuple[Finding, ...]:
        today = wall_day(request.clock.now())
        over = check_in_force(revoked=token.revoked_at is not None, until=token.until, today=today, account_open=token.account_open)
        return over or _check_abilities(self._route, request.auth) or self._check_scope(request)

    def _check_scope(self, request: ApiRequest) -> tuple[Finding, ...]:
        _require_names(request)
        if self._route.scope is Scope.PHARMACY:
            return check_home_of_token(request.auth.actor)
        if self._route.scope is Scope.SUBJECT:
            return _check_subject(request)
        return ()

    def _require(self, request: ApiRequest, findings: tuple[Finding, ...]) -> None:
        if findings:
            refuse_address(f"api {self._route.name}", request.auth.on, tuple(finding.code for finding in findings))
            raise Refused(403, findings)


def _word(request: HttpRequest) -> str:
    words = request.headers.get("Authorization", "").split(" ")
    return words[1] if len(words) == 2 and words[0].lower() == "bearer" else ""


def secret_of_program(request: ApiRequest) -> str:
    """The secret of a token that a program makes: of its own secret, which is kept nowhere here, and the request's key, by this pharmacy's
    key. So the same request sent again is answered with the same token, and nobody can work it out from what is kept."""
    made = salted_hmac("dosewright.token.of.program", f"{_word(request)} {request.headers[KEY]}", algorithm="sha256").digest()
    return "dw_" + base64.urlsafe_b64encode(made).decode().rstrip("=")


def _caller(token: StoredToken, request: ApiRequest) -> Caller:
    """The occasion's mark is the program's key; the station is the program."""
    station = StationId(f"program {token.name}"[:60])
    on = Occasion(token.actor, request.clock.now(), station, request.headers.get(KEY, "")[:80])
    return Caller(token.actor, token.username, str(token.id), token.abilities, on)


def _check_abilities(route: Route, caller: Caller) -> tuple[Finding, ...]:
    """Nothing where one of the route's abilities is both the role's and the token's."""
    own = [ability for ability in route.abilities if not check_right(caller.actor, ability)]
    if not own:
        return check_right(caller.actor, route.abilities[0])
    if not caller.abilities.intersection(own):
        return stop("custody.token-not-given", what=own[0].value)
    return ()


def _known_home(home: HomeId) -> HomeId:
    if home not in load_home_names():
        raise Missing("home", home)
    return home


_HOME_OF: dict[str, Callable[[str], HomeId | None]] = {
    "number": lambda number: load_card(CardNumber(number)).person.home,
    "dispense": lambda name: load_card(CardNumber(name.rpartition("-")[0])).person.home,
    "set_id": lambda number: load_set(int(number)).person.home,
    "person": lambda person: load_person(PersonId(person)).home,
    "home": lambda home: _known_home(HomeId(home)),
    "order": lambda order: load_order(OrderId(order)).person.home,
    "change": lambda change: load_change(int(change)).person.home,
}


def _require_names(request: ApiRequest) -> None:
    """No name in an address holds what no name may hold: the store is never asked for it. Raises Refused with 404."""
    named = request.resolver_match.kwargs if request.resolver_match else {}
    for kind, value in named.items():
        if find_forbidden(str(value)) and request.auth.home is None:
            raise Refused(404, stop("custody.not-there", kind=kind, id="of such a name"))


def _check_subject(request: ApiRequest) -> tuple[Finding, ...]:
    """Somebody of one home is not told whether another home's card is there. Raises Refused with 404 for what no home has."""
    match = request.resolver_match
    if match is None:
        raise TypeError("a request without an address cannot be let in")
    ((kind, value),) = match.kwargs.items()
    try:
        if find_forbidden(str(value)):
            raise Missing(kind, "of such a name")
        return check_home(request.auth.actor, _HOME_OF[kind](str(value)))
    except Missing as missing:
        if request.auth.home is not None:
            return stop("custody.other-home", name=request.auth.actor.name)
        raise Refused(404, stop("custody.not-there", kind=missing.kind, id=missing.name)) from missing


def _require_key(request: ApiRequest) -> None:
    """A request that changes something has a key, and a key has one request. Raises Refused."""
    key = request.headers.get(KEY, "")
    if not (8 <= len(key) <= 80 and key.isascii() and all(letter.isalnum() or letter == "-" for letter in key)):
        raise Refused(400, stop("custody.no-key"))
    with write_turn():
        same = same_request(request.auth.actor.id, key, _fingerprint(request), request.auth.on.at)
    if not same:
        raise Refused(409, stop("custody.key-used"))


def _fingerprint(request: ApiRequest) -> str:
    """Of the whole request, by this pharmacy's key: some requests hold a password, and a bare hash of one can be guessed from a backup."""
    said = f"{request.method} {request.get_full_path()}\n".encode() + request.body
    return salted_hmac("dosewright.request", said, algorithm="sha256").hexdigest()


def _hold_back(throttle: SimpleRateThrottle, request: ApiRequest) -> None:
    if not throttle.allow_request(request):
        raise Refused(429, stop("custody.too-often", seconds=int(throttle.wait() or 1) + 1))
