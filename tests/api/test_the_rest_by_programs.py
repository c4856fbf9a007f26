"""What else is done at the bench, by programs: tokens, accounts, codes taught by two, records, labels, figures, work that goes on."""

import hashlib
import json
from datetime import date
from typing import Any

import pytest
from django.test import Client
from tests import small_bench as bench
from tests.actions.test_orders_not_used import UNKNOWN
from tests.api.conftest import PASSWORD, Program, Programs
from tests.api.test_a_card_by_programs import done, refused
from tests.bench_fixtures import on

from dosewright.actions.carry_on import carry_on
from dosewright.actions.send_back_card import send_back_card
from dosewright.core.custody.event import Role
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.custody.rights import Ability
from dosewright.core.units.ids import Gtin, HomeId
from dosewright.store.catalogue import find_by_gtin
from dosewright.store.ledger import check_ledger, load_entries
from dosewright.store.models import Account, PersonRow, RequestKey
from dosewright.store.people import save_home

CODE = "04150048778006"
OFTEN = {"abilities": ["look", "make a token"], "until": "2026-05-01"}


def refusals(address: str) -> int:
    return sum(entry.event == "refused" for entry in load_entries("address", f"api {address}"))


def test_r7_a_code_counts_when_the_programs_of_two_people_say_the_same_and_not_before(programs: Programs) -> None:
    bench.opened()
    first, again, second = programs(Role.TECHNICIAN, "tess"), programs(Role.TECHNICIAN, "tess"), programs(Role.CHECKER, "chidi")
    said = {"scan": CODE, "medicine": "bisoprolol-5"}
    assert done(first.post("/codes", said)) == []
    (waiting,) = second.get("/codes/waiting")[1]
    assert (waiting["gtin"], waiting["by"]) == (CODE, "The tess")
    assert "bisoprolol" not in json.dumps(waiting)
    assert refused(again.post("/codes", said), 422) == {"supply.code-same-person"}  # another token, the same person
    assert refused(second.post("/codes", {**said, "medicine": "metformin-500"}), 422) == {"supply.code-disagreed"}
    assert find_by_gtin(Gtin(CODE)) is None
    done(second.post(f"/codes/{CODE}/drop"))
    done(second.post("/codes", said))
    assert done(first.post("/codes", said)) == [CODE]
    assert find_by_gtin(Gtin(CODE)) == "bisoprolol-5"
    assert refused(first.post("/codes", {**said, "scan": ""}), 422)
    assert refused(first.post("/codes/%00/drop"), 404) == {"custody.not-there"}


def test_a_program_makes_a_token_within_its_own_and_what_it_made_ends_with_it(programs: Programs) -> None:
    bench.opened()
    maker = programs(Role.PHARMACIST, abilities=[Ability.LOOK, Ability.MAKE_TOKEN], until=date(2026, 5, 1))
    status, made = maker.post("/tokens", {"name": "counter", **OFTEN}, key="the-first-token")
    assert (status, made["done"]) == (200, True), made
    assert maker.post("/tokens", {"name": "counter", **OFTEN}, key="the-first-token") == (200, made)
    child = Program(made["token"], maker.account)
    assert child.get("/medicines")[0] == 200
    for more in ({"abilities": ["look", "release a card"]}, {"until": "2026-05-02"}):
        assert refused(maker.post("/tokens", {"name": "more", **OFTEN, **more}), 422) == {"custody.token-beyond-maker"}
    save_home(HomeId("lindens"), "The Lindens")
    narrow = Program(maker.post("/tokens", {"name": "narrow", **OFTEN, "home": "lindens"})[1]["token"], maker.account)
    assert refused(narrow.post("/tokens", {"name": "wider", **OFTEN}), 403) == {"custody.whole-pharmacy"}
    grandchild = Program(child.post("/tokens", {"name": "of it", **OFTEN})[1]["token"], maker.account)
    kept = {one["name"]: one for one in maker.get("/tokens")[1]}
    assert [kept[name]["maker"] for name in ("a program", "counter", "of it")] == [None, kept["a program"]["id"], int(made["made"][0])]
    assert made["token"] not in str(kept) + "".join(entry.body for entry in load_entries())
    done(programs(Role.MANAGER).post(f"/tokens/{kept['a program']['id']}/revoke"))
    for program in (maker, child, grandchild, narrow):
        assert refused(program.get("/medicines"), 403) & {"custody.token-over", "custody.whole-pharmacy"}
        assert program.get("/medicines")[1]["findings"][0]["facts"].get("why", "it was revoked") == "it was revoked"
    assert [entry.event for entry in load_entries("token")].count("token revoked") == 4


