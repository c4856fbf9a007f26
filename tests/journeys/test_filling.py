"""At the bench: interruptions, wrong bottles, scans wherever the focus is, and no mouse."""

import re
from collections.abc import Callable

from playwright.sync_api import expect
from tests.journeys.conftest import Bench
from tests.journeys.station import Station

BISOPROLOL = "01062910415002131727063010LOT42A"
METFORMIN = "010501234567890017270630" + "10K2207"

BenchAt = Callable[[str], Bench]


def at_the_card(bench: Bench, who: str = "tamm", where: str = "bench 1") -> Station:
    return bench.station(where).sign_in(who).go(f"/cards/{bench.card}/fill")


def test_a_fill_that_was_interrupted_goes_on_at_another_station(bench_at: BenchAt) -> None:
    # given a technician who has the first bottle in the hand and is called away after three days
    bench = bench_at("ready_to_fill")
    first = at_the_card(bench).scan(BISOPROLOL).sees("7 tablets from the bottle")
    first.press("I stopped part way").sees("Tick each cavity that is full")
    first.require_sound_screen()
    for day in ("Mon 2 Mar 2026", "Tue 3 Mar 2026", "Wed 4 Mar 2026"):
        first.page.get_by_label(day).check(force=True)
    first.press("The ticked cavities are full").sees("3 placed").sees("Scan the bottle now")
    first.page.context.close()

    # when somebody else scans the card at another station
    second = bench.station("bench 2").sign_in("okafor").press("Find a card")
    second.require_sound_screen()
    second.scan(bench.card).sees("This card is filling")
    second.press("Go on filling card")

    # then four cavities are left to fill, and only after a new scan of the bottle
    second.sees("bisoprolol")
    assert places(second) == ["1"] * 4
    second.scan(BISOPROLOL).sees("4 tablets from the bottle").press("All 4 placed").sees("metformin")

    # and the card's history names both people and both stations
    second.go(f"/cards/{bench.card}").sees("3 tablets of bisoprolol").sees("4 tablets of bisoprolol")
    words = second.page.locator(".life").inner_text()
    assert "R. Tamm" in words
    assert "B. Okafor" in words
    assert re.search(r"bench 1[\s\S]*bench 2", words)


def test_a_wrong_bottle_is_a_clear_stop_and_nothing_is_placed(bench_at: BenchAt) -> None:
    bench = bench_at("ready_to_fill")
    station = at_the_card(bench).sees("bisoprolol")

    # when the bottle of another medicine is scanned
    station.scan(METFORMIN)

    # then the screen stops, names both medicines, and nothing was placed
    station.sees("Stop: this is another medicine").sees("This is metformin 500 mg tablet, not bisoprolol 5 mg tablet").sees(
        "Nothing was placed"
    )
    station.require_sound_screen()
    assert places(station) == ["1"] * 7

    # and the right bottle mends it, and the history keeps what was tried
    station.scan(BISOPROLOL).sees("7 tablets from the bottle")
    station.go(f"/cards/{bench.card}").sees("Tried to place a medicine: refused")


def test_an_unreadable_or_unknown_code_places_nothing(bench_at: BenchAt) -> None:
    station = at_the_card(bench_at("ready_to_fill"))
    station.scan("01062910415002141727063010LOT42A").sees("check digit is wrong").sees("Nothing was placed")
    station.scan("0116291041500210172706301 0LOT42A".replace(" ", "")).sees("is not in the catalogue").sees("Nothing was placed")
    station.scan("01062910415002131727063010NEVERCAME").sees("has not been received").sees("Nothing was placed")
    assert places(station) == ["1"] * 7


def test_a_code_without_a_lot_asks_for_what_the_bottle_says(bench_at: BenchAt) -> None:
    station = at_the_card(bench_at("ready_to_fill")).scan("6291041500213").sees("Read it from the bottle")
    station.require_sound_screen()
    station.page.get_by_label("Lot").fill("LOT42A")
    station.page.get_by_label("Expires").fill("2027-06-30")
    station.press("That is what the bottle says").sees("7 tablets from the bottle").sees("lot LOT42A")


def test_a_scan_goes_to_the_scan_field_wherever_the_focus_is(bench_at: BenchAt) -> None:
    # given a bottle in the hand and the focus on the button that says "all placed"
    bench = bench_at("ready_to_fill")
    station = at_the_card(bench).scan(BISOPROLOL).sees("All 7 placed")
    expect(station.page.get_by_role("button", name="All 7 placed")).to_be_focused()

    # when a scan ends with Enter there, the button is not pressed
    station.scan(METFORMIN)
    station.sees("7 tablets from the bottle").sees("bisoprolol")

    # and the card's own number leads to the card, from there and from anywhere
    station.scan(bench.card).sees("This card is printed")

    # and a scan into the reason field of another screen leaves nothing behind in it
    station.go("/stock?bare=yes").page.get_by_label("Lot").focus()
    station.page.keyboard.type("A1")
    station.page.wait_for_timeout(200)
    station.scan(METFORMIN)
    expect(station.page.get_by_label("Lot")).to_have_value("A1")


