"""One substance in two orders, and how much of it in a day: what is asked, what is only said, and what is left in peace."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.medicines.shipped_rules import rules
from tests.core.packing.makers import IRIS, MONDAY, dosage, medicine, order, plan_of, request

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.substances import milligrams_of, same_substance, substances_of
from dosewright.core.packing.most_a_day import most_a_day
from dosewright.core.regimen.dosage import Amount, Dosage, Maximum, Range, Repeat, Span, TimeUnit, Timing
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.quantity import Quantity, Unit

LEVO_50 = medicine("Levothyroxine", code="levo50", strength="50 micrograms", strength_amount=Quantity(Fraction(50), Unit("microgram")))
LEVO_25 = medicine("Levothyroxine", code="levo25", strength="25 micrograms", strength_amount=Quantity(Fraction(25), Unit("microgram")))
PARACETAMOL = medicine("Paracetamol", strength="500 mg", strength_amount=Quantity(Fraction(500), Unit("mg")))
CO_CODAMOL = medicine("Co-codamol", strength="8 mg/500 mg", strength_amount=None)
LIQUID = medicine("Paracetamol", None, code="liquid", strength="120 mg/5 mL", form="oral liquid", unit=Unit("mL"), strength_amount=None)
RAMIPRIL = medicine("Ramipril")
FOUR_TIMES = ("MORN", "NOON", "EVE", "HS")


def found(orders: list[Order], *medicines: Medicine) -> list[Finding]:
    """What the plan says about substances."""
    plan = plan_of(request(orders, medicines, rules=rules()))
    return [finding for finding in plan.findings if finding.code.startswith(("duplicate", "daily-maximum"))]


def codes(orders: list[Order], *medicines: Medicine) -> list[str]:
    return [f"{finding.code} {finding.severity}" for finding in found(orders, *medicines)]


def test_two_strengths_of_one_substance_are_worth_knowing() -> None:
    both = [order("a", LEVO_50, dosage(1, "MORN")), order("b", LEVO_25, dosage(1, "MORN"))]
    (said,) = found(both, LEVO_50, LEVO_25)
    assert (said.code, said.severity) == ("duplicate.substance", "note")
    assert said.where == {"person": IRIS.id, "order": "a"}
    assert (said.facts["substance"], said.facts["other_order"]) == ("Levothyroxine", "b")


def test_the_same_product_twice_at_one_time_is_asked_about() -> None:
    assert codes([order("a", RAMIPRIL, dosage(1, "MORN")), order("b", RAMIPRIL, dosage(1, "MORN"))], RAMIPRIL) == [
        "duplicate.same-time decide"
    ]


def test_the_same_product_under_two_codes_is_asked_about_as_well() -> None:
    """Two makers' codes of one name, strength and form: whoever takes both takes double. Strengths are compared as amounts."""
    named = medicine(
        "RAMIPRIL", code="other-maker", strength="5000 micrograms", strength_amount=Quantity(Fraction(5000), Unit("microgram"))
    )
    both = [order("a", RAMIPRIL, dosage(1, "MORN")), order("b", named, dosage(1, "MORN"))]
    assert codes(both, RAMIPRIL, named) == ["duplicate.same-time decide"]
    salt = medicine("Ramipril hydrochloride", code="salt")
    assert codes([order("a", RAMIPRIL, dosage(1, "MORN")), order("b", salt, dosage(1, "MORN"))], RAMIPRIL, salt) == [
        "duplicate.same-time decide"
    ]
    other_form = medicine("Ramipril", code="capsule", form="capsule", unit=Unit("capsule"))
    both = [order("a", RAMIPRIL, dosage(1, "MORN")), order("b", other_form, dosage(1, "MORN", unit="capsule"))]
    assert codes(both, RAMIPRIL, other_form) == ["duplicate.substance note"]


def test_the_same_product_at_two_times_is_said() -> None:
    assert codes([order("a", RAMIPRIL, dosage(1, "MORN")), order("b", RAMIPRIL, dosage(1, "EVE"))], RAMIPRIL) == [
        "duplicate.same-product note"
    ]


def test_an_order_that_follows_another_is_left_in_peace() -> None:
    change = Moment(MONDAY.replace(day=9))
    one, other = order("a", LEVO_50, dosage(1, "MORN"), until=change), order("b", LEVO_25, dosage(1, "MORN"), since=change)
    assert codes([one, other], LEVO_50, LEVO_25) == []


