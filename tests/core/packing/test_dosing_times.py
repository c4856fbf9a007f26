"""Fewer dosing times, proposed: published figures, what is never moved, and that nothing changes but the clock."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.core.packing.makers import MONDAY
from tests.core.packing.times_makers import (
    AT_HOME,
    IN_A_HOME,
    asked,
    clocks,
    hours,
    moved,
    only_move,
    product,
    proposal,
    reasons,
    time_rules,
    written,
)

from dosewright.core.interop.proposal_json import format_proposal
from dosewright.core.packing.dosing_times.propose import propose
from dosewright.core.packing.dosing_times.retime import Retiming, retime
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.paper.say import say
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import MedicineCode, SlotName

# Six times a day, as people left alone chose on average. Source: Wolf et al., a regimen of seven medicines that fits four times a day.
# The clock times and the seven directions are from memory; the medicines' names are left out, for they decide nothing.
SIX = clocks(
    "07:00 MORN CM ACM PCM",
    "08:00",
    "12:00 NOON CD ACD PCD",
    "18:00 EVE CV ACV PCV",
    "20:00",
    "22:00 HS",
    often={1: ("07:00",), 2: ("07:00", "18:00"), 3: ("07:00", "12:00", "18:00")},
)
SEVEN = (
    "Take 1 tablet once daily",
    "Take 1 tablet twice a day",
    "Take 1 tablet twice a day with food",
    "Take 1 tablet every 12 hours",
    "Take 1 tablet every 12 hours",
    "Take 1 tablet three times a day",
    "Take 1 tablet at bedtime",
)
NAMES = ("Alpha", "Beta", "Gamma", "Delta", "Epsilon", "Zeta", "Eta")


def seven() -> list[Order]:
    return [written(f"o{at}", name, text) for at, (name, text) in enumerate(zip(NAMES, SEVEN, strict=True))]


def test_a_published_regimen_of_seven_medicines_fits_four_times_a_day() -> None:
    """Wolf et al.: 464 adults took it at six times on average, and it fits four (regimen from memory)."""
    found = proposal(*seven(), timetable=SIX)
    assert len(found.today) == 6
    assert hours(found.proposed) == ["07:00", "12:00", "18:00", "22:00"]
    assert (found.proof.lower_bound, found.proof.optimal, found.proof.gentlest) == (4, True, True)
    assert moved(found) == {"o3": ["07:00", "18:00"], "o4": ["07:00", "18:00"]}


def test_fewer_dosing_times_are_fewer_cards_and_both_are_said() -> None:
    """Six columns a week are two cards of one week, four are one (arithmetic)."""
    found = proposal(*seven(), timetable=SIX)
    assert (found.proof.cards_today, found.proof.cards_proposed) == (8, 4)


def test_cards_that_cannot_be_packed_are_not_called_none() -> None:
    """Packed so long before, everything is too old by the end: the times are the same, how many cards is not known."""
    request = replace(asked(seven(), timetables={IN_A_HOME.id: SIX}), prepared_on=MONDAY - timedelta(days=60))
    found = propose(IN_A_HOME, request, time_rules())
    assert hours(found.proposed) == ["07:00", "12:00", "18:00", "22:00"]
    assert (found.proof.cards_today, found.proof.cards_proposed) == (None, None)
    assert '"cards":{"today":null,"proposed":null}' in format_proposal(found, "Iris").replace(" ", "")


def test_twice_a_day_joins_what_is_taken_at_bedtime() -> None:
    found = proposal(written("a", "Alpha", "Take 1 tablet twice a day"), written("b", "Beta", "Take 1 tablet at bedtime"))
    assert hours(found.today) == ["08:00", "18:00", "22:00"]
    assert hours(found.proposed) == ["08:00", "22:00"]
    assert moved(found) == {"a": ["08:00", "22:00"]}
    assert only_move(found).doses == 28, "the evening dose of each day, and no other"


def test_what_is_fewest_already_is_left_and_said() -> None:
    found = proposal(written("a", "Alpha", "Take 1 tablet once daily"), written("b", "Beta", "Take 1 tablet twice a day"))
    assert not found.moves
    assert [finding.code for finding in found.findings] == ["times.fewest-already"]


def test_nobody_s_orders_are_no_dosing_times() -> None:
    found = proposal()
    assert (found.today, found.proposed, found.moves, found.proof.optimal) == ((), (), (), True)


# Separation in time: CV-5.2 to CV-5.7, worked from the published rules on the times 08:00, 12:00, 18:00, 22:00.


def test_calcium_leaves_levothyroxine_for_exactly_four_hours_later() -> None:
    """CV-5.2: levothyroxine with calcium at 08:00 breaks the rule; calcium at 12:00 is exactly four hours and allowed."""
    found = proposal(
        written("levo", "levothyroxine", "Take 1 tablet in the morning"), written("cal", "calcium carbonate", "Take 1 tablet once daily")
    )
    assert moved(found) == {"cal": ["12:00"]}
    assert "times.mends" in {finding.code for finding in only_move(found).relies_on}


def test_iron_and_calcium_do_not_meet_where_levothyroxine_sent_them() -> None:
    """Iron 12:00 with calcium 12:00 breaks the two hours between them."""
    found = proposal(
        written("levo", "levothyroxine", "Take 1 tablet in the morning"),
        written("cal", "calcium carbonate", "Take 1 tablet once daily"),
        written("iron", "ferrous fumarate", "Take 1 tablet once daily"),
    )
    assert len(found.proposed) == 3
    assert set(moved(found)) == {"cal", "iron"}
    assert sorted(time for times in moved(found).values() for time in times) == ["12:00", "18:00"]


@pytest.mark.parametrize(("second", "allowed"), [("18:00", ["12:00"]), ("22:00", ["12:00"])])
def test_ciprofloxacin_leaves_calcium_noon_alone(second: str, allowed: list[str]) -> None:
    """CV-5.3: 08:00 and 22:00 with calcium at 12:00 keeps both sides of the rule, at 18:00 not; CV-5.4: 18:00 is six hours, at equality."""
    found = proposal(
        written("cip", "ciprofloxacin", f"Take 1 tablet at 08:00 and {second}"),
        written("cal", "calcium carbonate", "Take 1 tablet once daily"),
    )
    assert moved(found) == {"cal": allowed}


def test_the_night_counts_past_midnight() -> None:
    """CV-5.7: levothyroxine at 08:00 follows calcium at 22:00 by ten hours, and at 05:00 by seven; with eleven asked, only noon is left."""
    levo = written("levo", "levothyroxine", "Take 1 tablet in the morning")
    calcium = written("cal", "calcium carbonate", "Take 1 tablet once daily")
    rule = next(rule for rule in asked([levo]).spacings if rule.id == "spacing.levothyroxine")
    times = clocks("08:00 MORN", "22:00 HS", often={1: ("08:00",)})
    assert moved(proposal(levo, calcium, timetable=times)) == {"cal": ["22:00"]}
    eleven = (replace(rule, before=60, after=11 * 60),)
    stuck = proposal(levo, calcium, timetable=times, spacings=eleven)
    assert not stuck.moves
    assert "times.stands" in {finding.code for finding in stuck.findings}


def test_nobody_moves_for_a_medicine_that_stays_and_keeps_all_others_away() -> None:
    """Alendronate with the others at 08:00 is the plan's question. Moving everything else of every day for its Monday is no answer."""
    found = proposal(
        written("al", "alendronic acid", "Take 1 tablet once a week on Monday in the morning"),
        written("a", "Alpha", "Take 1 tablet once daily"),
        written("b", "Beta", "Take 1 tablet once daily"),
    )
    assert not found.moves


