"""Whose dosing times: the pharmacy's, a home's or one person's ⇄ rows."""

import hashlib
from dataclasses import dataclass

from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.store.dosing_times import give_timetable
from dosewright.store.missing import Missing
from dosewright.store.models import HomeRow, PersonRow, Pharmacy
from dosewright.store.people import load_timetable, save_timetable
from dosewright.store.value_json import parse_value

__all__ = ["PHARMACY", "WhoseTimes", "has_own_times", "load_homes_with_times", "load_people_with_times", "load_times_of", "save_times_of"]


@dataclass(frozen=True, slots=True)
class WhoseTimes:
    """`kind`: pharmacy, home or person; `id` is "" for the pharmacy."""

    kind: str
    id: str = ""


PHARMACY = WhoseTimes("pharmacy")


def load_times_of(whose: WhoseTimes) -> Timetable:
    """What counts for them: their own, else what they follow. Raises Missing."""
    if whose.kind == "person":
        return load_timetable(PersonId(whose.id))
    if whose.kind == "home":
        row = HomeRow.objects.select_related("timetable").filter(id=whose.id).first()
        if row is None:
            raise Missing("home", whose.id)
        if row.timetable:
            return parse_value(Timetable, row.timetable.value)
    return parse_value(Timetable, Pharmacy.objects.select_related("timetable").get(id=1).timetable.value)


def has_own_times(whose: WhoseTimes) -> bool:
    """Whether they have dosing times of their own; the pharmacy always has."""
    rows = {"person": PersonRow.objects, "home": HomeRow.objects}.get(whose.kind)
    return rows is None or rows.filter(id=whose.id, timetable__isnull=False).exists()


def save_times_of(whose: WhoseTimes, timetable: Timetable | None) -> None:
    """These are theirs from now on; None: they follow the home's or the pharmacy's again."""
    if whose.kind == "person":
        _save_person(PersonId(whose.id), timetable)
    elif whose.kind == "home":
        name = f"home {hashlib.sha256(whose.id.encode()).hexdigest()[:32]}"
        if timetable:
            save_timetable(name, timetable)
        HomeRow.objects.filter(id=whose.id).update(timetable_id=name if timetable else None)
    elif timetable:
        row = Pharmacy.objects.get(id=1)
        save_timetable(row.timetable_id, timetable)


def _save_person(person: PersonId, timetable: Timetable | None) -> None:
    if timetable:
        give_timetable(person, timetable)
    else:
        PersonRow.objects.filter(id=person).update(timetable=None)


def load_homes_with_times() -> tuple[tuple[HomeId, str, bool], ...]:
    """Each home's id, printed name, and whether it has dosing times of its own."""
    return tuple((HomeId(row.id), row.name, row.timetable_id is not None) for row in HomeRow.objects.order_by("name", "id"))


def load_people_with_times() -> tuple[tuple[PersonId, str], ...]:
    """People who have dosing times of their own, by name."""
    rows = PersonRow.objects.filter(timetable__isnull=False).order_by("name", "id")
    return tuple((PersonId(row.id), row.name) for row in rows)
