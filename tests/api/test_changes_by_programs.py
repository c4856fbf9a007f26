"""A stop on day 10 of 28 brought to its end by programs alone: decided and signed, worked off card by card, counted again, done."""

from datetime import UTC, datetime
from typing import Any

import pytest
from tests import four_weeks, small_bench
from tests.api.conftest import PASSWORD, Program, Programs
from tests.api.test_a_card_by_programs import done, refused

from dosewright.core.custody.event import Role
from dosewright.core.supply.account import check_accounts
from dosewright.core.units.finding import needs_a_person
from dosewright.core.units.ids import HomeId
from dosewright.devices.clock import FixedClock
from dosewright.store.card_units import load_units_in_cards
from dosewright.store.ledger import check_ledger
from dosewright.store.people import save_home
from dosewright.store.stock import load_movements, load_stock_by_lot

BOTTLE = "01062910415002131727063010LOT42A"


@pytest.fixture(autouse=True)
def _day_9(settings: Any, _clock: None) -> None:
    settings.BENCH_CLOCK = FixedClock(datetime(2026, 3, 10, 9, 30, tzinfo=UTC))


def put_right(task: dict[str, Any], technician: Program, checker: Program, pharmacist: Program) -> None:
    """One card by its work list: out with what leaves, new labels, counted medicine by medicine, closed, released."""
    card = task["card"]
    assert (task["waits"], task["entering"], task["old_labels"]) == ("work", [], True)
    for leaving in task["leaving"]:
        wrong = technician.post(f"/cards/{card}/remove", {"medicine": leaving["medicine"], "scan": BOTTLE})
        assert refused(wrong, 422) == {"change.bottle-is-no-waste"}
        done(technician.post(f"/cards/{card}/remove", {"medicine": leaving["medicine"], "scan": "WASTE-1"}))
    done(technician.post(f"/cards/{card}/relabel"))
    done(technician.post(f"/cards/{card}/finish"))
    cavities = technician.get(f"/cards/{card}")[1]["cavities"]
    plan = checker.get(f"/cards/{card}/check-plan")[1]
    spots = {(one["row"], one["column"]) for one in plan["cavities"]}
    units = {(one["row"], one["column"]): str(sum(int(c["asked"]) for c in one["contents"])) for one in cavities}
    counts = [{"row": row, "column": column, "units": units[row, column]} for row, column in sorted(spots & units.keys())]
    assert refused(checker.post(f"/cards/{card}/check", {"seen": plan["seen"], "counts": counts}), 422) == {"change.disturbed-not-counted"}
    opened = []
    for spot in task["opened"]:
        row, column = map(int, spot.split("."))
        lies = {c["medicine"]: c["asked"] for one in cavities if (one["row"], one["column"]) == (row, column) for c in one["contents"]}
        opened += [{"row": row, "column": column, "medicine": m, "units": lies.get(m, "0")} for m in {*lies, "bisoprolol-5"}]
    done(checker.post(f"/cards/{card}/check", {"seen": plan["seen"], "counts": counts, "opened": opened}))
    done(technician.post(f"/cards/{card}/seal"))
    done(pharmacist.post(f"/cards/{card}/release", {"password": PASSWORD}))