def test_nothing_that_is_kept_of_a_request_lets_its_password_be_guessed(programs: Programs) -> None:
    """A bare hash of a body with nothing unknown in it but a password can be tried out against a stolen backup, a million a second."""
    card, pharmacist = bench.sealed(), programs(Role.PHARMACIST)
    body = json.dumps({"password": PASSWORD}).encode()
    done(pharmacist.post(f"/cards/{card}/release", body))
    said = f"POST /api/cards/{card}/release\n".encode() + body
    kept = set(RequestKey.objects.values_list("fingerprint", flat=True))
    assert kept
    assert hashlib.sha256(said).hexdigest() not in kept


def test_accounts_come_change_and_close_by_the_password_of_whoever_the_program_acts_for(programs: Programs) -> None:
    bench.opened()
    manager = programs(Role.MANAGER)
    new = {"username": "r.tamm", "name": "Rhea Tamm", "role": "technician", "theirs": "a-long-way-to-tern"}
    assert refused(manager.post("/accounts", {**new, "password": "guess"}), 403) == {"custody.wrong-password"}
    assert refusals("add-account") == 1
    assert refused(manager.post("/accounts", {**new, "password": PASSWORD, "role": "carer"}), 422)  # a carer without a home
    done(manager.post("/accounts", {**new, "password": PASSWORD}))
    theirs = programs(Role.TECHNICIAN, "r.tamm")
    assert theirs.get("/medicines")[0] == 200
    done(manager.post("/accounts/password", {"username": "r.tamm", "theirs": "another-way-to-tern", "password": PASSWORD}))
    done(manager.post("/accounts/void-badge", {"username": "r.tamm", "password": PASSWORD}))
    assert refused(manager.post("/accounts/close", {"username": "nobody", "password": PASSWORD}), 404) == {"custody.not-there"}
    done(manager.post("/accounts/close", {"username": "r.tamm", "password": PASSWORD}))
    assert theirs.get("/medicines")[1]["findings"][0]["facts"] == {"why": "its account is closed"}
    assert {one["username"]: one["open"] for one in manager.get("/accounts")[1]}["r.tamm"] is False
    written = "".join(entry.body for entry in load_entries())
    assert not [word for word in (PASSWORD, new["theirs"], "another-way-to-tern") if word in written]


def test_records_are_put_right_and_nobody_is_moved_into_a_home_that_is_not_the_program_s(programs: Programs) -> None:
    _, card = bench.ready_to_fill()
    for home in ("lindens", "saltmarsh"):
        save_home(HomeId(home), f"The {home}")
    PersonRow.objects.filter(id="p1").update(home_id="lindens")
    bound, pharmacist = programs(Role.PHARMACIST, home="lindens"), programs(Role.PHARMACIST)
    said = {"name": "Wilhelmina Okonedo-Hart", "born": "1939-02-04", "room": "4", "address": "", "reason": "her passport"}
    assert refused(bound.post("/people/p1/correct", {**said, "home": "saltmarsh"}), 403) == {"custody.other-home"}
    moved = {"cause": "moved home", "day": "2026-03-06", "home": "saltmarsh", "reason": "she moves"}
    assert refused(bound.post("/people/p1/change", moved), 403) == {"custody.other-home"}
    assert (refusals("correct-person"), refusals("take-change")) == (1, 1)
    assert refused(pharmacist.post("/people/p1/correct", {**said, "home": "lindens", "name": " "}), 422) == {"custody.request-wrong"}
    done(bound.post("/people/p1/correct", {**said, "home": "lindens", "born": "1939-02-05"}))
    assert bench.now(card).state.out_of_date
    record = pharmacist.get("/medicines/bisoprolol-5")[1]
    row = {name: value for name, value in record.items() if name not in {"code", "name", "strength", "form"}}
    wrong = pharmacist.post("/medicines/bisoprolol-5/correct", {**row, "length_mm": "wide", "reason": "measured"})
    assert refused(wrong, 422) == {"field.not-an-amount"}
    assert wrong[1]["findings"][0]["where"]["field"] == "length_mm"
    done(pharmacist.post("/medicines/bisoprolol-5/correct", {**row, "mark": "B 5 new", "reason": "looked at it"}))
    assert pharmacist.get("/medicines/bisoprolol-5")[1] == {**record, "mark": "B 5 new"}


