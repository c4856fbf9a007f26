"""CV-1.7: a card that lacks any one field its profile requires is not printed, and the finding names the field; field by field, profile by
profile. Source of the fields: the profile files themselves, each line with its publication."""

from dataclasses import fields, replace
from datetime import date
from typing import Any

import pytest
from tests.core.paper.paper_sample import CATALOGUE, MATERIAL, ORDERS, PERSON, PERSON_PLAN, PHARMACY, REQUEST

from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.packing.profile import Profile, Sourced
from dosewright.core.paper.fields import CARD_FIELDS, LINE_FIELDS
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import STAMPED, Material, Placed
from dosewright.core.paper.offer import offer_labels
from dosewright.core.paper.page import Page
from dosewright.core.units.finding import Fact, Severity
from dosewright.core.units.ids import Lot
from dosewright.devices.shipped import read_shipped, shipped_names

PROFILES = {name: parse_profile(read_shipped("profiles", name)) for name in shipped_names("profiles") if name.endswith(".toml")}


# The first day of the sample's card: every medicine is in it.
_CARD = PERSON_PLAN.cards[0]
_ONE_DAY = replace(_CARD, last=_CARD.first, cavities=tuple(cavity for cavity in _CARD.cavities if cavity.row == 1))
DAY = replace(PERSON_PLAN, cards=(_ONE_DAY,))


def with_request(**changes: object) -> Material:
    return replace(MATERIAL, request=replace(MATERIAL.request, **changes))  # type: ignore[arg-type]


def without_medicine(**changes: object) -> Material:
    return with_request(medicines={code: replace(m, **changes) for code, m in CATALOGUE.items()})  # type: ignore[arg-type]


def without_order(**changes: object) -> Material:
    return with_request(orders=tuple(replace(order, **changes) for order in ORDERS))  # type: ignore[arg-type]


MUTATIONS = {  # field → the same material with the value taken away
    "patient.second_identifier": lambda: with_request(people=(replace(PERSON, born=None, home=None, room="", address=""),)),
    "pharmacy.name": lambda: replace(MATERIAL, pharmacy=replace(PHARMACY, name="")),
    "pharmacy.address": lambda: replace(MATERIAL, pharmacy=replace(PHARMACY, address="")),
    "pharmacy.phone": lambda: replace(MATERIAL, pharmacy=replace(PHARMACY, phone="")),
    "line.rx_no": lambda: without_order(rx_no=""),
    "line.prescriber": lambda: without_order(prescriber=""),
    "line.directions": lambda: without_order(text="", dosages=()),
    "line.strength": lambda: without_medicine(strength=""),
    "line.form": lambda: without_medicine(form=""),
    "line.manufacturer": lambda: without_medicine(maker=""),
    "line.description": lambda: without_medicine(colour=""),
    "line.lot_expiry": lambda: MATERIAL,
}
# A person without a name, a card without a number or a medicine without a name cannot be made; dates, totals, cavities and the wording
# about children always have a value. What is drawn of them is taken away below instead.
ALWAYS_THERE = {
    "patient.name",
    "pack.serial",
    "pack.prepared_on",
    "pack.bud",
    "pack.not_packed",
    "pack.child_safety",
    "line.name",
    "line.total_qty",
    "line.cautions",
    "cavity.day_slot",
    "cavity.contents",
    "cavity.unit_count",
    "record.packer_checker",
}


def requiring(material: Material, profile: Profile, field: str | None = None) -> Material:
    if field:
        profile = replace(profile, fields={**profile.fields, field: Sourced("printed", "test", "2026", "required")})
    return replace(material, request=replace(material.request, profile=profile))


def missing(material: Material) -> set[Fact]:
    return {f.where["field"] for f in draw_labels(DAY, material)[1] if f.code == "paper.field-missing"}


def test_every_field_of_every_profile_is_known_and_mutated_here() -> None:
    known = set(CARD_FIELDS) | set(LINE_FIELDS)
    assert {field for profile in PROFILES.values() for field in profile.fields} == known
    assert set(MUTATIONS) | ALWAYS_THERE == known


