"""R14: a program sees and does only what its token, its person's role and its home allow, and each refusal is on record."""

import re
from datetime import date, time
from typing import Any

import pytest
from django.test import Client
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase
from tests import small_bench as bench
from tests.api.conftest import Program, Programs
from tests.bench_fixtures import actor, on

from dosewright.actions.revoke_token import revoke_token
from dosewright.actions.stop_order import stop_order
from dosewright.api.door import Route, Scope
from dosewright.api.offer import ROUTES
from dosewright.api.service import service
from dosewright.core.custody.event import Role
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.tokens import GIVEN, TokenAsk, givable
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import HomeId, OrderId
from dosewright.store.accounts import actor_of
from dosewright.store.api_tokens import hash_of, load_tokens, save_token
from dosewright.store.ledger import load_entries
from dosewright.store.models import Account, ApiToken, ChangeRow, PersonRow
from dosewright.store.people import save_home

T, C, P, M, D, H = Role.TECHNICIAN, Role.CHECKER, Role.PHARMACIST, Role.MANAGER, Role.DRIVER, Role.CARER
BENCH, READERS = {T, C, P}, {T, C, P, M, Role.INSPECTOR}
SEES = READERS | {H, D}

# Who may do what by a program, written out by hand: a change of a table of rights shows up here and must be meant.
EXPECTED: dict[str, set[Role]] = {
    "find-cards": SEES,
    "card": SEES,
    "card-history": READERS,
    "scan": BENCH,
    "take-out": BENCH,
    "finish": BENCH,
    "check-plan": {C, P},
    "check": {C, P},
    "send-back": {C, P},
    "seal": BENCH,
    "release": {P},
    "hand-over": BENCH | {D},
    "receive": {H, D},
    "return": BENCH | {D},
    "withdraw": {P},
    "destroy": BENCH,
    "decide": {P},
    "find-sets": READERS,
    "plan": BENCH,
    "print": BENCH,
    "paper": BENCH,
    "place": BENCH,
    "receive-orders": BENCH,
    "waiting-orders": READERS,
    "orders-of-person": READERS,
    "confirm": {P},
    "reject": {P},
    "stop": {P},
    "order": READERS,
    "times": READERS,
    "change-times": {P},
    "wordings": READERS,
    "remember-wording": {P},
    "revoke-wording": {P},
    "rules": READERS,
    "change-rule": {P},
    "take-back-rule": {P},
    "new-rule": {P},
    "pair-rules": READERS,
    "change-pair-rule": {P},
    "new-pair-rule": {P},
    "claim": BENCH,
    "owing": BENCH,
    "place-order": {P},
    "note-near-miss": BENCH | {M, D},
    "home-times": READERS,
    "change-home-times": {P},
    "pharmacy-times": READERS,
    "change-pharmacy-times": {P},
    "changes": READERS,
    "change": READERS,
    "take-change": {P},
    "decide-change": {P},
    "withdraw-change": {P},
    "reopen-change": {P},
    "finish-change": {P},
    "make-change-sheet": BENCH,
    "remove-units": BENCH,
    "relabel-card": BENCH,
    "take-back-card": BENCH,
    "look-for-card": BENCH | {D},
    "make-set-sheet": BENCH,
    "make-home-sheet": BENCH,
    "sheet": BENCH,
    "find-people": SEES,
    "person": SEES,
    "stock": BENCH | {M},
    "receive-stock": BENCH | {M},
    "waste": BENCH,
    "trace": READERS,
    "medicines": READERS,
    "receive-medicines": {T, P, M},
    "waiting-codes": BENCH,
    "teach-code": BENCH,
    "drop-code": BENCH,
    "labels": BENCH,
    "void-labels": BENCH,
    "plan-many": BENCH,
    "print-many": BENCH,
    "work": READERS,
    "cancel-work": BENCH,
    "make-person-sheet": BENCH,
    "recall": {P},
    "lift-recall": {P},
    "printers": BENCH | {M},
    "measure-printer": BENCH | {M},
    "unused-orders": READERS,
    "settle-unused": {P},
    "propose-times": {P},
    "take-up-times": {P},
    "correct-person": {P, M},
    "medicine": READERS,
    "correct-medicine": {P},
    "settings": READERS,
    "change-setting": {P},
    "rates": {P, M},
    "change-rates": {P, M},
    "near-misses": READERS,
    "near-miss-charts": READERS,
    "say-what-changed": {P, M},
    "take-back-note": {P, M},
    "tokens": {P, M},
    "make-token": {P, M},
    "revoke-token": {P, M},
    "accounts": {P, M},
    "add-account": {P, M},
    "set-password": {P, M},
    "void-badge": {P, M},
    "close-account": {P, M},
    "dispenses": SEES,
    "dispense": SEES,
}


