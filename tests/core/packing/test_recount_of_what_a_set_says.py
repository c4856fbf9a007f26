"""What a set says of itself is recounted too: names, numbers, days, parts, fills, proof; and a set is refused whole only for a true reason.

Two people's sound plan, one dose of it split over two columns, is spoilt in one way at a time; each row says what must be said.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from tests.core.packing.makers import IRIS, dosage, medicine, order, request

from dosewright.core.interop.plan_json import format_plan, parse_plan
from dosewright.core.packing.fingerprint import fingerprint
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import Alongside, Card, PersonPlan, Plan, Proof
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify import verify
from dosewright.core.paper.say import say
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId
from dosewright.core.units.person import Person

ALPHA, BETA = medicine("Alpha"), medicine("Beta")
HEDDA = Person(PersonId("p2"), "Hedda Thorne")
ASKED = request(
    [
        order("o1", ALPHA, dosage(14, "MORN")),
        order("o2", BETA, dosage(1, "EVE")),
        replace(order("o3", BETA, dosage(1, "MORN")), person=HEDDA.id),
        replace(order("o4", ALPHA, dosage(1, "HS")), person=HEDDA.id),
    ],
    [ALPHA, BETA],
    people=(IRIS, HEDDA),
)
SOUND = plan_cycle(ASKED)

Spoil = Callable[[Plan], Plan]


def iris(change: Callable[[PersonPlan], PersonPlan]) -> Spoil:
    return lambda plan: replace(plan, people=(change(plan.people[0]), *plan.people[1:]))


def card_changed(change: Callable[[Card], Card]) -> Spoil:
    return iris(lambda one: replace(one, cards=(change(one.cards[0]), *one.cards[1:])))


def proof_says(**what: int) -> Spoil:
    return iris(lambda one: replace(one, proof=replace(one.proof, **what)))  # type: ignore[arg-type]


def column_says(part: int, parts: int) -> Spoil:
    return card_changed(lambda card: replace(card, columns=(replace(card.columns[0], part=part, parts=parts), *card.columns[1:])))


def exchanged(what: str) -> Spoil:
    """Both people's cards, or only the numbers of their first cards."""

    def spoil(plan: Plan) -> Plan:
        one, other = plan.people
        if what == "cards":
            return replace(plan, people=(replace(one, cards=other.cards), replace(other, cards=one.cards)))
        first, second = one.cards[0], other.cards[0]
        mine = replace(one, cards=(replace(first, number=second.number), *one.cards[1:]))
        return replace(plan, people=(mine, replace(other, cards=(replace(second, number=first.number), *other.cards[1:]))))

    return spoil


def a_day_later(card: Card) -> Card:
    day = timedelta(days=1)
    cavities = tuple(replace(cavity, day=cavity.day + day) for cavity in card.cavities)
    columns = tuple(replace(column, first=column.first + day) for column in card.columns)
    return replace(card, first=card.first + day, last=card.last + day, columns=columns, cavities=cavities)


def without(order_id: str) -> Spoil:
    """An order dropped with all its doses, wherever they lay."""

    def change(one: PersonPlan) -> PersonPlan:
        cards = []
        for card in one.cards:
            left = (replace(c, contents=tuple(k for k in c.contents if k.order != order_id)) for c in card.cavities)
            cavities = tuple(cavity for cavity in left if cavity.contents)
            columns = tuple(column for column in card.columns if any(c.column == column.column for c in cavities))
            cards.append(replace(card, columns=columns, cavities=cavities))
        return replace(one, cards=tuple(cards))

    return iris(change)


def refused(why: str) -> Spoil:
    nothing = Proof(0, 0, optimal=True, nodes=0, cards=0, cards_lower_bound=0)
    beside = (Alongside(OrderId("o1"), MedicineCode("alpha"), why), Alongside(OrderId("o2"), MedicineCode("beta"), why))
    return iris(lambda one: replace(one, cards=(), alongside=beside, proof=nothing))


