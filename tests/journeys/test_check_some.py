"""A check of some cavities, where the profile lets a checker choose: what is asked, what that misses, and how a count is written."""

from collections.abc import Callable

from tests.journeys.conftest import Bench
from tests.journeys.station import Station


def fill(checker: Station) -> int:
    fields = checker.page.locator("input[inputmode=decimal]").all()
    for field in fields:
        field.fill("1" if "morning" in (field.get_attribute("aria-label") or "") else "½")
    return len(fields)


def test_the_checker_counts_what_was_drawn_and_reads_what_that_misses(bench_at: Callable[[str], Bench]) -> None:
    # given a card whose evenings hold halves, under a profile that lets half of the rest be left out
    bench = bench_at("filled_for_a_choice")
    checker = bench.station("bench 2").sign_in("lindqvist")

    # when somebody who did not fill it checks it
    checker.press("Check card").sees("11 of 14 cavities are counted").sees("Always: 7 with a part of a unit")
    checker.sees("If 1 of these 7 is wrong, this check misses it in 43 of 100 cards")
    checker.require_sound_screen()
    checker.press("I have read all 2: count 11 of 14").sees("Count what lies in 11 of 14 cavities")
    checker.require_sound_screen()
    checker.require_readable_at_twice_the_size()
    assert fill(checker) == 11

    # then a slip is named with its field, and a wrong count makes them count all
    field = checker.page.locator("input[inputmode=decimal]").first
    field.fill("0.3")
    checker.press("These are my counts").sees("“0.3” is no half, third or quarter of a unit")
    checker.page.locator("input[inputmode=decimal]").first.fill("9")
    checker.press("These are my counts").sees("Every cavity is counted: a count differed")
    checker.press("Count again").sees("Count what lies in each cavity")
    assert fill(checker) == 14
    checker.press("These are my counts").sees("This card is checked")