@pytest.mark.parametrize(("later", "expected"), [(0, []), (-1, ["duplicate.in-a-blend decide"])])
def test_as_needed_orders_count_while_they_are_in_force(later: int, expected: list[str]) -> None:
    """They have no days of their own; one that ends as the other begins never meets it."""
    change = Moment(MONDAY.replace(day=9))
    one = order("a", PARACETAMOL, dosage(1, "MORN", as_needed=True), until=change)
    other = order("b", CO_CODAMOL, dosage(1, "MORN", as_needed=True), since=Moment(MONDAY.replace(day=9 + later)))
    assert codes([one, other], PARACETAMOL, CO_CODAMOL) == expected


def test_different_substances_are_left_in_peace() -> None:
    assert codes([order("a", RAMIPRIL, dosage(1, "MORN")), order("b", LEVO_25, dosage(1, "MORN"))], RAMIPRIL, LEVO_25) == []


@pytest.mark.parametrize("as_needed", [False, True])
def test_a_substance_that_is_also_in_a_blend_is_asked_about(*, as_needed: bool) -> None:
    both = [order("a", PARACETAMOL, dosage(1, "MORN")), order("b", CO_CODAMOL, dosage(1, "EVE", as_needed=as_needed))]
    assert codes(both, PARACETAMOL, CO_CODAMOL) == ["duplicate.in-a-blend decide"]


MAXIMA = [  # 4 g of paracetamol a day: cautionary labels 29 and 30
    pytest.param([dosage(2, *FOUR_TIMES)], [], [], id="4 g by the clock is the maximum and is allowed"),
    pytest.param([dosage("2.5", *FOUR_TIMES)], [], ["daily-maximum decide"], id="5 g by the clock"),
    pytest.param([dosage(2, "MORN", "EVE")], [dosage(2, "NOON", "HS")], [], id="2 g and 2 g from the blend"),
    pytest.param([dosage(2, "MORN", "EVE", "HS")], [dosage(2, "NOON", "HS")], ["daily-maximum decide"], id="3 g and 2 g from the blend"),
    pytest.param(
        [dosage(2, *FOUR_TIMES)], [dosage(1, "MORN", as_needed=True)], ["daily-maximum decide"], id="4 g and half a gram as needed"
    ),
]


@pytest.mark.parametrize(("plain", "blend", "expected"), MAXIMA)
def test_the_daily_maximum_counts_everything_that_is_taken(plain: list[Dosage], blend: list[Dosage], expected: list[str]) -> None:
    orders = [order("a", PARACETAMOL, *plain), *([order("b", CO_CODAMOL, *blend)] if blend else [])]
    assert [code for code in codes(orders, PARACETAMOL, CO_CODAMOL) if code.startswith("daily")] == expected


def test_the_finding_says_how_much_and_by_which_rule() -> None:
    orders = [order("a", PARACETAMOL, dosage(2, *FOUR_TIMES)), order("b", LIQUID, dosage(10, "MORN", unit="mL", as_needed=True))]
    said = next(finding for finding in found(orders, PARACETAMOL, LIQUID) if finding.code == "daily-maximum")
    assert (said.facts["total"], said.facts["as_needed"], said.facts["limit"]) == (4240, 240, 4000)
    assert said.facts["rule"] == "maximum.paracetamol"
    assert said.facts["source"]


def test_what_cannot_be_counted_is_said() -> None:
    unlimited = Dosage(as_needed=True, amounts=(Amount(quantity=Quantity(Fraction(2), Unit("tablet"))),))
    assert codes([order("a", PARACETAMOL, unlimited)], PARACETAMOL) == ["daily-maximum.not-counted note"]


def repeat(**changes: object) -> Timing:
    return Timing(repeat=Repeat(**changes))  # type: ignore[arg-type]


