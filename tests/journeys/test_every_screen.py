"""Every screen that takes no change: sound by axe-core, nothing too small to touch, nothing wider than the bench's screen."""

from collections.abc import Callable

from tests.journeys.conftest import Bench

BenchAt = Callable[[str], Bench]

SCREENS = (
    "/",
    "/my-badge",
    "/accounts",
    "/accounts/new",
    "/accounts/tamm/password",
    "/accounts/tamm/void-badge",
    "/accounts/okafor/close",
    "/ledger",
    "/ledger?q=refused",
    "/deliveries",
    "/owings",
    "/stock/codes",
    "/stock/codes?scan=-04877800",
    "/stock/codes?scan=01062910415002131727063010LOT42A",
    "/sets/1/claim",
    "/?stage=filled&home=At+home",
    "/find",
    "/find?scan=000000000000000",
    "/orders/in",
    "/medicines/in",
    "/orders/readings",
    "/orders/readings/RX1",
    "/orders/readings/RX1/remember",
    "/orders/wordings",
    "/people",
    "/people?q=wil",
    "/people/p1",
    "/people/p1/times",
    "/people/nobody",
    "/orders/RX1/stop",
    "/orders/RX1/place",
    "/changes",
    "/changes/figures",
    "/people/p1/change",
    "/cards/{card}/look",
    "/cards/{card}/back",
    "/plan",
    "/plan?person=p1",
    "/sets/1",
    "/sets/1/why",
    "/sets/1/paper",
    "/sets/1/labels",
    "/labels",
    "/sheets",
    "/cards/{card}",
    "/cards/{card}/history",
    "/history",
    "/history?scan=nobody",
    "/cards/{card}/why/1/1",
    "/cards/{card}/why/9/9",
    "/cards/{card}/fill",
    "/cards/{card}/check",
    "/cards/{card}/check/counts",
    "/cards/{card}/seal",
    "/cards/{card}/release",
    "/cards/{card}/send-back",
    "/cards/{card}/withdraw",
    "/cards/{card}/out-of-date",
    "/cards/{card}/hand-over",
    "/cards/{card}/return",
    "/cards/{card}/destroy",
    "/cards/{card}/fill/take-out",
    "/near-misses",
    "/near-misses/new",
    "/near-misses/new?card={card}",
    "/near-misses/changes/new",
    "/records",
    "/people/p1/correct",
    "/medicines",
    "/medicines/bisoprolol-5",
    "/medicines/bisoprolol-5/correct",
    "/dosing-times",
    "/dosing-times/pharmacy/here",
    "/dosing-times/person/p1",
    "/settings/format",
    "/settings/profile",
    "/settings/format/13",
    "/rules",
    "/rules?q=omeprazole",
    "/rules/new",
    "/rules/product.omeprazole",
    "/rules/product.omeprazole/change",
    "/rules/form.effervescent/change",
    "/stock",
    "/stock?scan=01062910415002131727063010LOT42A",
    "/stock?bare=yes",
    "/printers",
    "/stock/bisoprolol-5/LOT42A/waste",
)


def test_every_screen_is_sound_in_the_middle_of_a_card_s_life(bench_at: BenchAt) -> None:
    bench = bench_at("filled")
    pharmacist = bench.station("office").sign_in("moreau")
    for path in SCREENS:
        screen = pharmacist.go(path.format(card=bench.card))
        screen.require_sound_screen()
        screen.require_readable_at_twice_the_size()


def test_a_card_that_left_comes_back_and_is_destroyed(bench_at: BenchAt) -> None:
    # given a card that may leave
    bench = bench_at("released")
    technician = bench.station("bench 1").sign_in("tamm").press("Hand over card")
    technician.page.get_by_label("Received by").fill("W. Okonedo-Hart")
    technician.require_sound_screen()
    technician.press("The card is handed over").sees("This card is handed over").press("Take back card")

    # when it comes back with one morning left in it
    for field in technician.page.locator("input[inputmode=decimal]").all():
        field.fill("1" if "bisoprolol 5 mg tablet, Sun 8 Mar" in (field.get_attribute("aria-label") or "") else "0")
    technician.require_sound_screen()
    technician.press("This is what came back").sees("This card is returned")

    # then what is left can only be destroyed, before a witness
    technician.press("Destroy what is in it")
    technician.page.get_by_label("Why").fill("came back from the person")
    technician.page.get_by_label("Witness").fill("B. Okafor")
    technician.press("It is destroyed").sees("This card is destroyed").sees("Nothing more is to be done with it here.")
    technician.require_sound_screen()


def test_a_bottle_comes_into_stock_by_its_scan_and_a_broken_unit_leaves_it(bench_at: BenchAt) -> None:
    bench = bench_at("opened")
    technician = bench.station("bench 1").sign_in("tamm").go("/stock").scan("0106291041500213172706301" + "0NEWLOT7")
    technician.sees("bisoprolol 5 mg tablet")
    technician.page.get_by_label("How many units").fill("56")
    technician.press("It is in stock").sees("56 in stock: bisoprolol 5 mg tablet, lot NEWLOT7")
    technician.require_sound_screen()
    technician.page.locator("tr", has_text="NEWLOT7").get_by_role("link").click()
    technician.page.get_by_label("How many units").fill("0.5")
    technician.page.get_by_label("What happened").fill("crumbled")
    technician.press("They are waste").sees("55 and a half")
