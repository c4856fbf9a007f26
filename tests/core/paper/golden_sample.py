"""What the golden pages are drawn from: one person's week in every card format that ships, and the sheets for homes, drivers and changes.

`SHEETS` has each sheet's name with what draws it and which page is looked at. Everything is invented; the days stand still.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date, time
from fractions import Fraction
from functools import cache, partial

from tests.core.paper.home_sample import HOME, MADE, MANIFEST, MONDAY, NEIGHBOUR, NEIGHBOUR_MATERIAL, RECALL, as_needed, month_of
from tests.core.paper.paper_sample import CARD, CATALOGUE, FIRST, MATERIAL, PERSON, PHARMACY
from tests.core.paper.test_as_needed_paper import MATERIAL as ON_DEMAND
from tests.core.paper.test_work_list import AT, opened, work

from dosewright.core.interop.card_format_toml import parse_card_format
from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.alike import Apart
from dosewright.core.paper.border import Pattern
from dosewright.core.paper.copies import Copy
from dosewright.core.paper.finish import Offered
from dosewright.core.paper.interim import Interim, InterimDose
from dosewright.core.paper.label_lines import with_label_lines
from dosewright.core.paper.material import Material, Placed, Supplier
from dosewright.core.paper.measuring import draw_measuring_sheet
from dosewright.core.paper.offer import offer_fill, offer_interim, offer_labels, offer_record, offer_work
from dosewright.core.paper.offer_sheets import (
    offer_check,
    offer_manifest,
    offer_month,
    offer_notices,
    offer_person_sheet,
    offer_recall,
    offer_round,
)
from dosewright.core.paper.overlay import rest_of_cycle, with_lots
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.person_sheet import GIANT, LARGE, PersonSheet
from dosewright.core.paper.round_list import RoundList
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode, OrderId
from dosewright.core.units.quantity import Quantity
from dosewright.devices.shipped import read_shipped, shipped_names

__all__ = ["SHEETS", "Golden"]


@dataclass(frozen=True, slots=True)
class Golden:
    """A finished document, and which of its pages is looked at (from 0)."""

    pdf: bytes
    page: int = 0


TAKEN = (("metf", "1", ("MORN", "EVE")), ("biso", "1/2", ("MORN",)), ("para", "2", ("MORN", "NOON", "EVE", "HS")), ("warf", "3", ("EVE",)))
APART = {PERSON.id: Apart(("Wilhelm Okonedo",), Pattern.TRIANGLES), NEIGHBOUR.id: Apart(("Benedict Strand",), Pattern.CHEQUERS)}


def _order(code: str, amount: str, when: tuple[str, ...]) -> Order:
    dosages = tuple(
        Dosage(
            timing=Timing(repeat=Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=(event,))),
            amounts=(Amount(quantity=Quantity(Fraction(amount), CATALOGUE[MedicineCode(code)].unit)),),
        )
        for event in when
    )
    return Order(OrderId(f"o-{code}"), PERSON.id, MedicineCode(code), dosages, anchor=FIRST, prescriber="Dr A. Nwosu", rx_no=f"RX-{code}-1")


@cache
def in_format(name: str) -> Material:
    """The person's week in a card format that ships, by the UK profile; an inhaler is supplied alongside."""
    orders = (*(_order(*one) for one in TAKEN), replace(as_needed(), person=PERSON.id))
    form, profile = parse_card_format(read_shipped("formats", name)), parse_profile(read_shipped("profiles", "uk.toml"))
    asked = PlanRequest((PERSON,), orders, CATALOGUE, form, profile, FIRST, 7, date(2026, 2, 26))
    asked = with_label_lines(asked, MATERIAL.fonts)
    return replace(MATERIAL, plan=plan_cycle(asked), request=asked)


def _lots(material: Material) -> Material:
    placed: dict[tuple[CardNumber, OrderId], tuple[Placed, ...]] = {
        (card.number, content.order): (Placed(Lot("K2207"), date(2027, 6, 30)),)
        for card in material.plan.people[0].cards
        for cavity in card.cavities
        for content in cavity.contents
    }
    return with_lots(material, placed)


