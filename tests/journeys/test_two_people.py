"""The checker is not the filler; a card whose orders changed goes no further; only a pharmacist releases."""

from collections.abc import Callable

from tests.journeys.conftest import Bench
from tests.journeys.station import PASSWORD, Station
from tests.journeys.test_filling import BISOPROLOL, METFORMIN
from tests.journeys.test_from_order_to_release import count

BenchAt = Callable[[str], Bench]


def fill_up(bench: Bench, station: Station) -> Station:
    station.go(f"/cards/{bench.card}/fill").scan(BISOPROLOL).press("All 7 placed").sees("metformin").scan(METFORMIN)
    return station.press("All 3 and a half placed").press("The card is filled").sees("This card is filled")


def test_whoever_filled_a_card_may_not_check_it(bench_at: BenchAt) -> None:
    # given a pharmacist who filled the card, and who may check cards
    bench = bench_at("ready_to_fill")
    pharmacist = fill_up(bench, bench.station("bench 1").sign_in("moreau"))

    # when they go to check it
    pharmacist.go(f"/cards/{bench.card}/check")

    # then they are told that somebody else must, and are not offered the count
    pharmacist.sees("You filled this card, so somebody else must check it.")
    assert pharmacist.page.get_by_role("link", name="count now").count() == 0
    pharmacist.require_sound_screen()

    # and counts sent all the same are refused, on record
    pharmacist.go(f"/cards/{bench.card}/check/counts")
    count(pharmacist, "1", "0.5").press("These are my counts").sees("somebody else must check it")
    pharmacist.go(f"/cards/{bench.card}").sees("This card is filled").sees("Tried to check a card: refused")


def test_a_count_that_differs_sends_the_card_back_and_the_count_is_the_checkers_own(bench_at: BenchAt) -> None:
    bench = bench_at("filled")
    checker = bench.station("bench 2").sign_in("lindqvist").go(f"/cards/{bench.card}/check")
    checker.press("I have read all 2")

    # given that the screen says nothing of what was placed before the checker has counted
    checker.require_sound_screen()
    assert {cell.inner_text() for cell in checker.page.locator("td.bare").all()} == {""}
    assert {field.input_value() for field in checker.page.locator("input[inputmode=decimal]").all()} == {""}

    # when one cavity is counted otherwise
    count(checker, "1", "0.5").page.get_by_label("Wed 4 Mar 2026, 08:00 morning").fill("2")
    checker.press("These are my counts")

    # then that cavity is named, and the card goes back with a near miss
    checker.sees("you counted 2, the orders put 1 there")
    checker.require_sound_screen()
    checker.press("Send the card back")
    checker.page.get_by_label("What was found").select_option("extra")
    checker.page.get_by_label("In a few words").fill("two bisoprolol on Wednesday morning")
    checker.require_sound_screen()
    checker.press("The card goes back").sees("This card is filling").sees("two bisoprolol on Wednesday morning")


def test_a_cavity_left_out_is_asked_for(bench_at: BenchAt) -> None:
    bench = bench_at("filled")
    checker = bench.station("bench 2").sign_in("lindqvist").go(f"/cards/{bench.card}/check/counts")
    checker.page.get_by_label("Mon 2 Mar 2026, 08:00 morning").fill("1")
    checker.press("These are my counts").sees("13 of 14 not counted")


def test_an_order_that_changes_during_the_fill_stops_the_card(bench_at: BenchAt) -> None:
    # given a card with its first medicine in it
    bench = bench_at("ready_to_fill")
    technician = bench.station("bench 1").sign_in("tamm").go(f"/cards/{bench.card}/fill")
    technician.scan(BISOPROLOL).press("All 7 placed").sees("metformin").scan(METFORMIN).sees("4 tablets from the bottle")

    # when the pharmacist stops an order of it
    pharmacist = bench.station("office").sign_in("moreau").press("People")
    pharmacist.require_sound_screen()
    pharmacist.press("Wilhelmina Okonedo-Hart")
    pharmacist.page.locator("tr", has_text="metformin").get_by_role("link", name="Stop it").click()
    pharmacist.page.get_by_label("Why, and who said so").fill("stopped by Dr A. Example by telephone")
    pharmacist.require_sound_screen()
    pharmacist.press("This order is stopped").sees("1 card is out of date now")

    # then the placement on the technician's screen is refused, and nothing more may be placed
    technician.press("All 3 and a half placed").sees("have changed")
    technician.go(f"/cards/{bench.card}/fill").sees("Nothing may be placed in this card now")
    technician.require_sound_screen()
    technician.go(f"/cards/{bench.card}").sees("out of date").sees("waits for a pharmacist")

    # and it can be neither checked nor released
    checker = bench.station("bench 2").sign_in("lindqvist").go(f"/cards/{bench.card}/check").sees("have changed")
    assert checker.page.get_by_role("link", name="count now").count() == 0
    pharmacist.go(f"/cards/{bench.card}/release").sees("This card must not leave").sees("Not true: The orders have not changed")
    pharmacist.require_sound_screen()

    # until the pharmacist has decided, with a reason
    pharmacist.go("/").press("Decide about card").sees("The orders behind this card have changed").sees("7 doses differ")
    pharmacist.require_sound_screen()
    pharmacist.page.get_by_label("Take it out of use, plan anew").check()
    pharmacist.page.get_by_label("Why").fill("metformin stopped; plan again")
    pharmacist.press("This is decided").sees("This card is withdrawn")


def test_only_a_pharmacist_comes_to_release_and_only_with_the_password(bench_at: BenchAt) -> None:
    bench = bench_at("sealed")
    technician = bench.station("bench 1").sign_in("tamm").go(f"/cards/{bench.card}/release")
    technician.sees("This is for a pharmacist.").sees("is on record")
    technician.require_sound_screen()

    pharmacist = bench.station("office").sign_in("dasgupta").go(f"/cards/{bench.card}/release")
    pharmacist.page.get_by_label("Your password, again").fill("not-the-password")
    pharmacist.press("The card may leave").sees("That is not your password")
    pharmacist.page.get_by_label("Your password, again").fill(PASSWORD)
    pharmacist.press("The card may leave").sees("This card is released")
