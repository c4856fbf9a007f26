"""Why so many columns and cards: what binds is named, and what would save a card does save it when it is tried."""

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

from hypothesis import event, given, settings
from hypothesis import strategies as st
from tests.core.packing.drawn_requests import requests
from tests.core.packing.makers import IRIS, MONDAY, ROLL, SEVEN_BY_FOUR, TABLET, dosage, medicine, order, plan_of, profile, request

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.packing.card_format import CardFormat
from dosewright.core.packing.explain import explain
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.request import LabelLines, PlanRequest
from dosewright.core.paper.say import say
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Moment
from dosewright.core.units.finding import Finding

ALPHA, BETA, GAMMA = (medicine(name, colour=name) for name in ("Alpha", "Beta", "Gamma"))
MOVED = "explain.saves-card-moved"
WIDE = replace(SEVEN_BY_FOUR, name="wide", title="Seven by eight", columns=8)
DEEP = replace(SEVEN_BY_FOUR, name="deep", title="Deep", cavity=replace(SEVEN_BY_FOUR.cavity, depth=Fraction(24)))
APART = PairRule("pair.test", ("alpha",), ("beta",), "test", "test", "2026", "proposal")


def about(asked: PlanRequest, code: str) -> list[Finding]:
    return [found for found in explain(IRIS, asked) if found.code == code]


def both(one: int, other: int, **changes: object) -> PlanRequest:
    """Alpha and Beta in the morning."""
    return request([order("a", ALPHA, dosage(one, "MORN")), order("b", BETA, dosage(other, "MORN"))], [ALPHA, BETA], **changes)


def test_one_column_is_said_to_be_enough() -> None:
    (said,) = about(both(1, 1), "explain.one-column")
    assert (said.where["slot"], said.facts["medicines"]) == ("morning", 2)


def test_pieces_that_bind_are_counted() -> None:
    (said,) = about(both(5, 4), "explain.pieces")
    assert (said.facts["columns"], said.facts["need"], said.facts["limit"]) == (2, 9, 8)


def test_volume_that_binds_is_measured() -> None:
    """Six discs of 16 × 3.2 mm, 643.4 mm³ each, where 3,240 mm³ may be filled (arithmetic)."""
    wide = [medicine(name, replace(ALPHA.size, length=16, width=16)) for name in ("Wide", "Broad")]  # type: ignore[type-var]
    asked = request([order(what.name, what, dosage(3, "MORN")) for what in wide], wide)
    (said,) = about(asked, "explain.volume")
    assert (said.facts["columns"], said.facts["need"], said.facts["limit"]) == (2, 3861, 3240)


def test_label_lines_that_bind_are_counted() -> None:
    (said,) = about(both(1, 1, label_lines=LabelLines(3, {ALPHA.code: 2, BETA.code: 2})), "explain.label-lines")
    assert (said.facts["need"], said.facts["limit"]) == (4, 3)


def test_medicines_that_exclude_each_other_are_named() -> None:
    (said,) = about(both(1, 1, pairs=(APART,)), "explain.apart")
    assert said.facts["medicines"] == (ALPHA.label, BETA.label)


def test_nothing_packed_has_nothing_to_explain() -> None:
    assert explain(IRIS, request([order("a", ALPHA, dosage(1, "MORN", as_needed=True))], [ALPHA])) == ()


def test_a_roll_is_counted_in_strips() -> None:
    (said,) = about(both(1, 1, format=ROLL), "explain.cards")
    assert (said.facts["weeks"], said.facts["rows"], said.facts["cards"]) == (28, 1, 2)


def test_a_full_strip_of_a_roll_is_said_to_be_full() -> None:
    (said,) = about(both(1, 1, format=ROLL), "explain.strip-full")
    assert (said.facts["width"], said.facts["more"]) == (ROLL.columns, 1)


