"""The orders file: rows to orders, lines of treatment, and every wrong field with its line; a wrong row costs no other row."""

import csv
import io
from datetime import date, time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.core.interop.interop_makers import codes, from_csv, order_ids

from dosewright.core.interop.csv_text import CsvError
from dosewright.core.interop.order_csv import ORDER_COLUMNS
from dosewright.core.paper.say import say
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Severity

GOOD = {
    "person": "p1",
    "name": "Edith Marsh",
    "born": "1941-05-06",
    "home": "Saltmarsh House",
    "room": "4",
    "order": "o1",
    "medicine": "biso5",
    "directions": "Take 1 tablet in the morning",
    "start": "2026-03-02",
    "stop": "",
    "prescriber": "Dr A. Lowe",
    "rx_no": "77",
}
OTHER = GOOD | {"person": "p2", "name": "Harold Finch", "born": "", "order": "o9", "medicine": "los50"}


def table(*rows: dict[str, str]) -> str:
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, ORDER_COLUMNS)
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def test_a_right_row_is_an_order_and_a_person() -> None:
    found = from_csv(table(GOOD))
    assert found.findings == ()
    (person,), (order,) = found.people, found.orders
    assert (person.id, person.name, person.born, person.home, person.room) == (
        "p1",
        "Edith Marsh",
        date(1941, 5, 6),
        "Saltmarsh House",
        "4",
    )
    assert (order.id, order.medicine, order.text, order.prescriber, order.rx_no) == ("o1", "biso5", GOOD["directions"], "Dr A. Lowe", "77")
    assert (order.since, order.until, order.anchor) == (Moment(date(2026, 3, 2)), None, date(2026, 3, 2))
    assert order.dosages


ENDS = [
    ("2026-03-08", Moment(date(2026, 3, 9))),
    ("2026-03-08T12:00", Moment(date(2026, 3, 8), time(12))),
    ("2026-03-08 12:00", Moment(date(2026, 3, 8), time(12))),
    ("2026-12-31", Moment(date(2027, 1, 1))),
]


@pytest.mark.parametrize(("stop", "until"), ENDS)
def test_the_last_day_counts_whole_and_a_moment_counts_no_more(stop: str, until: Moment) -> None:
    """As the end of a FHIR R4 Period: the day that is named is included."""
    assert from_csv(table(GOOD | {"stop": stop})).orders[0].until == until


WRONG = [
    ("person", "", "field.missing"),
    ("name", "", "field.missing"),
    ("order", "", "field.missing"),
    ("medicine", "", "field.missing"),
    ("directions", "", "field.missing"),
    ("name", "=cmd()", "field.formula"),
    ("room", "-4", "field.formula"),
    ("name", "Edith\u202eMarsh", "field.forbidden-character"),
    ("name", "Edith\nMarsh", "field.forbidden-character"),
    ("directions", "1 \u2067tablet", "field.forbidden-character"),
    ("directions", "x" * 2001, "field.too-long"),
    ("born", "6.5.1941", "field.not-a-day"),
    ("born", "1941-02-30", "field.not-a-day"),
    ("born", "1741-05-06", "field.day-out-of-range"),
    ("born", "2026-03-03", "person.born-later"),
    ("start", "02/03/2026", "field.not-a-day"),
    ("start", "2026-3-2", "field.not-a-day"),
    ("start", "2026-03-02T25:00", "field.not-a-day"),
    ("start", "9999-12-31", "field.day-out-of-range"),
    ("stop", "0001-01-01", "field.day-out-of-range"),
    ("stop", "2026-03-01", "order.stops-before-start"),
    ("medicine", "nope", "order.unknown-medicine"),
]


@pytest.mark.parametrize(("column", "value", "code"), WRONG)
def test_a_wrong_field_is_named_and_costs_no_other_row(column: str, value: str, code: str) -> None:
    found = from_csv(table(GOOD | {column: value}, OTHER))
    assert order_ids(found) == ["o9"]
    assert codes(found.findings) == [code]
    where = found.findings[0].where
    assert (where["file"], where["line"], where["field"]) == ("orders.csv", 2, column)
    assert say(found.findings[0]).startswith(f"orders.csv, line 2, {column}: ")


def test_directions_that_are_a_question_schedule_nothing_and_are_kept() -> None:
    found = from_csv(table(GOOD | {"directions": "1 tablet"}, OTHER))
    assert order_ids(found) == ["o9"]
    (left,) = found.unsettled
    assert (left.order.id, left.order.text, left.order.dosages) == ("o1", "1 tablet", ())
    assert left.reading is not None
    assert found.findings[0].code in ("order.directions-open", "order.directions-unreadable")
    assert (found.findings[0].where["line"], found.findings[0].where["field"]) == (2, "directions")


def test_directions_may_have_lines() -> None:
    assert order_ids(from_csv(table(GOOD | {"directions": "Take 1 tablet\nin the morning"}))) == ["o1"]


def test_rows_of_one_order_follow_one_another() -> None:
    later = GOOD | {"medicine": "biso2", "start": "2026-03-16"}
    last = GOOD | {"medicine": "biso5", "start": "2026-04-01T12:00", "stop": "2026-04-10"}
    found = from_csv(table(last, GOOD, later))
    assert found.findings == ()
    ends = {order.id: order.until for order in found.orders}
    assert ends == {
        "o1": Moment(date(2026, 3, 16)),
        "o1@2026-03-16": Moment(date(2026, 4, 1), time(12)),
        "o1@2026-04-01T12:00": Moment(date(2026, 4, 11)),
    }


