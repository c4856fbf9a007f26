"""Released cards as FHIR R4 MedicationDispense: they keep the published definitions, and say no unit more or less than lay in the card."""

from collections import defaultdict
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.custody.cells import format_cells
from dosewright.core.custody.event import Actor, CardEvent, Deed, Role
from dosewright.core.interop.fhir_dispense import DispensedCard, format_dispenses
from dosewright.core.interop.json_text import Writable, format_json, parse_json
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Card, CardColumn, Content, PackedCavity
from dosewright.core.regimen.order import Order
from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId, PersonId, SlotName, StationId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.definitions import load_definitions

MONDAY = date(2026, 3, 2)
NUMBER, PERSON = CardNumber("120000000000017"), Person(PersonId("p1"), "Wilhelmina Okonedo-Hart", date(1939, 2, 4), None, "", "")
TABLET = Unit("tablet")
MEDICINES = {MedicineCode(f"m{n}"): Medicine(MedicineCode(f"m{n}"), f"medicine{n}", "5 mg", "tablet", TABLET) for n in (1, 2)}
ORDERS = {OrderId(f"RX{n}~2"): (Order(OrderId(f"RX{n}~2"), PERSON.id, MedicineCode(f"m{n}"), ()), f"RX{n}") for n in (1, 2)}
LIFE = [Deed.FILLED, Deed.CHECKED, Deed.SEALED, Deed.RELEASED, Deed.HANDED_OVER, Deed.RECEIVED]
STATUS = {Deed.RELEASED: "in-progress", Deed.HANDED_OVER: "completed", Deed.RECEIVED: "completed"}

AMOUNTS = st.sampled_from([Fraction(1, 2), Fraction(1), Fraction(3, 2), Fraction(2)])
PLACED = st.dictionaries(
    st.tuples(st.integers(1, 7), st.sampled_from(sorted(ORDERS))), st.tuples(AMOUNTS, st.sampled_from(["LOT42A", "K2207"])), min_size=1
)


def event(deed: Deed, minutes: int, facts: dict[str, Fact] | None = None, by: str = "Tess Aldous") -> CardEvent:
    at = datetime(2026, 3, 2, 9, 0, tzinfo=UTC) + timedelta(minutes=minutes)
    return CardEvent(NUMBER, deed, Actor(by, by, Role.TECHNICIAN), at, StationId("bench 1"), facts or {})


def said_of(resource: dict[str, Writable]) -> Any:
    """The resource as somebody else reads it."""
    return parse_json(format_json(resource))


def dispensed(placed: dict[tuple[int, OrderId], tuple[Fraction, str]], last: Deed) -> DispensedCard:
    """A card of a week in which so much of these orders was laid, as far in its life as `last`."""
    events = [event(Deed.PLANNED, 0), event(Deed.PRINTED, 1)]
    for (row, order), (amount, lot) in placed.items():
        cells = format_cells({Cell(NUMBER, row, 1, order): amount})
        said: dict[str, Fact] = {"medicine": ORDERS[order][0].medicine, "lot": lot, "expiry": date(2027, 6, 30), "cells": cells}
        events.append(event(Deed.PLACED, 2, said))
    events += [event(deed, 3 + n, {"to": "The Lindens"}, "Carys Dunmore") for n, deed in enumerate(LIFE[: LIFE.index(last) + 1])]
    return DispensedCard(card(placed), tuple(events), PERSON, ORDERS, MEDICINES)


def card(placed: dict[tuple[int, OrderId], tuple[Fraction, str]]) -> Card:
    cavities = tuple(
        PackedCavity(
            row,
            1,
            MONDAY + timedelta(days=row - 1),
            SlotName("morning"),
            time(8),
            tuple(Content(o, ORDERS[o][0].medicine, Quantity(a, TABLET)) for (r, o), (a, _) in placed.items() if r == row),
            Fraction(1, 9),
        )
        for row in sorted({row for row, _ in placed})
    )
    return Card(
        NUMBER, MONDAY, MONDAY + timedelta(days=6), date(2026, 5, 1), (CardColumn(1, SlotName("morning"), time(8), MONDAY),), cavities
    )


@given(PLACED, st.sampled_from(sorted(STATUS)))
def test_every_resource_keeps_the_published_definition_of_r4(placed: dict[tuple[int, OrderId], tuple[Fraction, str]], last: Deed) -> None:
    definitions = load_definitions()
    for resource in format_dispenses(dispensed(placed, last)):
        written = said_of(resource)
        assert definitions.check(written, "MedicationDispense") == ()
        (product,) = written["contained"]
        assert definitions.check(product, "Medication") == ()
        assert written["status"] == STATUS[last]
        assert ("whenHandedOver" in written) is (last is not Deed.RELEASED)


@given(PLACED)
def test_the_quantities_are_what_lay_in_the_card_by_order_and_lot(placed: dict[tuple[int, OrderId], tuple[Fraction, str]]) -> None:
    """Recounted here from what was laid, without the writer's code."""
    expected: dict[tuple[str, str], Fraction] = defaultdict(Fraction)
    days: dict[tuple[str, str], set[int]] = defaultdict(set)
    for (row, order), (amount, lot) in placed.items():
        expected[ORDERS[order][1], lot] += amount
        days[ORDERS[order][1], lot].add(row)
    found = [said_of(one) for one in format_dispenses(dispensed(placed, Deed.RELEASED))]
    said: dict[tuple[str, str], Fraction] = {}
    for one in found:
        key = one["authorizingPrescription"][0]["identifier"]["value"], one["contained"][0]["batch"]["lotNumber"]
        assert key not in said
        said[key] = Fraction(one["quantity"]["value"])
        assert one["daysSupply"]["value"] == len(days[key])
    assert said == expected
    assert len({one["id"] for one in found}) == len(found)


def test_a_card_that_was_never_released_is_no_dispense() -> None:
    assert format_dispenses(dispensed({(1, OrderId("RX1~2")): (Fraction(1), "LOT42A")}, Deed.SEALED)) == ()


def test_what_was_given_since_changes_nothing_of_what_was_dispensed() -> None:
    before = dispensed({(1, OrderId("RX1~2")): (Fraction(1), "LOT42A")}, Deed.RECEIVED)
    given_since = event(Deed.GIVEN, 90, {"cells": format_cells({Cell(NUMBER, 1, 1, OrderId("RX1~2")): Fraction(1)})})
    after = DispensedCard(before.card, (*before.events, given_since), PERSON, ORDERS, MEDICINES)
    assert format_dispenses(after) == format_dispenses(before)


def test_who_packed_checked_and_released_is_said_by_the_standard_s_own_codes() -> None:
    """Codes: FHIR R4 code system medicationdispense-performer-function."""
    (resource,) = format_dispenses(dispensed({(1, OrderId("RX1~2")): (Fraction(1), "LOT42A")}, Deed.RELEASED))
    written = said_of(resource)
    said = {(one["function"]["coding"][0]["code"], one["actor"]["display"]) for one in written["performer"]}
    assert said == {("packager", "Tess Aldous"), ("checker", "Carys Dunmore"), ("finalchecker", "Carys Dunmore")}


def test_an_amount_that_is_no_decimal_number_is_refused_and_never_rounded() -> None:
    third = dispensed({(1, OrderId("RX1~2")): (Fraction(1, 3), "LOT42A")}, Deed.RELEASED)
    with pytest.raises(ValueError, match="1/3"):
        format_dispenses(third)
