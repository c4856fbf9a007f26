"""A pharmacist looks whether fewer dosing times would do, leaves an order where it is, thinks again, and takes the proposal up."""

from collections.abc import Callable

from playwright.sync_api import expect
from tests.journeys.conftest import Bench

BenchAt = Callable[[str], Bench]


def test_fewer_times_are_looked_at_left_and_taken_up(bench_at: BenchAt) -> None:
    # given somebody who takes medicines three times a day, on a card that is planned
    bench = bench_at("room_for_fewer_times")
    pharmacist = bench.station("office").sign_in("moreau").go("/people/p1")
    pharmacist.require_sound_screen()

    # when the pharmacist asks whether fewer would do
    pharmacist.press("Would fewer times do?").sees("2 dosing times instead of 3, and no fewer will do")
    pharmacist.sees("The directions say 2 times a day, and not when")
    pharmacist.sees("its directions name the time")
    pharmacist.require_sound_screen()
    pharmacist.require_readable_at_twice_the_size()
    first = pharmacist.page.locator("input#first").input_value()

    # and an order may be left where it is
    pharmacist.press("Leave it there").sees("3 dosing times, as today: no fewer will do").sees("stays: as asked.")
    pharmacist.require_sound_screen()
    pharmacist.press("Let all orders move again")

    # then nothing is taken up without a word about with whom it was agreed
    pharmacist.press("These 2 times from")
    expect(pharmacist.page.locator("#agreed:invalid")).to_be_visible()

    # and with it the order counts at its new times from that day on
    pharmacist.page.get_by_label("Agreed with").fill("Wilhelmina Okonedo-Hart")
    pharmacist.press("These 2 times from").sees("1 order at the new times.")
    pharmacist.sees("Take ONE tablet in the morning and ONE tablet at bedtime.").sees("as received: Take 1 tablet twice a day")
    pharmacist.require_sound_screen()

    # and from that day on there is nothing left to propose
    pharmacist.go(f"/people/p1/times?first={first}").sees("2 dosing times, as today: no fewer will do")


def test_a_technician_is_not_asked_and_may_not(bench_at: BenchAt) -> None:
    bench = bench_at("room_for_fewer_times")
    technician = bench.station("bench 1").sign_in("tamm").go("/people/p1")
    technician.never_sees("Would fewer times do?")
    technician.go("/people/p1/times").sees("a pharmacist")
