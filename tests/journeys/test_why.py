"""A pharmacist touches a cavity and sees why it holds what it holds; and why the set has no card fewer."""

from collections.abc import Callable

from tests.journeys.conftest import Bench

BenchAt = Callable[[str], Bench]


def test_a_cavity_that_is_touched_says_why(bench_at: BenchAt) -> None:
    # given a set that is planned
    bench = bench_at("room_for_fewer_times")
    pharmacist = bench.station("office").sign_in("moreau").go("/sets/1")
    pharmacist.require_sound_screen()

    # when a cavity is touched
    pharmacist.page.locator("a.why").first.click()

    # then its order's words stand beside their reading, the default that chose the time, and the rule of the day
    pharmacist.sees("Take 1 tablet twice a day").sees("Due every day.").sees("08:00").sees("1 tablet")
    pharmacist.sees("one column is enough")
    pharmacist.require_sound_screen()
    pharmacist.require_readable_at_twice_the_size()

    # and the set says why it has no card fewer
    pharmacist.press("Why not one card fewer?").sees("and no fewer will do")
    pharmacist.require_sound_screen()
    pharmacist.require_readable_at_twice_the_size()

    # and by the keyboard it is reached as well
    pharmacist.go("/sets/1")
    pharmacist.page.locator("a.why").nth(1).focus()
    pharmacist.page.keyboard.press("Enter")
    pharmacist.sees("as received")


def test_a_set_of_two_cards_says_what_would_save_one(bench_at: BenchAt) -> None:
    bench = bench_at("two_cards_where_one_could_do")
    pharmacist = bench.station("office").sign_in("moreau").go("/sets/1/why")
    pharmacist.sees("2 cards, and no fewer will do").sees("1 more after the first").sees("One change that would save a card")
    pharmacist.sees("instead, if its order allows it, this many cards would do: 1")
    pharmacist.require_sound_screen()
