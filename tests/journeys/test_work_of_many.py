"""Work for many at once: planned and printed by the task runner, claimed, filled medicine by medicine, and what goes wrong on the way."""

from collections.abc import Callable

from playwright.sync_api import expect
from tests.journeys.conftest import Bench
from tests.journeys.station import Station

BenchAt = Callable[[str], Bench]
BOTTLE = "01062910415002131727063010LOT42A"


def comes_to(station: Station, words: str) -> None:
    """The task runner is done; the page turns to what came of it by itself."""
    expect(station.main()).to_contain_text(words, timeout=240_000)


def test_a_home_is_planned_printed_and_filled_together(bench_at: BenchAt) -> None:
    # given three people of one home with confirmed orders
    bench = bench_at("three_of_a_home")
    technician = bench.station("bench 1").sign_in("tamm").go("/plan")
    technician.page.get_by_label("First day").fill("2026-03-02")
    technician.page.get_by_label("Days", exact=True).fill("7")
    for box in technician.page.locator("input[name=person]").all():
        box.check()

    # when their cards are planned, it is done outside the request, and the page shows what came of it
    technician.page.locator("main button.next").click()
    comes_to(technician, "3 sets planned")
    technician.require_sound_screen()

    # then their paper is drawn in the same way
    technician.go("/").press("Draw the paper of these 3 sets")
    comes_to(technician, "3 sets have their paper.")
    technician.require_sound_screen()

    # and the three cards are filled with one bottle, card after card
    technician.go("/").require_sound_screen()
    technician.press("Fill these together").sees("3 cards, one medicine at a time")
    technician.require_sound_screen()
    technician.require_readable_at_twice_the_size()
    technician.press("Go over the cards with bisoprolol").scan(BOTTLE).sees("7 tablets from the bottle")
    for _ in range(3):
        technician.press("All 7 placed")
    technician.sees("of metformin 500 mg tablet, for 3 cards")
    technician.require_sound_screen()


def test_a_set_is_taken_in_hand_and_handed_to_a_colleague(bench_at: BenchAt) -> None:
    bench = bench_at("filled")
    checker = bench.station("bench 2").sign_in("lindqvist").go("/sets/1").press("Take it in hand")
    checker.sees("Nobody has it in hand.").require_sound_screen()
    checker.page.get_by_label("Who has it in hand from now on").select_option(label="C. Moreau, pharmacist")
    checker.press("So it is").sees("C. Moreau has it in hand.")
    checker.go("/").sees("in hand: C. Moreau")
    checker.require_sound_screen()


def test_a_code_that_nobody_knows_is_taught_by_two(bench_at: BenchAt) -> None:
    bench = bench_at("opened")
    technician = bench.station("bench 1").sign_in("tamm").go("/stock/codes").scan("-04877800")
    technician.sees("Nobody knows this code yet.").require_sound_screen()
    technician.page.get_by_label("Read the bottle").select_option(label="ramipril 5 mg capsule")
    technician.press("That is what I read").sees("Now somebody else scans the same bottle")
    technician.require_sound_screen()
    other = bench.station("bench 2").sign_in("okafor").go("/stock/codes").scan("-04877800")
    other.sees("Somebody has said which medicine this is.")
    assert other.page.get_by_label("Read the bottle").input_value() == ""
    other.page.get_by_label("Read the bottle").select_option(label="ramipril 5 mg capsule")
    other.press("That is what I read").sees("The code counts now.")
    other.go("/stock").scan("-04877800").sees("ramipril 5 mg capsule")
