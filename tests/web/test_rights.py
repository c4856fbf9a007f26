"""Every address × every role: allowed or refused as the one table of rights says, and every refusal on record (R14)."""

import re
from pathlib import Path

import pytest
from django.test import Client
from django.urls import reverse
from tests import small_bench
from tests.web.conftest import SignIn

from dosewright.core.custody.event import Role
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.store.ledger import load_entries
from dosewright.web.rights import SCREENS, Address
from dosewright.web.urls import VIEWS, urlpatterns

ROOT = Path(__file__).resolve().parents[2]
SIGNED = [address for address in SCREENS if not address.open]

# Who may go where, written out by hand: a change of the table of rights shows up here and must be meant.
T, C, P, M, D = Role.TECHNICIAN, Role.CHECKER, Role.PHARMACIST, Role.MANAGER, Role.DRIVER
H, INSPECTS = Role.CARER, Role.INSPECTOR
BENCH, READERS = {T, C, P}, {T, C, P, M, INSPECTS}
EXPECTED: dict[str, set[Role]] = {
    "sign-out": set(Role),
    "touch": set(Role),
    "my-badge": set(Role) - {INSPECTS},
    "accounts": {P, M, INSPECTS},
    "add-account": {P, M},
    "account-password": {P, M},
    "void-badge": {P, M},
    "close-account": {P, M},
    "ledger": {P, M, INSPECTS},
    "home": {H},
    "home-person": {H},
    "home-card": {H},
    "deliveries": BENCH | {D},
    "receive-card": {H, D},
    "work-list": READERS,
    "find": READERS | {D, H},
    "orders-in": BENCH,
    "medicines-in": {T, P, M},
    "readings": {P},
    "reading": {P},
    "confirm-reading": {P},
    "reject-order": {P},
    "remember-wording": {P},
    "wordings": READERS,
    "revoke-wording": {P},
    "settle-unused": {P},
    "people": READERS,
    "person": READERS,
    "times": {P},
    "stop-order": {P},
    "place-order": {P},
    "changes": READERS,
    "change": READERS,
    "rework-rates": {P, M},
    "decide-change": {P},
    "finish-change": {P},
    "withdraw-change": {P},
    "reopen-change": {P},
    "change-sheet": BENCH,
    "change-card": BENCH,
    "remove-units": BENCH,
    "relabel-card": BENCH,
    "change-check": {C, P},
    "take-change": {P},
    "take-back-card": BENCH,
    "look-for-card": BENCH | {D},
    "plan": BENCH,
    "plan-person": {P},
    "long-work": READERS,
    "long-work-progress": READERS,
    "cancel-work": BENCH,
    "print-sets": BENCH,
    "claim-set": BENCH,
    "set": READERS,
    "why-set": READERS,
    "paper": BENCH,
    "paper-file": BENCH | {INSPECTS},
    "paper-page": BENCH,
    "set-labels": BENCH,
    "labels": BENCH,
    "sheets": BENCH,
    "sheet": BENCH | {INSPECTS},
    "sheet-file": BENCH | {INSPECTS},
    "sheet-page": BENCH | {INSPECTS},
    "recall": {P},
    "lift-recall": {P},
    "printers": BENCH | {M},
    "measuring-sheet": BENCH | {M},
    "programs": {P, M},
    "revoke-token": {P, M},
    "batch": BENCH,
    "owings": READERS,
    "record-owing": BENCH,
    "fill": BENCH,
    "fill-scan": BENCH,
    "place": BENCH,
    "take-out": BENCH,
    "filled": BENCH,
    "check": {C, P},
    "check-counts": {C, P},
    "send-back": {C, P},
    "seal": BENCH,
    "release": {P},
    "out-of-date": {P},
    "hand-over": BENCH | {D},
    "return-card": BENCH | {D},
    "withdraw": {P},
    "destroy": BENCH,
    "why-cavity": READERS,
    "card": READERS,
    "history": READERS,
    "card-history": READERS,
    "near-misses": READERS,
    "note-near-miss": BENCH | {M, D},
    "say-what-changed": {P, M},
    "take-back-change": {P, M},
    "records": READERS,
    "correct-person": {P, M},
    "medicines": READERS,
    "medicine": READERS,
    "correct-medicine": {P},
    "timetables": READERS,
    "timetable": READERS,
    "settings": READERS,
    "change-setting": {P},
    "rules": READERS,
    "add-rule": {P},
    "add-apart": {P},
    "add-spacing": {P},
    "rule": READERS,
    "change-rule": {P},
    "drop-rule": {P},
    "stock": BENCH | {M, INSPECTS},
    "codes": BENCH,
    "drop-code": BENCH,
    "waste": BENCH,
}


