"""A pharmacist changes what may not share a cavity and what must be apart in time; planner, recount and proposals go by what counts."""

from dataclasses import replace
from datetime import timedelta

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.change_pair import add_pair, change_pair
from dosewright.actions.change_rule import change_rule, drop_rule
from dosewright.actions.plan_set import draw_up_request, plan_set
from dosewright.actions.take_up_times import draw_up_proposal
from dosewright.actions.withdraw_card import withdraw_card
from dosewright.core.custody.answering import finding_key
from dosewright.core.custody.event import Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.taking_up import TimesAsk
from dosewright.core.medicines.own_pairs import OwnPair, PairKind
from dosewright.core.medicines.own_rules import OwnRule
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.verify import verify
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.store.cards import StoredSet, load_request, load_set
from dosewright.store.ledger import check_ledger, load_entries
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.store.value_json import parse_value

pytestmark = pytest.mark.usefixtures("guarded")

TOGETHER = bench.ORDERS["RX2"].replace("in the evening", "in the morning")  # with bisoprolol, in one cavity each morning
APART = OwnPair(
    id="",
    kind=PairKind.APART,
    one=("bisoprolol",),
    other=("metformin",),
    reason="they cling together here",
    source="seen at this bench",
    dated="March 2026",
    why="twice this week",
)
SPACED = replace(APART, kind=PairKind.SPACING, before=120, after=120, reason="two hours apart, says the clinic")
WEEK = PlanAsk(bench.MONDAY, 7)


def opened() -> None:
    bench.opened()
    bench.ordered(bench.ORDERS["RX1"], TOGETHER)


def set_planned(minutes: int, ask: PlanAsk = WEEK) -> StoredSet:
    return load_set(int(bench.must(plan_set(bench.PERSON, on(Role.PHARMACIST, minutes=minutes), ask)).made[0]))


def withdrawn(found: StoredSet, minutes: int) -> None:
    for card in found.cards:
        bench.must(withdraw_card(card.number, on(Role.PHARMACIST, minutes=minutes), "planned anew"))


def shared(plan: Plan) -> bool:
    """Whether any cavity holds two products."""
    return any(len({c.medicine for c in cavity.contents}) > 1 for one in plan.people for card in one.cards for cavity in card.cavities)


def asked(minutes: int) -> tuple[Finding, ...]:
    """The questions about time that stand against a plan."""
    outcome = plan_set(bench.PERSON, on(Role.PHARMACIST, minutes=minutes), WEEK)
    return tuple(finding for finding in outcome.findings if finding.code == "spacing")


def test_an_own_rule_keeps_two_medicines_out_of_one_cavity_and_taken_back_it_does_not() -> None:
    opened()
    before = set_planned(1)
    assert shared(before.plan)
    withdrawn(before, 2)
    (rule,) = bench.must(add_pair("bisoprolol", on(Role.PHARMACIST, minutes=3), APART)).made
    assert rule == "own.bisoprolol"
    after = set_planned(4)
    assert not shared(after.plan)
    assert before.rules != after.rules
    withdrawn(after, 5)
    bench.must(drop_rule(rule, on(Role.PHARMACIST, minutes=6), "it was the humidity"))
    again = set_planned(7)
    assert shared(again.plan)
    assert again.rules == before.rules


def test_the_recount_finds_a_cavity_that_an_own_rule_forbids_and_only_while_it_is_in_force() -> None:
    """The plan made without the rule, planted into the request made with it; the recount shares no code with the planner."""
    opened()
    planted = plan_cycle(draw_up_request(bench.PERSON, WEEK, on()))
    bench.must(add_pair("bisoprolol", on(Role.PHARMACIST, minutes=1), APART))
    found = verify(planted, draw_up_request(bench.PERSON, WEEK, on()))
    faults = [finding for finding in found if finding.code == "verify.forbidden-pair"]
    assert {finding.facts["rule"] for finding in faults} == {"own.bisoprolol"}
    assert len(faults) == 7
    bench.must(drop_rule("own.bisoprolol", on(Role.PHARMACIST, minutes=2), "no longer"))
    assert verify(planted, draw_up_request(bench.PERSON, WEEK, on())) == ()