ONE, TWO = (Quantity(Fraction(n), Unit("tablet")) for n in (1, 2))
AT_MOST = [  # arithmetic
    pytest.param(
        Dosage(amounts=(Amount(ONE),), timing=repeat(frequency=1, frequency_max=4, period=Fraction(1), period_unit=TimeUnit.DAY)), 4
    ),
    pytest.param(Dosage(amounts=(Amount(ONE),), timing=repeat(frequency=1, period=Fraction(6), period_unit=TimeUnit.HOUR)), 4),
    pytest.param(Dosage(amounts=(Amount(ONE),), timing=repeat(frequency=1, period=Fraction(5), period_unit=TimeUnit.HOUR)), 5),
    pytest.param(Dosage(amounts=(Amount(range=Range(ONE, TWO)),), timing=repeat(period=Fraction(4), period_unit=TimeUnit.HOUR)), 12),
    pytest.param(Dosage(amounts=(Amount(ONE),), timing=repeat(frequency=1, period=Fraction(2), period_unit=TimeUnit.DAY)), 1),
    pytest.param(Dosage(amounts=(Amount(TWO),), timing=repeat(when=("MORN", "HS"))), 4),
    pytest.param(
        Dosage(amounts=(Amount(ONE),), max_per_period=Maximum(Quantity(Fraction(6), ONE.unit), Span(Fraction(24), TimeUnit.HOUR))), 6
    ),
    pytest.param(Dosage(amounts=(Amount(ONE),)), None),
    pytest.param(Dosage(timing=repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY)), None),
    pytest.param(Dosage(amounts=(Amount(range=Range(low=ONE)),), timing=repeat(when=("MORN",))), None),
]


@pytest.mark.parametrize(("directions", "expected"), AT_MOST)
def test_an_as_needed_order_counts_at_the_most_that_it_allows(directions: Dosage, expected: int | None) -> None:
    most = most_a_day(directions)
    assert (most.count if most else None) == expected


NAMES = [  # common practice, no source
    ("Bisoprolol", "bisoprolol fumarate", True),
    ("Paracetamol", "PARACETAMOL", True),
    ("Ferrous sulfate", "Ferrous fumarate", False),
    ("Sodium valproate", "Sodium bicarbonate", False),
    ("Calcium", "Calcipotriol", False),
    ("", "Ramipril", False),
]


@pytest.mark.parametrize(("one", "other", "same"), NAMES)
def test_names_of_one_substance_are_known_as_such(one: str, other: str, *, same: bool) -> None:
    assert same_substance(one, other) == same_substance(other, one) == same


@pytest.mark.parametrize(
    ("name", "substances"),
    [
        ("Ramipril", ["Ramipril"]),
        ("Amlodipine/Valsartan", ["Amlodipine", "Valsartan"]),
        ("docusate and senna", ["docusate", "senna"]),
        ("Calcium carbonate with colecalciferol", ["Calcium carbonate", "colecalciferol"]),
        ("Co-codamol", ["codeine", "paracetamol"]),
        ("Candesartan", ["Candesartan"]),
    ],
)
def test_a_name_says_what_is_in_it(name: str, substances: list[str]) -> None:
    assert substances_of(medicine(name), rules().blends) == tuple(substances)


def test_milligrams_come_from_the_strength_or_are_not_known() -> None:
    two = Quantity(Fraction(2), Unit("tablet"))
    assert milligrams_of(two, CO_CODAMOL, 0, 2) == 16
    assert milligrams_of(two, CO_CODAMOL, 1, 2) == 1000
    assert milligrams_of(Quantity(Fraction(1), Unit("g")), PARACETAMOL, 0, 1) == 1000
    assert milligrams_of(Quantity(Fraction(20), Unit("mL")), LIQUID, 0, 1) == 480
    assert milligrams_of(two, LEVO_50, 0, 1) == Fraction(1, 10)
    for dose, product in (
        (Quantity(Fraction(1), Unit("mL")), PARACETAMOL),
        (two, LIQUID),
        (Quantity(Fraction(5), Unit("unit")), PARACETAMOL),
    ):
        assert milligrams_of(dose, product, 0, 1) is None


@given(st.integers(1, 4), st.integers(1, 4))
def test_the_total_does_not_depend_on_how_orders_are_cut(morning: int, noon: int) -> None:
    """Splitting an order into two says nothing new about the day's total."""
    whole = [order("a", PARACETAMOL, dosage(morning, "MORN"), dosage(noon, "NOON"), dosage(3, "EVE", "HS"))]
    cut = [
        order("a", PARACETAMOL, dosage(morning, "MORN"), dosage(3, "EVE")),
        order("b", PARACETAMOL, dosage(noon, "NOON"), dosage(3, "HS")),
    ]
    totals = [
        [finding.facts["total"] for finding in found(orders, PARACETAMOL) if finding.code == "daily-maximum"] for orders in (whole, cut)
    ]
    assert totals[0] == totals[1] == ([500 * (morning + noon + 6)] if morning + noon > 2 else [])
