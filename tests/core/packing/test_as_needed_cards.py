"""As-needed medicines in cards of their own: only where the profile allows it, only what a label can say whole, and never beside a dose
that is due. Source of the caution: British Medical Journal 1996;313:926, what is taken as needed may be taken regularly.
"""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.medicines.shipped_rules import rules
from tests.core.packing.makers import IRIS, MONDAY, ROLL, SEVEN_BY_FOUR, dosage, medicine, order, plan_of, profile, request

from dosewright.core.interop.plan_json import format_plan, parse_plan
from dosewright.core.medicines.medicine import Size
from dosewright.core.medicines.suitability import Rule, Rules, Standing
from dosewright.core.packing.plan_values import WHEN_NEEDED, Card, CardColumn, Content, PackedCavity, Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify import verify
from dosewright.core.paper.say import say
from dosewright.core.regimen.dosage import Amount, Dosage, Maximum, Range, Repeat, Span, TimeUnit, Timing, Weekday
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import OrderId
from dosewright.core.units.quantity import Quantity, Unit

ALPHA, BETA, GAMMA = medicine("Alpha"), medicine("Beta"), medicine("Gamma")
ALLOWED = profile(as_needed_in_card=True)
TABLETS = Unit("tablet")


def tablets(count: object) -> Quantity:
    return Quantity(Fraction(str(count)), TABLETS)


def needed(count: object, often: int | None = 1, hours: int = 24, most: object = None, **changes: object) -> Dosage:
    """So many tablets when needed, so often in so many hours, at most so many in a day."""
    repeat = Repeat(frequency=often, period=Fraction(hours), period_unit=TimeUnit.HOUR) if often else None
    said = Dosage(
        timing=Timing(repeat=repeat) if repeat else None,
        as_needed=True,
        amounts=(Amount(quantity=tablets(count)),),
        max_per_period=Maximum(tablets(most), Span(Fraction(1), TimeUnit.DAY)) if most else None,
    )
    return replace(said, **changes)  # type: ignore[arg-type]


def asked(*orders: Order, **changes: object) -> PlanRequest:
    return replace(request(orders, [ALPHA, BETA, GAMMA], profile=ALLOWED, days=7), **changes)  # type: ignore[arg-type]


def demanded(plan: Plan) -> list[Card]:
    return [card for card in plan.people[0].cards if card.as_needed]


def test_without_the_profile_s_leave_an_as_needed_medicine_stays_alongside() -> None:
    plan = plan_of(asked(order("o1", ALPHA, needed(1)), profile=profile()))
    assert demanded(plan) == []
    assert [entry.why for entry in plan.people[0].alongside] == ["as-needed"]
    assert plan.findings == ()


def test_one_cavity_is_one_dose_and_one_column_is_one_medicine() -> None:
    """Two tablets up to four times a day for a week: 28 doses in four columns, which are a card; the daily tablet has its own."""
    plan = plan_of(asked(order("o1", ALPHA, needed(2, 1, 6)), order("o2", BETA, dosage(1, "MORN"))))
    due, on_demand = plan.people[0].cards
    assert not due.as_needed
    assert on_demand.as_needed
    assert {content.medicine for cavity in on_demand.cavities for content in cavity.contents} == {ALPHA.code}
    assert [(column.part, column.parts) for column in on_demand.columns] == [(1, 4), (2, 4), (3, 4), (4, 4)]
    assert len(on_demand.cavities) == 28
    assert {cavity.contents for cavity in on_demand.cavities} == {(Content(OrderId("o1"), ALPHA.code, tablets(2)),)}
    says = on_demand.columns[0].when_needed
    assert says is not None
    assert (says.dose, says.most, says.apart) == (tablets(2), tablets(8), 360)


def test_nothing_on_such_a_card_is_due_at_any_time() -> None:
    plan = plan_of(asked(order("o1", ALPHA, needed(1)), expiries={ALPHA.code: date(2026, 3, 20)}))
    (card,) = demanded(plan)
    assert {column.slot for column in card.columns} == {cavity.slot for cavity in card.cavities} == {WHEN_NEEDED}
    assert card.beyond_use == date(2026, 3, 20)
    assert {cavity.day for cavity in card.cavities} == {card.beyond_use}  # the last day on which each may be taken