def test_a_shipped_rule_put_out_of_force_no_longer_binds_and_counts_again_when_taken_back() -> None:
    bench.opened()
    shipped = load_pharmacy().rules
    known = load_rules(shipped).shipped_pairs.find("pair.bisphosphonate")
    assert known
    out = replace(APART, one=known.one, other=known.other, in_force=False, reason="given alone by the clinic")
    assert bench.must(change_pair("pair.bisphosphonate", on(Role.PHARMACIST, minutes=1), out)).findings == ()
    assert load_rules(load_pharmacy().rules).pairs == ()
    (entry,) = load_entries("rule", "pair.bisphosphonate")
    facts = parse_value(dict[str, Fact], entry.body)
    assert (facts["was"], facts["codes"], facts["in_force"]) == (("never in one cavity",), ("out of force",), False)
    bench.must(drop_rule("pair.bisphosphonate", on(Role.PHARMACIST, minutes=2), "given here again"))
    assert load_pharmacy().rules == shipped
    assert parse_value(dict[str, Fact], list(load_entries("rule", "pair.bisphosphonate"))[1].body)["was"] == ("out of force",)
    assert bench.refused(drop_rule("pair.bisphosphonate", on(Role.PHARMACIST, minutes=3), "again")) == {"rules.not-yours"}


def test_sets_planned_before_keep_their_rules() -> None:
    opened()
    before = set_planned(1)
    bench.must(add_pair("bisoprolol", on(Role.PHARMACIST, minutes=2), APART))
    assert "own.bisoprolol" not in {rule.id for rule in load_request(before.id).pairs}
    assert verify(before.plan, load_request(before.id)) == ()
    assert "own.bisoprolol" in {rule.id for rule in draw_up_request(bench.PERSON, WEEK, on()).pairs}


def test_what_an_own_rule_spaces_is_asked_and_its_reason_is_for_this_wording_alone() -> None:
    opened()
    bench.must(add_pair("bisoprolol", on(Role.PHARMACIST, minutes=1), SPACED))
    (question,) = asked(2)
    assert (question.facts["rule"], question.facts["reason"]) == ("own.bisoprolol", "two hours apart, says the clinic")
    answered = replace(WEEK, reasons={finding_key(question): "agreed with Dr A. Example"})
    bench.must(change_pair("own.bisoprolol", on(Role.PHARMACIST, minutes=3), SPACED))  # the same words, another change
    assert bench.refused(plan_set(bench.PERSON, on(Role.PHARMACIST, minutes=4), answered)) == {"spacing"}
    (again,) = asked(5)
    planned = set_planned(6, replace(WEEK, reasons={finding_key(again): "agreed with Dr A. Example"}))
    assert {finding.code for finding in planned.plan.findings if finding.severity is Severity.DECIDE} == {"spacing"}


def test_a_reason_for_one_pair_is_none_for_another_on_the_same_day() -> None:
    opened()
    bench.must(add_pair("bisoprolol", on(Role.PHARMACIST, minutes=1), SPACED))
    bench.must(add_pair("metformin", on(Role.PHARMACIST, minutes=2), replace(SPACED, one=("metformin",), other=("bisoprolol",), before=60)))
    first, second = asked(3)
    answered = replace(WEEK, reasons={finding_key(first): "agreed"})
    left = plan_set(bench.PERSON, on(Role.PHARMACIST, minutes=4), answered).findings
    assert [finding.facts["rule"] for finding in left] == [second.facts["rule"]]


def test_a_proposal_of_fewer_times_keeps_to_own_rules_about_time() -> None:
    bench.room_for_fewer_times()
    ask = TimesAsk(bench.MONDAY + timedelta(days=1))
    free = draw_up_proposal(bench.PERSON, on(), ask)
    assert len(free.proposed) == 2
    together = {(one.order.medicine, slot.time) for one in free.moves for slot in one.proposed}
    assert together
    far = replace(SPACED, one=("metformin",), other=("bisoprolol",), before=60, after=60)
    bench.must(add_pair("metformin", on(Role.PHARMACIST, minutes=1), far))
    held = draw_up_proposal(bench.PERSON, on(), ask)
    assert len(held.proposed) > 2
    bench.must(drop_rule("own.metformin", on(Role.PHARMACIST, minutes=2), "no longer"))
    assert draw_up_proposal(bench.PERSON, on(), ask) == free


