"""Which sheets can be made on demand, and what each is drawn from. Nothing is drawn or kept here: `make_sheet` does both."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime

from dosewright.actions.make_sheet import Wanted, Way
from dosewright.core.paper.dates import clock, month_day, year_day
from dosewright.core.paper.finish import Offered
from dosewright.core.paper.manifest import Manifest
from dosewright.core.paper.material import Material, Supplier
from dosewright.core.paper.offer import offer_labels
from dosewright.core.paper.offer_sheets import (
    offer_check,
    offer_manifest,
    offer_month,
    offer_notices,
    offer_person_sheet,
    offer_recall,
    offer_round,
)
from dosewright.core.paper.overlay import check_rest, rest_of_cycle, with_lots
from dosewright.core.paper.person_sheet import PersonSheet
from dosewright.core.paper.recall import Recall
from dosewright.core.paper.round_list import RoundList
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import HomeId, Lot, MedicineCode, PersonId
from dosewright.devices.fonts import load_fonts
from dosewright.store.catalogue import load_medicine
from dosewright.store.made_papers import SheetName
from dosewright.store.paper_sources import (
    last_medicines,
    load_days,
    load_home,
    load_parcels,
    load_placed,
    load_recalled,
    load_set_material,
    who_supplies,
)
from dosewright.store.people import load_home_names, load_people, load_person
from dosewright.store.pharmacy import load_pharmacy
from dosewright.store.work import load_waiting_orders

__all__ = [
    "check_of_set",
    "lots_of_set",
    "manifest_of",
    "month_of_home",
    "month_of_person",
    "notices_of",
    "recall_of",
    "rest_of_set",
    "round_of_home",
    "sheet_of_person",
]


def sheet_of_person(set_id: int, size: float, lang: str, made: datetime) -> Wanted:
    """The sheet for the person of a set."""
    before = last_medicines(set_id)
    name = SheetName("person", f"set {set_id}", f"Person's sheet, {size:g} points, {lang}")
    return Wanted(
        name,
        lambda: load_set_material(set_id, load_fonts()),
        lambda material, way: offer_person_sheet(
            _one(material, way), PersonSheet(size, lang, made, {material.plan.people[0].person: before})
        ),
        lambda material: (material.plan.basis,),
    )


def check_of_set(set_id: int, made: datetime) -> Wanted:
    """The check sheet of a set."""
    name = SheetName("check", f"set {set_id}", "Check sheet")
    return Wanted(
        name,
        lambda: load_set_material(set_id, load_fonts()),
        lambda material, way: offer_check(_one(material, way), made),
        lambda material: (material.plan.basis,),
    )


def lots_of_set(set_id: int) -> Wanted:
    """Labels of a filled set with lot and expiry in each cavity, for places that require them there."""
    name = SheetName("lots", f"set {set_id}", "Labels with lot and expiry in each cavity")
    return Wanted(
        name,
        lambda: with_lots(load_set_material(set_id, load_fonts()), load_placed(set_id)),
        lambda material, way: offer_labels(_one(material, way)),
        lambda material: (material.plan.basis,),
        labels=True,
    )


def rest_of_set(set_id: int, at: Moment) -> Wanted:
    """Labels for the rest of a set's cycle, from a moment in it: for a card that begins again in the middle of its week."""
    name = SheetName("rest", f"set {set_id}", f"Labels for the rest of the cycle, from {clock(at.time)}, {month_day(at.day)}")
    return Wanted(
        name,
        lambda: rest_of_cycle(load_set_material(set_id, load_fonts()), at),
        lambda material, way: offer_labels(_one(material, way)),
        lambda material: (material.plan.basis,),
        check_rest,
        labels=True,
    )


def month_of_home(home: HomeId, month: date, made: datetime) -> Wanted:
    """Administration records of everybody in a home for the month that begins on `month`. Raises KeyError for no such home."""
    title = f"Administration records, {load_home_names()[home]}, {month:%B %Y}"
    name = SheetName("record", f"home {home}", title)
    return _of_days(name, lambda: load_home(home, month, _days_of(month), made.date(), load_fonts()), made)


def month_of_person(person: PersonId, month: date, made: datetime) -> Wanted:
    """The same for one person. Raises Missing."""
    title = f"Administration record, {load_person(person).name}, {month:%B %Y}"

    def gather() -> tuple[Material, ...]:
        found = load_days(person, month, _days_of(month), made.date(), load_fonts())
        return (found,) if found else ()

    return _of_days(SheetName("record", f"person {person}", title), gather, made)


