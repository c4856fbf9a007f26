"""Screens by which records are put right: found by a word, changed by who may, with what stood there before."""

import re

import pytest
from django.test import Client
from tests import small_bench as bench
from tests.bench_fixtures import on
from tests.web.conftest import SignIn
from tests.web.test_screens import words

from dosewright.actions.change_setting import setting_lines
from dosewright.core.custody.event import Role
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.store.cards import load_card
from dosewright.store.catalogue import load_medicine
from dosewright.store.people import load_person, load_timetable
from dosewright.store.pharmacy import load_pharmacy, load_rule_texts
from dosewright.store.whose_times import PHARMACY, load_times_of

pytestmark = pytest.mark.usefixtures("guarded")
PERSON = {
    "name": "Wilhelmina Okonedo-Hart",
    "born": "1939-02-04",
    "home": "",
    "room": "",
    "address": "",
    "told_apart": "",
    "reason": "letter",
}


def fields_of(client: Client, path: str) -> dict[str, str]:
    """A form as it comes, every field with its value: what is sent when nobody types anything."""
    page = client.get(path).content.decode()
    said = dict(re.findall(r'<input type="(?:text|date|time)" name="(\w+)"(?: value="([^"]*)")?', page))
    said |= {name: value.strip() for name, value in re.findall(r'<textarea name="(\w+)"[^>]*>([^<]*)</textarea>', page)}
    for name, options in re.findall(r'<select name="(\w+)"[^>]*>(.*?)</select>', page, re.DOTALL):
        said[name] = next(iter(re.findall(r'<option value="([^"]*)" selected', options)), "")
    return said


def test_a_manager_puts_a_name_right_and_the_page_says_what_follows(sign_in: SignIn) -> None:
    card = bench.sealed()
    manager = sign_in(Role.MANAGER)
    said = words(manager.post("/people/p1/correct", {**PERSON, "name": "Wilhelmina Okonedo-Hartt"}, follow=True))
    assert "The record stands so. 1 card is out of date now" in said
    assert load_card(card).state.out_of_date
    again = words(manager.get("/people/p1/correct"))
    assert "name: Wilhelmina Okonedo-Hart → Wilhelmina Okonedo-Hartt" in again
    assert "The manager, manager" in again
    decision = words(sign_in(Role.PHARMACIST).get(f"/cards/{card}/out-of-date"))
    assert "What this card rests on has changed." in decision
    assert "The person's record was changed." in decision
    assert "Why: letter" in decision


def test_a_correction_without_a_reason_comes_back_with_what_was_typed(sign_in: SignIn) -> None:
    bench.filled()
    answer = sign_in(Role.MANAGER).post("/people/p1/correct", {**PERSON, "room": "12 B", "reason": ""})
    assert answer.status_code == 422
    assert "12 B" in answer.content.decode()
    assert load_person(bench.PERSON).room == ""


def test_a_medicine_s_form_as_it_comes_changes_nothing(sign_in: SignIn) -> None:
    """Whatever the form shows is what the record says: sent back untouched, it is the same record."""
    bench.opened()
    pharmacist = sign_in(Role.PHARMACIST)
    for code in bench.GTINS:
        path = f"/medicines/{code}/correct"
        answer = pharmacist.post(path, {**fields_of(pharmacist, path), "reason": "looked at"})
        assert answer.status_code == 422
        assert "Nothing differs from what is on record." in words(answer)


def test_a_medicine_is_found_and_its_marking_put_right(sign_in: SignIn) -> None:
    bench.filled()
    pharmacist = sign_in(Role.PHARMACIST)
    assert "1 medicine with “METF”" in words(pharmacist.get("/medicines", {"q": "METF"}))
    path = "/medicines/metformin-500/correct"
    said = words(pharmacist.post(path, {**fields_of(pharmacist, path), "mark": "M 7", "reason": "a new batch"}, follow=True))
    assert "1 card is out of date now" in said
    assert "mark: M 5 → M 7" in said
    assert load_medicine(bench.METFORMIN).mark == "M 7"


@pytest.mark.parametrize(("field", "typed", "said"), [
    ("length_mm", "17 cm", "length_mm"), ("gtin", "123", "gtin"), ("flags", "no-such-flag", "flags"), ("width_mm", "", "width_mm"),
])  # fmt: skip
def test_what_no_medicines_file_may_say_no_form_may_say(field: str, typed: str, said: str, sign_in: SignIn) -> None:
    bench.opened()
    pharmacist, before = sign_in(Role.PHARMACIST), load_medicine(bench.METFORMIN)
    path = "/medicines/metformin-500/correct"
    answer = pharmacist.post(path, {**fields_of(pharmacist, path), field: typed, "reason": "slip"})
    assert answer.status_code == 422
    assert said in words(answer)
    assert load_medicine(bench.METFORMIN) == before


