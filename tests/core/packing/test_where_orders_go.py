"""Into a cavity, or alongside with the reason, or held with a question: worked cases, one order each."""

from dataclasses import replace
from datetime import date, time
from fractions import Fraction

import pytest
from tests.core.medicines.shipped_rules import pairs, rules, spacings
from tests.core.packing.makers import IRIS, dosage, medicine, order, plan_of, profile, request

from dosewright.core.medicines.medicine import Medicine, Size
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.request import Answer, PlanRequest
from dosewright.core.regimen.dosage import Coding, Dosage, Weekday
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import DosingTime, Timetable
from dosewright.core.units.finding import Severity
from dosewright.core.units.ids import HomeId, OrderId, PersonId, SlotName
from dosewright.core.units.quantity import Unit

ONE = dosage(1, "MORN")
ALPHA = medicine("Alpha")


def asked(one: Order, what: Medicine = ALPHA, **changes: object) -> PlanRequest:
    return request([one], [what], rules=rules(), pairs=pairs(), spacings=spacings(), **changes)


def why(plan: Plan) -> str:
    ((entry,),) = (person.alongside for person in plan.people)
    assert not plan.people[0].cards
    return entry.why


def found(plan: Plan) -> list[tuple[str, Severity]]:
    return [(finding.code, finding.severity) for finding in plan.findings]


OUT = [
    pytest.param(medicine("Alpha", form="oral liquid", unit=Unit("mL")), ONE, "form.liquid", Severity.NOTE, id="a liquid"),
    pytest.param(medicine("Alpha", form="chewable tablet"), ONE, "form.chewable", Severity.NOTE, id="CV-2.1 chewable"),
    pytest.param(medicine("Lansoprazole", form="capsule"), ONE, "product.lansoprazole", Severity.NOTE, id="CV-2.2 by product"),
    pytest.param(medicine("Lansoprazole", form="orodispersible tablet"), ONE, "form.orodispersible", Severity.NOTE, id="CV-2.2 by form"),
    pytest.param(medicine("Alpha", form="jelly"), ONE, "form.unknown", Severity.DECIDE, id="a form in no rule"),
    pytest.param(medicine("Warfarin"), ONE, "product.warfarin", Severity.NOTE, id="warfarin: the dose changes"),
    pytest.param(medicine("Methotrexate"), ONE, "hazardous", Severity.NOTE, id="hazardous by name, not in this profile's cards"),
    pytest.param(medicine("Alpha", flags=frozenset({"controlled"})), ONE, "controlled", Severity.NOTE, id="controlled, not in its cards"),
    pytest.param(medicine("Alpha", flags=frozenset({"cold-chain"})), ONE, "flag.cold-chain", Severity.NOTE, id="kept cold"),
    pytest.param(ALPHA, replace(ONE, route=Coding(text="PR")), "route", Severity.NOTE, id="another way than by mouth"),
    pytest.param(ALPHA, replace(ONE, route=Coding(text="sublingually")), "route", Severity.NOTE, id="under the tongue"),
    pytest.param(ALPHA, replace(ONE, site=Coding(text="left ear")), "route", Severity.NOTE, id="a place on the body"),
    pytest.param(ALPHA, dosage(1, "MORN", as_needed=True), "as-needed", None, id="taken when needed"),
    pytest.param(ALPHA, dosage("1/3", "MORN"), "amount.inexact", Severity.STOP, id="a third of a tablet"),
    pytest.param(ALPHA, dosage("3", "MORN", unit="mg"), "amount.inexact", Severity.STOP, id="3 mg of 5 mg tablets"),
    pytest.param(ALPHA, dosage("1" + "0" * 30, "MORN", unit="mg"), "amount.too-many", Severity.STOP, id="an absurd number of mg"),
    pytest.param(ALPHA, dosage("1", "MORN", unit=""), "amount.no-unit", Severity.DECIDE, id="1, of what?"),
    pytest.param(ALPHA, dosage("1", "MORN", unit="capsule"), "amount.unit-mismatch", Severity.STOP, id="capsules of a tablet"),
    pytest.param(
        medicine("Alpha", Size(*map(Fraction, (31, 6, 6)))), ONE, "cavity.footprint", Severity.DECIDE, id="CV-6.6 too long to lie"
    ),
    pytest.param(medicine("Alpha", Size(*map(Fraction, (20, 20, 12)))), ONE, "cavity.volume", Severity.DECIDE, id="too much for a cavity"),
]


