"""A card's whole life by programs: the same actions as at the bench, the same refusals, each with its finding."""

from typing import Any

from tests import small_bench as bench
from tests.api.conftest import PASSWORD, Program, Programs

from dosewright.core.custody.event import Role
from dosewright.core.supply.account import check_accounts
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.ids import CardNumber
from dosewright.store.card_units import load_units_in_cards
from dosewright.store.ledger import check_ledger, load_card_events, load_entries
from dosewright.store.stock import load_movements, load_stock_by_lot

SCANS = {bench.BISOPROLOL: "01062910415002131727063010LOT42A", bench.METFORMIN: "]d201050123456789001727063010K2207"}


def done(answered: tuple[int, Any]) -> list[str]:
    """It was done; what was made of it."""
    status, body = answered
    assert (status, body["done"]) == (200, True), body
    made: list[str] = body["made"]
    return made


def refused(answered: tuple[int, Any], status: int) -> set[str]:
    """It was not, with this status; the codes why, each with its sentence."""
    assert answered[0] == status, answered
    assert not answered[1]["done"]
    assert all(finding["message"] for finding in answered[1]["findings"])
    return {finding["code"] for finding in answered[1]["findings"]}


def sound() -> None:
    """The ledger holds and every unit is somewhere (R11, R12)."""
    assert check_ledger() == ()
    assert check_accounts(load_movements(), load_stock_by_lot(), load_units_in_cards()) == ()


def printed(technician: Program, pharmacist: Program) -> tuple[int, str]:
    """Orders in, confirmed, planned, printed, by programs: the set and its card."""
    bench.set_up(STANDARD_TIMETABLE)
    done(technician.post("/medicines", bench.MEDICINES, kind="text/csv"))
    for medicine, scan in SCANS.items():
        body = {"medicine": medicine, "lot": bench.LOTS[medicine], "expiry": "2027-06-30", "amount": "100", "scan": scan}
        done(technician.post("/stock", body))
    orders = done(technician.post("/orders?name=orders.csv", (bench.HEADER + "".join(bench.ORDERS.values())).encode(), kind="text/csv"))
    assert [one["id"] for one in pharmacist.get("/orders/waiting")[1]] == orders[1:]
    for order in orders[1:]:
        done(pharmacist.post(f"/orders/{order}/confirm"))
    (set_id,) = done(technician.post("/people/p1/plan", {"first": "2026-03-02", "days": 7}))
    assert len(done(technician.post(f"/sets/{set_id}/print"))) == 3
    (found,) = technician.get("/sets")[1]
    return int(set_id), found["cards"][0]["number"]


def filled(technician: Program, set_id: int, card: str) -> None:
    """Both medicines scanned and placed, the card full."""
    for medicine, scan in SCANS.items():
        bottle = {"medicine": medicine, "scan": scan}
        done(technician.post(f"/cards/{card}/scan", bottle))
        done(technician.post(f"/sets/{set_id}/place", {**bottle, "lot": bench.LOTS[medicine], "expiry": "2027-06-30"}))
    done(technician.post(f"/cards/{card}/finish"))


def counts(program: Program, card: str) -> list[dict[str, Any]]:
    """A careful checker's, from what the orders ask."""
    asked = {"bisoprolol-5": "1", "metformin-500": "0.5"}
    cavities = program.get(f"/cards/{card}")[1]["cavities"]
    return [{"row": c["row"], "column": c["column"], "units": asked[c["contents"][0]["medicine"]]} for c in cavities]


def own(program: Program, card: str) -> dict[str, Any]:
    """The request of such a checker, who asked for the plan before the counting began."""
    return {"seen": program.get(f"/cards/{card}/check-plan")[1]["seen"], "counts": counts(program, card)}


def test_counts_that_a_program_began_before_the_card_was_opened_again_accept_nothing(programs: Programs) -> None:
    technician, checker, pharmacist = (programs(role) for role in (Role.TECHNICIAN, Role.CHECKER, Role.PHARMACIST))
    set_id, card = printed(technician, pharmacist)
    filled(technician, set_id, card)
    old = own(checker, card)
    done(pharmacist.post(f"/cards/{card}/send-back", {"kind": "damaged", "reason": "one is chipped"}))
    done(technician.post(f"/cards/{card}/finish"))
    assert refused(checker.post(f"/cards/{card}/check", old), 422) == {"custody.moved-on"}
    unsaid = checker.post(f"/cards/{card}/check", {"counts": old["counts"]})
    assert refused(unsaid, 422) == {"custody.request-wrong"}
    assert unsaid[1]["findings"][0]["facts"]["field"] == "seen"
    done(checker.post(f"/cards/{card}/check", own(checker, card)))


def test_a_card_goes_from_order_to_hand_over_by_programs_alone(programs: Programs) -> None:
    technician, checker, pharmacist = (programs(role) for role in (Role.TECHNICIAN, Role.CHECKER, Role.PHARMACIST))
    set_id, card = printed(technician, pharmacist)
    filled(technician, set_id, card)
    done(checker.post(f"/cards/{card}/check", own(checker, card)))
    done(technician.post(f"/cards/{card}/seal"))
    assert refused(pharmacist.post(f"/cards/{card}/release", {"password": "not this"}), 403) == {"custody.wrong-password"}
    done(pharmacist.post(f"/cards/{card}/release", {"password": PASSWORD}))
    done(technician.post(f"/cards/{card}/hand-over", {"to": "Wilhelmina Okonedo-Hart"}))
    deeds = [event["deed"] for event in technician.get(f"/cards/{card}/history")[1]]
    assert deeds == ["planned", "printed", "placed", "placed", "filled", "checked", "sealed", "released", "handed over"]
    assert {event.station for event in load_card_events(CardNumber(card))} == {"program a program"}
    sound()


