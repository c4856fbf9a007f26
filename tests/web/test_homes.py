"""A home's own people see their own home: every address that names somebody, for each home, allowed or refused and on record (R14)."""

import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from django.test import Client
from django.urls import reverse
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from tests import small_bench
from tests.bench_fixtures import on

from dosewright.actions.add_account import add_account
from dosewright.core.custody.event import Role
from dosewright.core.units.ids import CardNumber, HomeId
from dosewright.store.accounts import NewAccount
from dosewright.store.ledger import load_entries
from dosewright.store.models import CardRow, HomeRow, LedgerEntry
from dosewright.store.people import load_people, save_home, save_person
from dosewright.web.rights import SCREENS, Address

SignIn = Callable[[Role], Client]
NAMED = {"number", "person", "order", "set_id"}
SUBJECTS = [address for address in SCREENS if any(f":{name}>" in address.path for name in NAMED)]


def lives_at(home: str | None) -> CardNumber:
    """The small pharmacy with a released card; its person moves to that home. The card."""
    number = small_bench.released()
    (person,) = load_people()
    for one in ("lindens", "saltmarsh"):
        save_home(HomeId(one), one.capitalize())
    save_person(replace(person, home=HomeId(home) if home else None))
    return number


def arguments(number: CardNumber) -> dict[str, str | int]:
    row = CardRow.objects.get(number=number)
    subject: dict[str, str | int] = {"number": number, "person": row.card_set.person_id, "order": "RX1", "set_id": row.card_set_id}
    return subject | {"change": 1, "kind": "labels", "page": 1, "row": 1, "column": 1}


def path_of(address: Address, given_by: dict[str, str | int]) -> str:
    return reverse(address.name, kwargs={name: value for name, value in given_by.items() if f":{name}>" in address.path})


@pytest.mark.parametrize("home", ["lindens", "saltmarsh", None])
def test_a_carer_sees_who_lives_in_their_home_and_nobody_else(home: str | None, sign_in: SignIn) -> None:
    number = lives_at(home)
    client = sign_in(Role.CARER)  # of The Lindens
    answers = {}
    for address in SUBJECTS:
        before = refusals(address)
        send = client.post if address.changes else client.get
        answers[address.name] = send(path_of(address, arguments(number))).status_code
        assert refusals(address) - before == (1 if answers[address.name] == 403 else 0), address.name
    own = {"home-person", "home-card", "receive-card"} if home == "lindens" else set()
    assert {name for name, status in answers.items() if status != 403} == own


def test_lists_of_a_home_name_nobody_of_another(sign_in: SignIn) -> None:
    lives_at("saltmarsh")
    (person,) = load_people()
    save_person(replace(person, id="p9", name="Lives Here", home=HomeId("lindens")))  # type: ignore[arg-type]
    page = sign_in(Role.CARER).get("/residents").content.decode()
    assert "Lives Here" in page
    assert person.name not in page


def test_a_card_of_another_home_that_a_carer_scans_is_refused_and_on_record(sign_in: SignIn) -> None:
    number = lives_at("saltmarsh")
    client = sign_in(Role.CARER)
    answer = client.get(f"/find?scan={number}", follow=True)
    assert answer.status_code == 403
    codes = [entry.body for entry in load_entries("address", "home-card")]
    assert "custody.other-home" in codes[-1]


@pytest.mark.parametrize("role", list(Role))
def test_whoever_belongs_to_a_home_is_bound_to_it_whatever_their_role(role: Role, sign_in: SignIn) -> None:
    from dosewright.store.models import Account  # noqa: PLC0415

    number = lives_at("saltmarsh")
    client = sign_in(role)
    Account.objects.filter(username=role.value).update(home_id="lindens")
    given_by = arguments(number)
    for address in SUBJECTS:
        send = client.post if address.changes else client.get
        assert send(path_of(address, given_by)).status_code == 403, address.name


@pytest.mark.django_db(transaction=False)
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(homes=st.lists(st.sampled_from(["lindens", "saltmarsh", "", "third"]), min_size=1, max_size=6))
def test_no_mixture_of_homes_shows_a_carer_anybody_else_s_people(homes: list[str], sign_in: SignIn) -> None:
    """R14: for any people in any homes, a carer's list has exactly those of their own."""
    from dosewright.store.models import PersonRow  # noqa: PLC0415

    PersonRow.objects.all().delete()
    for one in set(homes) | {"lindens"}:
        if one:
            HomeRow.objects.get_or_create(id=one, defaults={"name": one})
    for number, home in enumerate(homes):
        PersonRow.objects.create(id=f"q{number}", name=f"Person number {number}", home_id=home or None)
    page = sign_in(Role.CARER).get("/residents").content.decode()
    shown = {number for number in range(len(homes)) if f"Person number {number}<" in page}
    assert shown == {number for number, home in enumerate(homes) if home == "lindens"}


SIGNED = [address for address in SCREENS if not address.open]
HOMES = ("lindens", "saltmarsh")
ONES: dict[str, str | int] = dict.fromkeys(("unused", "note", "wording", "token", "sheet", "work"), 1)
ELSEWHERE: dict[str, str | int] = ONES | {
    "whose": "p1",
    "which": "format",
    "line": 4,
    "medicine": "bisoprolol-5",
    "lot": "LOT42A",
    "username": "nobody",
    "gtin": "00000000000000",
    "rule": "product.omeprazole",
}