@pytest.mark.parametrize(("what", "directions", "reason", "severity"), OUT)
def test_what_cannot_go_into_a_card_is_named_with_its_reason(
    what: Medicine, directions: Dosage, reason: str, severity: Severity | None
) -> None:
    plan = plan_of(asked(order("o1", what, directions), what))
    assert why(plan) == reason
    assert severity is None or severity in [grave for _, grave in found(plan)]


def test_an_unknown_medicine_is_a_stop_and_still_named() -> None:
    plan = plan_of(asked(order("o1", "unheard-of", ONE)))
    assert why(plan) == "medicine.unknown"
    assert found(plan) == [("medicine.unknown", Severity.STOP)]


def test_an_order_of_nobody_is_a_stop() -> None:
    stranger = replace(order("o1", ALPHA, ONE), person=PersonId("p9"))
    plan = plan_of(asked(stranger))
    assert found(plan) == [("order.of-nobody", Severity.STOP)]


def test_every_line_is_packed_or_named_alongside_and_never_both() -> None:
    """CV-2.3: lines packed and lines not packed are all the lines."""
    drawn = [medicine(name) for name in ("Alpha", "Beta", "Warfarin")] + [medicine("Gamma", form="oral liquid")]
    orders = [order(f"o{at}", what, ONE) for at, what in enumerate(drawn)]
    (person,) = plan_of(request(orders, drawn, rules=rules())).people
    packed = {content.order for card in person.cards for cavity in card.cavities for content in cavity.contents}
    assert packed == {"o0", "o1"}
    assert [entry.order for entry in person.alongside] == ["o2", "o3"]


def answer(about: str, choice: str, dated: str) -> Answer:
    return Answer(OrderId("o1"), about, dated, choice, "stability data on file")  # type: ignore[arg-type]


def dated(rule_id: str) -> str:
    return next(rule.dated for rule in rules().products if rule.id == rule_id)


def test_a_recorded_answer_lets_in_what_is_out_unless_proved_with_its_time_limit() -> None:
    """Omeprazole: out unless proved, thirty days. Source: PSA appendix 5."""
    what = medicine("Omeprazole", form="capsule", unit=Unit("capsule"))
    one = order("o1", what, dosage(1, "MORN", unit="capsule"))
    plan = plan_of(asked(one, what, answers=(answer("product.omeprazole", "card", dated("product.omeprazole")),), days=7))
    assert plan.people[0].alongside == ()
    assert (plan.people[0].cards[0].beyond_use - plan.first).days == 27  # packed three days before the first
    assert found(plan) == [("suitability.answered", Severity.NOTE)]


def test_a_rule_that_was_changed_since_asks_again() -> None:
    what = medicine("Warfarin")
    given = answer("product.warfarin", "card", dated("product.warfarin"))
    assert plan_of(asked(order("o1", what, ONE), what, answers=(given,))).people[0].cards
    assert why(plan_of(asked(order("o1", what, ONE), what, answers=(replace(given, dated="an older edition"),)))) == "product.warfarin"


def test_no_answer_lets_in_what_is_excluded() -> None:
    what = medicine("Sodium valproate")
    plan = plan_of(asked(order("o1", what, ONE), what, answers=(answer("product.valproate", "card", dated("product.valproate")),)))
    assert why(plan) == "product.valproate"


def test_what_is_to_be_confirmed_is_packed_and_asks() -> None:
    what = medicine("Co-careldopa")
    plan = plan_of(asked(order("o1", what, ONE), what))
    assert plan.people[0].cards
    assert found(plan) == [("suitability.confirm", Severity.DECIDE)]
    kept_out = answer("product.levodopa", "alongside", dated("product.levodopa"))
    assert why(plan_of(asked(order("o1", what, ONE), what, answers=(kept_out,)))) == "suitability.decided"