def test_where_no_choice_keeps_every_rule_nothing_new_is_broken_and_what_stands_is_asked_about() -> None:
    found = proposal(
        written("levo", "levothyroxine", "Take 1 tablet in the morning"),
        written("cal", "calcium carbonate", "Take 1 tablet four times a day"),
        written("b", "Beta", "Take 1 tablet at bedtime"),
    )
    assert not found.moves
    assert [finding.code for finding in found.findings if finding.code.startswith("times.st")] == ["times.stands"]


# Food.


def test_with_food_goes_only_beside_a_meal() -> None:
    """22:00 has no meal: the dose with food does not join it, the other does."""
    bed = written("bed", "Beta", "Take 1 tablet at bedtime")
    assert moved(proposal(written("a", "Alpha", "Take 1 tablet twice a day"), bed))
    assert not proposal(written("a", "Alpha", "Take 1 tablet twice a day with food"), bed).moves


def test_before_food_goes_only_before_a_meal() -> None:
    bed = written("bed", "Beta", "Take 1 tablet at bedtime")
    assert not proposal(written("a", "Alpha", "Take 1 tablet twice a day half an hour before food"), bed).moves
    assert moved(proposal(written("a", "Alpha", "Take 1 tablet twice a day on an empty stomach"), bed)) == {"a": ["08:00", "22:00"]}


