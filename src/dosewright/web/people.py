"""People by home, found by part of a name."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from django.http import HttpResponse

from dosewright.core.units.person import Person
from dosewright.store.people import load_home_names, load_people
from dosewright.web.page import show
from dosewright.web.request import BenchRequest

__all__ = ["AT_HOME", "PeopleOfAHome", "PeopleScreen", "by_home", "people"]

AT_HOME = "At home"


@dataclass(frozen=True, slots=True)
class PeopleOfAHome:
    """The home's printed name and its people by name; those of no home together."""

    where: str
    people: tuple[Person, ...]


@dataclass(frozen=True, slots=True)
class PeopleScreen:
    """Everyone who fits the words typed."""

    query: str
    count: int
    groups: tuple[PeopleOfAHome, ...]


def people(request: BenchRequest) -> HttpResponse:
    """The list."""
    query = request.GET.get("q", "").strip()[:100]
    found = tuple(person for person in load_people() if query.casefold() in person.name.casefold())
    return show(request, "people/list.html", PeopleScreen(query, len(found), tuple(by_home(found))))


def by_home(found: Iterable[Person]) -> Iterator[PeopleOfAHome]:
    """Homes by name, then the people at home; within each by name."""
    names = load_home_names()
    placed = sorted(((names.get(person.home, person.home) if person.home else "", person) for person in found), key=_order)
    for where, group in groupby(placed, key=lambda pair: pair[0]):
        yield PeopleOfAHome(where or AT_HOME, tuple(person for _, person in group))


def _order(pair: tuple[str, Person]) -> tuple[bool, str, str, str]:
    where, person = pair
    return not where, where, person.name, person.id