def ask(program: Program, route: Route, **names: object) -> tuple[int, Any]:
    """The address, with something in every place; what else is missing is found only behind the door."""
    path = re.sub(r"{(?:\w+:)?(\w+)}", lambda found: str(names.get(found[1], "1")), route.path)
    query = {"paper": "?kind=labels", "trace": "?lot=LOT42A", "propose-times": "?first=2026-03-09"}.get(route.name, "")
    return program.get(path + query) if route.method == "GET" else program.post(path)


def refusals(route: Route) -> int:
    return sum(entry.event == "refused" for entry in load_entries("address", f"api {route.name}"))


def test_the_table_names_every_address_and_no_other() -> None:
    described = {way["operationId"].replace("_", "-") for ways in service.get_openapi_schema()["paths"].values() for way in ways.values()}
    assert {route.name for route in ROUTES} == described == set(EXPECTED)


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.name)
def test_an_address_lets_in_the_roles_that_may_and_refuses_the_others_on_record(route: Route, programs: Programs) -> None:
    bench.opened()
    for role in Role:
        program = programs(role, home="lindens" if role is Role.CARER else None)
        before = refusals(route)
        status, body = ask(program, route)
        codes = {finding["code"] for finding in body["findings"]} if isinstance(body, dict) and "findings" in body else set()
        allowed = "custody.no-right" not in codes
        assert allowed is (role in EXPECTED[route.name]), f"{route.name} as {role.value}: {status} {codes}"
        assert allowed or (status, refusals(route) - before) == (403, 1)


def test_what_may_be_ticked_for_a_program_is_what_some_address_takes() -> None:
    taken = {ability for route in ROUTES for ability in route.abilities}
    assert taken | {Ability.ANSWER_FINDING} == GIVEN  # a plan's body may hold answers


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.name)
def test_an_address_refuses_a_token_that_was_not_given_the_right(route: Route, programs: Programs) -> None:
    role = min(EXPECTED[route.name])
    others = frozenset(givable(role)) - set(route.abilities)
    if not others:
        others = frozenset({Ability.LOOK})
    status, body = ask(programs(role, abilities=others), route)
    assert (status, [finding["code"] for finding in body["findings"]]) == (403, ["custody.token-not-given"])
    assert refusals(route) == 1


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.name)
def test_an_address_lets_nobody_in_without_a_known_token(route: Route, guarded: None) -> None:
    for token in ("", "dw_guessed", "x" * 5000):
        status, body = ask(Program(token, Account()), route)
        assert (status, [finding["code"] for finding in body["findings"]]) == (401, ["custody.token-unknown"])


def test_a_token_ends_with_its_last_day_when_it_is_revoked_and_with_its_account(programs: Programs) -> None:
    bench.opened()
    fine, old = programs(T), programs(T, until=date(2026, 3, 1))
    assert fine.get("/medicines")[0] == 200
    assert old.get("/medicines")[1]["findings"][0]["facts"] == {"why": "its last day is past"}
    revoke_token(ApiToken.objects.get(hash=hash_of(fine.token)).pk, on(M))
    assert fine.get("/medicines")[1]["findings"][0]["facts"] == {"why": "it was revoked"}
    closed = programs(T)
    Account.objects.update(is_active=False)
    assert closed.get("/medicines")[1]["findings"][0]["facts"] == {"why": "its account is closed"}
    assert [entry.event for entry in load_entries("address", "api medicines")] == ["refused"] * 3


def test_only_the_hash_of_a_token_is_kept_anywhere(programs: Programs) -> None:
    program = programs(T)
    rows = [str(row) for row in ApiToken.objects.values()] + [entry.body for entry in load_entries()]
    assert not [row for row in rows if program.token in row]
    assert hash_of(program.token) in rows[0]


def test_the_password_of_a_release_locks_the_account_as_at_the_bench(programs: Programs, settings: Any) -> None:
    card, pharmacist = bench.sealed(), programs(P)
    answers = [pharmacist.post(f"/cards/{card}/release", {"password": "guess"}) for _ in range(settings.AXES_FAILURE_LIMIT + 1)]
    assert [status for status, _ in answers][-1] == 429
    assert answers[-1][1]["findings"][0]["code"] == "custody.wrong-password"
    assert bench.now(card).state.stage.value == "sealed"


