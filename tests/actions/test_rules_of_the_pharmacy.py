"""A pharmacist changes what may lie in a card: with source, date and reason on record; for all, for a product, for one person's order."""

from dataclasses import replace
from pathlib import Path

import pytest
from django.db import connection
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.change_rule import change_rule, drop_rule
from dosewright.actions.decide_place import decide_place
from dosewright.actions.plan_set import plan_set
from dosewright.actions.receive_medicines import receive_medicines
from dosewright.actions.withdraw_card import withdraw_card
from dosewright.config.backup import write_backup
from dosewright.config.restore import read_backup
from dosewright.core.custody.event import Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.medicines.own_rules import OwnRule
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import MedicineCode, OrderId
from dosewright.store.answers import load_answers
from dosewright.store.cards import StoredSet, load_request, load_set
from dosewright.store.guards import unguard_ledger
from dosewright.store.ledger import check_ledger, load_entries
from dosewright.store.models import OrderRow
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.store.value_json import parse_value

pytestmark = pytest.mark.usefixtures("guarded")

OMEPRAZOLE = MedicineCode("omeprazole-20")
MORE = bench.MEDICINES + b"omeprazole-20,omeprazole,20 mg,gastro-resistant capsule,capsule,15,6,6,pink,O 20,Aldermoor,,28,,\n"
ORDER = "p1,Wilhelmina Okonedo-Hart,1939-02-04,,,RX3,omeprazole-20,Take 1 capsule in the morning,2026-03-02,,Dr A. Example,1003\n"
PROVED = OwnRule(
    id="",
    codes=("ok", "T28"),
    reason="the maker has shown four weeks outside its bottle",
    source="letter of the maker",
    dated="January 2026",
    names=("omeprazole",),
    why="stability data came in",
)


def opened() -> None:
    bench.opened()
    bench.must(receive_medicines("more.csv", on(Role.MANAGER), MORE))
    bench.ordered(bench.ORDERS["RX1"], ORDER)


def planned(minutes: int = 0) -> StoredSet:
    return load_set(int(bench.must(plan_set(bench.PERSON, on(minutes=minutes), PlanAsk(bench.MONDAY, 7))).made[0]))


def in_cards(found: StoredSet) -> set[str]:
    return {content.medicine for card in found.cards for cavity in card.card.cavities for content in cavity.contents}


def withdrawn(found: StoredSet) -> None:
    for card in found.cards:
        bench.must(withdraw_card(card.number, on(Role.PHARMACIST, minutes=1), "planned anew"))


def test_a_changed_rule_counts_from_the_next_plan_on_and_sets_before_keep_theirs() -> None:
    opened()
    before = planned()
    assert OMEPRAZOLE not in in_cards(before)
    withdrawn(before)
    bench.must(change_rule("product.omeprazole", on(Role.PHARMACIST, minutes=2), PROVED))
    after = planned(3)
    assert OMEPRAZOLE in in_cards(after)
    assert {card.card.beyond_use.isoformat() for card in after.cards} == {"2026-03-30"}  # 28 days from packing
    assert load_request(before.id).rules is not load_request(after.id).rules
    assert before.rules != after.rules


def test_who_changed_it_when_why_and_by_which_source_is_in_the_ledger() -> None:
    bench.opened()
    bench.must(change_rule("product.omeprazole", on(Role.PHARMACIST, minutes=2), PROVED))
    (entry,) = (entry for entry in load_entries("rule", "product.omeprazole") if entry.event == "rule changed")
    facts = parse_value(dict[str, Fact], entry.body)
    assert (entry.who_name, facts["was"], facts["codes"]) == ("pharmacist one", ("unless_proved",), ("ok", "T28"))
    assert (facts["source"], facts["dated"], facts["why"]) == ("letter of the maker", "January 2026", "stability data came in")
    assert check_ledger() == ()


def test_taken_back_the_shipped_rule_counts_again() -> None:
    bench.opened()
    shipped = load_pharmacy().rules
    bench.must(change_rule("product.omeprazole", on(Role.PHARMACIST, minutes=2), PROVED))
    assert load_pharmacy().rules != shipped
    assert bench.refused(drop_rule("product.omeprazole", on(Role.PHARMACIST, minutes=3), " ")) == {"rules.field-empty"}
    bench.must(drop_rule("product.omeprazole", on(Role.PHARMACIST, minutes=3), "the letter was of another strength"))
    assert load_pharmacy().rules == shipped
    assert bench.refused(drop_rule("product.omeprazole", on(Role.PHARMACIST, minutes=4), "again")) == {"rules.not-yours"}


