"""Signing in at the bench."""

from collections.abc import Callable

from tests.journeys.conftest import Bench

BenchAt = Callable[[str], Bench]


def test_somebody_signs_in_and_the_strip_says_who_and_where(bench_at: BenchAt) -> None:
    # given a station at which nobody is signed in
    bench = bench_at("opened").station("bench 3").go("/")
    bench.sees("Sign in to work at the bench.")
    bench.require_sound_screen()

    # when a technician signs in
    bench.sign_in("tamm")

    # then the work list is there, and the strip names her and the place
    bench.sees("sets")
    assert "R. Tamm, technician · bench 3" in bench.page.locator(".strip").inner_text()
    bench.require_sound_screen()


def test_wrong_passwords_lock_the_account_and_say_so(bench_at: BenchAt) -> None:
    bench = bench_at("opened").station("bench 3")
    for _ in range(4):
        bench.sign_in("tamm", "not-the-password")
        bench.sees("do not belong together")
    bench.sign_in("tamm", "not-the-password")
    bench.sees("This account is locked")
    bench.require_sound_screen()

    # the right password does not open it either
    bench.sign_in("tamm")
    bench.sees("This account is locked")