def rows_of(client: Client, path: str) -> dict[str, list[str]]:
    page = client.get(path).content.decode()
    rows = {name: re.findall(rf'name="{name}" value="([^"]*)"', page) for name in ("name", "clock", "when")}
    return rows | {word: re.findall(rf'name="{word}" value="([^"]*)"', page) for word in ("once", "twice", "three", "four")}


def test_dosing_times_as_they_come_change_nothing_and_a_new_hour_is_theirs(sign_in: SignIn) -> None:
    card = bench.filled()
    pharmacist, path = sign_in(Role.PHARMACIST), "/dosing-times/pharmacy/here"
    rows = rows_of(pharmacist, path)
    same = pharmacist.post(path, {**rows, "reason": "looked at"})
    assert "Nothing differs" in words(same)
    rows["clock"][0] = "07:30"
    said = words(pharmacist.post(path, {**rows, "reason": "the round begins earlier"}, follow=True))
    assert "1 card is out of date now" in said
    assert f"{load_times_of(PHARMACY).slots[0].time:%H:%M}" == "07:30"
    assert load_times_of(PHARMACY).slots[1:] == STANDARD_TIMETABLE.slots[1:]
    assert load_times_of(PHARMACY).by_frequency == STANDARD_TIMETABLE.by_frequency
    decision = words(pharmacist.get(f"/cards/{card}/out-of-date"))
    assert "The dosing times of the pharmacy were changed." in decision
    assert "08:00" in decision
    assert "07:30" in decision


def test_times_that_cannot_stand_come_back_with_one_sentence(sign_in: SignIn) -> None:
    bench.opened()
    pharmacist, path = sign_in(Role.PHARMACIST), "/dosing-times/pharmacy/here"
    rows = rows_of(pharmacist, path)
    rows["clock"][1] = rows["clock"][0]
    answer = pharmacist.post(path, {**rows, "reason": "slip"})
    assert answer.status_code == 422
    assert "These dosing times cannot stand:" in words(answer)
    assert load_times_of(PHARMACY) == STANDARD_TIMETABLE


def test_a_person_is_given_times_of_their_own_and_follows_again(sign_in: SignIn) -> None:
    bench.filled()
    pharmacist, path = sign_in(Role.PHARMACIST), "/dosing-times/person/p1"
    rows = rows_of(pharmacist, path)
    rows["clock"][0] = "09:00"
    pharmacist.post(path, {**rows, "reason": "sleeps late"})
    assert f"{load_timetable(bench.PERSON).slots[0].time:%H:%M}" == "09:00"
    assert "Wilhelmina" in words(pharmacist.get("/dosing-times"))
    pharmacist.post(path, {"follow": "yes", "reason": "went to the home"})
    assert load_timetable(bench.PERSON) == STANDARD_TIMETABLE


def test_who_may_only_look_sees_no_button_and_changes_nothing(sign_in: SignIn) -> None:
    bench.opened()
    for path in ("/dosing-times/pharmacy/here", "/settings/format", "/medicines/metformin-500"):
        page = sign_in(Role.INSPECTOR).get(path)
        assert page.status_code == 200
        assert 'class="next"' not in page.content.decode()
        assert "A pharmacist c" in words(page)


def test_a_line_of_the_format_is_found_and_changed(sign_in: SignIn) -> None:
    bench.filled()
    pharmacist = sign_in(Role.PHARMACIST)
    assert "depth_mm" in words(pharmacist.get("/settings/format", {"q": "floor to film"}))
    line = next(one for one in setting_lines("format", load_rule_texts(load_pharmacy().rules)) if one.key == "depth_mm")
    path = f"/settings/format/{line.number}"
    assert "A change puts the 1 card still here out of date" in words(pharmacist.get(path))
    said = words(pharmacist.post(path, {"value": "9.5", "reason": "measured"}, follow=True))
    assert "1 card is out of date now" in said
    assert f"cavity.depth_mm: {line.value} → 9.5" in said
    assert pharmacist.post(path, {"value": '"deep"', "reason": "slip"}).status_code == 422


@pytest.mark.parametrize("path", ["/settings/nothing", "/settings/format/999", "/dosing-times/street/x", "/dosing-times/home/none",
                                  "/dosing-times/person/none", "/medicines/none"])  # fmt: skip
def test_what_is_not_there_is_said(path: str, sign_in: SignIn) -> None:
    bench.opened()
    assert sign_in(Role.PHARMACIST).get(path).status_code == 404


def test_the_history_of_a_card_tells_what_was_corrected(sign_in: SignIn) -> None:
    card = bench.sealed()
    sign_in(Role.MANAGER).post("/people/p1/correct", {**PERSON, "born": "1938-02-04"})
    said = words(sign_in(Role.INSPECTOR).get(f"/cards/{card}/history"))
    assert said.count("born: 1939-02-04 → 1938-02-04") == 2  # the record's own entry, and the card's
    assert on().by.name in said
