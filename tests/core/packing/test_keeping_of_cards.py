"""How long a card keeps (R5)."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.core.packing.makers import MONDAY, dosage, medicine, order, profile, request

from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.medicines.suitability import Rule, Rules, Standing
from dosewright.core.packing.beyond_use import beyond_use, last_usable_day
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.shorter import days_that_keep, plan_what_keeps
from dosewright.core.packing.verify import verify
from dosewright.core.regimen.dosage import Weekday
from dosewright.core.units.dosing_time import Moment
from dosewright.devices.shipped import read_shipped

SIXTY = timedelta(days=60)

KEEPING = [
    pytest.param("2026-03-02", 60, ["2026-04-20", "2027-01-31"], "2026-04-20", id="CV-1.1 the earliest expiry; USP patient med pak text"),
    pytest.param("2026-03-02", 60, ["2027-01-31", "2026-04-20"], "2026-04-20", id="CV-1.1 in any order"),
    pytest.param("2026-03-02", 60, ["2027-01-31"], "2026-05-01", id="CV-1.1 sixty days; USP patient med pak text"),
    pytest.param("2026-03-02", 56, ["2027-01-31"], "2026-04-27", id="CV-1.2 eight weeks; BMJ 1996;313:926"),
    pytest.param("2028-01-15", 60, [], "2028-03-15", id="CV-1.3 over 29 February, computed"),
]


@pytest.mark.parametrize(("packed", "days", "expiries", "expected"), KEEPING)
def test_a_card_keeps_until_the_earliest_of_its_limits(packed: str, days: int, expiries: list[str], expected: str) -> None:
    found = beyond_use(date.fromisoformat(packed), map(date.fromisoformat, expiries), longest=timedelta(days))
    assert found == date.fromisoformat(expected)


@given(st.dates(max_value=date(9000, 1, 1)), st.lists(st.dates()), st.dates())
def test_another_component_never_makes_a_card_keep_longer(packed: date, expiries: list[date], another: date) -> None:
    assert beyond_use(packed, [*expiries, another], longest=SIXTY) <= beyond_use(packed, expiries, longest=SIXTY)


MONTHS = [("04/2026", "2026-04-30"), ("2026-04", "2026-04-30"), ("02/2028", "2028-02-29"), ("2026-04-07", "2026-04-07")]


@pytest.mark.parametrize(("printed", "last"), MONTHS)
def test_an_expiry_by_month_means_the_month_s_last_day(printed: str, last: str) -> None:
    """CV-1.4; convention in the US and UK, from memory."""
    assert last_usable_day(printed) == date.fromisoformat(last)


@pytest.mark.parametrize("bad", ["13/2026", "00/2026", "2026-00", "4/2026", "", "2026-02-30"])
def test_an_expiry_that_is_no_day_is_refused(bad: str) -> None:
    with pytest.raises(ValueError, match=r"month|format|day"):
        last_usable_day(bad)


def planned(prepared: date, **changes: object) -> tuple[Plan, PlanRequest]:
    alpha = medicine("Alpha")
    asked = request([order("o1", alpha, dosage(1, "MORN"))], [alpha], prepared_on=prepared, **changes)
    return plan_cycle(asked), asked


def test_no_shipped_profile_keeps_a_card_for_the_ninety_days_of_an_exam_quiz() -> None:
    """CV-1.8: four board texts say sixty days in the United States, a licence-exam quiz says ninety. Rules come from texts."""
    shipped = {name: parse_profile(read_shipped("profiles", f"{name}.toml")) for name in ("us", "uk", "au", "ca", "nz", "ie", "eu")}
    assert shipped["us"].number("bud_max_days") == 60
    assert (shipped["uk"].number("bud_max_days"), shipped["au"].number("bud_max_days")) == (56, 56)
    assert all(profile.number("bud_max_days") < 90 for profile in shipped.values())


def test_a_card_that_keeps_to_its_last_day_exactly_is_made() -> None:
    """CV-1.5: 28 days whose first is ten days after packing end 37 days after it."""
    plan, asked = planned(MONDAY - timedelta(days=10), profile=profile(bud_max_days=37))
    assert len(plan.people[0].cards) == 1
    assert verify(plan, asked) == ()


def test_a_cycle_that_outlives_its_card_is_refused_and_the_limit_named() -> None:
    """CV-1.5: one day less, and nothing is packed; the finding says how long the cycle could be."""
    plan, asked = planned(MONDAY - timedelta(days=10), profile=profile(bud_max_days=36))
    (finding,) = plan.findings
    assert (finding.code, finding.severity.value) == ("beyond-use", "stop")
    assert finding.facts["days_possible"] == 27
    assert plan.people[0].cards == ()
    assert [(entry.order, entry.why) for entry in plan.people[0].alongside] == [("o1", "beyond-use")]
    assert verify(plan, asked) == ()


def test_the_cycle_that_the_finding_proposes_is_then_made() -> None:
    plan, _ = planned(MONDAY - timedelta(days=10), profile=profile(bud_max_days=36), days=27)
    assert len(plan.people[0].cards) == 1


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.integers(0, 30), st.sampled_from([[], [Weekday.MON], [Weekday.SUN]])), min_size=1, max_size=5),
    st.sampled_from([7, 10, 14, 28, 31]),
    st.integers(5, 40),
)
def test_as_many_days_as_keep_are_planned_and_no_more(each: list[tuple[int, list[Weekday]]], days: int, longest: int) -> None:
    """Every shorter cycle tried one by one is the oracle: the first that is not refused."""
    catalogue = [medicine(f"M{at}") for at in range(len(each))]
    orders = [order(f"o{at}", one, dosage(1, "MORN", days=on)) for at, (one, (_, on)) in enumerate(zip(catalogue, each, strict=True))]
    expiries = {one.code: MONDAY + timedelta(days=keeps) for one, (keeps, _) in zip(catalogue, each, strict=True)}
    asked = request(orders, catalogue, days=days, expiries=expiries, profile=profile(bud_max_days=longest), prepared_on=MONDAY)
    plan, planned_for = plan_what_keeps(asked)
    assert verify(plan, planned_for) == ()
    refused = [n for n in range(1, days + 1) if days_that_keep(plan_cycle(replace(asked, days=n))) is not None]
    assert refused == list(range(planned_for.days + 1, days + 1))
    assert ("cycle.shortened" in {finding.code for finding in plan.findings}) == bool(refused)


def test_where_not_one_day_keeps_the_plan_is_refused_as_it_was() -> None:
    asked = request(
        [order("o1", medicine("Alpha"), dosage(1, "MORN"))], [medicine("Alpha")], expiries={"alpha": MONDAY - timedelta(days=1)}
    )
    plan, planned_for = plan_what_keeps(asked)
    assert planned_for == asked
    assert plan == plan_cycle(asked)
    assert days_that_keep(plan) == 0


def test_the_product_that_binds_is_named_by_its_lot_s_expiry() -> None:
    plan, _ = planned(MONDAY, expiries={"alpha": date(2026, 3, 20)})
    (finding,) = plan.findings
    assert (finding.facts["binds"], finding.facts["limit"], finding.facts["days_possible"]) == ("Alpha 5 mg tablet", date(2026, 3, 20), 19)


def test_a_product_s_own_limit_counts_from_packing() -> None:
    rule = Rule("product.alpha", Standing.FITS, "", "moisture", "test", "2026", "memory", limit_days=30, names=("alpha",))
    plan, asked = planned(MONDAY - timedelta(days=2), rules=Rules(products=(rule,)))
    assert plan.people[0].cards[0].beyond_use == MONDAY + timedelta(days=28)
    assert verify(plan, asked) == ()
    late, _ = planned(MONDAY - timedelta(days=4), rules=Rules(products=(rule,)))
    assert [finding.code for finding in late.findings] == ["beyond-use"]


def test_each_card_keeps_by_what_is_in_it_alone() -> None:
    """A product in the last week's card does not shorten the first week's."""
    alpha, beta = medicine("Alpha"), medicine("Beta")
    orders = [order("o1", alpha, *(dosage(1, when) for when in ("MORN", "NOON", "EVE", "HS")))]
    later = replace(order("o2", beta, dosage(1, "MORN")), since=Moment(MONDAY + timedelta(days=21)))
    asked = request([*orders, later], [alpha, beta], expiries={"beta": date(2026, 4, 1)})
    cards = plan_cycle(asked).people[0].cards
    assert [card.beyond_use for card in cards] == [asked.prepared_on + SIXTY] * 3 + [date(2026, 4, 1)]


def test_a_cycle_longer_than_is_supplied_at_one_go_is_refused() -> None:
    plan, asked = planned(MONDAY, days=63)
    assert [finding.code for finding in plan.findings] == ["cycle.too-long"]
    assert verify(plan, asked) == ()
