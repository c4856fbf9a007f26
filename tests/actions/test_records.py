"""Records put right: each change with its reason and what stood there before, and the cards that rest on it out of date (R9)."""

from dataclasses import replace
from datetime import date, time
from fractions import Fraction
from typing import Any

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.change_setting import change_setting, setting_lines
from dosewright.actions.change_times import change_times
from dosewright.actions.correct_medicine import correct_medicine
from dosewright.actions.correct_person import PersonCorrection, correct_person
from dosewright.actions.decide_card import decide_card
from dosewright.actions.receive_medicines import receive_medicines
from dosewright.actions.release_card import release_card
from dosewright.core.custody.event import Role
from dosewright.core.medicines.medicine import Size
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Timetable
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import CardNumber, Gtin, HomeId, MedicineCode, PersonId, SlotName
from dosewright.core.units.person import Person
from dosewright.store.cards import load_card
from dosewright.store.catalogue import find_by_gtin, load_medicine
from dosewright.store.ledger import load_card_events, load_entries
from dosewright.store.people import load_person, load_timetable, save_person
from dosewright.store.pharmacy import load_pharmacy, load_rule_texts, load_rules
from dosewright.store.value_json import parse_value
from dosewright.store.whose_times import PHARMACY, WhoseTimes, load_times_of

pytestmark = pytest.mark.usefixtures("guarded")
PHARMACIST = on(Role.PHARMACIST, minutes=30)


def facts_of(kind: str, subject: str) -> dict[str, Fact]:
    return parse_value(dict[str, Fact], list(load_entries(kind, subject))[-1].body)


def stale(card: CardNumber) -> bool:
    return load_card(card).state.out_of_date


def put_right(reason: str = "the letter of the surgery", **said: object) -> PersonCorrection:
    return PersonCorrection(replace(load_person(bench.PERSON), **said), reason)  # type: ignore[arg-type]


def test_a_name_is_put_right_and_cards_that_bear_the_old_one_are_held() -> None:
    card = bench.sealed()
    outcome = bench.must(correct_person(bench.PERSON, PHARMACIST, put_right(name="Wilhelmina Okonedo-Hartt")))
    assert bench.codes(outcome) == {"rework.record-changed"}
    assert load_person(bench.PERSON).name == "Wilhelmina Okonedo-Hartt"
    said = facts_of("person", bench.PERSON)
    assert said == {"changes": ("name: Wilhelmina Okonedo-Hart → Wilhelmina Okonedo-Hartt",), "why": "the letter of the surgery"}
    event = load_card_events(card)[-1]
    assert (event.deed, event.facts["what changed"], event.facts["changes"]) == ("out of date", "the person's record", said["changes"])
    assert "custody.out-of-date" in bench.refused(release_card(card, PHARMACIST))
    bench.must(decide_card(card, PHARMACIST, "wait", "a letter; the card goes to the right person"))
    bench.must(release_card(card, on(Role.PHARMACIST, minutes=40)))


def test_a_birth_date_counts_wherever_the_card_is_and_a_room_nowhere() -> None:
    card = bench.handed_over()
    bench.must(correct_person(bench.PERSON, PHARMACIST, put_right(room="12", address="12 Quay Street")))
    assert not stale(card)
    bench.must(correct_person(bench.PERSON, PHARMACIST, put_right(born=date(1938, 2, 4))))
    assert stale(card)


def test_two_records_are_never_merged_and_two_people_are_told_apart() -> None:
    bench.filled()
    save_person(Person(PersonId("p9"), "wilhelmina  okonedo-hart", date(1939, 2, 5)))
    twin = put_right(born=date(1939, 2, 5))
    assert bench.refused(correct_person(bench.PERSON, PHARMACIST, twin)) == {"custody.person-twice"}
    bench.must(correct_person(bench.PERSON, PHARMACIST, replace(twin, told_apart=True)))


@pytest.mark.parametrize(("said", "role", "code"), [
    ({}, Role.PHARMACIST, "custody.nothing-changed"),
    ({"room": "3", "reason": " "}, Role.PHARMACIST, "custody.no-reason"),
    ({"home": HomeId("no-such-home")}, Role.PHARMACIST, "custody.not-there"),
    ({"room": "3"}, Role.TECHNICIAN, "custody.no-right"),
])  # fmt: skip
def test_what_is_no_correction_of_a_person(said: dict[str, Any], role: Role, code: str) -> None:
    bench.filled()
    before = load_person(bench.PERSON)
    assert bench.refused(correct_person(bench.PERSON, on(role), put_right(**said))) == {code}
    assert load_person(bench.PERSON) == before