def test_the_table_names_every_address_and_no_other() -> None:
    assert set(VIEWS) == {address.name for address in SCREENS}
    assert {pattern.name for pattern in urlpatterns} == set(VIEWS)
    assert set(EXPECTED) == {address.name for address in SIGNED}


def test_the_page_about_the_bench_says_the_same() -> None:
    letters = dict(zip("TCPMDHI", (T, C, P, M, D, H, INSPECTS), strict=True))
    said: dict[str, set[Role]] = {}
    for line in (ROOT / "docs" / "bench.md").read_text("utf-8").splitlines():
        if line.startswith("| `/"):
            addresses, _, who = (cell.strip() for cell in line.strip("|").split("|"))
            roles = set(Role) if who == "all" else {letters[letter] for letter in who.split()}
            said |= dict.fromkeys(re.findall(r"`([^`]+)`", addresses), roles)
    meant = {"/" + re.sub(r"<\w+:", "<", address.path): set(address.readers) for address in SCREENS}
    assert said == meant


@pytest.mark.parametrize("address", SIGNED, ids=lambda address: address.name)
def test_an_address_answers_the_roles_that_may_and_refuses_the_others_on_record(address: Address, sign_in: SignIn) -> None:
    small_bench.opened()
    for role in Role:
        client = sign_in(role)
        before = _refusals(address)
        answer = _ask(client, address)
        allowed = role in EXPECTED[address.name]
        assert (answer == 403) is not allowed, f"{address.name} as {role.value}: {answer}"
        assert _refusals(address) - before == (0 if allowed else 1), f"{address.name} as {role.value}"


@pytest.mark.parametrize("address", SIGNED, ids=lambda address: address.name)
def test_an_address_sends_somebody_who_is_not_signed_in_to_sign_in(address: Address, guarded: None) -> None:
    answer = Client().get(_path(address))
    assert answer.status_code == 302
    assert answer["Location"].startswith("/sign-in?next=")


def test_what_changes_something_is_never_done_by_following_a_link(sign_in: SignIn) -> None:
    client = sign_in(Role.PHARMACIST)
    changing = [address for address in SIGNED if address.changes]
    assert {address.name: client.get(_path(address)).status_code for address in changing} == {address.name: 405 for address in changing}


def test_no_change_without_the_token_that_the_page_gave(sign_in: SignIn) -> None:
    strict = Client(enforce_csrf_checks=True)
    strict.cookies = sign_in(Role.PHARMACIST).cookies
    assert {address.name: strict.post(_path(address)).status_code for address in SCREENS} == {address.name: 403 for address in SCREENS}


@pytest.mark.parametrize("address", [one for one in SIGNED if one.reads], ids=lambda address: address.name)
def test_whoever_may_only_look_changes_nothing_by_sending_a_form(address: Address, sign_in: SignIn) -> None:
    small_bench.opened()
    for role in address.readers - address.roles:
        before = _refusals(address)
        assert sign_in(role).post(_path(address)).status_code == 403
        assert _refusals(address) - before == 1


def test_an_inspector_reads_and_has_no_ability_that_changes_anything() -> None:
    looks = {Ability.LOOK, Ability.LOOK_AT_LEDGER, Ability.INSPECT}
    assert {ability for ability in Ability if INSPECTS in RIGHTS[ability]} == looks
    assert not [address.name for address in SIGNED if address.changes and address.ability and INSPECTS in address.roles]


def _ask(client: Client, address: Address) -> int:
    return int((client.post if address.changes else client.get)(_path(address)).status_code)


def _path(address: Address) -> str:
    return reverse(address.name, kwargs={name: value for name, value in _ARGUMENTS.items() if f":{name}>" in address.path})


_ARGUMENTS: dict[str, str | int] = {
    "order": "RX1",
    "person": "p1",
    "rule": "product.omeprazole",
    "set_id": 1,
    "change": 1,
    "unused": 1,
    "note": 1,
    "whose": "p1",
    "which": "format",
    "line": 4,
    "wording": 1,
    "token": 1,
    "kind": "labels",
    "sheet": 1,
    "page": 1,
    "number": "000000000000000",
    "row": 1,
    "column": 1,
    "medicine": "bisoprolol-5",
    "lot": "LOT42A",
    "username": "nobody",
    "work": 1,
    "gtin": "00000000000000",
}


def _refusals(address: Address) -> int:
    return sum(entry.event == "refused" for entry in load_entries("address", address.name))