def test_a_strip_of_a_roll_ends_where_what_is_in_it_no_longer_keeps() -> None:
    """Beta ends with the tenth day and its lot with it: ten pouches of both, and four of Alpha, where one strip has room for fourteen."""
    beta = replace(order("b", BETA, dosage(1, "MORN")), until=Moment(MONDAY + timedelta(days=10)))
    expiries = {BETA.code: MONDAY + timedelta(days=9)}
    asked = request([order("a", ALPHA, dosage(1, "MORN")), beta], [ALPHA, BETA], format=ROLL, days=14, expiries=expiries)
    assert len(plan_of(asked).people[0].cards) == 2
    (said,), (cards,) = about(asked, "explain.strip-keeps"), about(asked, "explain.cards")
    assert (said.facts["medicine"], said.facts["more"], cards.facts["cards"]) == (BETA.label, 1, 2)
    assert (said.facts["limit"], said.facts["last"]) == (MONDAY + timedelta(days=9), MONDAY + timedelta(days=10))
    assert "keeps until 11 Mar 2026, and with the next pouch" in say(said)
    assert [found.facts["medicine"] for found in about(asked, "explain.saves-card")] == [ALPHA.label, BETA.label]


def test_what_would_save_a_card_is_named_with_the_number_left() -> None:
    """Two columns a week are two cards of two weeks; one column is one card of four."""
    said = about(both(5, 4), "explain.saves-card")
    assert [(found.facts["medicine"], found.facts["cards"]) for found in said] == [(ALPHA.label, 1), (BETA.label, 1)]


def test_what_would_save_only_a_column_is_named_as_that() -> None:
    said = about(both(5, 4, days=7), "explain.saves-column")
    assert [(found.facts["medicine"], found.facts["columns"]) for found in said] == [(ALPHA.label, 1), (BETA.label, 1)]


def test_why_not_one_card_fewer_is_said_by_what_ends_each_card() -> None:
    """Three columns of four leave one, and the next week needs three: four cards (arithmetic)."""
    three = [order(what.name, what, dosage(1, "MORN", "NOON", "EVE")) for what in (ALPHA,)]
    (said,) = about(request(three, [ALPHA]), "explain.no-room")
    assert (said.facts["left"], said.facts["columns"], said.facts["more"]) == (1, 3, 3)


def test_the_most_weeks_that_a_profile_allows_are_said_to_bind() -> None:
    (said,) = about(request([order("a", ALPHA, dosage(1, "MORN"))], [ALPHA], profile=profile(weeks_a_card_max=2)), "explain.most-weeks")
    assert (said.facts["most"], said.facts["more"]) == (2, 1)


def test_a_week_that_no_card_holds_is_said() -> None:
    """Five columns where a card has four: two cards a week; none is left for the next week."""
    five = [order("a", ALPHA, dosage(9, "MORN", "NOON")), order("b", BETA, dosage(1, "EVE"))]
    asked = request(five, [ALPHA, BETA], days=14)
    (wide,), (room,) = about(asked, "explain.week-wide"), about(asked, "explain.no-room")
    assert (wide.facts["columns"], wide.facts["width"], wide.facts["more"], room.facts["more"]) == (5, 4, 2, 1)


def test_weeks_that_what_keeps_shortest_holds_apart_are_said_with_it() -> None:
    """Beta ends with the second week and its lot with it: one card to there, one from there on, though four weeks would fit one card.

    Either alone would need one card only: four weeks of Alpha, or two of Beta.
    """
    beta = replace(order("b", BETA, dosage(1, "MORN")), until=Moment(MONDAY + timedelta(days=14)))
    asked = request([order("a", ALPHA, dosage(1, "MORN")), beta], [ALPHA, BETA], expiries={BETA.code: MONDAY + timedelta(days=13)})
    assert len(plan_of(asked).people[0].cards) == 2
    (said,), (cards,) = about(asked, "explain.keeps"), about(asked, "explain.cards")
    assert (said.facts["medicine"], said.facts["more"], cards.facts["cards"]) == (BETA.label, 1, 2)
    assert (said.facts["limit"], said.facts["last"]) == (MONDAY + timedelta(days=13), MONDAY + timedelta(days=20))
    assert "keeps until 15 Mar 2026, and" in say(said)
    assert [found.facts["medicine"] for found in about(asked, "explain.saves-card")] == [ALPHA.label, BETA.label]