@pytest.mark.parametrize("name", PROFILES)
def test_the_whole_sample_is_printed_in_every_profile(name: str) -> None:
    offered = offer_labels(requiring(MATERIAL, PROFILES[name]))
    assert [finding for finding in offered.findings if finding.severity is Severity.STOP] == []
    assert offered.pdf.startswith(b"%PDF-1.4")


@pytest.mark.parametrize("name", PROFILES)
@pytest.mark.parametrize("field", MUTATIONS)
def test_a_required_field_without_a_value_stops_and_is_named(name: str, field: str) -> None:
    material = requiring(MUTATIONS[field](), PROFILES[name])
    required = field in PROFILES[name].required()
    assert (field in missing(material)) is required
    assert field in missing(requiring(material, PROFILES[name], field))


def test_a_person_whose_labels_lack_a_field_is_left_out_and_named() -> None:
    offered = offer_labels(requiring(MUTATIONS["line.rx_no"](), PROFILES["us.toml"]))
    assert (offered.pdf, offered.left_out) == (b"", (PERSON.id,))


DRAWN = {  # field → words that must be on the labels for it
    "patient.name": "Wilhelmina Okonedo-Hart",
    "pack.serial": "TS-20417",
    "pack.prepared_on": "Prepared 26 February 2026.",
    "pack.bud": "Use no later than 20 April 2026.",
    "pack.not_packed": "salbutamol 100 micrograms inhaler",
    "pack.child_safety": "Keep out of the sight and reach of children.",
    "line.name": "warfarin",
    "line.strength": "62.5 micrograms",
    "line.total_qty": "In this card: 1 and a half tablets",
    "line.cautions": "Take with or just after food.",
    "line.directions": "Take half a tablet in the morning.",
    "line.prescriber": "Dr A. Nwosu.",
    "line.rx_no": "RX-metf-1.",
    "line.description": "Peach, round, marked Q 50.",
    "cavity.day_slot": "Monday 2 March",
    "pharmacy.phone": "01632 960 144.",
    "pharmacy.name": "Tern Street Pharmacy,",
    "pharmacy.address": "Saltmarsh",
    "patient.second_identifier": "born 4 February 1939",
    "line.form": "gastro-resistant",
    "line.manufacturer": "Halden Laboratories.",
    "line.lot_expiry": "K2207,",
    "cavity.contents": "digoxin",
    "cavity.unit_count": "2 tablets paracetamol",
}
WORDY = {"cavity.unit_count": "TWO tablets paracetamol"}  # where a profile writes doses as capital words


FILLED = replace(MATERIAL, placed={(_CARD.number, order.id): (Placed(Lot("K2207"), date(2027, 6, 30)),) for order in ORDERS})
# Noon has one medicine: there is room for its lot and expiry.
NOON = replace(DAY, cards=(replace(_ONE_DAY, cavities=tuple(c for c in _ONE_DAY.cavities if c.column == 2)),))


def test_every_field_that_is_drawn_is_forgotten_once() -> None:
    assert set(DRAWN) == (set(CARD_FIELDS) | set(LINE_FIELDS)) - {"record.packer_checker"}  # that one is the ledger's