@pytest.mark.parametrize("role", [role for role in Role if role is not Role.PHARMACIST])
def test_only_a_pharmacist_changes_rules(role: Role) -> None:
    bench.opened()
    before = load_pharmacy().rules
    assert bench.refused(change_rule("product.omeprazole", on(role), PROVED)) == {"custody.no-right"}
    assert bench.refused(drop_rule("product.omeprazole", on(role), "no")) == {"custody.no-right"}
    assert load_pharmacy().rules == before


def test_a_rule_without_its_source_is_refused_and_nothing_is_changed() -> None:
    bench.opened()
    before = load_pharmacy().rules
    assert bench.refused(change_rule("product.omeprazole", on(Role.PHARMACIST), replace(PROVED, source=" "))) == {"rules.field-empty"}
    assert load_pharmacy().rules == before


def test_cards_under_way_that_hold_the_medicine_are_named() -> None:
    bench.ready_to_fill()
    out = replace(PROVED, codes=("X",), names=("bisoprolol",))
    found = bench.must(change_rule("own.bisoprolol", on(Role.PHARMACIST), out)).findings
    assert [(finding.code, finding.facts["medicine"], finding.facts["many"]) for finding in found] == [
        ("rules.cards-hold", "bisoprolol 5 mg tablet", 1)
    ]


def test_one_person_s_order_goes_into_a_card_by_a_recorded_answer_and_again_next_time() -> None:
    opened()
    withdrawn(planned())
    assert bench.refused(decide_place(OrderId("RX3"), on(Role.PHARMACIST), "card", " ")) == {"custody.no-reason"}
    assert bench.refused(decide_place(OrderId("RX3"), on(Role.CHECKER), "card", "data")) == {"custody.no-right"}
    bench.must(decide_place(OrderId("RX3"), on(Role.PHARMACIST, minutes=2), "card", "maker's letter of 3 January on file"))
    first = planned(3)
    assert OMEPRAZOLE in in_cards(first)
    assert "suitability.answered" in {finding.code for finding in first.plan.findings}
    withdrawn(first)
    assert OMEPRAZOLE in in_cards(planned(4))


def test_the_answer_comes_back_as_a_question_when_the_rule_changes() -> None:
    """`Answer.dated`: the pharmacy's own wording has another date than the rule that was answered, and so has each change of it."""
    opened()
    bench.must(decide_place(OrderId("RX3"), on(Role.PHARMACIST), "card", "maker's letter on file"))
    stricter = replace(PROVED, codes=("XD",), reason="capsules of this lot soften")
    bench.must(change_rule("product.omeprazole", on(Role.PHARMACIST, minutes=1), stricter))
    found = planned(2)
    assert OMEPRAZOLE not in in_cards(found)
    withdrawn(found)
    bench.must(decide_place(OrderId("RX3"), on(Role.PHARMACIST, minutes=3), "card", "tried and found sound"))
    again = planned(4)
    assert OMEPRAZOLE in in_cards(again)
    withdrawn(again)
    bench.must(change_rule("product.omeprazole", on(Role.PHARMACIST, minutes=5), stricter))  # the same words, another change
    assert OMEPRAZOLE not in in_cards(planned(6))


def test_what_a_rule_excludes_is_nobody_s_to_decide() -> None:
    opened()
    bench.must(change_rule("product.omeprazole", on(Role.PHARMACIST), replace(PROVED, codes=("X",))))
    assert bench.refused(decide_place(OrderId("RX3"), on(Role.PHARMACIST), "card", "all the same")) == {"rules.nothing-to-decide"}
    assert bench.refused(decide_place(OrderId("RX1"), on(Role.PHARMACIST), "card", "no rule")) == {"rules.nothing-to-decide"}


def test_rules_and_answers_come_back_with_a_backup(tmp_path: Path) -> None:
    opened()
    bench.must(decide_place(OrderId("RX3"), on(Role.PHARMACIST), "alongside", "she asked for the bottle"))
    bench.must(change_rule("product.omeprazole", on(Role.PHARMACIST, minutes=1), PROVED))
    rules, answers = load_pharmacy().rules, load_answers(bench.PERSON)
    own = load_rules(rules).own
    write_backup(tmp_path / "monday.dosewright")
    unguard_ledger(connection)
    from dosewright.store.dump import MODELS  # noqa: PLC0415

    OrderRow.objects.update(replaced_by=None)
    for model in reversed(MODELS):
        model._default_manager.all().delete()
    read_backup(tmp_path / "monday.dosewright")
    assert load_pharmacy().rules == rules
    assert load_rules(rules).own == own
    assert own[0].by == "pharmacist one"
    assert load_answers(bench.PERSON) == answers
    assert answers[0].reason == "she asked for the bottle"