def test_open_cards_that_hold_both_medicines_are_named() -> None:
    _, card = bench.ready_to_fill()  # bisoprolol in the morning, metformin in the evening: one card, no cavity of both
    for at, wanted in enumerate((APART, SPACED)):
        (found,) = bench.must(add_pair("both", on(Role.PHARMACIST, minutes=10 + at), wanted)).findings
        assert (found.code, found.facts["many"], found.facts["cards"]) == ("rules.cards-hold-both", 1, (card,))
        assert (found.facts["medicine"], found.facts["other"]) == ("bisoprolol 5 mg tablet", "metformin 500 mg tablet")
    bench.must(withdraw_card(card, on(Role.PHARMACIST, minutes=20), "planned anew"))
    assert bench.must(change_pair("own.both", on(Role.PHARMACIST, minutes=21), APART)).findings == ()


def test_a_name_that_no_product_has_is_allowed_and_said() -> None:
    bench.opened()
    (found,) = bench.must(add_pair("x", on(Role.PHARMACIST), replace(APART, other=("metformin", "metformine")))).findings
    assert (found.code, found.facts["found"]) == ("rules.name-not-held", ("metformine",))


@pytest.mark.parametrize("role", [role for role in Role if role is not Role.PHARMACIST])
def test_only_a_pharmacist_changes_them(role: Role) -> None:
    bench.opened()
    before = load_pharmacy().rules
    assert bench.refused(add_pair("bisoprolol", on(role), APART)) == {"custody.no-right"}
    assert bench.refused(change_pair("spacing.iron", on(role), SPACED)) == {"custody.no-right"}
    assert load_pharmacy().rules == before


def test_what_is_no_rule_is_refused_and_nothing_is_changed() -> None:
    bench.opened()
    before = load_pharmacy().rules
    assert bench.refused(add_pair("x", on(Role.PHARMACIST), replace(SPACED, before=0, after=0))) == {"rules.no-distance"}
    assert bench.refused(add_pair("x", on(Role.PHARMACIST), replace(APART, one=()))) == {"rules.pair-about-nothing"}
    assert bench.refused(change_pair("spacing.iron", on(Role.PHARMACIST), APART)) == {"rules.other-kind"}
    own = OwnRule("", ("X",), "no", "seen", "2026", names=("iron",), why="x")
    assert bench.refused(change_rule("spacing.iron", on(Role.PHARMACIST), own)) == {"rules.other-kind"}
    assert bench.refused(change_pair("product.omeprazole", on(Role.PHARMACIST), APART)) == {"custody.not-there"}
    assert load_pharmacy().rules == before


def test_own_rules_of_every_kind_lie_beside_each_other_and_each_change_is_in_the_ledger() -> None:
    bench.opened()
    bench.must(change_rule("own.iron", on(Role.PHARMACIST), OwnRule("", ("S",), "stains", "seen", "2026", names=("iron",), why="x")))
    (second,) = bench.must(add_pair("iron", on(Role.PHARMACIST, minutes=1), SPACED)).made
    assert second == "own.iron-2"
    bench.must(change_pair(second, on(Role.PHARMACIST, minutes=2), replace(SPACED, after=180)))
    in_force = load_rules(load_pharmacy().rules)
    assert ([rule.id for rule in in_force.own], [rule.id for rule in in_force.own_pairs]) == (["own.iron"], [second])
    assert bench.refused(change_pair(second, on(Role.PHARMACIST, minutes=3), APART)) == {"rules.other-kind"}
    (own,) = in_force.own_pairs
    assert (own.change, own.by, own.after) == (3, "pharmacist one", 180)
    made, changed = (parse_value(dict[str, Fact], entry.body) for entry in load_entries("rule", second) if entry.event == "rule changed")
    assert (made["was"], made["codes"]) == ((), ("120 minutes before, 120 after",))
    assert (changed["was"], changed["codes"]) == (("120 minutes before, 120 after",), ("120 minutes before, 180 after",))
    assert (changed["source"], changed["dated"], changed["why"]) == ("seen at this bench", "March 2026", "twice this week")
    assert check_ledger() == ()
