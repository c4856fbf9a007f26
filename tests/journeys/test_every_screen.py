"""Every screen of the table of addresses: sound by axe-core, nothing too small to touch, nothing wider than the bench's screen."""

import ast
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlsplit

from django.urls import resolve
from tests import small_bench
from tests.journeys.conftest import Bench

from dosewright.web.rights import SCREENS as TABLE

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
    "/rules/new/apart",
    "/rules/new/spacing",
    "/rules/spacing.levothyroxine",
    "/rules/spacing.levothyroxine/change",
    "/rules/pair.bisphosphonate/change",
    "/stock",
    "/stock?scan=01062910415002131727063010LOT42A",
    "/stock?bare=yes",
    "/printers",
    "/stock/bisoprolol-5/LOT42A/waste",
    "/stock/bisoprolol-5/LOT42A/recall",
    "/stock/bisoprolol-5/LOT42A/recall/lift",
    "/programs",
)

# Screens that this pharmacy does not come to, and the journey that looks at each
ELSEWHERE = {
    "sign-in": "test_signing_in.py::test_somebody_signs_in_and_the_strip_says_who_and_where",
    "locked": "test_shared_bench.py::test_wrong_pins_are_said_and_lock_the_account",
    "home": "test_shared_bench.py::test_a_card_goes_by_the_driver_to_the_home_whose_carer_receives_it",
    "home-person": "test_shared_bench.py::test_a_card_goes_by_the_driver_to_the_home_whose_carer_receives_it",
    "home-card": "test_shared_bench.py::test_a_card_goes_by_the_driver_to_the_home_whose_carer_receives_it",
    "receive-card": "test_shared_bench.py::test_a_card_goes_by_the_driver_to_the_home_whose_carer_receives_it",
    "reject-order": "test_confirming.py::test_more_than_a_day_allows_is_confirmed_with_a_reason_only",
    "revoke-wording": "test_confirming.py::test_a_question_is_answered_remembered_used_and_taken_back",
    "settle-unused": "test_every_screen.py::test_what_comes_in_and_cannot_be_used_and_what_programs_may_do",
    "revoke-token": "test_every_screen.py::test_what_comes_in_and_cannot_be_used_and_what_programs_may_do",
    "change": "test_stop_on_day_10.py::test_a_stop_on_day_10_is_brought_to_the_end",
    "withdraw-change": "test_stop_on_day_10.py::test_a_stop_on_day_10_is_brought_to_the_end",
    "reopen-change": "test_stop_on_day_10.py::test_a_stop_on_day_10_is_brought_to_the_end",
    "change-card": "test_stop_on_day_10.py::put_right",
    "change-check": "test_stop_on_day_10.py::put_right",
    "sheet": "test_stop_on_day_10.py::test_a_stop_on_day_10_is_brought_to_the_end",
    "long-work": "test_work_of_many.py::test_a_home_is_planned_printed_and_filled_together",
    "batch": "test_work_of_many.py::test_a_home_is_planned_printed_and_filled_together",
    "drop-rule": "test_rules_and_as_needed.py::test_a_pharmacist_finds_a_rule_changes_it_and_sees_its_history",
}
# Files, pictures, and a part of a page that shows within it
NO_SCREEN = {"paper-file", "paper-page", "sheet-file", "sheet-page", "measuring-sheet", "long-work-progress"}


def test_no_screen_is_forgotten() -> None:
    """R14's table names every address: each that shows a screen is looked at here, or by the journey that is named."""
    here = {resolve(urlsplit(path.format(card="1")).path).url_name for path in SCREENS}
    assert here | set(ELSEWHERE) | NO_SCREEN == {address.name for address in TABLE if not address.changes}
    assert not here & (set(ELSEWHERE) | NO_SCREEN)


def test_the_journey_that_is_named_looks_at_its_screens() -> None:
    asked = {where: _text_of(*where.split("::")) for where in ELSEWHERE.values()}
    assert [where for where, text in asked.items() if "require_sound_screen" not in text and "look(" not in text] == []


def _text_of(file: str, name: str) -> str:
    source = (Path(__file__).parent / file).read_text("utf-8")
    found = [node for node in ast.parse(source).body if isinstance(node, ast.FunctionDef) and node.name == name]
    return ast.get_source_segment(source, found[0]) or "" if found else ""


def test_every_screen_is_sound_in_the_middle_of_a_card_s_life(bench_at: BenchAt) -> None:
    bench = bench_at("filled")
    pharmacist = bench.station("office").sign_in("moreau")
    for path in SCREENS:
        screen = pharmacist.go(path.format(card=bench.card))
        screen.require_sound_screen()
        screen.require_readable_at_twice_the_size()


def test_what_comes_in_and_cannot_be_used_and_what_programs_may_do(bench_at: BenchAt, tmp_path: Path) -> None:
    # given a file with an order for a medicine that nobody knows
    pharmacist = bench_at("opened").station("office").sign_in("moreau").go("/orders/in")
    file = tmp_path / "orders.csv"
    file.write_text(small_bench.HEADER + small_bench.ORDERS["RX2"].replace("metformin-500", "no-such-medicine"), encoding="utf-8")
    pharmacist.page.get_by_label("The file").set_input_files(file)
    pharmacist.press("Take this file in")
    pharmacist.go("/orders/not-used/1").sees("no-such-medicine").require_sound_screen()

    # and a program that may look
    pharmacist.go("/programs").page.get_by_label("What the program is called").fill("shelf lights")
    pharmacist.page.get_by_label("Acts in the name of").fill("moreau")
    pharmacist.page.get_by_label("Last day").fill("2026-03-31")
    pharmacist.page.get_by_role("checkbox").first.check()
    pharmacist.press("Make the token and show it once").sees("Copy the token").require_sound_screen()
    pharmacist.go("/programs/1/revoke").sees("shelf lights").require_sound_screen()


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
