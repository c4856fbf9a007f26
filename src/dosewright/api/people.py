"""People: found by name or home. A name travels in the body, never in an address: addresses are written into logs."""

from datetime import date

from ninja import Router, Schema

from dosewright.api.door import Scope
from dosewright.api.fields import Code, Reason
from dosewright.api.offer import finds, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.core.units.person import Person
from dosewright.store.people import load_people, load_person

__all__ = ["PersonOut", "WhoIn", "find_people", "person", "router"]

router = Router(tags=["people"])
_LOOKS = (Ability.LOOK, Ability.RECEIVE_CARD)


class PersonOut(Schema):
    """Somebody who lives with the cards."""

    id: str
    name: str
    born: date | None
    home: str | None
    room: str
    address: str


class WhoIn(Schema):
    """Part of a name, in any case; of which home. What is left out is not asked."""

    name: Reason = ""
    home: Code | None = None


@offer(router, finds("find-people", "/people/find", *_LOOKS, scope=Scope.LIST), out=list[PersonOut])
def find_people(request: ApiRequest, body: WhoIn) -> list[dict[str, object]]:
    """People by name."""
    asked, bound = HomeId(body.home) if body.home else None, request.auth.home
    if bound is not None and asked not in {None, bound}:
        return []
    wanted = body.name.casefold()
    return [_out(person) for person in load_people(bound or asked) if wanted in person.name.casefold()]


@offer(router, gives("person", "/people/{path:person}", *_LOOKS), out=PersonOut)
def person(request: ApiRequest, person: str) -> dict[str, object]:
    """One person."""
    return _out(load_person(PersonId(person)))


def _out(found: Person) -> dict[str, object]:
    return {name: getattr(found, name) for name in ("id", "name", "born", "home", "room", "address")}
