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

APART = {
    "one": "bisoprolol",
    "other": "metformin, metformine",
    "reason": "they cling together",
    "source": "seen at this bench",
    "dated": "March 2026",
    "why": "twice this week",
}
SPACED = {**APART, "counts": "", "before": "0", "after": "120"}


def test_every_rule_that_ships_is_on_the_list_with_its_source(sign_in: SignIn) -> None:
    small_bench.opened()
    said = words(sign_in(Role.TECHNICIAN).get("/rules"))
    assert "dabigatran Never lies in a card." in said
    assert "effervescent tablet" in said
    assert "flag “cold-chain”" in said
    assert "BMJ 1996;313:926" in said
    assert "levodopa, co-beneldopa, co-careldopa – with ferrous, iron, ferric At least 2 hours apart." in said
    assert "ibandronic acid – with any other medicine Never in one cavity." in said
    assert "Add a rule" not in said
    assert "Keep two medicines" not in said


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


def test_a_rule_about_time_is_changed_put_out_of_force_and_taken_back(sign_in: SignIn) -> None:
    small_bench.opened()
    pharmacist = sign_in(Role.PHARMACIST)
    form = pharmacist.get("/rules/spacing.levodopa/change")
    assert "Now: At least 2 hours apart." in words(form)
    assert "iron binds levodopa" in form.content.decode()
    changed = words(pharmacist.post("/rules/spacing.levodopa/change", {**SPACED, "one": "levodopa", "other": "iron"}, follow=True))
    assert "levodopa – with iron At any time before, or at least 2 hours after." in changed
    said = words(pharmacist.get("/rules/spacing.levodopa"))
    assert "With iron: At any time before, or at least 2 hours after." in said
    assert "change: levodopa, co-beneldopa, co-careldopa – with ferrous, iron, ferric. At least 2 hours apart." in said
    assert "120 minutes before, 120 after became 0 minutes before, 120 after (levodopa – with iron)" in said
    out = words(pharmacist.post("/rules/spacing.levodopa/change", {**SPACED, "one": "levodopa", "counts": "out"}, follow=True))
    assert "The rule is out of force from the next plan on." in out
    assert "spacing.levodopa" not in {rule.id for rule in load_rules(load_pharmacy().rules).spacings}
    assert "Out of force in this pharmacy, and nothing follows from it. Why: twice this week" in out
    assert "It is out of force in this pharmacy" in words(pharmacist.get("/rules/spacing.levodopa/change"))
    shipped = load_rules(load_pharmacy().rules).shipped_pairs.spacing
    taken = words(pharmacist.post("/rules/spacing.levodopa/take-back", {"reason": "a slip"}, follow=True))
    assert "Taken back: spacing.levodopa." in taken
    assert load_rules(load_pharmacy().rules).spacings == shipped


def test_a_rule_about_one_cavity_is_added_once_and_a_name_that_nobody_has_is_said(sign_in: SignIn) -> None:
    small_bench.opened()
    pharmacist = sign_in(Role.PHARMACIST)
    for _ in range(2):
        said = words(pharmacist.post("/rules/new/apart", {**APART, "token": "one form"}, follow=True))
        assert "The rule stands." in said
    (own,) = load_rules(load_pharmacy().rules).own_pairs
    assert (own.id, own.one, own.other) == ("own.bisoprolol-metformin", ("bisoprolol",), ("metformin", "metformine"))
    again = words(pharmacist.post("/rules/new/apart", {**APART, "token": "another form"}, follow=True))
    assert "no product here has metformine in its generic name" in again
    assert "bisoprolol – with metformin, metformine Never in one cavity." in again
    assert "Whether it counts" not in words(pharmacist.get("/rules/own.bisoprolol-metformin/change"))


@pytest.mark.parametrize(
    ("kind", "changes", "said"),
    [
        ("spacing", {"before": "0", "after": "0"}, "both lengths of time are zero"),
        ("spacing", {"before": "1441"}, "less than or equal to 1440"),
        ("spacing", {"one": " , "}, "is about nothing"),
        ("apart", {"other": "–"}, "is no word of a generic name"),
        ("apart", {"source": " "}, "required"),
    ],
)
def test_a_rule_about_two_that_says_too_little_is_refused(sign_in: SignIn, kind: str, changes: dict[str, str], said: str) -> None:
    small_bench.opened()
    answer = sign_in(Role.PHARMACIST).post(f"/rules/new/{kind}", {**(SPACED if kind == "spacing" else APART), **changes})
    assert answer.status_code == 422
    assert said in words(answer)
    assert "they cling together" in answer.content.decode()
    assert load_rules(load_pharmacy().rules).own_pairs == ()


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
