"""People, homes and their dosing times ⇄ rows."""

from typing import Any

from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.core.units.person import Person
from dosewright.store.missing import Missing
from dosewright.store.models import HomeRow, PersonRow, Pharmacy, TimetableRow
from dosewright.store.value_json import format_value, parse_value

__all__ = [
    "PERSON_FIELDS",
    "find_person",
    "find_timetable",
    "load_home_names",
    "load_people",
    "load_person",
    "load_timetable",
    "lock_person",
    "person_from",
    "person_of",
    "save_home",
    "save_person",
    "save_timetable",
]


def person_of(row: PersonRow) -> Person:
    """The row as a value."""
    return person_from(tuple(getattr(row, name) for name in PERSON_FIELDS))


def person_from(fields: tuple[Any, ...]) -> Person:
    """The same from its fields, in the order of `PERSON_FIELDS`."""
    number, name, born, home, room, address = fields
    return Person(PersonId(number), name, born, HomeId(home) if home else None, room, address)


PERSON_FIELDS = ("id", "name", "born", "home_id", "room", "address")


def find_person(person: PersonId) -> Person | None:
    """Somebody on record, or None."""
    row = PersonRow.objects.filter(id=person).first()
    return person_of(row) if row else None


def load_person(person: PersonId) -> Person:
    """Raises Missing."""
    found = find_person(person)
    if found is None:
        raise Missing("person", person)
    return found


def lock_person(person: PersonId) -> PersonId:
    """Keep the person's orders and plans from the other stations until the transaction ends. Raises Missing."""
    if PersonRow.objects.select_for_update(of=("self",)).filter(id=person).first() is None:
        raise Missing("person", person)
    return person


def load_people(home: HomeId | None = None) -> tuple[Person, ...]:
    """Everyone, or one home's people, by name."""
    rows = PersonRow.objects.order_by("name", "id")
    return tuple(person_of(row) for row in (rows.filter(home_id=home) if home else rows))


def save_person(person: Person) -> None:
    """Add or change. The home must be there, or is made with its id for a name."""
    if person.home:
        HomeRow.objects.get_or_create(id=person.home, defaults={"name": person.home})
    said = {"name": person.name, "born": person.born, "home_id": person.home, "room": person.room, "address": person.address}
    PersonRow.objects.update_or_create(id=person.id, defaults=said)


def save_home(home: HomeId, name: str, *, address: str = "", phone: str = "", timetable: str | None = None) -> None:
    """Add or change a home. `timetable` names one that is there."""
    said = {"name": name, "address": address, "phone": phone, "timetable_id": timetable}
    HomeRow.objects.update_or_create(id=home, defaults=said)


def load_home_names() -> dict[HomeId, str]:
    """Each home's printed name."""
    return {HomeId(row.id): row.name for row in HomeRow.objects.order_by("id")}


def save_timetable(name: str, timetable: Timetable) -> None:
    """Add or change a timetable."""
    TimetableRow.objects.update_or_create(name=name, defaults={"value": format_value(timetable)})


def find_timetable(name: str) -> Timetable | None:
    """The timetable of that name, or None."""
    row = TimetableRow.objects.filter(name=name).first()
    return parse_value(Timetable, row.value) if row else None


def load_timetable(person: PersonId) -> Timetable:
    """The person's own dosing times, else the home's, else the pharmacy's. Raises Missing."""
    row = PersonRow.objects.select_related("timetable", "home__timetable").filter(id=person).first()
    if row is None:
        raise Missing("person", person)
    at_home = row.home.timetable if row.home else None
    chosen = row.timetable or at_home or Pharmacy.objects.select_related("timetable").get(id=1).timetable
    return parse_value(Timetable, chosen.value)