def test_a_stop_on_day_10_is_brought_to_its_end_by_programs(programs: Programs) -> None:
    _, out, *_ = four_weeks.stopped_on_day_10()
    pharmacist, technician, checker = programs(Role.PHARMACIST), programs(Role.TECHNICIAN), programs(Role.CHECKER)
    (one,) = technician.get("/changes")[1]
    assert (one["standing"], one["first"], one["cause"]) == ("waiting", "2026-03-11T08:00", "orders")
    change = f"/changes/{one['id']}"

    # it is decided by its own password only, as it was shown only
    laid = pharmacist.get(change)[1]
    decide = {"shown": laid["shown"], "reason": "agreed with Dr Example", "password": PASSWORD}
    assert refused(pharmacist.post(f"{change}/decide", {**decide, "password": "guess"}), 403) == {"custody.wrong-password"}
    assert "change.shown-differs" in refused(pharmacist.post(f"{change}/decide", {**decide, "shown": "something else"}), 422)
    assert refused(technician.post(f"{change}/decide", decide), 403) == {"custody.no-right"}
    done(pharmacist.post(f"{change}/decide", decide))
    done(technician.post(f"{change}/sheets", {"kind": "labels"}))

    # the cards on the shelf are put right, the one that is out comes back and is counted beside the record
    here = [task for task in technician.get(change)[1]["tasks"] if task["waits"] == "work"]
    assert len(here) == 2
    for task in here:
        put_right(task, technician, checker, pharmacist)
    assert refused(pharmacist.post(f"{change}/done"), 422) >= {"change.card-not-right"}
    counted, recorded = [], []
    for cavity in technician.get(f"/cards/{out}")[1]["cavities"]:
        gone = cavity["day"] == "2026-03-09" or (cavity["day"] == "2026-03-10" and cavity["slot"] == "morning")
        recorded += [{"row": cavity["row"], "column": cavity["column"]}] if gone else []
        for held in cavity["contents"]:
            counted.append({**{k: cavity[k] for k in ("row", "column")}, "order": held["order"], "amount": "0" if gone else held["placed"]})
    done(technician.post(f"/cards/{out}/back", {"counted": counted, "recorded": recorded}))
    done(technician.post(f"{change}/sheets", {"kind": "labels", "reason": "another card came back"}))
    (task,) = [task for task in technician.get(change)[1]["tasks"] if task["waits"]]
    put_right(task, technician, checker, pharmacist)

    # then the recount agrees, and it is done
    assert pharmacist.get(change)[1]["recount"] == []
    done(pharmacist.post(f"{change}/done"))
    assert [one["id"] for one in technician.get("/changes?standing=done")[1]] == [one["id"]]
    assert technician.get("/changes")[1] == []
    assert not needs_a_person(check_ledger())  # notes say that the tests' people came and went by another clock
    assert check_accounts(load_movements(), load_stock_by_lot(), load_units_in_cards()) == ()


def test_hospital_a_move_and_a_card_that_nobody_finds(programs: Programs) -> None:
    card = small_bench.sealed()
    save_home(HomeId("lindens"), "The Lindens")
    pharmacist, technician = programs(Role.PHARMACIST), programs(Role.TECHNICIAN)
    away = {"cause": "suspended", "day": "2026-03-11", "reason": "in hospital since this morning"}
    assert refused(technician.post("/people/p1/change", away), 403) == {"custody.no-right"}
    assert refused(pharmacist.post("/people/p1/change", {**away, "cause": "away"}), 422) == {"custody.request-wrong"}
    assert refused(pharmacist.post("/people/p1/change", {**away, "cause": "resumed"}), 422) == {"change.nothing-suspended"}
    assert refused(pharmacist.post("/people/p1/change", {**away, "cause": "moved home", "home": "nowhere"}), 404) == {"custody.not-there"}
    done(pharmacist.post("/people/p1/change", {**away, "cause": "moved home", "home": "lindens", "room": "12"}))
    (one,) = technician.get("/changes")[1]
    assert (one["cause"], one["home"]) == ("moved home", "lindens")
    done(technician.post(f"/cards/{card}/look", {"found": False, "reason": "not on the shelf"}))
    assert refused(technician.post(f"/cards/{card}/seal"), 422) >= {"custody.card-not-found"}
    done(technician.post(f"/cards/{card}/look", {"found": True, "reason": "behind the printer"}))
    assert refused(pharmacist.post(f"/changes/{one['id']}/anew", {"reason": "x"}), 422) == {"change.wrong-standing"}
    assert refused(pharmacist.post(f"/changes/{one['id']}/withdraw", {"reason": ""}), 422) == {"custody.no-reason"}
    done(pharmacist.post(f"/changes/{one['id']}/withdraw", {"reason": "it was another person"}))