def test_an_empty_stomach_does_not_come_to_lie_beside_what_is_taken_with_food() -> None:
    """Apart today, so apart in the proposal: else one dosing time would do."""
    times = clocks("07:00 MORN", "08:00 CM", "12:00 CD", often={1: ("07:00",)})
    empty, fed = written("a", "Alpha", "Take 1 tablet once daily on an empty stomach"), written("b", "Beta", "Take 1 tablet with breakfast")
    assert not proposal(empty, fed, timetable=times).moves
    plain = written("a", "Alpha", "Take 1 tablet once daily")
    assert hours(proposal(plain, fed, timetable=times).proposed) == ["08:00"]


def test_what_a_timetable_puts_together_at_one_meal_stays_the_plan_s_note() -> None:
    found = proposal(written("a", "perindopril", "Take 1 tablet once daily"), written("b", "metformin", "Take 1 tablet with breakfast"))
    assert not found.moves


# What is never moved.

STAYS = [
    ("Alpha", "Take 1 tablet in the evening", "times.stays-named"),
    ("Alpha", "Take 1 tablet once a day at 18:00", "times.stays-named"),
    ("Alpha", "Take 1 tablet with the evening meal", "times.stays-named"),
    ("Alpha", "Take 1 tablet in the evening for 3 days then 1 tablet once daily for 40 days", "times.stays-named"),
    ("Alpha", "Take 1 tablet twice a day, may cause drowsiness", "times.stays-words"),
    ("Alpha", "Take 1 tablet twice a day to help sleep", "times.stays-words"),
    ("Alpha", "Take 1 tablet twice a day, do not lie down for 30 minutes", "times.stays-words"),
    ("Alpha", "Take 1 tablet twice a day, spaced evenly through the day", "times.stays-words"),
    ("Alpha", "Take 1 tablet twice a day, do not take with antacids", "times.stays-words"),
    ("Alpha", "Take 1 tablet once daily for 5 days then 1 tablet twice a day for 40 days", "times.stays-phases"),
    ("zopiclone", "Take 1 tablet twice a day", "times.stays-own-time"),
    ("furosemide", "Take 1 tablet twice a day", "times.stays-own-time"),
    ("prednisolone", "Take 1 tablet twice a day", "times.stays-own-time"),
    ("alendronic acid", "Take 1 tablet once a week on Tuesday", "times.stays-own-time"),
    ("levodopa", "Take 1 tablet twice a day", "times.stays-nowhere"),
    ("apixaban", "Take 1 tablet twice a day", "times.stays-nowhere"),
]


@pytest.mark.parametrize(("what", "text", "why"), STAYS)
def test_it_stays_where_it_is_and_the_reason_is_said(what: str, text: str, why: str) -> None:
    """Beside a medicine at bedtime, so that an order which left its time free would move there."""
    found = proposal(written("a", what, text), written("b", "Beta", "Take 1 tablet at bedtime"))
    assert reasons(found)["a"] == why
    assert moved(found) == {}
    assert all(say(stays.why) for stays in found.stays if stays.why)


def test_a_caution_about_sleep_keeps_a_medicine_where_it_is() -> None:
    bed = written("b", "Beta", "Take 1 tablet at bedtime")
    order = written("a", "Alpha", "Take 1 tablet twice a day")
    for cautions, stays in (((), None), (("Swallow whole",), None), (("May make you sleepy",), "times.stays-words")):
        medicines = {
            code: replace(what, cautions=cautions if code == "alpha" else ()) for code, what in asked([order, bed]).medicines.items()
        }
        assert reasons(proposal(order, bed, medicines=medicines)).get("a") == stays, cautions