def test_a_medicine_s_size_holds_cards_that_are_here_and_not_those_that_left() -> None:
    gone = bench.handed_over()
    known = load_medicine(bench.METFORMIN)
    larger = replace(known, size=Size(Fraction(19), Fraction(9), Fraction(7)))
    assert not bench.must(correct_medicine(known.code, PHARMACIST, larger, "measured anew")).findings
    assert not stale(gone)
    bench.must(correct_medicine(known.code, PHARMACIST, replace(larger, cautions=("With food",)), "the leaflet"))
    assert stale(gone)
    assert facts_of("medicine", known.code)["changes"] == ("cautions: nothing → With food",)


@pytest.mark.parametrize(("field", "value", "marks"), [
    ("colour", "yellow", True), ("mark", "M 7", True), ("maker", "Bellweather", True), ("flags", frozenset({"halves-no"}), True),
    ("pack_size", Fraction(84), False),
])  # fmt: skip
def test_what_labels_and_packing_rest_on_marks_the_card_and_the_rest_does_not(field: str, value: object, *, marks: bool) -> None:
    card = bench.filled()
    changed = replace(load_medicine(bench.METFORMIN), **{field: value})  # type: ignore[arg-type]
    bench.must(correct_medicine(bench.METFORMIN, PHARMACIST, changed, "seen on the bench"))
    assert stale(card) is marks


def test_a_card_that_does_not_hold_the_medicine_rests_on_nothing_of_it() -> None:
    card = bench.filled()
    ramipril = load_medicine(MedicineCode("ramipril-5"))
    bench.must(correct_medicine(ramipril.code, PHARMACIST, replace(ramipril, colour="red"), "seen on the bench"))
    assert not stale(card)


def test_what_a_medicine_is_stays_and_another_s_pack_code_is_not_taken() -> None:
    bench.filled()
    known = load_medicine(bench.METFORMIN)
    stronger = replace(known, strength="850 mg")
    assert bench.refused(correct_medicine(known.code, PHARMACIST, stronger, "slip")) == {"custody.other-product"}
    taken = replace(known, gtin=bench.GTINS[bench.BISOPROLOL])
    assert bench.refused(correct_medicine(known.code, PHARMACIST, taken, "slip")) == {"custody.pack-code-taken"}


def test_a_pack_code_that_is_put_right_names_the_medicine_no_more() -> None:
    """R7: a scan of the wrong box must not count as the medicine any longer."""
    bench.filled()
    known, new = load_medicine(bench.METFORMIN), Gtin("04150999999994")
    bench.must(correct_medicine(known.code, PHARMACIST, replace(known, gtin=new), "it was the code of another box"))
    assert (find_by_gtin(new), find_by_gtin(bench.GTINS[bench.METFORMIN])) == (bench.METFORMIN, None)


def test_a_medicines_file_holds_the_same_cards_as_a_correction_by_hand() -> None:
    card = bench.filled()
    file = bench.MEDICINES.replace(b"white,M 5", b"yellow,M 5")
    outcome = bench.must(receive_medicines("again.csv", on(Role.MANAGER), file))
    assert "rework.record-changed" in bench.codes(outcome)
    assert stale(card)
    assert load_card_events(card)[-1].facts["reason"] == "came in with again.csv"


def at_seven() -> Timetable:
    first, *others = STANDARD_TIMETABLE.slots
    return replace(STANDARD_TIMETABLE, slots=(replace(first, time=time(7)), *others))


def renamed() -> Timetable:
    first, *others = STANDARD_TIMETABLE.slots
    names = {1: (SlotName("breakfast"),), 2: (SlotName("breakfast"), SlotName("evening"))}
    return Timetable((replace(first, name=SlotName("breakfast")), *others), names)


def test_the_pharmacy_s_times_move_doses_and_the_card_says_which() -> None:
    card = bench.filled()
    bench.must(change_times("the pharmacy", PHARMACIST, PHARMACY, at_seven(), "the round begins earlier"))
    assert load_times_of(PHARMACY) == at_seven()
    facts = load_card_events(card)[-1].facts
    assert "2026-03-03 08:00 bisoprolol-5: 1 → 0" in facts["doses"]  # type: ignore[operator]
    assert "2026-03-03 07:00 bisoprolol-5: 0 → 1" in facts["doses"]  # type: ignore[operator]
    assert (facts["timetable"], facts["reason"]) == ("the pharmacy", "the round begins earlier")