FAULTS = [
    pytest.param(exchanged("cards"), {"order-unknown", "dose-missing", "named-nowhere"}, id="two people's cards"),
    pytest.param(exchanged("numbers"), {"card-number-differs"}, id="two people's card numbers"),
    pytest.param(card_changed(a_day_later), {"dose-missing", "dose-differs", "parts-wrong"}, id="a whole card a day later"),
    pytest.param(without("o2"), {"dose-missing", "named-nowhere"}, id="an order dropped with all its doses"),
    pytest.param(
        card_changed(lambda card: replace(card, beyond_use=card.beyond_use + timedelta(days=1))), {"keeps-too-long"}, id="a day longer"
    ),
    pytest.param(card_changed(lambda card: replace(card, last=card.last + timedelta(days=1))), {"card-days-wrong"}, id="a day more said"),
    pytest.param(card_changed(lambda card: replace(card, first=date(2026, 3, 1))), {"card-days-wrong"}, id="a day before said"),
    pytest.param(column_says(1, 1), {"column-parts-wrong"}, id="a column that no longer says 1 of 2"),
    pytest.param(column_says(2, 2), {"column-parts-wrong"}, id="2 of 2 twice"),
    pytest.param(
        card_changed(lambda card: replace(card, cavities=(replace(card.cavities[0], fill=Fraction(1, 100)), *card.cavities[1:]))),
        {"fill-wrong"},
        id="said to be nearly empty",
    ),
    pytest.param(proof_says(lower_bound=4), {"proof-wrong"}, id="a bound above what was found"),
    pytest.param(proof_says(lower_bound=1, columns=1), {"proof-wrong"}, id="fewer columns than dosing times"),
    pytest.param(proof_says(lower_bound=5, columns=5), {"proof-wrong"}, id="more columns than there are"),
    pytest.param(proof_says(lower_bound=2), {"proof-wrong"}, id="said to be proved, and the bound is lower"),
    pytest.param(proof_says(cards=1), {"proof-wrong"}, id="fewer cards than there are"),
    pytest.param(proof_says(cards_lower_bound=9), {"proof-wrong"}, id="a bound above the cards"),
    pytest.param(proof_says(cards_lower_bound=0), {"proof-wrong"}, id="no card at all would do"),
    pytest.param(refused("beyond-use"), {"left-out-without-reason"}, id="refused, though all of it keeps"),
    pytest.param(refused("cycle.too-long"), {"left-out-without-reason"}, id="refused as too long, and it is not"),
]


def codes(plan: Plan, asked: PlanRequest = ASKED) -> set[str]:
    return {finding.code.removeprefix("verify.") for finding in verify(plan, asked)}


def test_a_sound_plan_has_no_fault() -> None:
    assert verify(SOUND, ASKED) == ()
    assert {column.parts for column in SOUND.people[0].cards[0].columns} == {1, 2}
    names = {person.id: person.name for person in ASKED.people}
    assert verify(parse_plan(format_plan(SOUND, names, ()), ASKED.medicines), ASKED) == ()


@pytest.mark.parametrize(("spoil", "named"), FAULTS)
def test_a_planted_fault_is_found_by_name_without_the_fingerprint(spoil: Spoil, named: set[str]) -> None:
    """Sealed anew, the same is found; then card numbers that do not follow from the changed set as well."""
    spoilt = spoil(SOUND)
    found = verify(spoilt, ASKED)
    assert codes(spoilt) - {"setting-differs"} == named
    assert codes(replace(spoilt, basis=fingerprint(spoilt, ASKED))) - {"card-number-differs"} == named - {"card-number-differs"}
    assert all("{" not in say(finding) for finding in found)


def test_a_name_exchanged_in_the_file_is_found() -> None:
    """Cavities, orders and fingerprint are right: only whose name stands beside them is not."""
    names = {IRIS.id: HEDDA.name, HEDDA.id: HEDDA.name}
    found = verify(parse_plan(format_plan(SOUND, names, ()), ASKED.medicines), ASKED)
    assert [finding.code for finding in found] == ["verify.name-differs"]
    assert IRIS.name in say(found[0])
    assert HEDDA.name in say(found[0])


def test_a_set_that_had_to_be_refused_is_right() -> None:
    """A lot that runs out in the second week of a cycle in which it is due on every day."""
    short = replace(ASKED, expiries={ALPHA.code: date(2026, 3, 12)})
    plan = plan_cycle(short)
    assert plan.people[0].cards == ()
    assert verify(plan, short) == ()
    long = replace(ASKED, days=70)
    assert verify(plan_cycle(long), long) == ()
