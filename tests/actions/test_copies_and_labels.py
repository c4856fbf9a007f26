"""Paper is printed again for a reason that stands on it; and every label that was printed is accounted for."""

import json

import pypdfium2
import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.make_sheet import Asked, make_sheet
from dosewright.actions.print_set import print_set
from dosewright.actions.sheets_wanted import check_of_set, rest_of_set
from dosewright.actions.void_labels import Voiding, void_labels
from dosewright.actions.withdraw_card import withdraw_card
from dosewright.core.custody.event import Role
from dosewright.core.custody.label_account import Accounted, Standing, account_for
from dosewright.core.custody.printing import LONGEST_REASON
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import load_set
from dosewright.store.label_sheets import load_card_lives, load_label_sheets, load_sets_to_account
from dosewright.store.ledger import check_ledger, load_entries
from dosewright.store.made_papers import load_made
from dosewright.store.papers import load_papers

pytestmark = pytest.mark.usefixtures("guarded")
WHY = "page 2 came out blank"


def printed() -> tuple[int, CardNumber]:
    return bench.ready_to_fill()


def again(set_id: int, reason: str = WHY, minutes: int = 5) -> tuple[str, ...]:
    return bench.must(print_set(set_id, on(minutes=minutes), reason=reason)).made


def read(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    return " ".join(text.split())


def account(set_id: int) -> tuple[Accounted, ...]:
    sheets = load_label_sheets((set_id,)).get(set_id, ())
    return account_for((one.sheet for one in sheets), load_card_lives((set_id,)))


def standings(set_id: int) -> dict[str, set[str]]:
    """Of each sheet of labels the standings that its labels have."""
    found: dict[str, set[str]] = {}
    for one in account(set_id):
        found.setdefault(one.sheet, set()).add(one.standing.value)
    return found


def voiding(set_id: int, card: CardNumber, which: int, reason: str = "shredded") -> Voiding:
    """All labels of a card on the set's first, second, … sheet of labels."""
    sheet = [one.sheet for one in load_label_sheets((set_id,))[set_id] if one.sheet.card == card][which]
    return Voiding(sheet.id, card, sheet.labels, reason)


def test_paper_that_was_printed_is_not_printed_again_without_a_reason_and_nothing_is_kept() -> None:
    set_id, _ = printed()
    assert bench.refused(print_set(set_id, on())) == {"custody.copy-without-reason"}
    assert bench.refused(print_set(set_id, on(), reason="   ")) == {"custody.copy-without-reason"}
    assert bench.refused(print_set(set_id, on(), reason="x" * (LONGEST_REASON + 1))) == {"custody.copy-reason-too-long"}
    assert {paper.copy for paper in load_papers(set_id)} == {1}


def test_a_further_copy_says_that_it_is_one_and_why_on_every_document_and_in_the_ledger() -> None:
    set_id, _ = printed()
    again(set_id)
    for paper in load_papers(set_id):
        said = read(paper.pdf)
        assert (f"Copy 2, printed because: {WHY}" in said) == (paper.copy == 2), paper.kind
        assert paper.reason == (WHY if paper.copy == 2 else "")
        assert paper.made_by == "technician one"
    bodies = [json.loads(entry.body) for entry in load_entries("set", str(set_id)) if entry.event == "set printed"]
    assert [body.get("reason") for body in bodies] == [None, WHY]
    assert [body.get("copy") for body in bodies] == [None, 2]


def test_a_third_copy_is_counted_on() -> None:
    set_id, _ = printed()
    again(set_id)
    again(set_id, "the first two got wet", minutes=6)
    labels = {paper.copy: read(paper.pdf) for paper in load_papers(set_id) if paper.kind == "labels"}
    assert "Copy 3, printed because: the first two got wet" in labels[3]
    assert "copy 3" in labels[3].replace("Copy 3", "")  # in the corner of the header, and on the cavities' labels


def test_a_reason_that_no_font_can_print_is_refused_and_nothing_is_kept() -> None:
    set_id, _ = printed()
    outcome = print_set(set_id, on(minutes=5), reason="紙が破れた")
    assert not outcome.done
    assert {paper.copy for paper in load_papers(set_id)} == {1}


def test_labels_printed_twice_are_not_accounted_for_until_they_are_voided_with_a_reason() -> None:
    set_id, card = printed()
    assert standings(set_id) == {name: {"in use"} for name in standings(set_id)}
    again(set_id)
    first, second = standings(set_id)
    assert standings(set_id) == {first: {"not accounted for"}, second: {"in use"}}
    assert load_sets_to_account() == (set_id,)
    bench.must(void_labels(set_id, on(minutes=7), voiding(set_id, card, 0)))
    assert standings(set_id) == {first: {"voided"}, second: {"in use"}}
    assert {one.reason for one in account(set_id) if one.standing is Standing.VOIDED} == {"shredded"}
    body = next(json.loads(entry.body) for entry in load_entries("set", str(set_id)) if entry.event == "labels voided")
    assert body["reason"] == "shredded"
    assert body["copy"] == 1
    assert check_ledger() == ()


def test_every_label_of_the_card_is_named_once() -> None:
    set_id, card = printed()
    (sheet,) = (one.sheet for one in load_label_sheets((set_id,))[set_id])
    columns = {column.column for column in load_set(set_id).cards[0].card.columns}
    assert sheet.card == card
    assert set(sheet.labels) == {"h1"} | {f"c{row}-{column}" for row in range(1, 8) for column in columns}
    assert len(sheet.labels) == len(set(sheet.labels))


def test_the_only_labels_of_an_open_card_are_not_voided_nor_any_without_a_reason() -> None:
    set_id, card = printed()
    assert bench.refused(void_labels(set_id, on(), voiding(set_id, card, 0))) == {"custody.label-needed"}
    again(set_id)
    assert bench.refused(void_labels(set_id, on(minutes=7), voiding(set_id, card, 0, reason=" "))) == {"custody.no-reason"}
    assert bench.refused(void_labels(set_id, on(Role.DRIVER), voiding(set_id, card, 0))) == {"custody.no-right"}
    assert Standing.VOIDED not in {one.standing for one in account(set_id)}


def test_some_labels_of_a_sheet_are_voided_and_the_others_stay_as_they_are() -> None:
    set_id, card = printed()
    again(set_id)
    whole = voiding(set_id, card, 1)
    some = Voiding(whole.sheet, card, whole.labels[:3], "three labels of the second copy stuck together")
    bench.must(void_labels(set_id, on(minutes=7), some))
    in_use = [one for one in account(set_id) if one.standing is Standing.IN_USE]
    assert sorted(one.label for one in in_use) == sorted(whole.labels)
    assert {one.sheet == whole.sheet for one in in_use if one.label in some.labels} == {False}


def test_the_labels_of_a_withdrawn_card_are_not_accounted_for_until_they_are_voided() -> None:
    set_id, card = printed()
    bench.must(withdraw_card(card, on(Role.PHARMACIST, minutes=8), "the person moved away"))
    assert set().union(*standings(set_id).values()) == {"not accounted for"}
    assert load_sets_to_account() == (set_id,)
    bench.must(void_labels(set_id, on(minutes=9), voiding(set_id, card, 0)))
    assert set().union(*standings(set_id).values()) == {"voided"}


def test_labels_for_the_rest_of_a_cycle_are_counted_too_and_made_again_only_with_a_reason() -> None:
    set_id, _ = printed()
    wanted = rest_of_set(set_id, Moment(bench.MONDAY.replace(day=5)))
    first = bench.must(make_sheet(wanted.name.subject, on(minutes=5), wanted))
    before, rest = standings(set_id)
    assert standings(set_id) == {before: {"in use", "not accounted for"}, rest: {"in use"}}
    assert bench.refused(make_sheet(wanted.name.subject, on(minutes=6), wanted)) == {"custody.copy-without-reason"}
    second = bench.must(make_sheet(wanted.name.subject, on(minutes=7), wanted, Asked(reason=WHY)))
    copies = [load_made(int(outcome.made[0])) for outcome in (first, second)]
    assert [made.copy.number for made in copies] == [1, 2]
    assert [f"Copy 2, printed because: {WHY}" in read(made.pdf) for made in copies] == [False, True]


def test_other_sheets_on_demand_say_when_they_were_made_and_need_no_reason() -> None:
    set_id, _ = printed()
    for minutes in (5, 6):
        wanted = check_of_set(set_id, on(minutes=minutes).at.replace(tzinfo=None))
        bench.must(make_sheet(wanted.name.subject, on(minutes=minutes), wanted))
