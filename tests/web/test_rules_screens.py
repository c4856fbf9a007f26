"""The screens of the rules: found by a word, changed by a pharmacist with everything that goes on record, and shown with their history."""

import pytest
from tests import small_bench
from tests.bench_fixtures import on
from tests.web.conftest import SignIn
from tests.web.test_screens import words

from dosewright.actions.receive_medicines import receive_medicines
from dosewright.core.custody.event import Role
from dosewright.core.units.ids import OrderId
from dosewright.store.answers import load_answers
from dosewright.store.pharmacy import load_pharmacy, load_rules

pytestmark = pytest.mark.usefixtures("guarded")
SAID = {
    "names": "omeprazole",
    "product": "",
    "follows": "ok",
    "days": "28",
    "reason": "the maker has shown four weeks",
    "source": "letter of the maker",
    "dated": "January 2026",
    "why": "data came in",
}


def test_every_rule_that_ships_is_on_the_list_with_its_source(sign_in: SignIn) -> None:
    small_bench.opened()
    said = words(sign_in(Role.TECHNICIAN).get("/rules"))
    assert "dabigatran Never lies in a card." in said
    assert "effervescent tablet" in said
    assert "flag “cold-chain”" in said
    assert "BMJ 1996;313:926" in said
    assert "Add a rule" not in said


@pytest.mark.parametrize(("typed", "found", "not_found"), [("omepr", "omeprazole", "dabigatran"), ("DABIG", "dabigatran", "omeprazole"),
                                                           ("zzz", "No rule has these words.", "omeprazole")])  # fmt: skip
def test_a_rule_is_found_by_part_of_a_word(sign_in: SignIn, typed: str, found: str, not_found: str) -> None:
    small_bench.opened()
    said = words(sign_in(Role.TECHNICIAN).get("/rules", {"q": typed}))
    assert found in said
    assert not_found not in said


def test_a_pharmacist_changes_a_rule_and_its_history_is_shown(sign_in: SignIn) -> None:
    small_bench.opened()
    pharmacist = sign_in(Role.PHARMACIST)
    form = pharmacist.get("/rules/product.omeprazole/change")
    assert "moisture" in form.content.decode()  # the rule as it stands is in the form
    answer = pharmacist.post("/rules/product.omeprazole/change", SAID, follow=True)
    assert "The rule stands." in words(answer)
    (own,) = load_rules(load_pharmacy().rules).own
    assert (own.codes, own.names, own.source) == (("ok", "T28"), ("omeprazole",), "letter of the maker")
    said = words(pharmacist.get("/rules/product.omeprazole"))
    assert "May lie in a card; at most 28 days from packing." in said
    assert "unless_proved became ok T28" in said
    assert "data came in" in said
    assert "Without this pharmacy’s change: Stays alongside, unless stability data" in said
    taken = pharmacist.post("/rules/product.omeprazole/take-back", {"reason": "another strength"}, follow=True)
    assert "Taken back: product.omeprazole." in words(taken)
    assert load_rules(load_pharmacy().rules).own == ()


def test_a_rule_without_its_source_comes_back_with_what_was_typed(sign_in: SignIn) -> None:
    small_bench.opened()
    answer = sign_in(Role.PHARMACIST).post("/rules/product.omeprazole/change", {**SAID, "source": ""})
    assert answer.status_code == 422
    assert "the maker has shown four weeks" in answer.content.decode()
    assert load_rules(load_pharmacy().rules).own == ()


def test_a_rule_is_added_for_one_product_once_however_often_it_is_pressed(sign_in: SignIn) -> None:
    small_bench.opened()
    pharmacist = sign_in(Role.PHARMACIST)
    said = {**SAID, "names": "", "product": "bisoprolol-5", "follows": "S", "days": "", "token": "one form"}
    for _ in range(2):
        assert "The rule stands." in words(pharmacist.post("/rules/new", said, follow=True))
    (own,) = load_rules(load_pharmacy().rules).own
    assert (own.id, own.medicines, own.codes) == ("own.bisoprolol-5", ("bisoprolol-5",), ("S",))
    again = pharmacist.post("/rules/new", {**said, "token": "another form"}, follow=True)
    assert "The rule stands." in words(again)
    assert {rule.id for rule in load_rules(load_pharmacy().rules).own} == {"own.bisoprolol-5", "own.bisoprolol-5-2"}


def test_a_rule_about_nothing_is_refused_in_a_sentence(sign_in: SignIn) -> None:
    small_bench.opened()
    answer = sign_in(Role.PHARMACIST).post("/rules/new", {**SAID, "names": ""})
    assert answer.status_code == 422
    assert "is about nothing" in words(answer)


def test_where_one_person_s_medicine_goes_is_decided_and_remembered(sign_in: SignIn) -> None:
    small_bench.opened()
    more = small_bench.MEDICINES + b"omeprazole-20,omeprazole,20 mg,gastro-resistant capsule,capsule,15,6,6,pink,O 20,Aldermoor,,28,,\n"
    small_bench.must(receive_medicines("more.csv", on(Role.MANAGER), more))
    line = small_bench.ORDERS["RX1"].replace("RX1", "RX3").replace("bisoprolol-5,Take 1 tablet", "omeprazole-20,Take 1 capsule")
    small_bench.ordered(line)
    pharmacist = sign_in(Role.PHARMACIST)
    asked = words(pharmacist.get("/orders/RX3/place"))
    assert "Stays alongside, unless stability data" in asked
    assert "This is where it goes" in asked
    answer = pharmacist.post("/orders/RX3/place", {"choice": "card", "reason": "letter on file"}, follow=True)
    assert "It counts from the next plan on." in words(answer)
    (kept,) = load_answers(small_bench.PERSON)
    assert (kept.order, kept.choice, kept.reason) == (OrderId("RX3"), "card", "letter on file")
    assert "letter on file" in words(pharmacist.get("/orders/RX3/place"))


def test_an_order_that_no_rule_holds_back_has_nothing_to_decide(sign_in: SignIn) -> None:
    small_bench.opened()
    small_bench.ordered(small_bench.ORDERS["RX1"])
    said = words(sign_in(Role.PHARMACIST).get("/orders/RX1/place"))
    assert "No rule holds it back" in said
    assert "This is where it goes" not in said