@pytest.mark.django_db(transaction=False)
@example(role=Role.CARER, bound="lindens", lives="saltmarsh", walk=[])
@example(role=Role.DRIVER, bound="lindens", lives=None, walk=[])
@settings(max_examples=4, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    role=st.sampled_from(list(Role)) | st.just(Role.CARER),
    bound=st.sampled_from(HOMES),
    lives=st.sampled_from([*HOMES, None]),
    walk=st.permutations(SIGNED).map(lambda every: every[:8]),
)
def test_r14_no_role_reaches_another_homes_data_by_any_address(
    role: Role, bound: str, lives: str | None, walk: list[Address], sign_in: SignIn
) -> None:
    """Whoever is bound to a home sees and changes nothing of anybody else's, by path, by query or by a form, whatever the role."""
    from dosewright.store.models import Account, PersonRow  # noqa: PLC0415

    number = _once_released()
    client = sign_in(role)
    PersonRow.objects.filter(id="p1").update(home_id=lives)
    Account.objects.filter(username=role.value).update(home_id=bound)
    asked = {"scan": number, "card": number, "person": "p1", "q": "wil", "batch": f"2026-03-02~{lives or ''}", "medicine": "bisoprolol-5"}
    for address in [*walk, *(one for one in SIGNED if one.of_a_home)]:
        path, done = path_of(address, arguments(number) | ELSEWHERE), _done()
        answers = [] if address.changes else [client.get(path, asked, follow=True)]
        answers += [] if address.name in {"sign-out", "my-badge"} else [client.post(path, asked)]
        said = " ".join(answer.content.decode() for answer in answers)
        if lives != bound:
            assert not any(secret in said for secret in ("Wilhelmina", "4 Feb 1939", number[5:10] + " ")), f"{address.name} as {role.value}"
            assert _done() == done, f"{address.name} as {role.value} did something"
    if lives == bound and role is Role.CARER:
        assert "Wilhelmina" in client.get("/residents").content.decode()


def _once_released() -> CardNumber:
    row = CardRow.objects.first()
    return CardNumber(row.number) if row else lives_at(None)


def _done() -> int:
    """Entries of the ledger that are no refusals."""
    return LedgerEntry.objects.exclude(event="refused").count()


def refusals(address: Address) -> int:
    return sum(entry.event == "refused" for entry in load_entries("address", address.name))


def test_a_driver_is_led_from_no_deed_to_a_refusal(sign_in: SignIn) -> None:
    number, driver = lives_at("lindens"), sign_in(Role.DRIVER)
    assert reverse("deliveries") in driver.get(reverse("hand-over", args=[number])).content.decode()
    looked = ("look-for-card", {"reason": "not at the door"}), ("look-for-card", {"reason": "there it is"})
    for name, sent in (("hand-over", {"to": "A. Brook"}), *looked):
        answer = driver.post(reverse(name, args=[number]), sent, follow=True)
        assert (answer.status_code, answer.redirect_chain) == (200, [(reverse("deliveries"), 302)]), name
    form = driver.get(reverse("return-card", args=[number])).content.decode()
    left = dict.fromkeys(re.findall(r'inputmode="decimal" name="([^"]+)"', form), "0")
    assert driver.post(reverse("return-card", args=[number]), left, follow=True).redirect_chain == [(reverse("deliveries"), 302)]
    assert left
    assert not [entry for entry in load_entries() if entry.event == "refused"]


def test_nobody_has_two_accounts_and_two_people_of_one_name_have_a_reason_on_record(guarded: None) -> None:
    """Who has two fills by one and checks by the other (R8)."""
    who, word = NewAccount("r.tamm", "Rein Tamm", Role.TECHNICIAN), "a-long-password-9"
    assert add_account("r.tamm", on(Role.MANAGER), who, word).done
    for name in ("Rein Tamm", " rein  TAMM", "Rein Tamm".replace(" ", "\u00a0")):
        again = replace(who, username="r2", name=name, role=Role.CHECKER)
        assert small_bench.refused(add_account("r2", on(Role.MANAGER), again, word)) == {"custody.name-has-account"}
    known = replace(again, another_because="born in other years, both shown their papers")
    assert add_account("r2", on(Role.MANAGER), known, word).done
    added = [entry.body for entry in load_entries("account") if entry.event == "account added"]
    assert [known.another_because in body for body in added] == [False, True]


def test_only_a_carer_belongs_to_a_home(guarded: None) -> None:
    """Everybody else's lists are the whole pharmacy's: a home would bound only a part of what they see."""
    save_home(HomeId("lindens"), "The Lindens")
    who = NewAccount("one", "One", Role.TECHNICIAN, HomeId("lindens"))
    assert small_bench.refused(add_account("one", on(Role.MANAGER), who, "a-long-password-9")) == {"custody.home-is-a-carer-s"}
    assert add_account("one", on(Role.MANAGER), replace(who, role=Role.CARER), "a-long-password-9").done