def test_a_product_that_nobody_knows_stays() -> None:
    order, bed = written("a", "Alpha", "Take 1 tablet twice a day"), written("b", "Beta", "Take 1 tablet at bedtime")
    known = {code: what for code, what in asked([order, bed]).medicines.items() if code != "alpha"}
    assert reasons(proposal(order, bed, medicines=known))["a"] == "times.stays-unknown"


def test_a_time_critical_medicine_strays_by_its_window_and_no_more() -> None:
    """Within 30 minutes. Source: NICE QS164, statement 4 (levodopa); ISMP (scheduled time-critical medicines)."""
    for clock, joins in (("08:30", True), ("08:31", False)):
        times = clocks("08:00", f"{clock} MORN", often={1: ("08:00",)})
        levodopa, other = written("a", "levodopa", "Take 1 tablet once daily"), written("b", "Beta", "Take 1 tablet in the morning")
        assert (moved(proposal(levodopa, other, timetable=times)) == {"a": [clock]}) is joins
        marked = {MedicineCode("alpha"): product("Alpha", flags=frozenset({"time-critical"})), MedicineCode("beta"): product("Beta")}
        flagged = proposal(written("a", "Alpha", "Take 1 tablet once daily"), other, timetable=times, medicines=marked)
        assert bool(flagged.moves) is joins


def test_every_twelve_hours_strays_by_an_hour_and_no_more() -> None:
    """Such medicines may be given an hour early or late. Source: ISMP, more often than daily and not more than every four hours."""
    for clock, joins in (("19:00", True), ("18:59", False)):
        times = clocks("08:00 MORN", f"{clock} EVE", "20:00", often={1: ("08:00",)})
        found = proposal(
            written("a", "Alpha", "Take 1 tablet every 12 hours"), written("b", "Beta", "Take 1 tablet in the evening"), timetable=times
        )
        assert (moved(found) == {"a": ["08:00", clock]}) is joins


def test_as_needed_medicines_are_no_dosing_times() -> None:
    found = proposal(written("a", "Alpha", "Take 1 tablet when needed"), written("b", "Beta", "Take 1 tablet once daily"))
    assert (reasons(found), len(found.today)) == ({"b": None}, 1)


def test_two_orders_of_one_substance_are_never_brought_together() -> None:
    """One of two strengths moving to the other's time could be too much at once."""
    both = written("a", "paracetamol", "Take 1 tablet twice a day"), written("b", "paracetamol", "Take 1 tablet at bedtime")
    assert reasons(proposal(*both))["a"] == "times.stays-same-substance"


def test_a_pharmacist_keeps_an_order_where_it_is() -> None:
    orders = written("a", "Alpha", "Take 1 tablet twice a day"), written("b", "Beta", "Take 1 tablet at bedtime")
    assert reasons(proposal(*orders, stay=["a"]))["a"] == "times.stays-asked"


def test_an_order_that_is_not_understood_is_asked_about_and_not_reckoned_with() -> None:
    unclear = written("a", "Alpha", "Take 1 tablet every 12 hours")
    found = proposal(unclear, written("b", "Beta", "Take 1 tablet once daily"))
    assert [finding.code for finding in found.findings] == ["times.not-scheduled", "times.fewest-already"]


# Rounds.


def test_a_home_s_rounds_are_what_they_are_and_somebody_at_home_may_have_the_standard_times() -> None:
    """Calcium must leave levothyroxine by four hours: the home has only 10:00, which is too near; at home there is noon."""
    times = clocks("08:00 MORN", "10:00", often={1: ("08:00",)})
    orders = (
        written("levo", "levothyroxine", "Take 1 tablet in the morning"),
        written("cal", "calcium carbonate", "Take 1 tablet once daily"),
    )
    assert not proposal(*orders, timetable=times).moves
    at_home = proposal(*orders, person=AT_HOME, timetable=times)
    assert moved(at_home) == {"cal": ["12:00"]}
    assert at_home.widened


def test_the_standard_times_are_not_offered_where_an_order_would_read_differently_with_them() -> None:
    """At noon has no dosing time of its own in this timetable: with 12:00 added it would suddenly have one."""
    times = clocks("08:00 MORN", "12:30", often={1: ("08:00",)})
    near = written("a", "Alpha", "Take 1 tablet at 12:00")
    found = proposal(near, written("b", "Beta", "Take 1 tablet once daily"), person=AT_HOME, timetable=times)
    assert SlotName("noon") not in {slot.name for slot in found.timetable.slots}


