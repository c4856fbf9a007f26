"""A file of orders becomes a released card: every step on screen, by the people whose step it is, each screen sound."""

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import expect
from tests import small_bench
from tests.journeys.conftest import Bench
from tests.journeys.station import PASSWORD, Station

BISOPROLOL = "0106291041500213172706301 0LOT42A".replace(" ", "")
METFORMIN = "0105012345678900" + "17270630" + "10K2207"


@pytest.fixture
def orders(tmp_path: Path) -> Path:
    """Two orders of one person, as a CSV file."""
    file = tmp_path / "orders.csv"
    file.write_text(small_bench.HEADER + "".join(small_bench.ORDERS.values()), encoding="utf-8")
    return file


def test_orders_become_a_released_card(bench_at: Callable[[str], Bench], orders: Path) -> None:
    bench = bench_at("opened")
    # given a technician who takes a file of orders in
    technician = bench.station("bench 1").sign_in("tamm").go("/orders/in")
    technician.require_sound_screen()
    technician.page.get_by_label("The file").set_input_files(orders)
    technician.press("Take this file in").sees("2 orders taken in.").sees("wait for a pharmacist")
    technician.require_sound_screen()

    # when a pharmacist confirms what was read, beside the text as received
    pharmacist = bench.station("office").sign_in("moreau").press("Confirm 2 orders")
    pharmacist.require_sound_screen()
    pharmacist.press("Begin with Wilhelmina Okonedo-Hart").sees("Take 1 tablet in the morning")
    pharmacist.require_sound_screen()
    pharmacist.press("That is what is meant").sees("Take half a tablet in the evening")
    pharmacist.press("That is what is meant").sees("2 orders in force")
    pharmacist.require_sound_screen()
    pharmacist.press("People").press("Wilhelmina Okonedo-Hart").sees("2 orders in force")
    pharmacist.require_sound_screen()

    # and the technician plans and prints
    plan_and_print(technician)

    # and fills, one medicine at a time, with the bottle in the hand
    fill(technician)

    # and somebody else checks, with counts of their own
    checker = bench.station("bench 2").sign_in("lindqvist")
    checker.require_sound_screen()
    checker.press("Check card").sees("Read the orders first")
    checker.require_sound_screen()
    checker.press("I have read all 2")
    checker.require_sound_screen()
    count(checker, "1", "0.5").press("These are my counts").sees("All 14 cavities hold what the orders ask")
    checker.press("Seal card")
    checker.require_sound_screen()
    checker.press("The card is sealed").sees("This card is sealed")

    # then the pharmacist sees everything that must be true, and signs
    pharmacist.go("/").press("Release card").sees("Checked by somebody who did not fill it").sees("by A. Lindqvist, checker")
    pharmacist.require_sound_screen()
    pharmacist.page.get_by_label("Your password, again").fill(PASSWORD)
    pharmacist.press("The card may leave").sees("This card is released")
    pharmacist.require_sound_screen()

    # and the card's history names everyone who did something, in order
    deeds = [found.inner_text() for found in pharmacist.page.locator(".life b").all()]
    assert deeds == ["Planned", "Paper printed", "Placed", "Placed", "Filled", "Checked", "Sealed", "Released"]
    words = pharmacist.page.locator(".life").inner_text()
    assert words.index("R. Tamm") < words.index("A. Lindqvist") < words.index("C. Moreau")


def plan_and_print(technician: Station) -> None:
    technician.press("Plan")
    technician.require_sound_screen()
    technician.page.get_by_label("First day").fill("2026-03-02")
    technician.page.get_by_label("Days").fill("7")
    expect(technician.page.get_by_label("Wilhelmina Okonedo-Hart")).to_be_checked()  # she has orders, and no card yet
    technician.press("Plan for those ticked").sees("7 days from Mon 2 Mar 2026").sees("no fewer will do")
    technician.require_sound_screen()
    technician.press("Print the paper of this set").sees("Look over each page")
    technician.require_sound_screen()
    technician.press("This is the paper for the set").sees("sheets to print")
    technician.require_sound_screen()


def fill(technician: Station) -> None:
    technician.press("Printed. Fill card").sees("Medicine 1 of 2").sees("bisoprolol")
    technician.require_sound_screen()
    technician.scan(BISOPROLOL).sees("7 tablets from the bottle").sees("lot LOT42A")
    technician.require_sound_screen()
    technician.press("All 7 placed").sees("Medicine 2 of 2").sees("metformin")
    technician.scan(METFORMIN).sees("4 tablets from the bottle").sees("half a tablet, to waste")
    technician.require_sound_screen()
    technician.press("All 3 and a half placed").sees("All 2 medicines of this card are placed")
    technician.require_sound_screen()
    technician.press("The card is filled").sees("This card is filled")
    technician.require_sound_screen()


def count(checker: Station, morning: str, evening: str) -> Station:
    for field in checker.page.locator("input[inputmode=decimal]").all():
        field.fill(morning if "morning" in (field.get_attribute("aria-label") or "") else evening)
    return checker
