"""Before food and with food in one cavity is said, by the order's words first, then by rule."""

import pytest
from tests.core.medicines.shipped_rules import rules
from tests.core.packing.makers import IRIS, MONDAY, dosage, medicine, order, plan_of, request

from dosewright.core.units.finding import Finding, Severity

LEVOTHYROXINE, METFORMIN, RAMIPRIL = medicine("Levothyroxine"), medicine("Metformin"), medicine("Ramipril")


def found(first: str, second: str, one: object = LEVOTHYROXINE, other: object = METFORMIN) -> list[Finding]:
    orders = [order("a", one, dosage(1, first)), order("b", other, dosage(1, second))]  # type: ignore[arg-type]
    plan = plan_of(request(orders, [LEVOTHYROXINE, METFORMIN, RAMIPRIL], rules=rules()))
    return [finding for finding in plan.findings if finding.code == "food-apart"]


def test_before_food_and_with_food_at_one_time_is_said_once_with_the_source() -> None:
    (said,) = found("MORN", "MORN")
    assert (said.severity, said.where) == (Severity.NOTE, {"person": IRIS.id, "date": MONDAY, "slot": "morning"})
    assert (said.facts["medicine"], said.facts["other"]) == (LEVOTHYROXINE.label, METFORMIN.label)
    assert str(said.facts["says"]).startswith("food.empty-stomach; British National Formulary")


@pytest.mark.parametrize(
    ("first", "second", "one", "other"),
    [
        pytest.param("MORN", "EVE", LEVOTHYROXINE, METFORMIN, id="at two times"),
        pytest.param("MORN", "MORN", LEVOTHYROXINE, RAMIPRIL, id="nothing is said about the other"),
    ],
)
def test_what_does_not_clash_is_left_in_peace(first: str, second: str, one: object, other: object) -> None:
    assert found(first, second, one, other) == []


def test_the_orders_own_words_count_before_a_rule() -> None:
    (said,) = found("ACM", "PCM", RAMIPRIL, LEVOTHYROXINE)
    assert (said.facts["medicine"], said.facts["says"]) == (RAMIPRIL.label, "directions")
    assert (said.facts["other"], said.facts["other_says"]) == (LEVOTHYROXINE.label, "directions")