@pytest.mark.parametrize(
    ("directions", "most", "doses"),
    [
        pytest.param(needed(1, 4, 24), 4, 28, id="up to four times a day"),
        pytest.param(needed(1, 1, 4), 6, 42, id="every four hours"),
        pytest.param(needed(1, 1, 4, most=4), 4, 28, id="the stated maximum where it is less"),
        pytest.param(needed(1, 2, 24, most=4), 2, 14, id="the rate where it is less"),
        pytest.param(needed(2, None, most=5), 5, 14, id="five tablets a day are two doses of two"),
        pytest.param(needed("0.5", None, most=1), 1, 14, id="halves"),
    ],
)
def test_there_are_as_many_doses_as_the_most_of_a_day_allows(directions: Dosage, most: int, doses: int) -> None:
    (card, *more) = demanded(plan_of(asked(order("o1", ALPHA, directions))))
    assert card.columns[0].when_needed is not None
    assert card.columns[0].when_needed.most == tablets(most)
    assert sum(len(one.cavities) for one in (card, *more)) == doses


RANGE = Amount(range=Range(tablets(1), tablets(2)))
LATE = Moment(MONDAY + timedelta(days=1))


@pytest.mark.parametrize(
    ("ordered", "changes", "code"),
    [
        pytest.param(order("o", ALPHA, needed(1, None)), {}, "as-needed.no-most", id="no limit is said"),
        pytest.param(order("o", ALPHA, needed(1, 1, 24 * 7)), {}, "as-needed.directions", id="once a week: no most of a day can be said"),
        pytest.param(order("o", ALPHA, dosage(1, "HS", as_needed=True)), {}, "as-needed.directions", id="at bedtime only"),
        pytest.param(order("o", ALPHA, needed(1), needed(2)), {}, "as-needed.directions", id="two directions"),
        pytest.param(order("o", ALPHA, needed(1, amounts=(RANGE,))), {}, "as-needed.directions", id="one or two"),
        pytest.param(order("o", ALPHA, needed(1, max_per_lifetime=tablets(9))), {}, "as-needed.directions", id="so many in a lifetime"),
        pytest.param(order("o", ALPHA, needed("0.3")), {}, "as-needed.dose", id="three tenths of a tablet"),
        pytest.param(order("o", ALPHA, needed(9)), {}, "as-needed.dose-too-large", id="nine pieces"),
        pytest.param(order("o", ALPHA, needed(1), since=LATE), {}, "as-needed.not-all-cycle", id="begins on the second day"),
        pytest.param(order("o", ALPHA, needed(1), until=LATE), {}, "as-needed.not-all-cycle", id="ends on the second day"),
        pytest.param(order("o", ALPHA, needed(1)), {"format": ROLL}, "as-needed.no-card", id="pouches come in order of time"),
        pytest.param(order("o", ALPHA, needed(1)), {"expiries": {ALPHA.code: MONDAY}}, "as-needed.no-card", id="it keeps too short"),
        pytest.param(order("o", ALPHA, needed(1)), {"days": 30, "profile": profile(as_needed_in_card=True, max_supply_days=28)},
                     "as-needed.no-card", id="more days than are supplied"),
    ],
)  # fmt: skip
def test_what_a_label_cannot_say_whole_stays_alongside_and_says_why(ordered: Order, changes: dict[str, object], code: str) -> None:
    plan = plan_of(asked(ordered, **changes))
    assert demanded(plan) == []
    assert [entry.why for entry in plan.people[0].alongside] == ["as-needed"]
    assert [(finding.code, finding.severity) for finding in plan.findings] == [(code, "note")]
    assert "Iris Fenwick" in say(plan.findings[0])


@pytest.mark.parametrize(
    "directions",
    [
        pytest.param(needed(2, None, most=1), id="the most of a day is less than a dose"),
        pytest.param(needed(2, max_per_administration=tablets(1)), id="a dose is more than is allowed at once"),
    ],
)
def test_directions_that_contradict_themselves_are_asked_about_and_packed_nowhere(directions: Dosage) -> None:
    plan = plan_of(asked(order("o1", ALPHA, directions)))
    assert demanded(plan) == []
    assert [entry.why for entry in plan.people[0].alongside] == ["directions.decide"]
    assert "directions.decide" in {finding.code for finding in plan.findings}


