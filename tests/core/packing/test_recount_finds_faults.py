"""The recount finds every planted fault by its name, and nothing in a plan that is right.

One sound plan that everyone knows by heart is spoilt in one way at a time: each row says what was done to it and what must be said.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from tests.core.packing.makers import IRIS, MONDAY, SEVEN_BY_FOUR, dosage, medicine, order, profile, request

from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.medicines.suitability import Rule, Rules, Standing
from dosewright.core.packing.fingerprint import fingerprint
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import Alongside, Card, Content, PackedCavity, Plan
from dosewright.core.packing.request import LabelLines, PlanRequest
from dosewright.core.packing.verify import verify
from dosewright.core.paper.say import say
from dosewright.core.regimen.dosage import Weekday
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId, PersonId
from dosewright.core.units.quantity import Quantity, Unit

ALPHA, BETA, GAMMA = medicine("Alpha"), medicine("Beta"), medicine("Gamma", form="oral liquid", unit=Unit("mL"), size=None)
ALPHA_10 = medicine("Alpha", code=MedicineCode("alpha-10"), strength="10 mg", strength_amount=Quantity(Fraction(10), Unit("mg")))
LIQUID = Rule("form.liquid", Standing.EXCLUDED, "form.liquid", "not solid", "test", "2026", "memory")
SOLID = Rule("form.packable", Standing.FITS, "form.packable", "solid", "test", "2026", "memory")
ASKED = request(
    [
        order("o1", ALPHA, dosage(1, "MORN"), dosage("0.5", "EVE")),
        order("o2", BETA, dosage(1, "MORN", days=[Weekday.MON, Weekday.THU])),
        order("o3", GAMMA, dosage(5, "MORN", unit="mL")),
        order("o4", BETA, dosage(1, "HS", as_needed=True)),
    ],
    [ALPHA, ALPHA_10, BETA, GAMMA],
    rules=Rules(forms={"tablet": SOLID, "oral liquid": LIQUID}),
)
SOUND = plan_cycle(ASKED)

Spoil = Callable[[Plan], Plan]


def card_changed(change: Callable[[Card], Card], which: int = 0) -> Spoil:
    def spoil(plan: Plan) -> Plan:
        (person,) = plan.people
        cards = (*person.cards[:which], change(person.cards[which]), *person.cards[which + 1 :])
        return replace(plan, people=(replace(person, cards=cards),))

    return spoil


def cavity_changed(change: Callable[[PackedCavity], PackedCavity], at: int = 0) -> Spoil:
    return card_changed(lambda card: replace(card, cavities=(*card.cavities[:at], change(card.cavities[at]), *card.cavities[at + 1 :])))


def contents_changed(change: Callable[[tuple[Content, ...]], tuple[Content, ...]]) -> Spoil:
    return cavity_changed(lambda cavity: replace(cavity, contents=change(cavity.contents)))


def alongside_changed(change: Callable[[tuple[Alongside, ...]], tuple[Alongside, ...]]) -> Spoil:
    return lambda plan: replace(plan, people=(replace(plan.people[0], alongside=change(plan.people[0].alongside)),))


def of(content: Content, count: str) -> Content:
    return replace(content, quantity=Quantity(Fraction(count), content.quantity.unit))


def beside(order_id: str, code: str, why: str) -> Alongside:
    return Alongside(OrderId(order_id), MedicineCode(code), why)


def extra(order_id: str, code: str, count: str = "1", unit: str = "tablet") -> Content:
    return Content(OrderId(order_id), MedicineCode(code), Quantity(Fraction(count), Unit(unit)))


def swapped_days(plan: Plan) -> Plan:
    """A dose moved a day: Monday's Beta lies in Tuesday's cavity."""
    (person,) = plan.people
    card = person.cards[0]
    monday, tuesday = (next(c for c in card.cavities if (c.row, c.column) == (row, 1)) for row in (1, 2))
    moved = {
        monday: replace(monday, contents=monday.contents[:1]),
        tuesday: replace(tuesday, contents=tuesday.contents + monday.contents[1:]),
    }
    cavities = tuple(moved.get(cavity, cavity) for cavity in card.cavities)
    return replace(plan, people=(replace(person, cards=(replace(card, cavities=cavities), *person.cards[1:])),))


FAULTS = [
    pytest.param(contents_changed(lambda held: held[1:]), {"dose-missing"}, id="a dose dropped"),
    pytest.param(contents_changed(lambda held: (of(held[0], "2"), *held[1:])), {"dose-differs"}, id="a dose doubled"),
    pytest.param(swapped_days, {"dose-missing", "dose-not-ordered"}, id="a dose moved a day"),
    pytest.param(
        contents_changed(lambda held: (replace(held[0], medicine=ALPHA_10.code), *held[1:])),
        {"wrong-medicine", "dose-differs"},
        id="wrong strength",
    ),
    pytest.param(contents_changed(lambda held: (of(held[0], "0.5"), *held[1:])), {"dose-differs"}, id="half for whole"),
    pytest.param(contents_changed(lambda held: (of(held[0], "1.5"), *held[1:])), {"dose-differs"}, id="half a unit too many"),
    pytest.param(contents_changed(lambda held: (*held, held[0])), {"dose-differs", "order-twice"}, id="an order listed twice"),
    pytest.param(
        contents_changed(lambda held: (*held, of(held[1], "0"))), {"nothing-of-it", "order-twice"}, id="an order listed with nothing"
    ),
    pytest.param(contents_changed(lambda held: (*held, extra("o9", "alpha"))), {"order-unknown"}, id="an order that nobody gave"),
    pytest.param(
        contents_changed(lambda held: (*held, extra("o4", "beta"))),
        {"dose-not-ordered", "in-both-places", "not-to-be-packed"},
        id="an as-needed order packed",
    ),
    pytest.param(
        contents_changed(lambda held: (*held, extra("o3", "gamma", "5", "mL"))),
        {"dose-missing", "in-both-places", "not-to-be-packed", "over-full"},
        id="a liquid packed",
    ),
    pytest.param(
        contents_changed(lambda held: (replace(held[0], quantity=Quantity(Fraction(5), Unit("mg"))), *held[1:])),
        {"wrong-unit"},
        id="mg for tablets",
    ),
    pytest.param(
        cavity_changed(lambda cavity: replace(cavity, contents=())), {"dose-missing", "cavity-empty"}, id="an empty cavity listed"
    ),
    pytest.param(card_changed(lambda card: replace(card, cavities=card.cavities[1:])), {"dose-missing"}, id="a cavity dropped"),
    pytest.param(
        card_changed(lambda card: replace(card, cavities=(*card.cavities, card.cavities[0]))),
        {"dose-differs", "cavity-twice", "parts-wrong"},
        id="a cavity doubled",
    ),
    pytest.param(cavity_changed(lambda cavity: replace(cavity, row=8)), {"outside-the-card"}, id="a row that the card does not have"),
    pytest.param(cavity_changed(lambda cavity: replace(cavity, column=5)), {"outside-the-card"}, id="a column that the card does not have"),
    pytest.param(
        cavity_changed(lambda cavity: replace(cavity, row=2)), {"not-its-column", "cavity-twice"}, id="a cavity in another's place"
    ),
    pytest.param(
        cavity_changed(lambda cavity: replace(cavity, day=cavity.day + timedelta(days=1))),
        {"dose-missing", "dose-differs", "dose-not-ordered", "not-its-column", "parts-wrong"},
        id="a cavity dated a day later",
    ),
    pytest.param(cavity_changed(lambda cavity: replace(cavity, part=2, parts=2)), {"parts-wrong"}, id="2 of 2 without 1 of 2"),
    pytest.param(
        card_changed(lambda card: replace(card, columns=(card.columns[0], *card.columns))),
        {"columns-wrong", "column-parts-wrong"},
        id="a column listed twice",
    ),
    pytest.param(
        card_changed(lambda card: replace(card, first=card.first + timedelta(days=1))),
        {"outside-the-cycle", "card-days-wrong"},
        id="a card that begins late",
    ),
    pytest.param(
        card_changed(lambda card: replace(card, beyond_use=date(2026, 3, 5))), {"after-beyond-use"}, id="a card that keeps too short"
    ),
    pytest.param(
        card_changed(lambda card: replace(card, beyond_use=date(2026, 6, 1))), {"keeps-too-long"}, id="a card that says it keeps longer"
    ),
    pytest.param(
        card_changed(lambda card: replace(card, number=CardNumber("123456789012340"))), {"card-number-wrong"}, id="a wrong check digit"
    ),
    pytest.param(
        lambda plan: card_changed(lambda card: replace(card, number=plan.people[0].cards[1].number))(plan),
        {"card-number-wrong"},
        id="a card number used twice",
    ),
    pytest.param(card_changed(lambda card: replace(card, cavities=()), which=1), {"dose-missing"}, id="a whole card left empty"),
    pytest.param(alongside_changed(lambda list_: list_[1:]), {"named-nowhere", "dose-missing"}, id="an order named nowhere"),
    pytest.param(
        alongside_changed(lambda list_: (*list_, beside("o1", "alpha", "as-needed"))),
        {"in-both-places", "left-out-without-reason"},
        id="both",
    ),
    pytest.param(alongside_changed(lambda list_: (*list_, list_[0])), {"alongside-wrong"}, id="alongside twice"),
    pytest.param(
        alongside_changed(lambda list_: (*list_, beside("o9", "alpha", "as-needed"))), {"alongside-wrong"}, id="alongside, of nobody"
    ),
    pytest.param(
        alongside_changed(lambda list_: (replace(list_[0], medicine=ALPHA.code), *list_[1:])),
        {"alongside-wrong"},
        id="alongside as another product",
    ),
    pytest.param(
        alongside_changed(lambda list_: (replace(list_[0], why="as-needed"), *list_[1:])),
        {"left-out-without-reason"},
        id="alongside for no true reason",
    ),
    pytest.param(lambda plan: replace(plan, people=()), {"person-missing"}, id="a person left out"),
    pytest.param(lambda plan: replace(plan, people=plan.people * 2), {"person-twice", "card-number-wrong"}, id="a person planned twice"),
    pytest.param(
        lambda plan: replace(plan, people=(*plan.people, replace(plan.people[0], person=PersonId("p9"), cards=()))),
        {"person-unknown"},
        id="a stranger",
    ),
    pytest.param(lambda plan: replace(plan, days=27), set(), id="another number of days"),
    pytest.param(lambda plan: replace(plan, first=plan.first + timedelta(days=1)), set(), id="another first day"),
    pytest.param(lambda plan: replace(plan, format="another"), set(), id="another card format"),
    pytest.param(lambda plan: replace(plan, profile="another"), set(), id="another profile"),
    pytest.param(lambda plan: replace(plan, basis="0" * 64), set(), id="another fingerprint"),
]


def codes(plan: Plan, asked: PlanRequest) -> set[str]:
    return {finding.code.removeprefix("verify.") for finding in verify(plan, asked)}


def test_a_sound_plan_has_no_fault() -> None:
    assert verify(SOUND, ASKED) == ()


@pytest.mark.parametrize(("spoil", "named"), FAULTS)
def test_a_planted_fault_is_found_by_name(spoil: Spoil, named: set[str]) -> None:
    """Without the fingerprint's help too: it would find any change, but not say which. Sealed anew, the set has other card numbers."""
    spoilt = spoil(SOUND)
    assert codes(spoilt, ASKED)
    resealed = replace(spoilt, basis=fingerprint(spoilt, ASKED))
    found_anew = codes(resealed, ASKED) - {"setting-differs", "card-number-differs"}
    assert codes(spoilt, ASKED) - {"setting-differs", "card-number-differs"} == found_anew == named


