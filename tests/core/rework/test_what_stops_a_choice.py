"""R1, R4, R5: what may not be chosen, and what is left without a place, is said; nothing of it is done in silence."""

from dataclasses import replace
from datetime import timedelta

from tests.core.packing.makers import IRIS, SEVEN_BY_FOUR, dosage, medicine, order, profile, request
from tests.core.rework.rework_makers import day, open_cards, situation

from dosewright.core.regimen.order import Order
from dosewright.core.rework.choices import Choice, ChoiceName
from dosewright.core.rework.layout import PersonLayout, lay_out
from dosewright.core.rework.picked import Pick, pick
from dosewright.core.rework.proof import check_layout
from dosewright.core.rework.set_after import request_after
from dosewright.core.rework.situation import Place, Situation
from dosewright.core.units.ids import CardNumber

BISO, METF, LEVO = medicine("Bisoprolol"), medicine("Metformin"), medicine("Levothyroxine")
DAILY = order("o1", BISO, dosage(1, "MORN"))
BEFORE = request([DAILY], [BISO, METF, LEVO])
TWO_A_DAY = replace(DAILY, dosages=(dosage(2, "MORN"),))


def laid(case: Situation) -> PersonLayout:
    (layout,) = lay_out(case)
    return layout


def codes(found: Choice | PersonLayout) -> set[str]:
    return {finding.code for finding in found.findings}


def longer(case: Situation) -> Situation:
    """The orders go on for a week for which nobody has a card."""
    return replace(case, after=replace(case.after, days=35))


def test_a_card_is_not_opened_for_what_keeps_for_a_shorter_time_than_the_card() -> None:
    """A course of five days, of a lot that ends with it: in the card it would end the whole card."""
    course = order("o2", LEVO, dosage(1, "MORN"), since=day(4), until=day(9))
    asked = situation(BEFORE, (DAILY, course), day(4))
    late = replace(asked, after=replace(asked.after, expiries={LEVO.code: day(10).day}))
    opened = next(choice for choice in laid(late).choices if choice.name is ChoiceName.OPEN)
    assert (codes(opened), opened.lawful) == ({"rework.keeps-too-short"}, False)


def test_a_card_that_is_out_cannot_be_picked_to_be_opened() -> None:
    case = situation(BEFORE, (TWO_A_DAY,), day(4), Place.HOME)
    layout = laid(case)
    (number,) = {one.card.number for one in layout.differences}
    assert {one.code for one in pick(layout, [Pick(ChoiceName.OPEN, (number,))], case)[1]} == {"rework.no-such-choice"}


def test_card_by_card_no_days_are_left_without_a_card() -> None:
    case = longer(situation(BEFORE, (TWO_A_DAY,), day(4)))
    layout = laid(case)
    (number,) = {one.card.number for one in layout.differences}
    assert [choice.name for choice in layout.chosen] == [ChoiceName.AFRESH]
    _, faults = pick(layout, [Pick(ChoiceName.OPEN, (number,))], case)
    assert [(one.code, one.facts["days"]) for one in faults] == [("rework.days-without-card", 7)]


def test_doses_that_no_card_takes_are_named() -> None:
    """No new card may be made either: what there is of it ends before the days do."""
    case = longer(situation(BEFORE, (TWO_A_DAY,), day(4)))
    ends = replace(case, after=replace(case.after, expiries={BISO.code: day(30).day}))
    nowhere = [found for found in laid(ends).findings if found.code == "rework.no-card"]
    assert [found.where["date"] for found in nowhere] == [day(29).day + timedelta(days=n) for n in range(7)]


def test_for_somebody_of_whom_an_order_is_lost_nothing_is_laid_out() -> None:
    (layout,) = lay_out(situation(BEFORE, (TWO_A_DAY,), day(4)), frozenset({IRIS.id}))
    assert (layout.held, layout.choices, codes(layout)) == (True, (), {"rework.person-held"})


def test_what_nobody_knows_in_a_card_is_not_judged() -> None:
    case = situation(BEFORE, (), day(4))
    unknown = replace(case, after=replace(case.after, medicines={METF.code: METF}))
    layout = laid(unknown)
    assert (layout.held, codes(layout)) == (True, {"rework.unknown-medicine"})


def test_a_choice_that_was_never_laid_out_cannot_be_picked() -> None:
    case = situation(BEFORE, (TWO_A_DAY,), day(4))
    faults = pick(laid(case), [Pick(ChoiceName.OPEN, (CardNumber("0"),))], case)[1]
    assert {one.code for one in faults} == {"rework.no-such-choice", "rework.not-chosen-once"}


# Two weeks, each on a card of its own; the first was filled when cards had room for eight pieces a cavity, now they have it for two.
THREE_A_DAY = replace(DAILY, dosages=(dosage(3, "MORN"),))
SMALL = replace(SEVEN_BY_FOUR, name="test-small", title="Small cavities", cavity=replace(SEVEN_BY_FOUR.cavity, max_units=2))
LEVO_AT_NIGHT = order("o2", LEVO, dosage(1, "EVE"))
TWO_WEEKS = request([THREE_A_DAY, LEVO_AT_NIGHT], [BISO, METF, LEVO], days=14, profile=profile(weeks_a_card_max=1))


def of_two_formats(after: tuple[Order, ...]) -> Situation:
    """The second week holds two tablets each morning, the first still three."""
    first, _ = open_cards(TWO_WEEKS, day(1))
    _, second = open_cards(replace(TWO_WEEKS, orders=(TWO_A_DAY, LEVO_AT_NIGHT), salt="2", format=SMALL), day(1))
    case = situation(TWO_WEEKS, after, day(4), cards=(replace(first, form=SEVEN_BY_FOUR), second))
    return replace(case, after=replace(case.after, format=SMALL))


def test_out_of_a_card_of_another_format_something_may_be_taken_and_each_is_judged_by_its_own() -> None:
    case = of_two_formats((LEVO_AT_NIGHT,))
    layout = laid(case)
    assert [choice.name for choice in layout.chosen] == [ChoiceName.OPEN, ChoiceName.OPEN]
    assert check_layout(layout, case) == ()
    stays = of_two_formats((THREE_A_DAY,))  # three tablets stay in each morning of the first card: a cavity of today holds two
    assert "over-count" not in {found.code for found in check_layout(laid(stays), stays)}


def test_nothing_is_laid_into_a_card_of_another_format_than_is_filled_now() -> None:
    case = of_two_formats((TWO_A_DAY, replace(LEVO_AT_NIGHT, dosages=(dosage(2, "EVE"),))))
    layout = laid(case)
    first, second = (one.card.number for one in layout.differences)
    opened = {choice.cards: choice for choice in layout.choices if choice.name is ChoiceName.OPEN}
    assert (codes(opened[first,]), opened[first,].lawful) == ({"rework.other-format"}, False)
    assert opened[second,].lawful
    assert check_layout(layout, case) == ()
    assert [(choice.name, choice.cards) for choice in layout.chosen] == [(ChoiceName.AFRESH, (first,)), (ChoiceName.OPEN, (second,))]


def test_a_set_keeps_its_format_and_a_set_of_the_format_of_now_has_the_rules_of_now() -> None:
    now = replace(TWO_WEEKS, format=SMALL, orders=(), profile=profile(bud_max_days=30))
    assert (request_after(TWO_WEEKS, now).format, request_after(TWO_WEEKS, now).profile) == (SEVEN_BY_FOUR, TWO_WEEKS.profile)
    assert request_after(TWO_WEEKS, now).orders == ()
    assert request_after(replace(TWO_WEEKS, format=SMALL), now).profile == now.profile
