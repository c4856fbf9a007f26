"""The plan file: the same text both ways, exact amounts, and nothing but a plan is read."""

import json
from dataclasses import replace
from datetime import date, time
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.interop.interop_makers import catalogue

from dosewright.core.interop.plan_json import PlanError, format_findings, format_plan, parse_plan, parse_plan_head
from dosewright.core.packing.plan_values import Alongside, Card, CardColumn, Content, PackedCavity, PersonPlan, Plan, Proof
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId, PersonId, SlotName
from dosewright.core.units.quantity import Quantity

MEDICINES = catalogue().by_code()
TEXT = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=12)
DAYS = st.dates(date(2020, 1, 1), date(2040, 1, 1))
CLOCKS = st.times().map(lambda clock: clock.replace(second=0, microsecond=0))
SMALL = st.integers(1, 30)
AMOUNTS = st.fractions(min_value=0, max_value=50, max_denominator=60)
# The file rounds the filled share to a thousandth; drawn so already, a plan comes back whole.
SHARES = st.integers(0, 999).map(lambda share: Fraction(share, 1000))


@st.composite
def contents(draw: st.DrawFn) -> Content:
    code = draw(st.sampled_from(sorted(MEDICINES)))
    return Content(OrderId(draw(TEXT)), code, Quantity(draw(AMOUNTS), MEDICINES[code].unit))


CAVITIES = st.builds(
    PackedCavity, SMALL, SMALL, DAYS, TEXT.map(SlotName), CLOCKS, st.lists(contents(), max_size=3).map(tuple), SHARES, SMALL, SMALL
)
COLUMNS = st.builds(CardColumn, SMALL, TEXT.map(SlotName), CLOCKS, DAYS, SMALL, SMALL)
CARDS = st.builds(
    Card, TEXT.map(CardNumber), DAYS, DAYS, DAYS, st.lists(COLUMNS, max_size=3).map(tuple), st.lists(CAVITIES, max_size=4).map(tuple)
)
BESIDE = st.builds(Alongside, TEXT.map(OrderId), TEXT.map(MedicineCode), TEXT)
PROOFS = st.builds(Proof, SMALL, SMALL, st.booleans(), SMALL, SMALL, SMALL)
PEOPLE = st.builds(PersonPlan, TEXT.map(PersonId), st.lists(CARDS, max_size=2).map(tuple), st.lists(BESIDE, max_size=2).map(tuple), PROOFS)
PLANS = st.builds(Plan, TEXT, DAYS, st.integers(1, 100), TEXT, TEXT, st.lists(PEOPLE, max_size=2).map(tuple), st.just(()))


def text_of(plan: Plan, *findings: Finding) -> str:
    return format_plan(plan, {person.person: f"Name of {person.person}" for person in plan.people}, findings)


@given(PLANS)
def test_a_plan_comes_back_whole(plan: Plan) -> None:
    assert parse_plan(text_of(plan), MEDICINES) == plan
    assert parse_plan_head(text_of(plan)) == replace(plan, people=())


@given(PLANS)
def test_the_same_plan_gives_the_same_bytes(plan: Plan) -> None:
    """R18."""
    assert text_of(plan) == text_of(parse_plan(text_of(plan), MEDICINES))


CAVITY = PackedCavity(
    row=1,
    column=2,
    day=date(2026, 3, 2),
    slot=SlotName("morning"),
    time=time(8),
    contents=(
        Content(OrderId("o1"), MedicineCode("biso5"), Quantity(Fraction(1, 2), MEDICINES[MedicineCode("biso5")].unit)),
        Content(OrderId("o2"), MedicineCode("los50"), Quantity(Fraction(1, 3), MEDICINES[MedicineCode("los50")].unit)),
    ),
    fill=Fraction(312499, 1000000),
)
PLAN = Plan(
    basis="ab" * 32,
    first=date(2026, 3, 2),
    days=28,
    profile="uk",
    format="seven-by-four",
    people=(
        PersonPlan(
            PersonId("p1"),
            (
                Card(
                    CardNumber("77"),
                    date(2026, 3, 2),
                    date(2026, 3, 8),
                    date(2026, 5, 1),
                    (CardColumn(2, SlotName("morning"), time(8), date(2026, 3, 2)),),
                    (CAVITY,),
                ),
            ),
            (Alongside(OrderId("o3"), MedicineCode("lact"), "form.liquid"),),
            Proof(1, 1, optimal=True, nodes=3, cards=1, cards_lower_bound=1),
        ),
    ),
    findings=(),
)