@given(
    st.lists(st.tuples(st.sampled_from([ALPHA, BETA, GAMMA]), st.sampled_from(["MORN", "NOON", "EVE"]), st.integers(1, 4)), min_size=1),
    st.sampled_from([SEVEN_BY_FOUR, ROLL]),
)
def test_the_reasons_add_up_to_the_cards_where_things_keep_for_different_times(
    drawn: list[tuple[Medicine, str, int]], card: CardFormat
) -> None:
    """Each product's lot ends with the last of its weeks, so that every dose keeps; the weeks after it need cards of their own."""
    orders = [
        replace(order(f"o{at}", what, dosage(1, when)), until=Moment(MONDAY + timedelta(weeks=weeks)))
        for at, (what, when, weeks) in enumerate({(what.code, when): (what, when, weeks) for what, when, weeks in drawn}.values())
    ]
    ends = {one.medicine: max(other.until.day for other in orders if other.until and other.medicine == one.medicine) for one in orders}
    expiries = {code: day - timedelta(days=1) for code, day in ends.items()}
    asked = request(orders, [ALPHA, BETA, GAMMA], format=card, expiries=expiries)
    cards = len(plan_of(asked).people[0].cards)
    reasons = [found for found in explain(IRIS, asked) if "more" in found.facts]
    event(f"{card.name}: {sum(found.code in ('explain.keeps', 'explain.strip-keeps') for found in reasons)} kept apart")
    assert about(asked, "explain.cards")[0].facts["cards"] == cards == 1 + sum(int(str(found.facts["more"])) for found in reasons)


def test_one_medicine_taken_at_another_dosing_time_saves_a_card() -> None:
    """Twice a day is two columns; with Beta in the morning it is one, and one card holds four weeks instead of two."""
    asked = request([order("a", ALPHA, dosage(1, "MORN")), order("b", BETA, dosage(1, "EVE"))], [ALPHA, BETA])
    said = [
        (found.facts["medicine"], found.where["slot"], found.facts["other_slot"], found.facts["cards"]) for found in about(asked, MOVED)
    ]
    assert said == [(ALPHA.label, "morning", "evening", 1), (BETA.label, "evening", "morning", 1)]


def test_another_card_format_saves_a_card() -> None:
    wide = replace(SEVEN_BY_FOUR, name="wide", title="Seven by eight", columns=8)
    asked = both(5, 4)
    said = [found for found in explain(IRIS, asked, [replace(asked, format=wide), asked]) if found.code == "explain.saves-card-format"]
    assert [(found.facts["format"], found.facts["cards"]) for found in said] == [("Seven by eight", 1)]


def test_a_format_that_leaves_a_medicine_out_saves_nothing() -> None:
    """A tablet of 5,671 mm³ beside six of 161: two columns of the deep card. The shallow one would take the six alone, in one card."""
    big = medicine("Big", replace(ALPHA.size, length=19, width=19, thickness=20))  # type: ignore[type-var]
    asked = request([order("a", big, dosage(1, "MORN")), order("b", BETA, dosage(6, "MORN"))], [big, BETA], format=DEEP)
    shallow = replace(asked, format=SEVEN_BY_FOUR)
    assert [len(plan_cycle(each).people[0].cards) for each in (asked, shallow)] == [2, 1]
    assert not [found for found in explain(IRIS, asked, [shallow]) if found.code == "explain.saves-card-format"]


def test_the_least_further_filling_that_saves_a_card_is_named() -> None:
    """Six discs of 643.4 mm³ are 3,861 mm³: 53.6 per cent of 7,200 mm³, so 54 of whole per cents (arithmetic)."""
    wide = [medicine(name, replace(ALPHA.size, length=16, width=16)) for name in ("Wide", "Broad")]  # type: ignore[type-var]
    (said,) = about(request([order(what.name, what, dosage(3, "MORN")) for what in wide], wide), "explain.saves-card-fill")
    assert (said.facts["fill"], said.facts["fuller"], said.facts["cards"]) == (45, 54, 1)


def without(asked: PlanRequest, label: object) -> PlanRequest:
    """The request without the orders of that product."""
    gone = {code for code, what in asked.medicines.items() if what.label == label}
    return replace(asked, orders=tuple(one for one in asked.orders if one.medicine not in gone))


@settings(max_examples=40)
@given(requests())
def test_the_reasons_for_the_cards_add_up(asked: PlanRequest) -> None:
    """One card, and one more for each reason said: exactly as many as the plan has."""
    for person, planned in zip(asked.people, plan_cycle(asked).people, strict=True):
        if planned.scheduled and not asked.format.roll:
            more = sum(int(str(found.facts["more"])) for found in explain(person, asked) if "more" in found.facts)
            assert len(planned.scheduled) == 1 + more