def test_a_profile_may_let_hazardous_medicines_in_but_never_beside_others() -> None:
    cold, warm = medicine("Alpha", flags=frozenset({"hazardous"})), medicine("Beta")
    both = request([order("o1", cold, ONE), order("o2", warm, ONE)], [cold, warm], profile=profile(hazardous_in_card=True))
    (person,) = plan_of(both).people
    assert person.proof.columns == 2
    assert all(len(cavity.contents) == 1 for card in person.cards for cavity in card.cavities)


def test_a_medicine_never_measured_counts_as_the_largest_and_asks() -> None:
    what = medicine("Alpha", None)
    plan = plan_of(asked(order("o1", what, dosage(3, "MORN")), what))
    assert found(plan)[0] == ("medicine.not-measured", Severity.DECIDE)
    assert plan.people[0].proof.columns == 2  # two of size 00 in 3,240 mm³


def test_doses_too_close_are_a_question_and_are_not_moved() -> None:
    """CV-5.2: levothyroxine and calcium at 08:00. Source: as the rule names it."""
    thyroid, calcium = medicine("Levothyroxine"), medicine("Calcium carbonate")
    orders = [order("o1", thyroid, ONE), order("o2", calcium, dosage(1, "MORN", "EVE"))]
    plan = plan_of(request(orders, [thyroid, calcium], spacings=spacings()))
    (question,) = plan.findings
    assert (question.code, question.severity, question.where["date"]) == ("spacing", Severity.DECIDE, plan.first)
    assert {cavity.time.hour for card in plan.people[0].cards for cavity in card.cavities} == {8, 18}


HOME = Timetable((DosingTime(SlotName("breakfast"), time(7, 30), frozenset({"MORN"})),))


def test_a_person_in_a_home_is_planned_by_the_home_s_dosing_times() -> None:
    resident = replace(IRIS, home=HomeId("h1"))
    plan = plan_of(asked(order("o1", ALPHA, ONE), people=(resident,), homes={HomeId("h1"): HOME}))
    assert {(c.slot, c.time.isoformat("minutes")) for c in plan.people[0].cards[0].columns} == {("breakfast", "07:30")}


WEEKLY = [
    pytest.param("Methotrexate", dosage(1, "MORN"), True, id="methotrexate daily: the error that has killed"),
    pytest.param("Methotrexate", dosage(1, "MORN", days=[Weekday.MON, Weekday.THU]), True, id="methotrexate twice a week"),
    pytest.param("Methotrexate", dosage(1, "MORN", days=[Weekday.MON]), False, id="methotrexate on Mondays"),
    pytest.param("Alendronic acid", dosage(1, "MORN"), True, id="alendronate daily"),
    pytest.param("Alpha", dosage(1, "MORN"), False, id="no weekly medicine"),
]


@pytest.mark.parametrize(("name", "directions", "asks"), WEEKLY)
def test_a_weekly_medicine_on_more_than_one_day_is_a_question(name: str, directions: Dosage, *, asks: bool) -> None:
    """Alongside or packed. Source: Alberta College of Pharmacy, preventing methotrexate dispensing errors."""
    what = medicine(name)
    plan = plan_of(asked(order("o1", what, directions), what))
    assert (("weekly-more-often", Severity.DECIDE) in found(plan)) is asks


def test_a_cycle_that_begins_before_it_is_packed_is_said() -> None:
    plan = plan_of(asked(order("o1", ALPHA, ONE), prepared_on=date(2026, 3, 3)))
    assert found(plan) == [("cycle.begun", Severity.NOTE)]


@pytest.mark.parametrize(
    "product",
    [
        pytest.param(medicine("Alpha", flags=frozenset({"time-critical"})), id="by flag"),
        pytest.param(medicine("Co-careldopa"), id="levodopa, by name"),
    ],
)
def test_a_time_critical_medicine_is_packed_and_a_pharmacist_must_confirm_it(product: Medicine) -> None:
    """Source: NICE QS164, statement 4: levodopa within thirty minutes of its time. The finding names the rule's source."""
    plan = plan_of(request([order("o1", product, ONE)], [product], rules=rules()))
    assert plan.people[0].cards
    (asked,) = (finding for finding in plan.findings if finding.code == "suitability.confirm")
    assert asked.severity is Severity.DECIDE
    assert "NICE QS164" in str(asked.facts["source"])