@pytest.mark.parametrize(("spoil", "named"), FAULTS)
def test_every_fault_is_said_in_a_sentence_that_names_the_person(spoil: Spoil, named: set[str]) -> None:
    for finding in verify(spoil(SOUND), ASKED):
        sentence = say(finding)
        assert "{" not in sentence
        assert IRIS.name in sentence or finding.code.split(".")[1] in ("setting-differs", "card-number-wrong", "person-unknown")


# The plan stays as it is; what it is held against changes, as if the rules had been tightened or the orders changed since.
TIGHTENED = [
    pytest.param({"format": replace(SEVEN_BY_FOUR, cavity=replace(SEVEN_BY_FOUR.cavity, max_units=1))}, {"over-count"}, id="fewer pieces"),
    pytest.param(
        {"format": replace(SEVEN_BY_FOUR, cavity=replace(SEVEN_BY_FOUR.cavity, design_fill=Fraction(3, 100)))},
        {"over-full"},
        id="less volume",
    ),
    pytest.param(
        {"format": replace(SEVEN_BY_FOUR, cavity=replace(SEVEN_BY_FOUR.cavity, depth=Fraction(3)))},
        {"not-to-be-packed"},
        id="a smaller footprint",
    ),
    pytest.param(
        {"pairs": (PairRule("pair.x", ("alpha",), ("beta",), "react", "t", "2026", "memory"),)}, {"forbidden-pair"}, id="a forbidden pair"
    ),
    pytest.param(
        {"medicines": {**ASKED.medicines, "beta": replace(BETA, flags=frozenset({"alone"}))}}, {"forbidden-pair"}, id="one that lies alone"
    ),
    pytest.param(
        {"medicines": {**ASKED.medicines, "beta": replace(BETA, flags=frozenset({"controlled"}))}}, {"not-to-be-packed"}, id="controlled"
    ),
    pytest.param(
        {"medicines": {**ASKED.medicines, "alpha": replace(ALPHA, flags=frozenset({"hazardous"}))}},
        {"not-to-be-packed", "forbidden-pair"},
        id="hazardous",
    ),
    pytest.param(
        {"medicines": {**ASKED.medicines, "alpha": replace(ALPHA, flags=frozenset({"halves-no"}))}},
        {"not-to-be-packed"},
        id="may not be halved",
    ),
    pytest.param({"medicines": {**ASKED.medicines, "beta": replace(BETA, form="jelly")}}, {"not-to-be-packed"}, id="a form in no rule"),
    pytest.param({"label_lines": LabelLines(room=1, needed={ALPHA.code: 1, BETA.code: 1})}, {"over-label"}, id="fewer label lines"),
    pytest.param({"expiries": {ALPHA.code: date(2026, 3, 20)}}, {"keeps-too-long", "after-expiry"}, id="a lot that expires in the cycle"),
    pytest.param({"profile": profile(bud_max_days=20)}, {"keeps-too-long"}, id="a profile that keeps shorter"),
    pytest.param({"orders": ASKED.orders[1:]}, {"order-unknown"}, id="an order taken back"),
    pytest.param(
        {"orders": (replace(ASKED.orders[0], until=Moment(MONDAY + timedelta(days=10))), *ASKED.orders[1:])},
        {"dose-not-ordered"},
        id="an order ended",
    ),
    pytest.param(
        {"orders": (replace(ASKED.orders[0], until=Moment(MONDAY)), *ASKED.orders[1:])}, {"order-not-in-force"}, id="an order ended before"
    ),
    pytest.param({"orders": (*ASKED.orders, order("o5", BETA, dosage(1, "NOON")))}, {"named-nowhere", "dose-missing"}, id="an order added"),
]


@pytest.mark.parametrize(("changes", "named"), TIGHTENED)
def test_a_plan_is_held_against_the_request_as_it_is_now(changes: dict[str, object], named: set[str]) -> None:
    asked = replace(ASKED, **changes)  # type: ignore[arg-type]
    assert named <= codes(SOUND, asked)
    assert "setting-differs" in codes(SOUND, asked)


@pytest.mark.parametrize(("changes", "named"), TIGHTENED)
def test_planned_anew_under_the_same_change_nothing_is_wrong(changes: dict[str, object], named: set[str]) -> None:
    asked = replace(ASKED, **changes)  # type: ignore[arg-type]
    assert verify(plan_cycle(asked), asked) == ()