# The change-over.


def test_the_once_longer_or_shorter_gap_of_the_change_over_is_said() -> None:
    found = proposal(written("a", "Alpha", "Take 1 tablet twice a day"), written("b", "Beta", "Take 1 tablet at bedtime"))
    gap = next(finding for finding in only_move(found).relies_on if finding.code == "times.first-gap")
    assert (gap.facts["gap"], gap.facts["usual"]) == ("14 hours", "10 hours"), "18:00 the evening before to 08:00"


def test_what_meets_only_on_the_days_of_the_change_is_asked_about() -> None:
    """Ciprofloxacin at 06:00 keeps six hours after calcium at 18:00, which was at 22:00 the evening before: eight hours, and six allowed;
    with ten asked, the change-over alone breaks the rule."""
    times = clocks("06:00 MORN", "18:00 EVE", "22:00", often={1: ("22:00",)})
    calcium, cip = (
        written("cal", "calcium carbonate", "Take 1 tablet once daily"),
        written("cip", "ciprofloxacin", "Take 1 tablet in the morning"),
    )
    other = written("b", "Beta", "Take 1 tablet in the evening")
    rule = next(rule for rule in asked([cip]).spacings if rule.id == "spacing.ciprofloxacin")
    for minutes, code in ((8 * 60, False), (10 * 60, True)):
        found = proposal(calcium, cip, other, timetable=times, spacings=(replace(rule, after=minutes),))
        assert moved(found) == {"cal": ["18:00"]}
        assert ("times.change-over" in {finding.code for finding in found.findings}) is code


# Nothing changes but the clock.

RHYTHMS = [
    "Take 1 tablet on alternate days",
    "Take 2 tablets once a week on Wednesday",
    "Take half a tablet once daily",
    "Take 1 tablet once a day for 5 days",
    "Take 2 tablets once daily for 5 days then 1 tablet once daily for 5 days",
    "Take 1 tablet once daily on Monday, Wednesday and Friday",
    "Take 1 tablet every 3 days",
    "Take 1 tablet once a month",
    "Take 1 tablet once a day for 21 days then stop for 7 days",
]


@pytest.mark.parametrize("text", [text for text in RHYTHMS if "stop" not in text])
def test_the_days_and_amounts_of_any_rhythm_are_kept(text: str) -> None:
    order = written("a", "Alpha", text, since=Moment(MONDAY - timedelta(days=11)), anchor=None)
    first = MONDAY - timedelta(days=9)
    request = asked(
        [order, written("b", "Beta", "Take 1 tablet at bedtime"), written("c", "Gamma", "Take 1 tablet at bedtime")], first=first
    )
    made = only_move(propose(IN_A_HOME, request, time_rules())).order
    before, after = (expand(one, STANDARD_TIMETABLE, first, 60).doses for one in (order, made))
    assert [(dose.day, dose.quantity) for dose in before] == [(dose.day, dose.quantity) for dose in after]
    assert {dose.slot for dose in after} == {"bedtime"}
    assert (made.text, made.id, made.since) == (order.text, order.id, Moment(first))


def test_what_cannot_be_written_as_directions_is_not_proposed() -> None:
    """An order that ends at noon of a day would lose that day's dose at bedtime: nothing but the clock may change."""
    order = written("a", "Alpha", "Take 1 tablet once daily", until=Moment(MONDAY + timedelta(days=9), STANDARD_TIMETABLE.slots[1].time))
    bed = STANDARD_TIMETABLE.slots[3]
    assert retime(order, order.dosages, Retiming(STANDARD_TIMETABLE.slots[:1], (bed,), STANDARD_TIMETABLE, MONDAY)) is None
    found = proposal(order, written("b", "Beta", "Take 1 tablet at bedtime"))
    assert reasons(found)["a"] in {None, "times.stays-nowhere"}
    assert not found.moves


