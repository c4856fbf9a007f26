"""Several people at one bench, and people who are not at the bench at all: badge and PIN, the lock, a home, a driver."""

from collections.abc import Callable

from tests.journeys.conftest import Bench
from tests.journeys.station import PASSWORD, Station

BenchAt = Callable[[str], Bench]
BADGES = {"tamm": "BADGETAMMTAMMTAMMTAMM", "okafor": "BADGEOKAFOROKAFOROKAF"}  # as tests/journeys/small_pharmacy.py gives them
PIN = "285917"


def by_badge(station: Station, username: str) -> Station:
    station.scan(BADGES[username])
    station.page.get_by_label("Your PIN").fill(PIN)
    return station.press("I am at the bench now")


def test_a_second_technician_takes_the_place_by_badge_and_the_first_finds_her_words_again(bench_at: BenchAt) -> None:
    # given somebody who is in the middle of a form
    bench = bench_at("filled")
    station = bench.station("bench 1").sign_in("tamm").go("/stock/bisoprolol-5/LOT42A/waste")
    station.page.get_by_label("How many units").fill("1.5")
    station.page.get_by_label("What happened").fill("two fell on the floor")

    # when another scans a badge there
    station.scan(BADGES["okafor"])

    # then nothing of what was typed is shown, to that PIN or any other
    station.sees("B. Okafor, type your PIN.").never_sees("two fell on the floor")
    station.require_sound_screen()
    station.page.get_by_label("Your PIN").fill(PIN)
    station.press("I am at the bench now").never_sees("two fell on the floor")
    assert "B. Okafor, technician" in station.page.locator(".strip").inner_text()

    # and the first finds it where it was
    by_badge(station, "tamm")
    assert station.page.get_by_label("How many units").input_value() == "1.5"
    assert station.page.get_by_label("What happened").input_value() == "two fell on the floor"
    station.press("They are waste").sees("Put down as waste")


def test_a_bench_that_is_left_alone_locks_itself_and_keeps_what_was_typed(bench_at: BenchAt) -> None:
    bench = bench_at("filled")
    station = bench.station("bench 1")
    station.page.clock.install()
    station.sign_in("tamm").go("/stock/bisoprolol-5/LOT42A/waste")
    station.page.get_by_label("What happened").fill("crumbled in the bottle")
    station.page.clock.fast_forward("14:00")
    station.page.get_by_label("How many units").fill("2")  # somebody is still here
    station.page.clock.fast_forward("14:00")
    station.sees("Spoiled units")
    station.page.clock.fast_forward("01:10")
    station.sees("This bench is locked. Scan your badge.").never_sees("crumbled in the bottle")
    station.require_sound_screen()
    station.page.clock.resume()
    by_badge(station, "tamm")
    assert station.page.get_by_label("What happened").input_value() == "crumbled in the bottle"


def test_wrong_pins_are_said_and_lock_the_account(bench_at: BenchAt) -> None:
    station = bench_at("opened").station("bench 1").sign_in("tamm").press("Leave the bench")
    station.sees("Scan your badge").require_sound_screen()
    station.scan("BADGEAAAAAAAAAAAAAAAA").sees("This is no badge of anybody here")
    station.require_sound_screen()
    station.scan(BADGES["okafor"])
    for _ in range(4):
        station.page.get_by_label("Your PIN").fill("999999")
        station.press("I am at the bench now").sees("That is not the PIN of this badge")
    station.require_sound_screen()
    station.page.get_by_label("Your PIN").fill("999999")
    station.press("I am at the bench now").sees("This account is locked")


def test_somebody_makes_their_own_badge_and_a_manager_opens_an_account(bench_at: BenchAt) -> None:
    bench = bench_at("opened")
    checker = bench.station("bench 2").sign_in("lindqvist").press("My badge")
    checker.require_sound_screen()
    checker.page.get_by_label("A PIN of your own").fill("123456")
    checker.page.get_by_label("The same PIN again").fill("123456")
    checker.page.get_by_label("Your password, again").fill(PASSWORD)
    checker.press("Make my badge").sees("This PIN is easily guessed")
    checker.page.get_by_label("A PIN of your own").fill("730284")
    checker.page.get_by_label("The same PIN again").fill("730284")
    checker.page.get_by_label("Your password, again").fill(PASSWORD)
    checker.press("Make my badge").sees("Your badge is made. Print it now.")
    checker.require_sound_screen()

    manager = bench.station("office").sign_in("whitlock").press("Who signs in")
    manager.sees("people sign in here").require_sound_screen()
    manager.press("Somebody new")
    manager.require_sound_screen()
    manager.page.get_by_label("Name they sign in with").fill("quirke")
    manager.page.get_by_label("Name as it is printed").fill("S. Quirke")
    manager.page.get_by_label("What they do").select_option("carer")
    manager.page.get_by_label("Home").select_option(label="The Lindens")
    manager.page.get_by_label("Their password").fill("harbour-lights-4")
    manager.page.get_by_label("Your password, again").fill(PASSWORD)
    manager.press("They may sign in now").sees("S. Quirke")
    bench.station("the home").sign_in("quirke", "harbour-lights-4").sees("on their way to The Lindens")


def test_a_card_goes_by_the_driver_to_the_home_whose_carer_receives_it(bench_at: BenchAt) -> None:
    # given a released card of somebody of The Lindens
    bench = bench_at("released_for_a_home")
    driver = bench.station("the van").sign_in("penrose").sees("1 card may leave, 0 are on the way.")
    driver.require_sound_screen()
    driver.require_readable_at_twice_the_size()

    # when the driver hands it over at the door
    driver.require_sound_on_a_tablet().scan(bench.card).sees("Hand the card over.").require_sound_on_a_tablet()
    driver.page.get_by_label("Received by").fill("A. Brook")
    driver.press("The card is handed over")
    driver.go("/deliveries").sees("0 cards may leave, 1 is on the way.")
    driver.require_sound_screen()

    # then the home's carer sees it coming, looks into it, and says that it has come
    carer = bench.station("the home").sign_in("brook").sees("1 card on its way to The Lindens.")
    carer.require_sound_screen()
    carer.require_readable_at_twice_the_size()
    carer.require_sound_on_a_tablet().press("Wilhelmina Okonedo-Hart").sees("2 medicines in force")
    carer.require_sound_screen()
    carer.go("/residents").scan(bench.card).sees("This card is on its way.")
    carer.require_sound_on_a_tablet().require_sound_screen()
    carer.press("It has come").sees("Has this card come?")
    carer.require_sound_screen()
    carer.press("The card has come").sees("0 cards on their way to The Lindens.").sees("here")
    carer.go(f"/cards/{bench.card}").sees("This is for a technician, a checker")


def test_an_inspector_reads_everything_and_finds_nothing_to_change(bench_at: BenchAt) -> None:
    bench = bench_at("filled")
    inspector = bench.station("office").sign_in("vane")
    for path in ("/", "/stock", "/accounts", "/ledger", "/ledger?q=tamm", f"/cards/{bench.card}", "/people/p1", "/rules", "/sets/1"):
        inspector.go(path).require_sound_screen()
        buttons = inspector.page.locator("main form[method=post]").count()
        assert buttons == 0, path
    inspector.go("/ledger").sees("entries in the ledger").sees("placed")
    inspector.require_readable_at_twice_the_size()