def test_settings_and_figures_are_changed_and_bad_ones_change_nothing(programs: Programs) -> None:
    bench.opened()
    pharmacist = programs(Role.PHARMACIST)
    line = next(one for one in pharmacist.get("/settings/profile")[1] if one["key"] == "verified_by")
    other = '"Priya Raman"'
    assert refused(pharmacist.post("/settings/profile", {"line": line["number"], "value": "true", "reason": "x"}), 422) == {
        "custody.setting-not-one"
    }
    done(pharmacist.post("/settings/profile", {"line": line["number"], "value": other, "reason": "our law says so"}))
    assert {**line, "value": other} in pharmacist.get("/settings/profile")[1]
    assert refused(pharmacist.get("/settings/nothing"), 404) == {"custody.not-there"}
    shipped = pharmacist.get("/rates")[1]
    assert (shipped["own"], "minutes" in shipped["text"].lower()) == (False, True)
    assert refused(pharmacist.post("/rates", {"text": "no = [toml"}), 422) == {"change.rates-unreadable"}
    done(pharmacist.post("/rates", {"text": shipped["text"]}))
    assert pharmacist.get("/rates")[1]["own"] is True
    printer = {"name": "Bench 1", "dpi": 600, "left": "20.5", "top": "20", "across": "170", "down": "257"}
    assert refused(pharmacist.post("/printers", {**printer, "left": "80"}), 422) == {"printer.beyond-belief"}
    done(pharmacist.post("/printers", printer))
    assert [one["left"] for one in pharmacist.get("/printers")[1]] == ["20.5"]


def test_the_charts_figures_are_what_was_checked_and_a_note_stands_beside_them(programs: Programs) -> None:
    card = bench.filled()
    bench.must(send_back_card(card, on(Role.CHECKER, minutes=9), NearMissKind.MISSING, "one is missing"))
    pharmacist = programs(Role.PHARMACIST)
    still = pharmacist.get("/near-misses/charts?by=month")[1]["still"]
    assert (still["first"], still["checks"], still["sent_back"], still["share"]) == ("2026-03-01", 1, 1, "1")
    assert pharmacist.get("/near-misses/charts?kind=damaged")[1]["still"]["sent_back"] == 0
    assert [one["note"] for one in pharmacist.get("/near-misses")[1]] == ["one is missing"]
    said = {"day": "2026-03-02", "text": "a new bench"}
    assert refused(pharmacist.post("/near-misses/notes", {**said, "day": "2026-03-03"}), 422) == {"custody.day-to-come"}
    (note,) = done(pharmacist.post("/near-misses/notes", said))
    assert [(one["id"], one["text"], one["limits"]) for one in pharmacist.get("/near-misses/charts")[1]["notes"]] == [
        (int(note), "a new bench", "said")
    ]
    done(pharmacist.post(f"/near-misses/notes/{note}/take-back"))
    assert pharmacist.get("/near-misses/charts")[1]["notes"] == []
    assert refused(pharmacist.post(f"/near-misses/notes/{note}/take-back"), 404) == {"custody.not-there"}


def test_fewer_times_are_taken_up_only_as_they_were_shown(programs: Programs) -> None:
    bench.room_for_fewer_times()
    pharmacist = programs(Role.PHARMACIST)
    found = pharmacist.get("/people/p1/fewer-times?first=2026-03-09")[1]
    assert (len(found["proposal"]["moves"]), len(found["shown"]), found["findings"]) == (1, 64, [])
    said = {"first": "2026-03-09", "shown": found["shown"], "agreed": "Dr A. Example"}
    assert refused(pharmacist.post("/people/p1/fewer-times", {**said, "first": "2026-03-10"}), 422) == {"custody.times-changed"}
    assert len(done(pharmacist.post("/people/p1/fewer-times", said))) == 1
    assert pharmacist.get("/people/p1/fewer-times?first=2026-03-09")[1]["proposal"]["moves"] == []