def test_the_whole_fill_without_a_mouse(bench_at: BenchAt) -> None:
    bench = bench_at("ready_to_fill")
    station = at_the_card(bench)
    keyboard = station.page.keyboard
    for code, left in ((BISOPROLOL, "metformin"), (METFORMIN, "All 2 medicines of this card are placed")):
        expect(station.page.get_by_label("Scan the bottle now")).to_be_focused()
        keyboard.type(code, delay=100)  # a hand on the keys, not a scanner
        keyboard.press("Enter")
        expect(station.page.locator(".next")).to_be_focused()
        keyboard.press("Enter")
        station.sees(left)
    expect(station.page.get_by_role("button", name="The card is filled")).to_be_focused()
    keyboard.press("Enter")
    station.sees("This card is filled")


def test_pressing_twice_places_once(bench_at: BenchAt) -> None:
    # given a placement whose answer got lost, so that the form is sent again as it was
    bench = bench_at("ready_to_fill")
    station = at_the_card(bench).scan(BISOPROLOL).sees("All 7 placed")
    form = station.page.evaluate("[...new FormData(document.querySelector('#placing'))]")
    for _ in range(2):
        sent = "&".join(
            f"{station.page.evaluate('encodeURIComponent', name)}={station.page.evaluate('encodeURIComponent', value)}"
            for name, value in form
        )
        answer = station.page.request.post(
            f"/cards/{bench.card}/fill/place",
            data=sent,
            headers={"Content-Type": "application/x-www-form-urlencoded", "Referer": station.page.url},
        )
        assert answer.status == 200
    station.go(f"/cards/{bench.card}")
    assert station.page.locator(".life").inner_text().count("7 tablets of bisoprolol") == 1


def places(station: Station) -> list[str]:
    """The big numerals on the card."""
    return [found.inner_text() for found in station.page.locator("td .place").all()]


def test_a_bottle_that_cannot_be_scanned_needs_a_reason_and_the_reason_is_kept(bench_at: BenchAt) -> None:
    bench = bench_at("ready_to_fill")
    station = at_the_card(bench).press("It cannot be scanned")
    station.require_sound_screen()
    station.page.get_by_label("Why it cannot be scanned").fill("the code is torn")
    station.page.get_by_label("Lot").fill("LOT42A")
    station.page.get_by_label("Expires").fill("2027-06-30")
    station.press("That is what the bottle says").sees("7 tablets from the bottle").press("All 7 placed").sees("metformin")
    station.go(f"/cards/{bench.card}").sees("because the code is torn")


def test_a_code_whose_lot_may_have_swallowed_the_next_field_is_read_from_the_bottle(bench_at: BenchAt) -> None:
    station = at_the_card(bench_at("ready_to_fill")).scan("0106291041500213" + "17270630" + "10LOT42A21SN0001")
    station.sees("Read it from the bottle").sees("its end may be the next field")
    station.page.get_by_label("Lot").fill("LOT42A")
    station.press("That is what the bottle says").sees("lot LOT42A")


def test_two_lots_fill_one_medicine(bench_at: BenchAt) -> None:
    # given a lot of which two tablets are left, taken into stock by its scan
    bench = bench_at("ready_to_fill")
    station = bench.station("bench 1").sign_in("tamm").go("/stock").scan("0106291041500213" + "17270630" + "10LAST2").sees("bisoprolol")
    station.page.get_by_label("How many units").fill("2")
    station.press("It is in stock")

    # when that bottle is scanned, the screen says how far it reaches
    station.go(f"/cards/{bench.card}/fill").scan("0106291041500213" + "17270630" + "10LAST2")
    station.sees("2 tablets of lot LAST2 are in stock by the records")
    station.require_sound_screen()
    for day in ("Mon 2 Mar 2026", "Tue 3 Mar 2026"):
        station.page.get_by_label(day).check(force=True)
    station.press("The ticked cavities are full").sees("2 placed")

    # then the next bottle fills the rest, and the history has both lots
    station.scan(BISOPROLOL).sees("5 tablets from the bottle").press("All 5 placed").sees("metformin")
    station.go(f"/cards/{bench.card}").sees("lot LAST2").sees("lot LOT42A")