def test_the_file_says_what_the_contract_says_in_its_order() -> None:
    written = json.loads(text_of(PLAN, Finding("paper.held", Severity.STOP, {"person": "p1"}, {"name": "N"})))
    assert list(written) == ["basis", "from", "days", "profile", "format", "people", "findings"]
    (person,) = written["people"]
    assert list(person) == ["id", "name", "cards", "alongside", "proof"]
    assert person["alongside"] == [{"order": "o3", "medicine": "lact", "why": "form.liquid"}]
    assert person["proof"] == {"columns": 1, "lower_bound": 1, "optimal": True, "nodes": 3, "cards": 1, "cards_lower_bound": 1}
    (card,) = person["cards"]
    assert (card["number"], card["beyond_use"], card["from"], card["to"]) == ("77", "2026-05-01", "2026-03-02", "2026-03-08")
    assert card["columns"] == [{"column": 2, "slot": "morning", "time": "08:00", "from": "2026-03-02", "part": 1, "parts": 1}]
    (cavity,) = card["cavities"]
    assert cavity["contents"] == [
        {"order": "o1", "medicine": "biso5", "quantity": "0.5"},
        {"order": "o2", "medicine": "los50", "quantity": "1/3"},
    ]
    assert {name: cavity[name] for name in ("row", "column", "date", "slot", "time", "fill")} == {
        "row": 1,
        "column": 2,
        "date": "2026-03-02",
        "slot": "morning",
        "time": "08:00",
        "fill": "0.312",
    }
    (found,) = written["findings"]
    assert list(found) == ["code", "severity", "where", "facts", "message"]


def test_findings_stand_in_a_file_of_their_own_too() -> None:
    assert json.loads(format_findings([])) == {"findings": []}


def spoil(path: list[Any], value: Any) -> str:
    spoilt = json.loads(text_of(PLAN))
    node = spoilt
    for step in path[:-1]:
        node = node[step]
    if value is None:
        del node[path[-1]]
    else:
        node[path[-1]] = value
    return json.dumps(spoilt)


CAVITY_AT = ["people", 0, "cards", 0, "cavities", 0]
SPOILT = [
    pytest.param(["basis"], None, "plan.basis: is missing", id="no fingerprint"),
    pytest.param(["people"], {}, "plan.people: must be a list", id="people are no list"),
    pytest.param(["people", 0], "p1", "plan.people[0]: must be an object", id="a person is text"),
    pytest.param(["people", 0, "age"], 84, "plan.people[0].age: is not known", id="an unknown name"),
    pytest.param(["days"], 0, "plan.days: must be from 1", id="no days"),
    pytest.param(["days"], True, "plan.days: must be a whole number", id="true for a number"),
    pytest.param(["days"], 10**12, "plan.days: must be a whole number", id="more days than there are"),
    pytest.param(["from"], "2026-02-30", "plan.from:", id="no such day"),
    pytest.param([*CAVITY_AT, "row"], -1, "cavities[0].row: must be a whole number", id="row below nothing"),
    pytest.param([*CAVITY_AT, "time"], "8 o'clock", "cavities[0].time:", id="no clock time"),
    pytest.param([*CAVITY_AT, "contents", 0, "quantity"], "-1", "contents[0].quantity:", id="less than nothing"),
    pytest.param([*CAVITY_AT, "contents", 0, "quantity"], 0.5, "contents[0].quantity: must be text", id="a number for an amount"),
    pytest.param([*CAVITY_AT, "contents", 0, "quantity"], "1e3", "contents[0].quantity:", id="an exponent"),
    pytest.param(["people", 0, "proof", "optimal"], "yes", "proof.optimal: must be true or false", id="text for a truth"),
]


@pytest.mark.parametrize(("path", "value", "said"), SPOILT)
def test_what_is_no_plan_is_refused_with_its_place(path: list[Any], value: Any, said: str) -> None:
    with pytest.raises(PlanError) as caught:
        parse_plan(spoil(path, value), MEDICINES)
    assert said in str(caught.value)


def test_a_share_is_rounded_half_up_for_reading_only() -> None:
    written = json.loads(text_of(replace(PLAN, people=(replace(PLAN.people[0], cards=(_with_fill(Fraction(1, 3)),)),))))
    assert written["people"][0]["cards"][0]["cavities"][0]["fill"] == "0.333"


def _with_fill(fill: Fraction) -> Card:
    return replace(PLAN.people[0].cards[0], cavities=(replace(CAVITY, fill=fill),))
