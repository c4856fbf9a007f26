"""A 10-inch tablet and only fingers: 1080×810 as it lies, 810×1080 as it stands: a card from the first bottle to its release.

The driver's and the carer's screens are looked at so in test_shared_bench.py."""

from collections.abc import Callable

from tests.journeys.conftest import Bench
from tests.journeys.station import LYING, PASSWORD, Station
from tests.journeys.test_filling import BISOPROLOL, METFORMIN

BenchAt = Callable[[str], Bench]


def tablet(bench: Bench, who: str, where: str = "tablet 1") -> Station:
    return bench.station(where, viewport=LYING, has_touch=True).sign_in(who)


def test_a_card_is_filled_checked_and_released_by_fingers(bench_at: BenchAt) -> None:
    # given a technician with a tablet: the whole card lies beside what to do with it
    bench = bench_at("ready_to_fill")
    technician = tablet(bench, "tamm").require_sound_on_a_tablet().tap("Fill card").scan(BISOPROLOL).sees("7 tablets from the bottle")
    technician.require_sound_on_a_tablet()
    assert foot_of(technician, "table.card") <= LYING["height"]
    assert foot_of(technician, ".next") <= LYING["height"]

    # when she stops part way, ticks with a finger what is full, and goes on
    technician.tap("I stopped part way").sees("Tick each cavity that is full")
    for day in ("Mon 2 Mar 2026", "Tue 3 Mar 2026", "Wed 4 Mar 2026"):
        technician.page.get_by_label(day).tap()
    technician.require_sound_on_a_tablet()
    technician.tap("The ticked cavities are full").sees("3 placed").scan(BISOPROLOL).tap("All 4 placed").sees("metformin")
    technician.scan(METFORMIN).tap("All 3 and a half placed").tap("The card is filled").sees("This card is filled")
    technician.require_sound_on_a_tablet()

    # then somebody else counts, and a pharmacist lets it go
    checker = tablet(bench, "lindqvist", "tablet 2").go(f"/cards/{bench.card}/check").require_sound_on_a_tablet()
    checker.tap("I have read all 2").sees("Write your own count")
    for field in checker.page.locator("input[inputmode=decimal]").all():
        field.tap()
        checker.page.keyboard.type("1" if "morning" in (field.get_attribute("aria-label") or "") else "½")
    checker.require_sound_on_a_tablet().tap("These are my counts").sees("This card is checked")
    pharmacist = tablet(bench, "moreau", "tablet 3").go(f"/cards/{bench.card}").tap("Seal card").require_sound_on_a_tablet()
    pharmacist.tap("The card is sealed").tap("Release card").require_sound_on_a_tablet()
    pharmacist.page.get_by_label("Your password, again").fill(PASSWORD)
    pharmacist.tap("The card may leave").sees("This card is released")

    # and who looks at the record, or at the dosing times, has it whole on the same tablet
    for path in ("/ledger", f"/cards/{bench.card}/history", "/dosing-times/pharmacy/here"):
        pharmacist.go(path).require_sound_on_a_tablet()


def foot_of(station: Station, what: str) -> float:
    """How far down on the screen it reaches."""
    box = station.page.locator(what).first.bounding_box()
    assert box is not None
    return box["y"] + box["height"]
