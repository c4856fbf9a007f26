"""Journeys of a pharmacist through the rules, and of a card for an as-needed medicine over the bench."""

from collections.abc import Callable

from tests.journeys.conftest import Bench

BenchAt = Callable[[str], Bench]
NEEDED = ("/sets/1", "/sets/1/paper", "/cards/{card}", "/cards/{card}/fill", "/cards/{card}/check", "/cards/{card}/check/counts",
          "/cards/{card}/out-of-date", "/cards/{card}/return", "/cards/{card}/fill/take-out", "/people/p1")  # fmt: skip


def test_a_pharmacist_finds_a_rule_changes_it_and_sees_its_history(bench_at: BenchAt) -> None:
    # given the rules as they ship
    pharmacist = bench_at("opened").station("office").sign_in("moreau")
    # when one is found and changed
    screen = pharmacist.go("/rules?q=omeprazole").press("omeprazole").press("Change this rule")
    screen.page.get_by_label("What follows").select_option("ok")
    screen.page.get_by_label("At most so many days").fill("28")
    screen.page.get_by_label("Source", exact=False).first.fill("letter of the maker")
    screen.page.get_by_label("Date of the source").fill("January 2026")
    screen.page.get_by_label("Why it is changed").fill("stability data came in")
    screen.require_sound_screen()
    screen.press("The rule stands so")
    # then it counts, and says who changed it
    screen.sees("This pharmacy’s own")
    screen.go("/rules/product.omeprazole").sees("stability data came in").sees("C. Moreau")
    screen.require_sound_screen()
    screen.go("/rules/product.omeprazole/take-back").require_sound_screen()


def test_every_screen_of_a_card_for_an_as_needed_medicine_is_sound_and_says_so(bench_at: BenchAt) -> None:
    bench = bench_at("as_needed_filled")
    pharmacist = bench.station("office").sign_in("moreau")
    pharmacist.go("/sets/1").sees("only when needed")
    for path in NEEDED:
        screen = pharmacist.go(path.format(card=_needed(pharmacist)))
        screen.require_sound_screen()
        screen.require_readable_at_twice_the_size()
        screen.never_sees("00:00")


def _needed(station: object) -> str:
    """The number of the set's second card, off the set's own screen."""
    page = station.page  # type: ignore[attr-defined]
    page.goto("/sets/1")
    return str(page.locator("main a.line").nth(1).get_attribute("href")).rsplit("/", 1)[-1]