def _kept(offered: Offered, page: int = 0) -> Golden:
    if not offered.pdf:
        raise AssertionError(offered.findings)
    return Golden(offered.pdf, page)


IN_EVERY_FORMAT: Mapping[str, Callable[[Material], Golden]] = {
    "labels": lambda one: _kept(offer_labels(one)),
    "labels-copy": lambda one: _kept(offer_labels(replace(one, copy=Copy(2, "the printer jammed"), apart=APART))),
    "labels-rest": lambda one: _kept(offer_labels(rest_of_cycle(one, Moment(date(2026, 3, 5), time(12))))),
    "labels-lots": lambda one: _kept(offer_labels(_lots(one))),
    "fill": lambda one: _kept(offer_fill(one)),
    "record": lambda one: _kept(offer_record(one)),
    "check-orders": lambda one: _kept(offer_check(one, MADE)),
    "check-card": lambda one: _kept(offer_check(one, MADE), 1),
    "person": lambda one: _kept(offer_person_sheet(one, PersonSheet(LARGE, "en", MADE))),
}
BY = Supplier(PHARMACY, MATERIAL.fonts, "GB")
DOSES = tuple(InterimDose(c.day, c.slot, c.time, c.contents) for c in CARD.cavities if Moment(c.day, c.time) >= AT)[:4]


def _measuring() -> Golden:
    page = draw_measuring_sheet(Fraction(210), Fraction(297), "label printer", MATERIAL.fonts)
    return Golden(write_pdf([page], MATERIAL.fonts, Heading("Measuring sheet", "Tern Street Pharmacy", "", "en")))


ALONE: Mapping[str, Callable[[], Golden]] = {
    "person-giant-german": lambda: _kept(offer_person_sheet(in_format("seven-by-four.toml"), PersonSheet(GIANT, "de", MADE))),
    "person-french": lambda: _kept(offer_person_sheet(in_format("seven-by-four.toml"), PersonSheet(LARGE, "fr", MADE))),
    "person-spanish": lambda: _kept(offer_person_sheet(in_format("seven-by-four.toml"), PersonSheet(LARGE, "es", MADE))),
    "month": lambda: _kept(offer_month([month_of(NEIGHBOUR_MATERIAL)], "March 2026", MADE)),
    "round": lambda: _kept(offer_round(RoundList("The Lindens", MONDAY, MADE, HOME))),
    "round-apart": lambda: _kept(offer_round(RoundList("The Lindens", MONDAY, MADE, tuple(replace(one, apart=APART) for one in HOME)))),
    "round-when-needed": lambda: _kept(offer_round(RoundList("The Lindens", MONDAY, MADE, (ON_DEMAND, NEIGHBOUR_MATERIAL))), 1),
    "labels-when-needed": lambda: _kept(offer_labels(ON_DEMAND), 1),
    "check-when-needed": lambda: _kept(offer_check(ON_DEMAND, MADE), 2),
    "record-apart-copy": lambda: _kept(offer_record(replace(MATERIAL, apart=APART, copy=Copy(2, "the first was torn")))),
    "manifest": lambda: _kept(offer_manifest(MANIFEST, BY)),
    "recall": lambda: _kept(offer_recall(RECALL, BY)),
    "notices": lambda: _kept(offer_notices(RECALL, BY)),
    "work-list": lambda: _kept(offer_work([work(opened(3))], MATERIAL)),
    "interim": lambda: _kept(offer_interim([Interim(PERSON.id, (CARD.number,), AT, DOSES)], MATERIAL)),
    "measuring": _measuring,
}


def _in(name: str, draw: Callable[[Material], Golden]) -> Golden:
    return draw(in_format(name))


SHEETS: Mapping[str, Callable[[], Golden]] = {
    **{
        f"{sheet}-{name.removesuffix('.toml')}": partial(_in, name, draw)
        for name in shipped_names("formats")
        for sheet, draw in IN_EVERY_FORMAT.items()
    },
    **ALONE,
}
