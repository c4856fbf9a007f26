"""Which orders of a file are lost, told from its findings alone; and whose planning waits for each."""

from collections.abc import Iterable

import pytest

from dosewright.core.custody.unused import UnusedOrder, gather_unused
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import OrderId, PersonId

PEOPLE = (PersonId("p2"), PersonId("p1"))


def found(severity: Severity = Severity.STOP, **where: Fact) -> Finding:
    return Finding("order.unknown-medicine", severity, {"file": "f.csv", **where})


def lost(*findings: Finding, people: Iterable[PersonId] = PEOPLE) -> tuple[UnusedOrder, ...]:
    return gather_unused(findings, {OrderId("RX1")}, {"2": "one", "3": "two"}, people)


def test_an_order_among_the_used_is_not_lost_whatever_was_found_about_it() -> None:
    assert lost(found(line=2, person="p1", order="RX1")) == ()


@pytest.mark.parametrize(("severity", "waits"), [(Severity.STOP, 1), (Severity.DECIDE, 1), (Severity.NOTE, 0)])
def test_an_order_that_is_not_used_waits_unless_that_is_merely_worth_knowing(severity: Severity, waits: int) -> None:
    assert len(lost(found(severity, line=2, person="p1", order="RX2"))) == waits


def test_all_that_was_found_about_one_order_is_one() -> None:
    (one,) = lost(found(line=2, person="p1", order="RX2", field="start"), found(line=3, person="p1", order="RX2", field="stop"))
    assert (one.person, one.order, one.place, one.text, one.holds) == ("p1", "RX2", "2, 3", "one\ntwo", ("p1",))
    assert len(one.findings) == 2


def test_the_same_number_of_two_people_is_two_orders() -> None:
    assert [one.person for one in lost(found(line=2, person="p1", order="RX2"), found(line=3, person="p2", order="RX2"))] == ["p1", "p2"]


@pytest.mark.parametrize("person", ["", None])
def test_where_nobody_can_tell_whose_it_is_everybody_of_the_file_waits(person: Fact) -> None:
    (one,) = lost(found(line=2, person=person, order="RX2"))
    assert (one.person, one.holds) == ("", ("p1", "p2"))
    (nameless,) = lost(found(resource="Bundle"))
    assert (nameless.order, nameless.holds) == ("", ("p1", "p2"))


def test_what_is_wrong_with_a_person_stands_with_each_of_their_orders() -> None:
    about = found(resource="Patient/p1", person="p1")
    first, second = lost(about, found(line=2, person="p1", order="RX2"), found(line=3, person="p1", order="RX3"))
    assert (about in first.findings, about in second.findings) == (True, True)
    (alone,) = lost(about)
    assert (alone.order, alone.holds) == ("", ("p1",))


def test_a_file_that_names_neither_an_order_nor_a_person_holds_nobody() -> None:
    assert lost(found(), people=()) == ()
    assert len(lost(found(line=2, order="RX2"), people=())) == 1
