"""A pharmacist confirms orders on screen: what is meant, what changes, what is remembered, and what is taken back."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, expect
from tests.journeys.conftest import Bench
from tests.journeys.station import Station

BenchAt = Callable[[str], Bench]


def look(station: Station) -> Station:
    """The screen is sound, and can be read at twice the size."""
    station.require_sound_screen()
    station.require_readable_at_twice_the_size()
    return station


def times(choice: Locator) -> list[str]:
    """What is written beside each dial of a change."""
    return [" ".join(found.inner_text().split()) for found in choice.locator(".shift").all()]


@pytest.fixture
def pharmacist(bench_at: BenchAt) -> Station:
    return bench_at("asked").station("office").sign_in("moreau")


def test_an_order_in_place_of_another_shows_what_changes_from_when(pharmacist: Station) -> None:
    # given an order that may replace the one in force
    look(pharmacist.go("/orders/readings/RX7"))
    pharmacist.sees("Take 1 tablet in the morning.")
    replaces, beside = pharmacist.page.locator(".meaning").all()
    expect(replaces).to_contain_text("From Tue 10 Mar 2026: 2 tablets a day become 1.")
    assert times(replaces) == ["08:00 morning stays 1", "22:00 bedtime 1 → none"]
    expect(beside).to_contain_text("From Tue 10 Mar 2026: 2 tablets a day become 3.")
    assert times(beside) == ["08:00 morning 1 → 2", "22:00 bedtime stays 1"]

    # when it takes its place
    pharmacist.page.get_by_role("radio", name="In place of this order").check()
    look(pharmacist)
    pharmacist.press("That is what is meant").sees("Confirmed: bisoprolol 5 mg tablet")

    # then the one before ends on that day
    look(pharmacist.go("/people/p1").sees("until Tue 10 Mar 2026"))


def test_a_question_is_answered_remembered_used_and_taken_back(pharmacist: Station) -> None:
    # given words that may mean noon or evening
    look(pharmacist.go("/orders/readings/RX8").sees("Which is meant?"))
    pharmacist.page.get_by_role("radio", name="Take 1 tablet with the evening meal.").check()
    look(pharmacist.press("The one chosen is meant").sees("New, from Mon 2 Mar 2026: 0 → 1 tablet a day."))

    # when the pharmacist confirms, and has them remembered
    look(pharmacist.press("It is meant, and always here").sees("is read here as: Take 1 tablet with the evening meal."))
    pharmacist.page.get_by_label("For whom it is read so").select_option("All orders of this pharmacy")
    pharmacist.page.get_by_label("Why, and who said so").fill("asked the surgery: dinner is the evening meal, Dr Example, 2 March")
    pharmacist.press("These words are read so from now on").sees("Remembered: “Take 1 tablet with dinner”")

    # then the next order in these words is laid out so, and still waits
    look(pharmacist.go("/orders/readings/RX10").sees("As this pharmacy reads it").sees("Confirmed by C. Moreau on Mon 2 Mar 2026"))
    pharmacist.never_sees("Which is meant?")

    # and once it is revoked, it is asked about at once
    look(pharmacist.go("/orders/readings").press("Remembered wordings").sees("0 times"))
    look(pharmacist.press("Revoke it").sees("The words are asked about again"))
    pharmacist.page.get_by_label("Why").fill("The Lindens calls the midday meal dinner")
    pharmacist.press("These words are asked about again").sees("1 revoked")
    look(pharmacist)
    pharmacist.go("/orders/readings/RX10").sees("Which is meant?")


def test_more_than_a_day_allows_is_confirmed_with_a_reason_only(pharmacist: Station) -> None:
    look(pharmacist.go("/orders/readings/RX11/reject"))
    look(pharmacist.go("/orders/readings/RX11"))
    pharmacist.sees("together up to 4500 mg in a day").sees("at most 4000 mg is allowed").sees(
        "New, from Mon 2 Mar 2026: 0 → 9 tablets a day."
    )
    pharmacist.page.get_by_label("Why it stays so").fill("weighs 90 kg, agreed with Dr A. Example for this week")
    pharmacist.press("That is what is meant").sees("Confirmed: paracetamol 500 mg tablet")