def test_what_was_laid_wrong_is_taken_out_sent_back_and_wasted(programs: Programs) -> None:
    technician, checker, pharmacist = (programs(role) for role in (Role.TECHNICIAN, Role.CHECKER, Role.PHARMACIST))
    set_id, card = printed(technician, pharmacist)
    filled(technician, set_id, card)
    wrong = [{**one, "units": "3"} for one in counts(checker, card)]
    assert "checking.count-differs" in refused(checker.post(f"/cards/{card}/check", {**own(checker, card), "counts": wrong}), 422)
    done(checker.post(f"/cards/{card}/send-back", {"kind": "damaged", "reason": "one is chipped"}))
    cell = {"row": 1, "column": 1, "order": "RX1", "amount": "1"}
    taken = {"medicine": "bisoprolol-5", "lot": "LOT42A", "cells": [cell], "to": "waste", "reason": "chipped"}
    assert refused(technician.post(f"/cards/{card}/take-out", {**taken, "cells": [cell, cell]}), 422) == {"custody.request-wrong"}
    done(technician.post(f"/cards/{card}/take-out", taken))
    done(technician.post("/stock/waste", {"medicine": "bisoprolol-5", "lot": "LOT42A", "amount": "2", "reason": "spilled"}))
    done(pharmacist.post(f"/cards/{card}/withdraw", {"reason": "planned anew"}))
    done(technician.post(f"/cards/{card}/destroy", {"reason": "withdrawn", "witness": "Tess Aldous"}))
    sound()


def test_r8_the_person_behind_two_programs_is_one_person(programs: Programs) -> None:
    """The deed bears the account, not the program: filling by one token and checking by another is the same pair of hands."""
    pharmacist, other = programs(Role.PHARMACIST, "priya"), programs(Role.PHARMACIST, "priya")
    set_id, card = printed(pharmacist, pharmacist)
    filled(pharmacist, set_id, card)
    assert "checking.same-hands" in refused(other.post(f"/cards/{card}/check", own(other, card)), 422)


def test_a_request_sent_again_with_its_key_is_done_once_and_answered_as_it_was(programs: Programs) -> None:
    technician = programs(Role.TECHNICIAN)
    bench.opened()
    body = {"medicine": "bisoprolol-5", "lot": "LOT42A", "amount": "1", "reason": "spilled"}
    first, again = (technician.post("/stock/waste", body, key="once-and-only") for _ in range(2))
    assert first == again
    assert [entry.event for entry in load_entries("medicine")].count("units wasted") == 1
    assert refused(technician.post("/stock/waste", {**body, "amount": "2"}, key="once-and-only"), 409) == {"custody.key-used"}
    assert [entry.event for entry in load_entries("medicine")].count("units wasted") == 1


def test_without_a_key_nothing_is_changed(programs: Programs) -> None:
    technician = programs(Role.TECHNICIAN)
    bench.opened()
    before = len(list(load_entries()))
    for key in ("short", "with a blank", "x" * 81):
        body = {"medicine": "bisoprolol-5", "lot": "LOT42A", "amount": "1", "reason": "spilled"}
        assert refused(technician.post("/stock/waste", body, key=key), 400) == {"custody.no-key"}
    assert len(list(load_entries())) == before


def test_bad_input_names_the_field_and_never_what_was_sent(programs: Programs) -> None:
    technician = programs(Role.TECHNICIAN)
    bench.opened()
    status, body = technician.post("/stock/waste", {"medicine": "bisoprolol-5", "lot": "Mrs Secret", "amount": "-1", "reason": "x\u202e"})
    assert status == 422
    assert {finding["facts"]["field"] for finding in body["findings"]} == {"amount", "reason"}
    assert "Mrs Secret" not in str(body)
    assert refused(technician.post("/stock/waste", b"{no json"), 400) == {"custody.request-wrong"}
    assert refused(technician.post("/stock/waste", b" " * (3 * 1024 * 1024)), 413) == {"custody.request-too-large"}
    assert refused(technician.get("/nothing-here"), 404) == {"custody.no-such-address"}


def test_an_amount_is_exact_text_and_never_a_float(programs: Programs) -> None:
    technician = programs(Role.TECHNICIAN)
    bench.opened()
    for amount in (0.5, 1, "1e3", "½", "1/0", ""):
        body = {"medicine": "bisoprolol-5", "lot": "LOT42A", "amount": amount, "reason": "spilled"}
        assert "custody.request-wrong" in refused(technician.post("/stock/waste", body), 422), amount


def test_a_program_is_told_which_cavities_to_count_and_what_that_misses(programs: Programs) -> None:
    card, checker = bench.filled_for_a_choice(), programs(Role.CHECKER)
    plan = checker.get(f"/cards/{card}/check-plan")[1]
    assert (plan["of"], plan["drawn"], plan["others"], plan["whole"], len(plan["seed"])) == (14, 4, 7, "", 32)
    assert plan["missed"] == {"1": "3/7", "2": "1/7", "4": "0"}
    assert sum(one["why"] == ["part of a unit"] for one in plan["cavities"]) == 7
    demanded = {(one["row"], one["column"]) for one in plan["cavities"]}
    done(
        checker.post(
            f"/cards/{card}/check",
            {"seen": plan["seen"], "counts": [c for c in counts(checker, card) if (c["row"], c["column"]) in demanded]},
        )
    )
    (checked,) = [one for one in programs(Role.PHARMACIST).get(f"/cards/{card}/history")[1] if one["deed"] == "checked"]
    assert (checked["facts"]["cavities"], checked["facts"]["of"], checked["facts"]["missed if one is wrong"]) == (11, 14, "3/7")
