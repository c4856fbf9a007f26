"""The front door of the sheets for people, homes and checkers: drawn, read back, recounted; bytes, or findings. One function a document."""

from collections.abc import Sequence
from datetime import date, datetime

from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.check_sheet import check_truth, draw_check
from dosewright.core.paper.dose_truth import record_truth, round_truth
from dosewright.core.paper.due import check_known
from dosewright.core.paper.finish import Offered, Part, basis_of, finish, finish_pages
from dosewright.core.paper.manifest import Manifest, draw_manifest, manifest_truth
from dosewright.core.paper.material import Material, Pharmacy, Supplier
from dosewright.core.paper.pdf import Heading
from dosewright.core.paper.person_sheet import PersonSheet, draw_person_sheet
from dosewright.core.paper.person_truth import person_truth
from dosewright.core.paper.recall import Recall, draw_notices, draw_recall, recall_truth
from dosewright.core.paper.record import RECORD_TITLE, draw_record, stretches
from dosewright.core.paper.round_list import RoundList, draw_round, round_faults
from dosewright.core.paper.tongues.words import TONGUES
from dosewright.core.paper.zone_recount import Truth
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import PersonId

__all__ = [
    "offer_check",
    "offer_manifest",
    "offer_month",
    "offer_notices",
    "offer_person_sheet",
    "offer_recall",
    "offer_round",
]


# What keeps one person off a round list, where that person is named, and holds up nobody else.
_LEAVES_OUT = {"paper.card-called-back", "paper.card-differs-from-orders", "paper.alike-without-second-identifier"}


def offer_person_sheet(material: Material, sheet: PersonSheet) -> Offered:
    """The sheet of everybody in the plan, each in the size and language that `sheet` says."""
    parts = (_person_part(material, person, sheet) for person in material.plan.people)
    title = f"{TONGUES[sheet.lang].title}, {material.request.first.isoformat()}"
    return finish(parts, material.fonts, _heading(title, material, sheet.lang), material.printer)


def _person_part(material: Material, person: PersonPlan, sheet: PersonSheet) -> Part:
    pages, findings = draw_person_sheet(person, material, sheet)
    return Part(person.person, pages, findings, person_truth(person, material, sheet.lang, sheet.before.get(person.person, ())))


def offer_check(material: Material, made: date | datetime) -> Offered:
    """Check sheets of every set of the plan, for the second person."""
    each = ((person, draw_check(person, material, made)) for person in material.plan.people)
    parts = (Part(person.person, pages, found, check_truth(person, material)) for person, (pages, found) in each if pages or found)
    return finish(parts, material.fonts, _heading("Check sheets", material), material.printer)


def offer_month(materials: Sequence[Material], title: str, made: datetime) -> Offered:
    """Administration records of several people for the days of their requests (a month), each by the material of their own plans."""
    if not materials:
        return Offered(b"", 0, (), ())
    days = tuple(stretches(materials[0].request.first, materials[0].request.days))
    parts = [part for material in materials if (part := _month_part(material, days, made)).pages or part.findings]
    return finish(parts, materials[0].fonts, _joint(f"{RECORD_TITLE}s, {title}", materials), materials[0].printer)


def _month_part(material: Material, days: Sequence[Sequence[date]], made: datetime) -> Part:
    person, request = material.plan.people[0], material.request
    pages, found = draw_record(person, material, made)
    unknown = tuple(check_known(person, material, request.first, request.days))
    return Part(person.person, pages, (*found, *unknown), record_truth(person, material, days))


def offer_round(wanted: RoundList) -> Offered:
    """The round list of a home for one day. Whoever's cards contradict the orders is not on it, is named on it, and in `left_out`."""
    if not wanted.people:
        return Offered(b"", 0, (), ())
    pages, findings = draw_round(wanted)
    ready = [material for material in wanted.people if not blocks(round_faults(material, wanted))]
    truth = Truth()
    for material in ready:
        truth = truth | round_truth(material, wanted.day, wanted.slots)
    held = tuple(material.plan.people[0].person for material in wanted.people if material not in ready)
    drawable = () if blocks(found for found in findings if found.code not in _LEAVES_OUT) else pages
    heading = _joint(f"Round list, {wanted.home}, {wanted.day.isoformat()}", wanted.people)
    first = wanted.people[0]
    pdf, faults = finish_pages(drawable, first.fonts, heading, truth if drawable else Truth(), first.printer)
    return Offered(pdf, len(drawable), (*findings, *faults), held)


def offer_manifest(manifest: Manifest, by: Supplier) -> Offered:
    """The manifest of one delivery to one place."""
    pages, findings = draw_manifest(manifest, by)
    part = Part(PersonId(manifest.to), pages, findings, manifest_truth(manifest))
    bases = [card.basis for parcel in manifest.parcels for card in parcel.cards]
    heading = Heading(f"Manifest, {manifest.to}", by.pharmacy.name or "Dosewright", f"plan {basis_of(bases)}", "en")
    return finish((part,), by.fonts, heading, by.printer)


def offer_recall(recall: Recall, by: Supplier) -> Offered:
    """The pharmacy's own sheet about a recall."""
    pages, findings = draw_recall(recall, by)
    part = Part(PersonId(by.pharmacy.name), pages, findings, recall_truth(recall, notices=False))
    return finish((part,), by.fonts, _of_recall(recall, by.pharmacy), by.printer)


def offer_notices(recall: Recall, by: Supplier) -> Offered:
    """A recall notice for each place that has such a card; nothing where none has left."""
    pages, findings = draw_notices(recall, by)
    part = Part(PersonId(by.pharmacy.name), pages, findings, recall_truth(recall, notices=True))
    return finish((part,) if pages or findings else (), by.fonts, _of_recall(recall, by.pharmacy), by.printer)


def _of_recall(recall: Recall, pharmacy: Pharmacy) -> Heading:
    basis = basis_of(card.basis for card in recall.cards)
    return Heading(f"Recall, {recall.medicine.label}", pharmacy.name or "Dosewright", f"plan {basis}", "en")


def _heading(title: str, material: Material, lang: str = "en") -> Heading:
    return Heading(title, material.pharmacy.name or "Dosewright", f"plan {material.plan.basis}", lang)


def _joint(title: str, materials: Sequence[Material]) -> Heading:
    basis = basis_of(material.plan.basis for material in materials)
    return Heading(title, materials[0].pharmacy.name or "Dosewright", f"plan {basis}", "en")
