"""Journeys of near misses: noted in the middle of the work, looked at over half a year."""

from collections.abc import Callable

from tests.journeys.conftest import Bench
from tests.journeys.station import Station

BenchAt = Callable[[str], Bench]


def test_a_near_miss_is_noted_with_three_touches_from_the_card(bench_at: BenchAt) -> None:
    # given a technician with a card on the bench
    bench = bench_at("filled")
    technician = bench.station("bench 1").sign_in("tamm").go(f"/cards/{bench.card}")
    # when an error was caught: to the form, what it was, noted
    technician.press("Note a near miss")
    technician.require_sound_screen()
    technician.page.get_by_text("Another day or time").click()
    technician.press("It is noted")
    # then the card says so, and whose error it was is asked nowhere
    technician.sees("It is noted.").sees("Near miss").sees("wrong day or time")
    technician.go("/near-misses").sees("Another day or time").never_sees("ask R. Tamm")
    technician.require_sound_screen()


def test_who_has_time_says_more_and_may_be_asked(bench_at: BenchAt) -> None:
    technician = bench_at("opened").station("bench 1").sign_in("tamm").go("/near-misses/new")
    technician.page.get_by_text("Something else").click()
    technician.press("It is noted").sees("none of the other kinds fits")
    technician.require_sound_screen()
    technician.page.get_by_label("In a few words").fill("two boxes on one shelf")
    technician.page.get_by_label("What made it easy to happen").select_option("alike")
    technician.page.get_by_label("Your name beside it").select_option("yes")
    technician.press("It is noted").sees("two boxes on one shelf").sees("look alike").sees("ask R. Tamm")


def test_a_driver_notes_one_without_seeing_the_bench(bench_at: BenchAt) -> None:
    driver = bench_at("released").station("van").sign_in("penrose").press("Note a near miss")
    driver.page.get_by_text("Wrong label or sheet").click()
    driver.press("It is noted").sees("It is noted.")


def test_a_manager_looks_at_half_a_year_and_says_what_changed(bench_at: BenchAt) -> None:
    manager = bench_at("half_a_year_of_checks").station("office").sign_in("whitlock").go("/near-misses")
    manager.sees("beyond the limits").sees("left out of the limits").sees("the new splitter came")
    manager.require_sound_screen()
    manager.require_readable_at_twice_the_size()
    _keep_whole(manager)
    manager.press("What changed here?").require_sound_screen()
    manager.page.get_by_label("What changed").fill("a second checker on Mondays")
    manager.press("It stands beside the points").sees("a second checker on Mondays").sees("J. Whitlock")
    manager.page.get_by_label("A point for each").select_option("month")
    manager.page.get_by_label("What was caught").select_option("badly split")
    manager.press("Show these").sees("badly split")
    manager.require_sound_screen()
    manager.page.get_by_role("button", name="a second checker on Mondays").click()
    manager.sees("It stands there no more.").never_sees("a second checker on Mondays")


def _keep_whole(station: Station) -> None:
    """The page from top to foot, to be looked at."""
    station.page.set_viewport_size({"width": 1280, "height": 2600})
    station.require_sound_screen()
    station.page.set_viewport_size({"width": 1280, "height": 800})