def test_directions_are_written_anew_and_an_order_of_no_use_is_settled(programs: Programs) -> None:
    bench.opened()
    odd = bench.ORDERS["RX1"].replace("Take 1 tablet in the morning", "as the doctor told you")
    bench.waiting(odd, UNKNOWN)
    pharmacist = programs(Role.PHARMACIST)
    assert refused(pharmacist.post("/orders/RX1/confirm", {"restated": "Take 1 tablet in the morning"}), 422) == {"custody.no-reason"}
    said = {"restated": "whenever it suits", "reason": "Dr Example by telephone"}
    assert "custody.restated-not-read" in refused(pharmacist.post("/orders/RX1/confirm", said), 422)
    done(pharmacist.post("/orders/RX1/confirm", {**said, "restated": "Take 1 tablet in the morning"}))
    assert pharmacist.get("/orders/RX1")[1]["text"] == "as the doctor told you"  # as received it stays on record
    (unused,) = pharmacist.get("/unused-orders")[1]
    assert (unused["order"], unused["holds"]) == ("RX2", ["p1"])
    done(pharmacist.post(f"/unused-orders/{unused['id']}/settle", {"becomes": "turned down", "reason": "Dr Example stopped it"}))
    assert pharmacist.get("/unused-orders")[1] == []


def test_labels_are_voided_with_a_reason_and_never_the_only_ones(programs: Programs) -> None:
    set_id, card = bench.ready_to_fill()
    technician = programs(Role.TECHNICIAN)
    first = technician.get(f"/sets/{set_id}/labels")[1]
    what = {"sheet": first[0]["sheet"], "card": card, "labels": [one["label"] for one in first], "reason": "smeared"}
    assert refused(technician.post(f"/sets/{set_id}/labels/void", what), 422) == {"custody.label-needed"}
    done(technician.post(f"/sets/{set_id}/print", {"reason": "page 1 is smeared"}))
    done(technician.post(f"/sets/{set_id}/labels/void", what))
    standing = [one["standing"] for one in technician.get(f"/sets/{set_id}/labels")[1] if one["sheet"] == first[0]["sheet"]]
    assert set(standing) == {"voided"}


def test_many_are_planned_for_after_the_request_and_each_outcome_is_told(programs: Programs) -> None:
    bench.opened()
    bench.ordered()
    technician = programs(Role.TECHNICIAN)
    (work,) = done(technician.post("/long-work/plan", {"people": ["p1", "nobody", "p1"], "first": "2026-03-02", "days": 7}))
    assert technician.get(f"/long-work/{work}")[1]["state"] == "waiting"
    carry_on.call(int(work))
    told = technician.get(f"/long-work/{work}")[1]
    assert (told["state"], told["done"], told["of"]) == ("done", 2, 2)
    assert [(part["subject"], part["outcome"]["done"]) for part in told["parts"]] == [("p1", True), ("nobody", False)]
    (stopped,) = done(technician.post("/long-work/print", {"sets": [1]}))
    done(technician.post(f"/long-work/{stopped}/cancel"))
    assert technician.get(f"/long-work/{stopped}")[1]["state"] == "cancelled"


def test_a_recall_makes_the_sheet_and_the_notices_and_sent_again_makes_no_more(programs: Programs) -> None:
    bench.handed_over()
    pharmacist = programs(Role.PHARMACIST)
    said = {"medicine": "bisoprolol-5", "lot": "LOT42A", "urgency": "Class 2, within 48 hours", "reason": "another strength"}
    made = done(pharmacist.post("/recalls", said, key="recall-of-lot42a"))
    assert len(made) == 2
    assert done(pharmacist.post("/recalls", said, key="recall-of-lot42a")) == made
    assert all(pharmacist.get(f"/sheets/{sheet}")[1].startswith(b"%PDF") for sheet in made)
    assert pharmacist.post("/recalls", {**said, "lot": "LOT0"})[0] == 404
    lot = {"medicine": "bisoprolol-5", "lot": "LOT42A", "reason": "another lot was meant"}
    assert done(pharmacist.post("/recalls/lift", lot)) == []
    assert refused(pharmacist.post("/recalls/lift", lot), 422)
    assert done(pharmacist.post("/people/p1/sheets", {"kind": "record", "day": "2026-03-02"}))
    assert check_ledger() == ()


