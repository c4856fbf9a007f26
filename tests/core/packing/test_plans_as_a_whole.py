"""What holds of every plan, whatever the request: the recount agrees, and changes that should change nothing change nothing."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.core.packing.drawn_requests import requests

from dosewright.core.packing.fingerprint import fingerprint
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify import verify
from dosewright.core.paper.say import say
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import OrderId

WEEK = timedelta(days=7)


def laid_out(plan: Plan, moved: timedelta = timedelta(0)) -> object:
    """Where everything lies, without names, numbers and fingerprints; days moved back by so much."""
    return [
        (
            [
                (c.row, c.column, c.day - moved, c.slot, c.part, c.parts, sorted((x.order, x.quantity.count) for x in c.contents))
                for card in person.cards
                for c in card.cavities
            ],
            [(card.first - moved, card.last - moved, len(card.columns)) for card in person.cards],
            [(entry.order, entry.why) for entry in person.alongside],
            person.proof,
        )
        for person in plan.people
    ]


@settings(max_examples=100)
@given(requests())
def test_the_recount_finds_nothing_wrong_with_any_plan(asked: PlanRequest) -> None:
    plan = plan_cycle(asked)
    assert verify(plan, asked) == ()
    assert all(person.proof.optimal for person in plan.people)


@settings(max_examples=40)
@given(requests())
def test_every_finding_of_a_plan_has_its_sentence(asked: PlanRequest) -> None:
    for finding in plan_cycle(asked).findings:
        assert "{" not in say(finding)


@settings(max_examples=25)
@given(requests(), st.randoms(use_true_random=False))
def test_the_order_in_which_orders_came_changes_no_byte(asked: PlanRequest, random: Random) -> None:
    shuffled = list(asked.orders)
    random.shuffle(shuffled)
    medicines = dict(reversed(list(asked.medicines.items())))
    assert plan_cycle(replace(asked, orders=tuple(shuffled), medicines=medicines)) == plan_cycle(asked)


@settings(max_examples=25)
@given(requests())
def test_renaming_people_changes_nothing_that_lies_in_a_cavity(asked: PlanRequest) -> None:
    renamed = replace(asked, people=tuple(replace(person, name=person.name[::-1]) for person in asked.people))
    assert laid_out(plan_cycle(renamed)) == laid_out(plan_cycle(asked))


@settings(max_examples=25)
@given(requests())
def test_a_week_later_only_the_dates_are_a_week_later(asked: PlanRequest) -> None:
    def later(order: Order) -> Order:
        since, until = (moment and Moment(moment.day + WEEK, moment.time) for moment in (order.since, order.until))
        return replace(order, since=since, until=until, anchor=order.anchor + WEEK if order.anchor else None)

    moved = replace(
        asked,
        orders=tuple(map(later, asked.orders)),
        first=asked.first + WEEK,
        prepared_on=asked.prepared_on + WEEK,
        expiries={code: day + WEEK for code, day in asked.expiries.items()},
    )
    assert laid_out(plan_cycle(moved), moved=WEEK) == laid_out(plan_cycle(asked))


def sums(plan: Plan) -> dict[tuple[object, ...], Fraction]:
    """How much of each medicine lies in each cavity."""
    found: dict[tuple[object, ...], Fraction] = {}
    for number, card in ((number, card) for person in plan.people for number, card in enumerate(person.cards)):
        for cavity in card.cavities:
            for content in cavity.contents:
                key = (number, cavity.row, cavity.column, cavity.day, content.medicine)
                found[key] = found.get(key, Fraction(0)) + content.quantity.count
    return found


def halved(order: Order, name: str) -> Order:
    """The same order for half of the amount."""
    (dosage,) = order.dosages
    (amount,) = dosage.amounts
    assert amount.quantity is not None
    less = replace(amount, quantity=replace(amount.quantity, count=amount.quantity.count / 2))
    return replace(order, id=OrderId(name), dosages=(replace(dosage, amounts=(less,)),))


@settings(max_examples=40)
@given(requests())
def test_an_order_split_in_two_equal_ones_fills_the_same_cavities(asked: PlanRequest) -> None:
    """Halves of what can be halved again: nobody can tell the cards apart, but by the orders named in them. An as-needed order has columns
    of its own, with its own dose and limit on them: two of them are two things to choose from, not one."""
    due = [order for order in asked.orders if not any(dosage.as_needed for dosage in order.dosages)]
    can = [o for o in due if all(a.quantity and (a.quantity.count * 2).denominator == 1 for d in o.dosages for a in d.amounts)]
    whole = [o for o in can if (dose := o.dosages[0].amounts[0].quantity) and dose.unit == "tablet" and not _divided_badly(o, asked)]
    rest = [o for o in asked.orders if o not in whole]
    split = [halved(o, f"{o.id}{side}") for o in whole for side in "ab"]
    before, after = plan_cycle(asked), plan_cycle(replace(asked, orders=(*rest, *split)))
    assert sums(after) == sums(before)
    assert [person.proof for person in after.people] == [person.proof for person in before.people]


def _divided_badly(order: Order, asked: PlanRequest) -> bool:
    medicine = asked.medicines.get(order.medicine)
    return medicine is None or "halves-no" in medicine.flags


@settings(max_examples=40)
@given(requests())
def test_another_order_never_needs_fewer_columns_or_cards(asked: PlanRequest) -> None:
    with_all, without = plan_cycle(asked), plan_cycle(replace(asked, orders=asked.orders[1:]))
    for one, other in zip(with_all.people, without.people, strict=True):
        if one.cards:  # else the set was refused, or nothing is packed at all
            assert other.proof.columns <= one.proof.columns
            assert other.proof.cards <= one.proof.cards


def texts(plan: Plan) -> Iterable[str]:
    return (card.number for person in plan.people for card in person.cards)


@settings(max_examples=25)
@given(requests())
def test_one_person_s_plan_does_not_depend_on_another(asked: PlanRequest) -> None:
    """The other's cards keep their numbers when one order of the first changes; that is what lets people be planned apart."""
    together = plan_cycle(asked)
    for at, person in enumerate(asked.people):
        apart = plan_cycle(replace(asked, people=(person,), orders=asked.orders_of(person.id)))
        assert apart.people == (together.people[at],)


@settings(max_examples=25)
@given(requests(), st.sampled_from(["first", "days", "format", "profile", "salt", "orders", "answers", "timetable"]))
def test_the_fingerprint_follows_what_the_plan_is_made_from(asked: PlanRequest, what: str) -> None:
    plan = plan_cycle(asked)
    assert plan.basis == fingerprint(plan, asked)
    changed = {
        "first": asked.first + timedelta(days=1),
        "days": asked.days + 1,
        "format": replace(asked.format, title="Another"),
        "profile": replace(asked.profile, title="Another"),
        "salt": "another",
        "orders": (replace(asked.orders[0], text="Another text"), *asked.orders[1:]),
        "answers": (),
        "timetable": replace(asked.timetable, slots=asked.timetable.slots[:-1], by_frequency={}),
    }[what]
    other = fingerprint(plan, replace(asked, **{what: changed}))  # type: ignore[arg-type]
    assert (other == plan.basis) == (what in ("salt", "answers"))