def test_reasons_that_answer_a_finding_take_their_own_right(programs: Programs) -> None:
    bench.opened()
    bench.ordered()
    program = programs(P, abilities=[Ability.PLAN_SET])
    status, body = program.post(
        "/people/p1/plan", {"first": "2026-03-02", "days": 7, "reasons": {"suitability.confirm|order=RX1": "so it is"}}
    )
    assert (status, body["findings"][0]["code"]) == (403, "custody.token-not-given")


def test_too_many_requests_are_held_back(programs: Programs) -> None:
    stranger = Program("dw_guessed", Account())
    answers = [stranger.get("/medicines")[0] for _ in range(61)]
    assert answers == [401] * 60 + [429]
    bench.opened()
    assert programs(T).get("/medicines")[0] == 200  # a known token is nobody's stranger


def test_somebody_of_one_home_reaches_nothing_that_is_the_whole_pharmacy_s(programs: Programs) -> None:
    program = programs(P, home="lindens")
    bench.opened()
    for route in (route for route in ROUTES if route.scope is Scope.PHARMACY):
        status, body = ask(program, route)
        assert (status, body["findings"][0]["code"]) == (403, "custody.whole-pharmacy"), route.name


class TestHomes(TestCase):
    """No role reaches another home's people, cards, sets or orders: whoever is bounded to a home sees its own and nothing of the others."""

    HOMES = ("lindens", "saltmarsh", None)

    def setUp(self) -> None:
        from django.core.cache import cache  # noqa: PLC0415  only here

        cache.clear()
        for home in ("lindens", "saltmarsh"):
            save_home(HomeId(home), f"The {home}")
        self.card = bench.released()
        bench.must(stop_order(OrderId("RX1"), on(P, minutes=30), Moment(date(2026, 3, 5), time(8)), "the heart rate fell"))
        self.change = ChangeRow.objects.latest("pk").pk

    @given(lives=st.sampled_from(HOMES), bound=st.sampled_from(["lindens", "saltmarsh"]), role=st.sampled_from(list(Role)))
    def test_no_role_reaches_another_home_s_data(self, lives: str | None, bound: str, role: Role) -> None:
        PersonRow.objects.filter(id="p1").update(home_id=lives)
        program = self._program(role, bound)
        names = {"number": self.card, "set_id": 1, "person": "p1", "order": "RX1", "dispense": f"{self.card}-1", "home": lives or "nowhere"}
        names |= {"change": self.change}
        for route in (route for route in ROUTES if role in EXPECTED[route.name] and route.scope is not Scope.PHARMACY):
            status, body = ask(program, route, **names) if route.name != "find-people" else program.post("/people/find", {"name": ""})
            own = lives == bound
            if route.scope is Scope.LIST:
                assert status == 200
                assert ("p1" in str(body)) <= own, f"{route.name}: {body}"
            else:
                refused = status == 403 and body["findings"][0]["code"] == "custody.other-home"
                assert refused is not own, f"{route.name}: {status} {body}"
            assert own or "Wilhelmina" not in str(body)

    def _program(self, role: Role, home: str) -> Program:
        account, _ = Account.objects.get_or_create(
            username=f"{role.value} {home}", defaults={"name": role.value, "role": role.value, "home_id": home if role is H else None}
        )
        token = f"dw_{role.value}-{home}"
        if not ApiToken.objects.filter(hash=hash_of(token)).exists():
            ask_for = TokenAsk("a program", actor_of(account), frozenset(givable(role)), HomeId(home), date(2026, 6, 1))
            save_token(ask_for, actor_of(account), hash_of(token), on(M))
        return Program(token, account)


def test_a_carer_s_program_sees_its_own_home_s_cards_and_receives_one(programs: Programs) -> None:
    card = bench.handed_over()
    carer = programs(H)
    assert carer.get("/cards")[1] == []
    assert carer.post(f"/cards/{card}/receive")[0] == 403
    PersonRow.objects.filter(id="p1").update(home_id="lindens")
    assert [one["number"] for one in carer.get("/cards")[1]] == [card]
    assert carer.post(f"/cards/{card}/receive")[1]["done"]
    assert bench.now(card).state.stage.value == "received"


def test_a_card_that_is_not_there_is_no_different_from_another_home_s(programs: Programs) -> None:
    card, carer = bench.handed_over(), programs(H)
    assert carer.get(f"/cards/{card}") == carer.get("/cards/000000000000000")
    assert programs(T).get("/cards/000000000000000")[0] == 404


def test_the_description_is_served_and_the_token_never_part_of_an_address(guarded: None) -> None:
    described = Client().get("/api/openapi.json")
    assert described.status_code == 200
    assert described.json()["info"]["title"] == "Dosewright"
    assert actor(P).home is None
    assert load_tokens() == ()
    assert RIGHTS[Ability.MAKE_TOKEN] == {P, M}