UNCLEAR = [
    pytest.param(GOOD, id="the same row twice"),
    pytest.param(GOOD | {"directions": "Take 1 tablet at bedtime"}, id="the same start"),
    pytest.param(GOOD | {"start": "2026-03-16", "medicine": "los50"}, id="another substance"),
    pytest.param(OTHER | {"order": "o1", "start": "2026-03-16"}, id="another person"),
]


@pytest.mark.parametrize("second", UNCLEAR)
def test_rows_of_one_order_that_do_not_follow_clearly_are_not_used(second: dict[str, str]) -> None:
    found = from_csv(table(GOOD, second, OTHER))
    assert order_ids(found) == ["o9"]
    assert codes(found.findings) == ["order.twice", "order.twice"]


@pytest.mark.parametrize(
    "wrong", [{"medicine": "nope"}, {"start": "16.3.2026"}, {"stop": "2026-03-01"}, {"directions": ""}, {"rx_no": "=1"}], ids=str
)
def test_a_line_with_one_wrong_row_is_not_used_at_all(wrong: dict[str, str]) -> None:
    """Else the earlier order would run on past the change that was meant."""
    found = from_csv(table(GOOD, GOOD | {"start": "2026-03-16"} | wrong, OTHER))
    assert order_ids(found) == ["o9"]


def test_an_amount_beyond_belief_is_asked_about() -> None:
    """Four figures without their separator are marked besides (ISMP list of error-prone dose designations)."""
    found = from_csv(table(GOOD | {"directions": "Take 5000 mg in the morning"}, OTHER))
    assert (order_ids(found), codes(found.findings)) == (["o9"], ["read.in-units", "read.error-prone", "order.large-amount"])


def test_a_later_order_whose_directions_are_open_leaves_the_earlier_one_open_too() -> None:
    found = from_csv(table(GOOD, GOOD | {"start": "2026-03-16", "directions": "1 tablet"}, OTHER))
    assert order_ids(found) == ["o9"]
    assert "order.replaced-by-unsettled" in codes(found.findings)


def test_rows_that_contradict_each_other_about_a_person_use_none_of_their_orders() -> None:
    found = from_csv(table(GOOD, GOOD | {"order": "o2", "medicine": "los50", "born": "1914-05-06"}, OTHER))
    assert (order_ids(found), [person.id for person in found.people]) == (["o9"], ["p2"])
    assert codes(found.findings) == ["person.differs", "person.differs"]


def test_an_order_id_that_came_about_by_itself_may_not_clash() -> None:
    later = GOOD | {"start": "2026-03-16"}
    clash = OTHER | {"order": "o1@2026-03-16"}
    found = from_csv(table(GOOD, later, clash))
    assert "o1@2026-03-16" not in order_ids(found)
    assert codes(found.findings).count("order.twice") == 2


def test_one_medicine_twice_is_asked_about() -> None:
    found = from_csv(table(GOOD, GOOD | {"order": "o2", "directions": "Take 1 tablet at bedtime"}))
    assert order_ids(found) == ["o1", "o2"]
    assert [(one.code, one.severity) for one in found.findings] == [("order.same-medicine-twice", Severity.DECIDE)]


def test_one_medicine_twice_one_after_the_other_is_no_question() -> None:
    found = from_csv(table(GOOD | {"stop": "2026-03-15"}, GOOD | {"order": "o2", "start": "2026-03-16"}))
    assert (order_ids(found), found.findings) == (["o1", "o2"], ())


@pytest.mark.parametrize(
    "name", ['Doe, Ann "Nan"', "Zoe\u0301 \u00d1a", "\u05d0\u05d1\u05e8\u05d4\u05dd \u05db\u05d4\u05df", "O'Neill-Sm\u00fbth"]
)
def test_names_are_kept_as_written(name: str) -> None:
    assert [person.name for person in from_csv(table(GOOD | {"name": name})).people] == [name]


def test_a_header_that_is_not_an_orders_file_is_refused() -> None:
    with pytest.raises(CsvError, match="unknown column"):
        from_csv("person,name,order,medicine,directions,price\n")


VALUES = st.one_of(
    st.text(max_size=12),
    st.sampled_from(
        ["", "p1", "o1", "biso5", "los50", "2026-03-02", "2026-03-16T12:00", "2026-99-99", "Take 1 tablet at bedtime", "=1", "\u202e", "\n"]
    ),
)


@given(st.lists(st.dictionaries(st.sampled_from(ORDER_COLUMNS), VALUES, max_size=3), min_size=1, max_size=5))
@settings(max_examples=2 * settings().max_examples)
def test_any_table_gives_orders_or_findings_and_no_two_orders_of_one_id(changes: list[dict[str, str]]) -> None:
    rows = [(GOOD if place % 2 else OTHER) | change for place, change in enumerate(changes)]
    if any("\0" in value for row in rows for value in row.values()):
        return
    found = from_csv(table(*rows))
    known = [one.order.id for one in found.received]
    assert len(set(known)) == len(known)
    assert {one.order.person for one in found.received} <= {person.id for person in found.people}
    assert all(say(one) for one in found.findings)
