"""Journeys through the record: an inspector's one question, a record put right and the card that rests on it."""

from collections.abc import Callable

import pypdfium2
from tests.journeys.conftest import Bench

BenchAt = Callable[[str], Bench]


def test_an_inspector_scans_a_card_and_prints_everything_about_it(bench_at: BenchAt) -> None:
    # given a card that has left
    bench = bench_at("handed_over")
    inspector = bench.station("office").sign_in("vane").press("History")
    inspector.require_sound_screen()
    # when it is scanned
    inspector.scan(bench.card)
    # then everything is on one screen
    inspector.sees("things happened to this card").sees("LOT42A").sees("checker one, checker").sees("Card labels, copy 1")
    inspector.require_sound_screen()
    # and on paper: no button, no field, every entry
    pdf = pypdfium2.PdfDocument(inspector.page.pdf(format="A4", margin={"top": "15mm", "bottom": "15mm", "left": "15mm", "right": "15mm"}))
    text = " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pdf)
    for said in ("Wilhelmina Okonedo-Hart", "LOT42A", "Released", "Handed over", "checker one", "Card labels, copy 1"):
        assert said in text
    assert "Another card" not in text
    assert "Sign out" not in text


def test_an_inspector_finds_the_cards_of_a_person(bench_at: BenchAt) -> None:
    inspector = bench_at("two_cards_where_one_could_do").station("office").sign_in("vane").go("/history")
    inspector.page.get_by_label("Scan the card").fill("okonedo")
    inspector.press("Show everything about it").sees("2 cards for “okonedo”")
    inspector.require_sound_screen()


def test_a_marking_is_put_right_and_the_pharmacist_decides_about_the_card(bench_at: BenchAt) -> None:
    # given a filled card, and tablets that look otherwise than the record says
    bench = bench_at("filled")
    pharmacist = bench.station("office").sign_in("moreau").press("Records").press("Medicines")
    pharmacist.page.get_by_label("Part of a name").fill("metf")
    pharmacist.press("Show these").press("metformin 500 mg tablet").press("Correct this record")
    pharmacist.page.get_by_label("Marking").fill("M 7")
    pharmacist.page.get_by_label("Why, and by what").fill("a new batch, seen on the bench")
    pharmacist.require_sound_screen()
    # when the record is put right
    pharmacist.press("The record stands so").sees("1 card is out of date now").sees("mark: M 5 → M 7")
    pharmacist.require_sound_screen()
    # then the card waits, and says why
    pharmacist.go(f"/cards/{bench.card}").press("Decide about card").sees("What this card rests on has changed.")
    pharmacist.sees("mark: M 5 → M 7").sees("a new batch, seen on the bench")
    pharmacist.require_sound_screen()


def test_a_person_is_given_dosing_times_of_their_own(bench_at: BenchAt) -> None:
    pharmacist = bench_at("ready_to_fill").station("office").sign_in("moreau").go("/people/p1").press("Dosing times")
    pharmacist.page.get_by_label("Time of dosing time 1").fill("09:00")
    pharmacist.page.get_by_label("Why, and who asked for it").fill("sleeps late, her daughter says")
    pharmacist.require_sound_screen()
    pharmacist.press("These are the dosing times").sees("1 card is out of date now").sees("09:00")
    pharmacist.require_sound_screen()
    pharmacist.go("/dosing-times/person/p1").sees("sleeps late, her daughter says")


def test_a_birth_date_is_put_right(bench_at: BenchAt) -> None:
    manager = bench_at("sealed").station("office").sign_in("whitlock").go("/people/p1").press("Correct this record")
    manager.page.get_by_label("Born", exact=True).fill("1938-02-04")
    manager.page.get_by_label("Why, and who said so").fill("the letter of the surgery")
    manager.require_sound_screen()
    manager.press("The record stands so").sees("1 card is out of date now")


def test_a_measure_of_the_card_is_changed(bench_at: BenchAt) -> None:
    pharmacist = bench_at("filled").station("office").sign_in("moreau").go("/settings/format?q=floor to film")
    pharmacist.press("Change")
    pharmacist.page.get_by_label("It is to say").fill('"deep"')
    pharmacist.page.get_by_label("Why, and by which source").fill("measured on the new cards")
    pharmacist.press("The record stands so").sees("Stop")
    pharmacist.require_sound_screen()
    pharmacist.page.get_by_label("It is to say").fill("9.5")
    pharmacist.press("The record stands so").sees("1 card is out of date now").sees("→ 9.5")
    pharmacist.require_sound_screen()
