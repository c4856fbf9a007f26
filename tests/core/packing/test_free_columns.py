"""Cards first: free columns are used where they better something, never at the cost of a card, and never without a gain."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.core.packing.makers import IRIS, MONDAY, dosage, medicine, order, plan_of, request

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.packing.explain import explain, explain_dosing_time
from dosewright.core.packing.places import places_of
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import PersonPlan, Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.say import say
from dosewright.core.regimen.dosage import Period, Repeat, Span, TimeUnit, Timing, Weekday
from dosewright.core.units.ids import SlotName

TIMES = ("MORN", "NOON", "EVE", "HS")
WHITE = [medicine(name, colour="white") for name in ("Alpha", "Beta", "Gamma", "Delta")]
NEEDED = {f"explain.{kind}" for kind in ("one-column", "volume", "pieces", "label-lines", "apart", "search", "unproved")}
OTHER = [medicine(name, colour=name) for name in ("Red", "Pink", "Blue")]


def planned(medicines: Iterable[Medicine], *when: str, count: int = 1, days: int = 7) -> Plan:
    """Everyone of the medicines at each of the times, so many each."""
    held = list(medicines)
    return plan_of(request([order(f"o{at}", what, dosage(count, *when)) for at, what in enumerate(held)], held, days=days))


def mine(plan: Plan) -> PersonPlan:
    return plan.people[0]


def columns(plan: Plan) -> list[int]:
    """How many columns each card has."""
    return [len(card.columns) for card in mine(plan).cards]


def codes(plan: Plan) -> list[str]:
    return [finding.code for finding in plan.findings]


def test_look_alikes_lie_apart_where_a_column_is_free() -> None:
    plan = planned(WHITE[:2], "MORN")
    assert (columns(plan), codes(plan), mine(plan).proof.columns, mine(plan).proof.optimal) == ([2], [], 1, True)


def test_a_card_is_never_paid_for_it() -> None:
    plan = planned(WHITE[:2], "MORN", days=28)
    assert (columns(plan), codes(plan)) == ([4], ["look-alike"])


def test_without_a_gain_a_dosing_time_keeps_the_fewest_columns() -> None:
    assert columns(planned(OTHER, "MORN")) == [1]


@pytest.mark.parametrize(
    ("count", "expected"), [pytest.param(3, [1], id="six pieces of eight"), pytest.param(4, [2], id="all eight are crowded")]
)
def test_a_crowded_cavity_is_spread(count: int, expected: list[int]) -> None:
    assert columns(planned(OTHER[:2], "MORN", count=count)) == expected


def test_one_medicine_alone_is_not_spread() -> None:
    assert columns(planned(OTHER[:1], "MORN", count=8)) == [1]


def test_look_alikes_that_never_meet_stay_in_one_column() -> None:
    orders = [order("a", WHITE[0], dosage(1, "MORN", days=[Weekday.MON])), order("b", WHITE[1], dosage(1, "MORN", days=[Weekday.TUE]))]
    assert columns(plan_of(request(orders, WHITE, days=7))) == [1]


def test_free_columns_go_to_the_dosing_time_that_gains_most() -> None:
    """Three dosing times and one free column: the evening has two pairs, the others one."""
    evening = [order(f"e{at}", what, dosage(1, "EVE")) for at, what in enumerate(WHITE[:3])]
    others = [order(f"{when}{at}", what, dosage(1, when)) for when in ("MORN", "NOON") for at, what in enumerate(WHITE[:2])]
    plan = plan_of(request([*evening, *others], WHITE, days=7))
    assert [column.slot for column in mine(plan).cards[0].columns] == ["morning", "noon", "evening", "evening"]


@pytest.mark.parametrize(
    ("held", "count", "code", "were", "now"),
    [(WHITE[:2], 1, "explain.spread-alike", 1, 0), (OTHER[:2], 4, "explain.spread-crowded", 1, 0)],
)
def test_why_a_free_column_is_used_is_said(held: list[Medicine], count: int, code: str, were: int, now: int) -> None:
    asked = request([order(f"o{at}", what, dosage(count, "MORN")) for at, what in enumerate(held)], held, days=7)
    (said,) = (one for one in explain(IRIS, asked) if one.code.startswith("explain.spread"))
    facts = {name: said.facts[name] for name in ("columns", "fewest", "were", "now")}
    assert (said.code, said.where["slot"], facts) == (code, "morning", {"columns": 2, "fewest": 1, "were": were, "now": now})
    assert said in explain_dosing_time(IRIS, asked, SlotName("morning"))
    assert not explain_dosing_time(IRIS, asked, SlotName("noon"))


def test_a_place_that_is_kept_from_week_to_week_is_said() -> None:
    """No two may meet. In either of two weeks two columns would do in the morning, but not the same: one medicine, every fourth day, meets
    the second on a Monday, the third on the Tuesday of the week after, and those two meet on Sundays. At noon only the third week has
    anything, and is the fullest."""
    held = [*OTHER, medicine("Green", colour="green"), medicine("Grey", colour="grey")]
    fourth = Repeat(
        frequency=1, period=Fraction(4), period_unit=TimeUnit.DAY, when=("MORN",), bounds_duration=Span(Fraction(14), TimeUnit.DAY)
    )
    late = Repeat(
        frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=("NOON",), bounds_period=Period(MONDAY + timedelta(days=14))
    )
    made = [
        order("a", held[0], replace(dosage(1, "MORN"), timing=Timing(repeat=fourth))),
        order("b", held[1], dosage(1, "MORN", days=[Weekday.MON, Weekday.SUN])),
        order("c", held[2], dosage(1, "MORN", days=[Weekday.TUE, Weekday.SUN])),
        *(order(what.name, what, replace(dosage(1, "NOON"), timing=Timing(repeat=late))) for what in held[3:]),
    ]
    names = tuple(what.name.casefold() for what in held)
    asked = replace(
        request(made, held, days=21),
        pairs=tuple(PairRule(f"pair.{name}", (name,), names, "react", "test", "2026", "proposal") for name in names),
        weeks_a_card={IRIS.id: 1},
    )
    assert columns(plan_of(asked)) == [3, 3, 4]
    (said,) = (one for one in explain(IRIS, asked) if one.code.startswith("explain.spread"))
    assert (said.code, said.facts["columns"], said.facts["fewest"]) == ("explain.spread-places", 3, 2)
    assert "every medicine keeps its column" in say(said)


@st.composite
def regimens(draw: st.DrawFn) -> PlanRequest:
    """A few medicines that look alike or not, at some times, on all days or on two, for one to four weeks."""
    held = draw(st.lists(st.sampled_from([*WHITE, *OTHER]), min_size=1, max_size=5, unique=True))
    days = st.sampled_from([(), (Weekday.MON, Weekday.TUE)])
    whens = st.lists(st.sampled_from(TIMES), min_size=1, max_size=2, unique=True)
    made = [order(f"o{at}", what, dosage(draw(st.integers(1, 4)), *draw(whens), days=draw(days))) for at, what in enumerate(held)]
    return request(made, held, days=draw(st.sampled_from([7, 14, 28])))


@settings(max_examples=100)
@given(regimens())
def test_every_column_more_than_needed_has_its_reason(asked: PlanRequest) -> None:
    """The plan's own columns, counted dosing time by dosing time, against what the explanation says of them."""
    person = asked.people[0]
    planned_for = plan_cycle(asked).people[0]
    said = explain(person, asked)
    reasons = {one.where["slot"]: one.facts["columns"] for one in said if one.code.startswith("explain.spread")}
    needed = {one.where["slot"]: one.facts.get("columns", 1) for one in said if one.code in NEEDED}
    parts = [(column.parts, column.slot) for card in planned_for.cards if not card.as_needed for column in card.columns]
    used = {slot: most for most, slot in sorted(parts)}
    if used:  # a set that is refused has no columns to explain
        assert {**needed, **reasons} == used


def test_the_next_cycle_lies_as_this_one_did() -> None:
    held = WHITE[:3]
    asked = request([order(f"o{at}", what, dosage(1, "MORN")) for at, what in enumerate(held)], held, days=7)
    first = mine(plan_of(asked))
    again = mine(plan_of(replace(asked, places={IRIS.id: places_of(first)})))
    assert places_of(again) == places_of(first)
    assert set(places_of(first).values()) == {1, 2, 3}


@settings(max_examples=40)
@given(st.lists(st.integers(1, 4), min_size=1, max_size=4), st.integers(1, 4))
def test_cards_are_as_few_as_one_column_a_dosing_time_needs(alike: list[int], weeks: int) -> None:
    """One column is always enough here, so that arithmetic says how many cards there are, whatever is kept apart."""
    orders = [order(f"{when}{at}", WHITE[at], dosage(1, when)) for when, many in zip(TIMES, alike, strict=False) for at in range(many)]
    person = mine(plan_of(request(orders, WHITE, days=7 * weeks)))
    assert len(person.cards) == -(-weeks // (4 // len(alike))) == person.proof.cards_lower_bound
    assert person.proof.columns == len(alike)