@pytest.mark.parametrize(
    ("path", "body"),
    [
        ("/tokens", {"name": "x", "abilities": ["fly"], "until": "2026-05-01"}),
        ("/tokens", {"name": "x", "abilities": "look", "until": 7}),
        ("/accounts", []),
        ("/codes", {"scan": 4, "medicine": None}),
        ("/printers", {"name": "x", "dpi": 601, "left": 20, "top": "20", "across": "170", "down": "257"}),
        ("/medicines/bisoprolol-5/correct", {"reason": "x"}),
        ("/people/p1/correct", {"name": "x\u202e", "born": "2026-02-30", "home": None, "room": "", "address": "", "reason": ""}),
        ("/settings/profile", {"line": 0, "value": "\x00", "reason": "x"}),
        ("/near-misses/notes", {"day": "yesterday", "text": ""}),
        ("/people/p1/fewer-times", {"first": "9999-12-31", "shown": "", "agreed": "x"}),
        ("/long-work/plan", {"people": [], "first": "2026-03-02", "days": 7}),
        ("/long-work/print", {"sets": [2**70]}),
        ("/recalls", {"medicine": "bisoprolol-5", "lot": "LOT42A", "urgency": "x" * 121, "reason": "x"}),
        ("/unused-orders/1/settle", {"becomes": "used", "reason": "x"}),
    ],
)
def test_a_body_of_wrong_kinds_is_told_field_by_field_and_changes_nothing(path: str, body: Any, programs: Programs) -> None:
    bench.opened()
    if "p1" in path:
        bench.ordered(bench.ORDERS["RX1"])
    pharmacist = programs(Role.PHARMACIST)
    before = len(list(load_entries()))
    status, said = pharmacist.post(path, json.dumps(body).encode())
    assert status == 422, said
    assert {finding["code"] for finding in said["findings"]} == {"custody.request-wrong"}
    assert all(finding["facts"]["field"] and finding["facts"]["why"] for finding in said["findings"])
    assert len(list(load_entries())) == before


def test_days_at_the_end_of_the_calendar_are_refused_like_any_other(programs: Programs) -> None:
    bench.ready_to_fill()
    pharmacist = programs(Role.PHARMACIST)
    for day in ("9999-12-31", "0001-01-01"):
        assert pharmacist.get(f"/people/p1/fewer-times?first={day}")[0] == 422, day
        assert pharmacist.post("/people/p1/plan", {"first": day, "days": 92})[0] == 422, day
        assert pharmacist.post("/people/p1/sheets", {"kind": "record", "day": day})[0] in {200, 422}, day


def test_numbers_beyond_every_row_are_not_there(programs: Programs) -> None:
    bench.opened()
    pharmacist, huge = programs(Role.PHARMACIST), str(10**30)
    for path in (f"/long-work/{huge}", f"/sets/{huge}/labels", f"/sheets/{huge}"):
        assert refused(pharmacist.get(path), 404) == {"custody.not-there"}, path
    for path in (f"/tokens/{huge}/revoke", f"/near-misses/notes/{huge}/take-back", f"/long-work/{huge}/cancel"):
        assert refused(pharmacist.post(path), 404) == {"custody.not-there"}, path
    settled = pharmacist.post(f"/unused-orders/{huge}/settle", {"becomes": "turned down", "reason": "x"})
    assert refused(settled, 404) == {"custody.not-there"}


def test_a_second_account_and_a_token_do_not_come_by_sending_the_same_key_with_another_body(programs: Programs) -> None:
    bench.opened()
    manager = programs(Role.MANAGER)
    done(manager.post("/tokens", {"name": "one", **OFTEN}, key="one-key-one-token"))
    assert refused(manager.post("/tokens", {"name": "two", **OFTEN}, key="one-key-one-token"), 409) == {"custody.key-used"}
    assert refused(manager.post("/accounts", b" " * (3 * 1024 * 1024)), 413) == {"custody.request-too-large"}
    assert Client().post("/api/tokens", b"{}", content_type="application/json").status_code == 401
    assert Account.objects.count() == 1