def test_a_unit_that_cannot_lie_in_a_cavity_stays_alongside() -> None:
    long = replace(ALPHA, size=Size(Fraction(31), Fraction(6), Fraction(6)))
    plan = plan_of(asked(order("o1", long, needed(1)), medicines={long.code: long}))
    assert [finding.code for finding in plan.findings] == ["as-needed.no-card"]


def test_suitability_counts_for_as_needed_medicines_too() -> None:
    out = Rule("product.alpha", Standing.EXCLUDED, "product.alpha", "moisture", "test", "2026", "memory", names=("alpha",))
    plan = plan_of(asked(order("o1", ALPHA, needed(1)), rules=Rules(products=(out,))))
    assert [entry.why for entry in plan.people[0].alongside] == ["product.alpha"]


def test_a_set_that_is_refused_has_no_card_for_what_is_needed_either() -> None:
    both = asked(order("o1", ALPHA, needed(1)), order("o2", BETA, dosage(1, "MORN")), expiries={BETA.code: MONDAY})
    plan = plan_of(both)
    assert plan.people[0].cards == ()
    assert {entry.why for entry in plan.people[0].alongside} == {"beyond-use"}


@given(st.lists(st.tuples(st.integers(1, 6), st.integers(1, 3)), min_size=1, max_size=6), st.sampled_from([7, 10, 14, 28]))
def test_cards_are_as_few_as_their_columns_need_and_no_dose_is_lost(each: list[tuple[int, int]], days: int) -> None:
    """Independent count: whole columns by long division over the doses, whole cards by long division over the columns."""
    catalogue = [medicine(f"M{at}") for at in range(len(each))]
    orders = [order(f"o{at}", catalogue[at], needed(count, often, 24)) for at, (often, count) in enumerate(each)]
    plan = plan_of(request(orders, catalogue, profile=ALLOWED, days=days))
    cards = demanded(plan)
    columns = sum(-(-often * days // SEVEN_BY_FOUR.rows) for often, _ in each)
    assert len(cards) == -(-columns // SEVEN_BY_FOUR.columns) == plan.people[0].proof.cards == plan.people[0].proof.cards_lower_bound
    held = [content.quantity.count for card in cards for cavity in card.cavities for content in cavity.contents]
    assert sum(held) == sum(often * count * days for often, count in each)


SOUND_ASKED = asked(
    order("o1", ALPHA, needed(2, 1, 6)),
    order("o2", BETA, dosage(1, "MORN", days=[Weekday.MON])),
    order("o3", GAMMA, needed(1, 1, 24)),
)
SOUND = plan_of(SOUND_ASKED)


def _cards(plan: Plan, *cards: Card) -> Plan:
    return replace(plan, people=(replace(plan.people[0], cards=cards),))


DUE, FIRST, SECOND = SOUND.people[0].cards
COLUMN: CardColumn = FIRST.columns[0]
CAVITY: PackedCavity = FIRST.cavities[0]
assert COLUMN.when_needed is not None


def _first(**changes: object) -> Plan:
    return _cards(SOUND, DUE, replace(FIRST, **changes), SECOND)  # type: ignore[arg-type]


def _column(**changes: object) -> Plan:
    assert COLUMN.when_needed is not None
    return _first(columns=(replace(COLUMN, when_needed=replace(COLUMN.when_needed, **changes)), *FIRST.columns[1:]))  # type: ignore[arg-type]


def _cavity(**changes: object) -> Plan:
    return _first(cavities=(replace(CAVITY, **changes), *FIRST.cavities[1:]))  # type: ignore[arg-type]


LINE = CAVITY.contents[0]


@pytest.mark.parametrize(
    ("spoilt", "named"),
    [
        pytest.param(_first(cavities=FIRST.cavities[1:]), "as-needed-count", id="a dose dropped"),
        pytest.param(_cards(SOUND, DUE, FIRST), "named-nowhere", id="a card of it dropped"),
        pytest.param(_cavity(contents=(LINE, LINE)), "not-its-column", id="a dose doubled"),
        pytest.param(_cavity(contents=(replace(LINE, quantity=tablets(1)),)), "not-its-column", id="one tablet for two"),
        pytest.param(_cavity(contents=(replace(LINE, medicine=BETA.code),)), "wrong-medicine", id="another product"),
        pytest.param(_cavity(contents=(LINE, replace(LINE, order=OrderId("o2"), medicine=BETA.code))), "not-its-column", id="one beside"),
        pytest.param(_cavity(day=MONDAY), "not-its-column", id="given a day"),
        pytest.param(_cavity(slot="morning"), "not-its-column", id="given a dosing time"),
        pytest.param(_column(most=tablets(12)), "as-needed-says", id="a higher maximum"),
        pytest.param(_column(dose=tablets(1)), "as-needed-says", id="another dose"),
        pytest.param(_column(apart=120), "as-needed-says", id="a shorter time between doses"),
        pytest.param(_first(columns=(replace(COLUMN, when_needed=None), *FIRST.columns[1:])), "as-needed-mixed", id="a column with a time"),
        pytest.param(_first(columns=FIRST.columns[1:]), "as-needed-parts", id="a column unnamed"),
        pytest.param(_first(beyond_use=MONDAY), "as-needed-too-short", id="keeps a day"),
        pytest.param(_first(beyond_use=date(2026, 6, 1)), "keeps-too-long", id="keeps too long"),
        pytest.param(_cards(SOUND, replace(DUE, cavities=(replace(DUE.cavities[0], contents=(*DUE.cavities[0].contents, LINE)),)), FIRST,
                            SECOND), "not-to-be-packed", id="one among what is due"),
    ],
)  # fmt: skip
def test_a_fault_planted_in_such_a_card_is_found_by_name(spoilt: Plan, named: str) -> None:
    found = verify(spoilt, SOUND_ASKED)
    assert f"verify.{named}" in {finding.code for finding in found}
    assert all("Iris Fenwick" in say(finding) for finding in found if finding.where.get("person") == IRIS.id)


def test_left_alongside_although_it_has_a_card_s_leave_is_found() -> None:
    plan = plan_of(asked(order("o1", ALPHA, needed(1)), profile=profile()))
    codes = {finding.code for finding in verify(plan, asked(order("o1", ALPHA, needed(1))))}
    assert "verify.left-out-without-reason" in codes


def test_a_card_made_under_another_profile_is_found() -> None:
    made = asked(order("o1", ALPHA, needed(1)))
    codes = {finding.code for finding in verify(plan_of(made), replace(made, profile=profile()))}
    assert "verify.not-to-be-packed" in codes
    assert "verify.as-needed-count" in codes


def test_the_plan_file_says_it_and_is_read_back_the_same() -> None:
    text = format_plan(SOUND, {IRIS.id: IRIS.name}, SOUND.findings)
    assert '"when_needed": {"order": "o1", "medicine": "alpha", "dose": "2", "most_in_24_hours": "8", "apart_minutes": 360}' in text
    read = parse_plan(text, SOUND_ASKED.medicines)
    assert [card.columns for card in read.people[0].cards] == [card.columns for card in SOUND.people[0].cards]
    assert verify(replace(read, findings=()), SOUND_ASKED) == ()


def test_what_such_a_card_says_is_in_the_fingerprint() -> None:
    later = asked(order("o1", ALPHA, needed(2, 1, 6, most=4)), *SOUND_ASKED.orders[1:])
    assert plan_of(later).basis != SOUND.basis


def test_the_daily_maximum_counts_what_lies_in_such_a_card() -> None:
    paracetamol = medicine("Paracetamol", strength="500 mg", strength_amount=Quantity(Fraction(500), Unit("mg")))
    made = request(
        [order("o1", paracetamol, needed(2, 1, 6)), order("o2", paracetamol, dosage(1, "MORN"))],
        [paracetamol],
        rules=rules(),
        profile=ALLOWED,
    )
    assert "daily-maximum" in {finding.code for finding in plan_of(made).findings}
