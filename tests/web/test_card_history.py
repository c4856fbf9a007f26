"""A card's whole history in one question: found by number or name, with every entry, every paper, everybody who had it in hand."""

import hashlib
import re

import pytest
from django.db import connection
from tests import small_bench as bench
from tests.bench_fixtures import on
from tests.web.conftest import SignIn
from tests.web.test_screens import words

from dosewright.actions.print_set import print_set
from dosewright.actions.release_card import release_card
from dosewright.actions.send_back_card import send_back_card
from dosewright.config.command import main
from dosewright.core.custody.event import Role
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.packing.card_number import format_card_number
from dosewright.store.card_history import entries_about, find_cards
from dosewright.store.cards import load_card
from dosewright.store.guards import unguard_ledger
from dosewright.store.ledger import load_entries
from dosewright.store.models import LedgerEntry
from dosewright.store.papers import load_papers

pytestmark = pytest.mark.usefixtures("guarded")


def test_every_entry_about_the_card_its_set_its_orders_is_there_in_order(sign_in: SignIn) -> None:
    card = bench.handed_over()
    page = sign_in(Role.INSPECTOR).get(f"/cards/{card}/history")
    shown = [int(one) for one in re.findall(r'<th scope="row">(\d+)<br>', page.content.decode())]
    meant = [entry.sequence for entry in load_entries() if (entry.subject_kind, entry.subject_id) in
             {("card", card), ("set", "1"), ("order", "RX1"), ("order", "RX2")}]  # fmt: skip
    assert shown == meant
    assert len(meant) > 10
    said = words(page)
    for who in ("technician one, technician", "checker one, checker", "pharmacist one, pharmacist"):
        assert who in said
    assert "lot LOT42A" in said
    assert "I have seen that this card was checked by somebody who did not fill it" in said


def test_each_copy_of_the_paper_is_there_byte_for_byte(sign_in: SignIn) -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(print_set(set_id, on(minutes=3), reason="the first tore"))
    inspector = sign_in(Role.INSPECTOR)
    page = inspector.get(f"/cards/{card}/history").content.decode()
    links = re.findall(r'href="(/sets/\d+/paper/\w+\.pdf\?copy=\d)"', page)
    assert "Card labels, copy 2: the first tore" in page
    assert len(links) == len(load_papers(set_id)) == 6
    hashes = {hashlib.sha256(inspector.get(link).content).hexdigest() for link in links}
    assert hashes == {paper.sha256 for paper in load_papers(set_id)}
    assert inspector.get(f"/sets/{set_id}/paper/labels.pdf?copy=9").status_code == 404


@pytest.mark.parametrize("word", ["wilhelmina", "Okonedo-H", "p1"])
def test_a_card_is_found_by_its_person(word: str, sign_in: SignIn) -> None:
    card = bench.filled()
    answer = sign_in(Role.TECHNICIAN).get("/history", {"scan": word})
    assert (answer.status_code, answer["Location"]) == (302, f"/cards/{card}/history")


def test_a_card_is_found_by_its_number_as_printed_and_nothing_by_no_word(sign_in: SignIn) -> None:
    card = bench.filled()
    assert [one.number for one in find_cards(format_card_number(card), 5)] == [card]
    assert find_cards(" ", 5) == ()
    assert "No card has this number" in words(sign_in(Role.TECHNICIAN).get("/history", {"scan": "nobody"}))


def test_several_cards_of_a_person_are_listed() -> None:
    bench.two_cards_where_one_could_do()
    assert len(find_cards("okonedo", 5)) == 2
    assert len(find_cards("okonedo", 1)) == 1


def test_what_was_refused_and_what_was_caught_is_in_it_too(sign_in: SignIn) -> None:
    card = bench.filled()
    bench.refused(release_card(card, on(Role.TECHNICIAN, minutes=7)))
    bench.must(send_back_card(card, on(Role.CHECKER, minutes=8), NearMissKind.BADLY_SPLIT, "a crumb in row 3"))
    said = words(sign_in(Role.INSPECTOR).get(f"/cards/{card}/history"))
    assert "Tried to release a card: refused" in said
    assert "because a crumb in row 3" in said
    assert "Badly split, at the check, sent back by a check" in said


def test_an_entry_that_was_changed_is_named(sign_in: SignIn) -> None:
    card = bench.filled()
    unguard_ledger(connection)
    changed = next(entry.sequence for entry in entries_about(load_card(card)) if entry.event == "placed")
    LedgerEntry.objects.filter(sequence=changed).update(who_name="somebody else")
    said = words(sign_in(Role.INSPECTOR).get(f"/cards/{card}/history"))
    assert f"Entries that do not match their own hash: {changed}" in said
    assert main(["history", card]) == 1


def test_the_command_prints_the_same_and_names_what_it_does_not_find(capsys: pytest.CaptureFixture[str]) -> None:
    card = bench.sealed()
    assert main(["history", "okonedo"]) == 0
    said = capsys.readouterr().out
    assert format_card_number(card) in said
    assert "sealed: technician one, technician" in said
    assert said.count("sha256") == 3
    assert main(["history", "nobody at all"]) == 2
    assert "no card has the number nobody at all" in capsys.readouterr().err
