"""One way to put an address up: its line in the table, its door, and what may come back."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any, TypeVar

from ninja import Router

from dosewright.api.answer import REFUSALS, Answer
from dosewright.api.door import KEY, Door, Route, Scope
from dosewright.core.custody.rights import Ability

__all__ = ["ROUTES", "does", "finds", "gives", "offer"]

ROUTES: list[Route] = []  # every address of this room, in the order in which the modules put them up

V = TypeVar("V", bound=Callable[..., Any])

_KEY = {
    "name": KEY,
    "in": "header",
    "required": True,
    "description": "New for each request: the same request sent again with the same key is done once, and answered as it was.",
    "schema": {"type": "string", "minLength": 8, "maxLength": 80, "pattern": "^[0-9A-Za-z-]{8,80}$"},
}


def gives(name: str, path: str, *abilities: Ability, scope: Scope = Scope.SUBJECT) -> Route:
    """An address that gives something."""
    return Route(name, "GET", path, abilities, scope, changes=False)


def finds(name: str, path: str, *abilities: Ability, scope: Scope = Scope.SUBJECT) -> Route:
    """The same, where what is looked for is no matter for an address."""
    return Route(name, "POST", path, abilities, scope, changes=False)


def does(name: str, path: str, *abilities: Ability, scope: Scope = Scope.SUBJECT) -> Route:
    """An address that changes something."""
    return Route(name, "POST", path, abilities, scope, changes=True)


def offer(router: Router, route: Route, *, out: Any = Answer, extra: Mapping[str, Any] = MappingProxyType({})) -> Callable[[V], V]:
    """Put a view up: `out` is the shape of what it gives, `extra` what its description needs besides."""
    ROUTES.append(route)
    said = {**({"parameters": [_KEY]} if route.changes else {}), **extra}
    answers = {200: out, **dict.fromkeys(REFUSALS, Answer)}

    def put_up(view: V) -> V:
        doc = (view.__doc__ or "").strip()
        router.api_operation(
            [route.method],
            route.path,
            auth=Door(route),
            response=answers,
            operation_id=route.name.replace("-", "_"),
            summary=doc.split("\n")[0],
            description=f"{doc}\n\nTakes: {' or '.join(route.abilities)}.",
            openapi_extra=said or None,
        )(view)
        return view

    return put_up