@pytest.mark.parametrize("name", PROFILES)
@pytest.mark.parametrize("field", DRAWN)
def test_a_field_that_the_drawing_forgets_stops(name: str, field: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The renderer is broken on purpose: it draws everything but these words. Field by field, in every profile: as that profile has it
    where it requires the field, else with the field required too."""
    words = DRAWN[field]
    profile = PROFILES[name]
    needed = field if field not in profile.required() else None
    person, base = (NOON, FILLED) if field == "line.lot_expiry" else (DAY, MATERIAL)
    material = requiring(base, profile, needed)
    if profile.rules["number_style"].value == "words":
        words = WORDY.get(field, words)
    whole = draw_labels(person, material)
    assert words in " ".join(run.text for page in whole[0] for run in page.runs)
    assert "paper.field-not-printed" not in {finding.code for finding in whole[1]}
    made = Page.__init__

    def forgetful(self: Page, *args: Any, **named: Any) -> None:
        values = dict(zip([field.name for field in fields(Page)], args, strict=False)) | named
        forgotten = [replace(run, text="…") if set(words.split()) & set(run.text.split()) else run for run in values["runs"]]
        made(self, **(values | {"runs": tuple(forgotten)}))

    monkeypatch.setattr(Page, "__init__", forgetful)
    assert ("paper.field-not-printed", field) in {(f.code, f.where.get("field")) for f in draw_labels(person, material)[1]}


def test_a_field_that_nobody_knows_stops() -> None:
    found = [f for f in draw_labels(DAY, requiring(MATERIAL, PROFILES["uk.toml"], "line.taste"))[1] if f.code == "paper.field-unknown"]
    assert [finding.where["field"] for finding in found] == ["line.taste"]


def test_a_pharmacy_that_stamps_gets_a_box_and_is_told_to_stamp() -> None:
    offered = offer_labels(requiring(replace(MATERIAL, pharmacy=STAMPED), PROFILES["us.toml"]))
    assert {(f.code, f.severity) for f in offered.findings} == {("paper.stamp-needed", "note"), ("paper.no-cautions", "note")}
    assert offered.pdf


def test_a_medicine_without_cautions_is_noted() -> None:
    notes = [f for f in draw_labels(DAY, MATERIAL)[1] if f.code == "paper.no-cautions"]
    assert [finding.where["medicine"] for finding in notes] == ["omeprazole 20 mg gastro-resistant capsule"]


def test_the_request_of_the_sample_is_its_own() -> None:
    assert MATERIAL.request is REQUEST


def test_lots_and_expiries_are_printed_in_each_cavity_where_a_profile_requires_them() -> None:
    """CV-1.6: Maryland asks for lot and expiry of every product at every slot (COMAR 10.34.36.08 B)."""
    noon = replace(DAY, cards=(replace(DAY.cards[0], cavities=tuple(c for c in DAY.cards[0].cavities if c.column == 2)),))
    number, order = noon.cards[0].number, noon.cards[0].cavities[0].contents[0].order
    lots = {(number, order): (Placed(Lot("K2207"), date(2027, 6, 30)), Placed(Lot("K2301"), date(2027, 8, 31)))}
    material = requiring(replace(MATERIAL, placed=lots), PROFILES["us.toml"], "line.lot_expiry")
    pages, findings = draw_labels(noon, material)
    assert [finding.code for finding in findings] == []
    words = "2 paracetamol 500 mg; lot K2207, expires 30 June 2027; lot K2301, expires 31 August 2027"
    assert words.replace("2 par", "2 tablets par") in " ".join(run.text for run in pages[0].runs)
    assert [f.where["field"] for f in draw_labels(noon, replace(material, placed={}))[1]] == ["line.lot_expiry"]


def test_a_cavity_that_borrows_its_words_from_another_label_stops(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each cavity's own label must say it: that the words stand elsewhere on the sheet is not enough."""
    material = requiring(MATERIAL, PROFILES["us.toml"], "cavity.unit_count")
    made = Page.__init__

    def moved(self: Page, *args: Any, **named: Any) -> None:
        values = dict(zip([field.name for field in fields(Page)], args, strict=False)) | named
        boxes = {run.box for run in values["runs"] if "paracetamol" in run.text and run.size < 10}
        swap = dict(zip(sorted(boxes, key=lambda b: b.left), sorted(boxes, key=lambda b: -b.left), strict=True))
        made(self, **(values | {"runs": tuple(replace(run, box=swap.get(run.box, run.box)) for run in values["runs"])}))

    monkeypatch.setattr(Page, "__init__", moved)
    found = {(f.code, f.where.get("field")) for f in draw_labels(DAY, material)[1]}
    assert {("paper.field-not-printed", field) for field in ("cavity.contents", "cavity.unit_count", "cavity.day_slot")} <= found