def test_a_time_that_no_dose_of_the_card_lies_at_touches_nothing() -> None:
    card = bench.filled()
    *others, last = STANDARD_TIMETABLE.slots
    later = replace(STANDARD_TIMETABLE, slots=(*others, replace(last, time=time(23))))
    assert not bench.must(change_times("the pharmacy", PHARMACIST, PHARMACY, later, "nights are later")).findings
    assert not stale(card)


def test_a_name_on_the_labels_that_is_another_now_touches_the_card() -> None:
    card = bench.filled()
    bench.must(change_times("the pharmacy", PHARMACIST, PHARMACY, renamed(), "the home says breakfast"))
    assert load_card_events(card)[-1].facts["changes"] == ("08:00: morning → breakfast",)


def test_a_home_s_times_count_for_its_people_and_a_person_s_own_before_them() -> None:
    card = bench.released_for_a_home()
    person, home = WhoseTimes("person", bench.PERSON), WhoseTimes("home", "lindens")
    bench.must(change_times("person p1", PHARMACIST, person, STANDARD_TIMETABLE, "keeps her own hours"))
    bench.must(change_times("home The Lindens", PHARMACIST, home, at_seven(), "the round begins earlier"))
    assert not stale(card), "she has her own"
    bench.must(change_times("person p1", PHARMACIST, person, None, "goes with the home"))
    assert load_timetable(bench.PERSON) == at_seven()
    assert stale(card)
    assert bench.refused(change_times("person p1", PHARMACIST, person, None, "again")) == {"custody.timetable-not-here"}
    bench.must(change_times("home The Lindens", PHARMACIST, home, None, "as the pharmacy"))
    assert load_timetable(bench.PERSON) == STANDARD_TIMETABLE


def test_times_that_are_as_they_were_or_nobody_s_wish_are_not_changed() -> None:
    bench.filled()
    assert bench.refused(change_times("the pharmacy", PHARMACIST, PHARMACY, STANDARD_TIMETABLE, "same")) == {"custody.nothing-changed"}
    assert bench.refused(change_times("the pharmacy", PHARMACIST, PHARMACY, at_seven(), "")) == {"custody.no-reason"}
    assert load_times_of(PHARMACY) == STANDARD_TIMETABLE
    assert bench.refused(change_times("the pharmacy", on(Role.MANAGER), PHARMACY, at_seven(), "no")) == {"custody.no-right"}


def line_of(which: str, key: str) -> int:
    return next(line.number for line in setting_lines(which, load_rule_texts(load_pharmacy().rules)) if line.key == key)


def test_a_measure_of_the_card_is_changed_and_every_card_still_here_is_held() -> None:
    card = bench.filled()
    bench.must(change_setting("format", PHARMACIST, line_of("format", "depth_mm"), "9.5", "measured on the new cards"))
    assert load_rules(load_pharmacy().rules).card_format.cavity.depth == Fraction("9.5")
    facts = load_card_events(card)[-1].facts
    assert facts["what changed"] == "the card format"
    assert facts["changes"] == ("cavity.depth_mm: 12 → 9.5",)
    assert facts["reason"] == "measured on the new cards"
    assert facts_of("settings", "format")["why"] == "measured on the new cards"


def test_a_card_that_left_keeps_the_profile_that_it_was_planned_by() -> None:
    card = bench.handed_over()
    value = '{ value = 42, source = "letter of the inspectorate", dated = "2026", evidence = "retrieved" }'
    bench.must(change_setting("profile", PHARMACIST, line_of("profile", "bud_max_days"), value, "six weeks from now on"))
    assert not stale(card)
    assert load_rules(load_pharmacy().rules).profile.number("bud_max_days") == 42


@pytest.mark.parametrize(("value", "code"), [
    ("12", "custody.nothing-changed"), ("nonsense", "custody.setting-not-one"), ('"deep"', "custody.setting-not-one"),
    ("-1", "custody.setting-wrong"), ("0", "custody.setting-wrong"), ("1\nx = 2", "custody.setting-not-one"),
])  # fmt: skip
def test_a_line_that_cannot_stand_is_refused_with_its_reason(value: str, code: str) -> None:
    bench.filled()
    before = load_pharmacy().rules
    assert bench.refused(change_setting("format", PHARMACIST, line_of("format", "depth_mm"), value, "a slip")) == {code}
    assert load_pharmacy().rules == before


def test_a_line_that_is_not_there_and_a_file_that_is_none() -> None:
    bench.opened()
    assert bench.refused(change_setting("format", PHARMACIST, 999, "1", "why")) == {"custody.not-there"}
    assert bench.refused(change_setting("passwords", PHARMACIST, 1, "1", "why")) == {"custody.not-there"}
