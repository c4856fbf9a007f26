"""The work list: narrowed, a page at a time, who has what in hand, and what blocks a set and whose matter that is."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from tests import small_bench
from tests.bench_fixtures import on
from tests.web.conftest import SignIn

from dosewright.actions.claim_set import claim_set, hand_on_set, put_back_set
from dosewright.core.custody.event import Role
from dosewright.core.packing.card_number import make_card_number
from dosewright.store.accounts import actor_of
from dosewright.store.ledger import load_entries
from dosewright.store.models import Account, CardRow, CardSet, HomeRow, PersonRow
from dosewright.web.work_list import PAGE


def many_sets(many: int) -> None:
    """Copies of the small pharmacy's set for so many people, of two homes and at home, printed, from Monday on."""
    small_bench.ready_to_fill()
    first = CardSet.objects.get()
    card = first.cards.get()
    for home in ("lindens", "saltmarsh"):
        HomeRow.objects.get_or_create(id=home, defaults={"name": home.capitalize()})
    for number in range(1, many):
        person = PersonRow.objects.create(id=f"x{number}", name=f"Person {number:03}", home_id=("lindens", "saltmarsh", None)[number % 3])
        day = first.first + timedelta(days=7 * (number % 2))
        copy = CardSet.objects.create(
            person=person, first=day, days=7, basis=first.basis, rules=first.rules, request="", plan="", planned_at=first.planned_at,
            planned_by="x",
        )  # fmt: skip
        CardRow.objects.create(
            number=make_card_number("copies", str(number)), card_set=copy, position=1, value="", stage=("printed", "filled")[number % 2],
            first=card.first, last=card.last,
        )  # fmt: skip


def shown(page: str) -> int:
    return page.count('href="/sets/')


def test_a_page_shows_forty_and_the_next_the_rest(sign_in: SignIn) -> None:
    many_sets(100)
    client = sign_in(Role.TECHNICIAN)
    pages = [client.get(f"/?page={number}").content.decode() for number in (1, 2, 3, 4, "x", "0")]
    assert [shown(page) for page in pages] == [PAGE, PAGE, 20, 20, PAGE, PAGE]
    assert "Page 2 of 3" in pages[1]


@pytest.mark.parametrize(
    ("asked", "found"),
    [("home=Lindens", 33), ("home=At home", 34), ("stage=filled", 50), ("by=2026-03-02", 50), ("q=person 00", 9), ("whose=role", 50),
     ("whose=blocked", 0), ("home=Lindens&stage=filled", 17), ("home=nowhere", 100), ("by=rubbish", 100)],
)  # fmt: skip
def test_it_is_narrowed_by_home_stage_day_name_and_whose_work_it_is(asked: str, found: int, sign_in: SignIn) -> None:
    many_sets(100)
    page = sign_in(Role.TECHNICIAN).get(f"/?{asked}").content.decode()
    counted = f"{found} of 100 sets are shown" if found != 100 else "of 100 sets"
    assert counted in page
    assert shown(page) == min(found, PAGE)


@pytest.mark.parametrize("many", [3, 90])
def test_so_many_queries_whatever_the_number_of_sets(many: int, sign_in: SignIn) -> None:
    many_sets(many)
    client = sign_in(Role.PHARMACIST)
    client.get("/")
    with CaptureQueriesContext(connection) as asked:
        client.get("/")
    assert len(asked) <= 17


def test_a_set_in_hand_comes_first_for_whoever_has_it_and_says_so_to_others(sign_in: SignIn) -> None:
    many_sets(4)
    mine = CardSet.objects.get(person_id="x2")
    client, other = sign_in(Role.TECHNICIAN), sign_in(Role.PHARMACIST)
    by = replace(on(), by=actor_of(Account.objects.get(username="technician")))
    claim_set(mine.pk, by)
    assert "Next: Person 002" in client.get("/").content.decode()
    page = other.get("/").content.decode()
    assert "in hand: The technician" in page


def test_taking_handing_on_and_putting_back_are_events_that_name_from_whom(guarded: None, sign_in: SignIn) -> None:
    small_bench.ready_to_fill()
    sign_in(Role.TECHNICIAN), sign_in(Role.CHECKER)
    number = CardSet.objects.get().pk
    technician, checker = (replace(on(), by=actor_of(Account.objects.get(username=name))) for name in ("technician", "checker"))
    small_bench.must(claim_set(number, technician))
    small_bench.must(claim_set(number, checker))
    small_bench.must(hand_on_set(number, checker, "technician"))
    assert small_bench.refused(hand_on_set(number, technician, "nobody")) == {"custody.nobody-to-hand-to"}
    small_bench.must(put_back_set(number, technician))
    said = [(entry.event, entry.who_name, "The technician" in entry.body) for entry in load_entries("set", str(number))]
    assert said[-5:] == [
        ("set claimed", "The technician", False),
        ("set claimed", "The checker", True),
        ("set handed on", "The checker", True),
        ("refused", "The technician", False),
        ("set put back", "The technician", True),
    ]


def test_what_blocks_a_set_says_whose_matter_it_is_and_leads_there_who_may_mend_it(sign_in: SignIn) -> None:
    small_bench.ready_to_fill()
    CardRow.objects.update(out_of_date=True)
    assert b'1 out of date</b>: <span class="soft">a pharmacist</span>' in sign_in(Role.TECHNICIAN).get("/").content
    page = sign_in(Role.PHARMACIST).get("/?whose=blocked").content.decode()
    assert "/out-of-date" in page


def test_planning_for_two_people_is_work_for_the_task_runner(sign_in: SignIn) -> None:
    small_bench.ready_to_fill()
    PersonRow.objects.create(id="p2", name="Second Person")
    client = sign_in(Role.TECHNICIAN)
    answer = client.post("/plan", {"person": ["p1", "p2"], "first": "2026-03-09", "days": "7", "token": "t"})
    assert answer["Location"].startswith("/long-work/")
    page = client.get(answer["Location"]).content.decode()
    assert "of 2 people done" in page
    assert "Planning: 0 of 2 done" in client.get("/").content.decode()
    assert client.post(answer["Location"] + "/cancel", {"token": "c"}).status_code == 302
    assert "2 people were not tried" in client.get(answer["Location"]).content.decode()