WORDS = st.sampled_from(
    [
        "Take 1 tablet once daily",
        "Take 1 tablet once daily with food",
        "Take 1 tablet once daily on an empty stomach",
        "Take 1 tablet twice a day",
        "Take 2 tablets twice a day with food",
        "Take 1 tablet three times a day",
        "Take 1 tablet in the morning",
        "Take 1 tablet at bedtime",
        "Take 1 tablet at noon",
        "Take 1 tablet once a week on Sunday",
        "Take 1 tablet on alternate days",
        "Take 1 tablet once a day for 9 days",
    ]
)
PRODUCTS = st.sampled_from(
    [
        "Alpha",
        "Beta",
        "Gamma",
        "levothyroxine",
        "calcium carbonate",
        "ferrous fumarate",
        "ciprofloxacin",
        "doxycycline",
        "metformin",
        "perindopril",
    ]
)


@st.composite
def regimens(draw: st.DrawFn) -> list[Order]:
    products = draw(st.lists(PRODUCTS, min_size=1, max_size=7, unique=True))
    return [written(f"o{at}", what, draw(WORDS)) for at, what in enumerate(products)]


@settings(max_examples=60)
@given(regimens())
def test_a_proposal_keeps_its_word(orders: list[Order]) -> None:
    """Planned by the planner itself: no dose more, less or on another day; as many dosing times as said; nothing too close, and nothing
    apart in its food brought together, that was not so today; what stays too close is what is said to stand."""
    found = proposal(*orders)
    made = {move.order.id: move.order for move in found.moves}
    after = [made.get(order.id, order) for order in orders]
    request = asked(after)
    today, proposed = plan_cycle(asked(orders)), plan_cycle(request)
    doses = [[d for order in group for d in expand(order, STANDARD_TIMETABLE, MONDAY, 28).doses] for group in (orders, after)]
    assert [(d.order, d.day, d.quantity) for d in doses[0]] == [(d.order, d.day, d.quantity) for d in doses[1]]
    assert {d.slot for d in doses[1]} == {slot.name for slot in found.proposed}
    assert len(found.proposed) == found.proof.times >= found.proof.lower_bound
    assert _pairs(proposed.findings) <= _pairs(today.findings)
    stands = {(f.facts["medicine"], f.facts["other"]) for f in found.findings if f.code == "times.stands"}
    assert {pair[1:] for pair in _pairs(proposed.findings) if pair[0] == "spacing"} == stands
    assert found.proof.cards_proposed == len(proposed.people[0].cards)
    assert found.proof.cards_today == len(today.people[0].cards)


def _pairs(findings: tuple[Finding, ...]) -> set[tuple[str, object, object]]:
    about = [finding for finding in findings if finding.code in {"spacing", "food-apart"}]
    return {(finding.code, finding.facts["medicine"], finding.facts["other"]) for finding in about}


@settings(max_examples=30)
@given(regimens(), st.randoms(use_true_random=False))
def test_the_order_in_which_orders_come_changes_nothing(orders: list[Order], random: object) -> None:
    turned = list(reversed(orders))
    assert proposal(*orders) == proposal(*turned)


@settings(max_examples=30)
@given(regimens())
def test_once_taken_up_there_is_nothing_left_to_propose(orders: list[Order]) -> None:
    """The proposed times are the fewest, so a second proposal moves nothing: neither where the new times tie the orders, nor where their
    words still leave them free."""
    found = proposal(*orders)
    made = {move.order.id: move.order for move in found.moves}
    after = [made.get(order.id, order) for order in orders]
    words = {order.id: order.dosages for order in orders if order.id in made}
    for told in ({}, words):
        again = propose(IN_A_HOME, asked(after), time_rules(), words=told)
        assert len(again.proposed) == len(found.proposed)
        assert not again.moves


def test_an_order_whose_times_were_taken_up_is_as_free_as_its_words() -> None:
    """The medicine at bedtime is gone: the doses that moved there for its sake may go back where they disturb least."""
    order, bed = written("a", "Alpha", "Take 1 tablet twice a day"), written("b", "Beta", "Take 1 tablet at bedtime")
    made = only_move(proposal(order, bed)).order
    evening = written("c", "Gamma", "Take 1 tablet in the evening")
    assert not proposal(made, evening).moves
    again = propose(IN_A_HOME, asked([made, evening]), time_rules(), words={order.id: order.dosages})
    assert moved(again) == {"a": ["08:00", "18:00"]}
    assert "times.free-often" in {finding.code for finding in only_move(again).relies_on}