def _of_days(name: SheetName, gather: Callable[[], tuple[Material, ...]], made: datetime) -> Wanted:
    return Wanted(name, gather, lambda materials, way: offer_month(_each(materials, way), name.title, made), _bases, _waiting)


def _one(material: Material, way: Way) -> Material:
    """The material as it is drawn in that way."""
    return replace(material, printer=way.printer, copy=way.copy)


def _each(materials: tuple[Material, ...], way: Way) -> tuple[Material, ...]:
    return tuple(_one(material, way) for material in materials)


def _supplier(way: Way) -> Supplier:
    """Who draws a sheet that has no material of a person's."""
    return Supplier(who_supplies(), load_fonts(), load_pharmacy().country, way.printer)


def _bases(materials: tuple[Material, ...]) -> tuple[str, ...]:
    return tuple(material.plan.basis for material in materials) or ("",)


def _waiting(materials: tuple[Material, ...]) -> tuple[Finding, ...]:
    """Who of these people has orders that a pharmacist has not confirmed: they are on no sheet yet."""
    waiting = load_waiting_orders()
    people = (material.request.people[0] for material in materials)
    return tuple(
        Finding("custody.orders-wait", Severity.NOTE, facts={"name": person.name, "many": waiting[person.id]})
        for person in people
        if waiting.get(person.id)
    )


def _days_of(month: date) -> int:
    """How many days the month has."""
    after = date(month.year + month.month // 12, month.month % 12 + 1, 1)
    return (after - month).days


def round_of_home(home: HomeId, day: date, made: datetime) -> Wanted:
    """Every round of a home on a day."""
    where = load_home_names()[home]
    name = SheetName("round", f"home {home}", f"Round list, {where}, {month_day(day)}")
    return Wanted(
        name,
        lambda: load_home(home, day, 1, made.date(), load_fonts()),
        lambda materials, way: offer_round(RoundList(where, day, made, _each(materials, way))),
        _bases,
        _waiting,
    )


def manifest_of(home: HomeId | None, person: PersonId | None, day: date, made: datetime) -> Wanted:
    """The manifest of what is released for a home, or for one person at home."""
    someone = load_person(person) if person else None
    where = load_home_names()[home] if home else someone.name if someone else ""
    name = SheetName("manifest", f"home {home}" if home else f"person {person}", f"Manifest, {where}, {year_day(day)}")

    def gather() -> Manifest:
        parcels, waiting, address = load_parcels(home, load_people(home) if home else (someone,) if someone else ())
        return Manifest(where, address or (someone.address if someone else ""), day, made, parcels, waiting)

    def draw(manifest: Manifest, way: Way) -> Offered:
        if not manifest.parcels:
            return Offered(b"", 0, (), ())
        return offer_manifest(manifest, _supplier(way))

    return Wanted(name, gather, draw, lambda manifest: tuple(c.basis for p in manifest.parcels for c in p.cards))


def recall_of(medicine: MedicineCode, lot: Lot, said: tuple[str, str], made: datetime) -> Wanted:
    """The pharmacy's own sheet of a recall; `said`: urgency and reason."""
    name = SheetName("recall", f"lot {medicine} {lot}", f"Recall, {load_medicine(medicine).label}, lot {lot}")
    return _recall(name, offer_recall, (medicine, lot), said, made)


def notices_of(medicine: MedicineCode, lot: Lot, said: tuple[str, str], made: datetime) -> Wanted:
    """A notice for each home and person."""
    name = SheetName("notices", f"lot {medicine} {lot}", f"Recall notices, {load_medicine(medicine).label}, lot {lot}")
    return _recall(name, offer_notices, (medicine, lot), said, made)


_Offer = Callable[[Recall, Supplier], Offered]


def _recall(name: SheetName, offer: _Offer, of: tuple[MedicineCode, Lot], said: tuple[str, str], made: datetime) -> Wanted:
    code, lot = of

    def gather() -> Recall:
        moment = Moment(made.date(), made.time())
        return Recall(load_medicine(code), (lot,), *said, moment, made, load_recalled(code, lot))

    def draw(recall: Recall, way: Way) -> Offered:
        return offer(recall, _supplier(way)) if recall.cards else Offered(b"", 0, (), ())

    return Wanted(name, gather, draw, lambda recall: tuple(card.basis for card in recall.cards))