@st.composite
def crowded(draw: st.DrawFn) -> PlanRequest:
    """Three to eight discs of middling size at a time of the day each: so full that one change often saves a card."""
    names = ("Alpha", "Beta", "Gamma", "Delta", "Epsilon", "Zeta", "Eta", "Theta")[: draw(st.integers(3, 8))]
    wide = st.integers(8, 15).map(Fraction)
    known = [medicine(name, replace(TABLET, length=(side := draw(wide)), width=side), colour=name) for name in names]
    whens = st.sampled_from(("MORN", "MORN", "NOON", "EVE", "HS"))
    orders = [order(what.name, what, dosage(draw(st.integers(1, 5)), draw(whens))) for what in known]
    return request(orders, known, days=draw(st.sampled_from([14, 28])), pairs=draw(st.sampled_from([(), (APART,)])))


@settings(max_examples=60)
@given(st.one_of(crowded(), crowded(), requests()))
def test_every_single_change_that_is_said_to_save_a_card_saves_it(asked: PlanRequest) -> None:
    """Applied to the request, and planned again by the planner."""
    others = [replace(asked, format=WIDE), replace(asked, format=ROLL), replace(asked, format=DEEP)]
    for person, planned in zip(asked.people, plan_cycle(asked).people, strict=True):
        for found in explain(person, asked, others):
            if found.code in {MOVED, "explain.saves-card-format", "explain.saves-card-fill"}:
                event(found.code)
                changed = replace(applied(found, asked, others), people=(person,))
                assert len(plan_cycle(changed).people[0].scheduled) == found.facts["cards"] < len(planned.scheduled), found  # type: ignore[operator]


def applied(found: Finding, asked: PlanRequest, others: list[PlanRequest]) -> PlanRequest:
    """The request with the one change."""
    if found.code == "explain.saves-card-format":
        return next(other for other in others if other.format.title == found.facts["format"])
    if found.code == "explain.saves-card-fill":
        cavity = replace(asked.format.cavity, design_fill=Fraction(int(str(found.facts["fuller"])), 100))
        return replace(asked, format=replace(asked.format, cavity=cavity))
    codes = {slot.name: code for slot, code in zip(STANDARD_TIMETABLE.slots, ("MORN", "NOON", "EVE", "HS"), strict=True)}
    here, there = codes[found.where["slot"]], codes[found.facts["other_slot"]]  # type: ignore[index]
    of_it = {code for code, what in asked.medicines.items() if what.label == found.facts["medicine"]}
    moved = (retold(one, here, there) if one.medicine in of_it and one.person == found.where["person"] else one for one in asked.orders)
    return replace(asked, orders=tuple(moved))


def retold(one: Order, here: str, there: str) -> Order:
    """The order with one event in another's place."""
    return replace(one, dosages=tuple(_retold(each, here, there) for each in one.dosages))


def _retold(one: Dosage, here: str, there: str) -> Dosage:
    assert one.timing
    assert one.timing.repeat
    when = tuple(there if code == here else code for code in one.timing.repeat.when)
    return replace(one, timing=replace(one.timing, repeat=replace(one.timing.repeat, when=when)))


@settings(max_examples=25)
@given(requests())
def test_the_explanation_counts_as_the_plan_does_and_its_savings_come_true(asked: PlanRequest) -> None:
    """Tried by planning again. A product of several dosing times is taken out of them all, which can only save more."""
    for person, planned in zip(asked.people, plan_cycle(asked).people, strict=True):
        said = explain(person, asked) if planned.cards else ()
        assert [found.facts["cards"] for found in said if found.code == "explain.cards"] == ([len(planned.cards)] if planned.cards else [])
        for found in said:
            if found.code == "explain.saves-card":
                alone = replace(without(asked, found.facts["medicine"]), people=(person,))
                fewer = len(plan_cycle(alone).people[0].cards)
                assert fewer <= found.facts["cards"] < len(planned.cards)  # type: ignore[operator]


def test_a_plan_explained_is_the_plan_recounted() -> None:
    """The makers' request is one that the recount agrees with."""
    asked = both(5, 4)
    assert len(plan_of(asked).people[0].cards) == about(asked, "explain.cards")[0].facts["cards"]
