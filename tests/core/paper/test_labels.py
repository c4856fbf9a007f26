"""Header and cavity labels, as a carer and an inspector look at them."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction

import pytest
from tests.core.paper.paper_sample import CARD, CATALOGUE, FORMAT, MATERIAL, ORDERS, PERSON_PLAN, PROFILE, REQUEST

from dosewright.core.packing.card_format import Box, CardFormat
from dosewright.core.packing.plan_values import CardColumn, PersonPlan
from dosewright.core.paper.label_lines import measure_label_lines
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.page import Page
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, DosingTime
from dosewright.core.units.ids import CardNumber, MedicineCode, SlotName
from dosewright.core.units.quantity import Quantity

PAGES = draw_labels(PERSON_PLAN, MATERIAL)[0]


def words_in(page: Page, box: Box) -> str:
    """The text of the runs that are held to that box of the card format."""
    left, top = float(box.left), float(box.top)
    return " ".join(run.text for run in page.runs if (run.box.left, run.box.top) == (left, top))


def label(row: int, column: int, pages: Sequence[Page] = PAGES, form: CardFormat = FORMAT) -> str:
    return words_in(pages[0], form.cavity_label(row, column))


LABELS = [
    (
        1,
        1,
        (
            "Monday 2 March 08:00 morning 1 metformin 500 mg half bisoprolol 2.5 mg 2 paracetamol 500 mg 1 digoxin 62.5 micrograms "
            "1 omeprazole 20 mg"
        ),
    ),
    (1, 2, "Monday 2 March 12:00 noon 2 tablets paracetamol 500 mg"),
    (3, 4, "Wednesday 4 March 22:00 bedtime 2 tablets paracetamol 500 mg 1 and a half tablets quetiapine 50 mg modified-release"),
    (2, 3, "Tuesday 3 March 18:00 evening 1 tablet metformin 500 mg 2 tablets paracetamol 500 mg"),
    (7, 3, "Sunday 8 March 18:00 evening 1 tablet metformin 500 mg 2 tablets paracetamol 500 mg 3 tablets warfarin 1 mg"),
]


@pytest.mark.parametrize(("row", "column", "expected"), LABELS)
def test_a_cavity_label_says_day_time_each_medicine_with_its_amount_and_whose_it_is(row: int, column: int, expected: str) -> None:
    assert label(row, column) == f"{expected} Wilhelmina Okonedo-Hart"


def test_number_words_where_the_profile_asks_for_them() -> None:
    """UK and New Zealand labels: dose words in capitals."""
    profile = replace(PROFILE, rules={**PROFILE.rules, "number_style": replace(PROFILE.rules["number_style"], value="words")})
    pages = draw_labels(PERSON_PLAN, replace(MATERIAL, request=replace(REQUEST, profile=profile)))[0]
    assert "TWO paracetamol 500 mg ONE AND A HALF quetiapine 50 mg" in label(3, 4, pages)
    assert "TWO tablets paracetamol 500 mg" in label(1, 2, pages)


def test_a_cavity_with_nothing_in_it_says_so_and_days_after_the_last_have_no_label() -> None:
    shorter = replace(
        CARD, last=CARD.first + timedelta(days=4), cavities=tuple(c for c in CARD.cavities if c.row <= 5 and (c.row, c.column) != (2, 2))
    )
    pages = draw_labels(replace(PERSON_PLAN, cards=(shorter,)), MATERIAL)[0]
    assert label(2, 2, pages) == "Tuesday 3 March 12:00 noon nothing to take Wilhelmina Okonedo-Hart"
    assert label(6, 1, pages) == label(7, 4, pages) == ""


def test_a_split_dose_says_which_part_it_is() -> None:
    columns = (replace(CARD.columns[0], part=1, parts=2), replace(CARD.columns[0], column=2, part=2, parts=2))
    whole = CARD.cavities[0]
    cavities = tuple(replace(whole, column=n, part=n, parts=2, contents=whole.contents[n - 1 : n + 1]) for n in (1, 2))
    pages = draw_labels(replace(PERSON_PLAN, cards=(replace(CARD, columns=columns, cavities=cavities),)), MATERIAL)[0]
    assert "08:00 morning, part 1 of 2" in label(1, 1, pages)
    assert "08:00 morning, part 2 of 2" in label(1, 2, pages)


def test_every_dosing_time_has_its_dial_at_its_clock_time() -> None:
    dials = [dial.at for dial in PAGES[0].dials]
    assert dials == [at for at in (time(8), time(12), time(18), time(22)) for _ in range(7)]


def test_a_second_product_of_the_same_name_and_strength_is_told_apart_by_its_form() -> None:
    double = replace(CATALOGUE[MedicineCode("metf")], code=MedicineCode("metm"), form="modified-release tablet")
    content = replace(CARD.cavities[0].contents[0], medicine=double.code)
    cavity = replace(CARD.cavities[0], contents=(*CARD.cavities[0].contents[:3], content))
    request = replace(REQUEST, medicines={**CATALOGUE, double.code: double})
    pages = draw_labels(replace(PERSON_PLAN, cards=(replace(CARD, cavities=(cavity,)),)), replace(MATERIAL, request=request))[0]
    assert "1 tablet metformin 500 mg modified-release" in label(1, 1, pages)


def header(pages: Sequence[Page] = PAGES) -> str:
    return " ".join(words_in(page, FORMAT.sheet.header) for page in pages)


def test_the_header_names_every_medicine_with_all_that_belongs_to_it() -> None:
    for held, total in (("metf", "14 tablets"), ("quet", "10 and a half tablets"), ("warf", "12 tablets"), ("omep", "7 capsules")):
        medicine, order = CATALOGUE[MedicineCode(held)], next(order for order in ORDERS if order.medicine == held)
        for words in (
            f"{medicine.name} {medicine.strength} {medicine.form}",
            order.text,
            f"In this card: {total}.",
            order.prescriber,
            order.rx_no,
        ):
            assert words in header()


def test_what_is_not_in_the_card_is_named() -> None:
    """R15."""
    assert "Supplied alongside, not in this card: salbutamol 100 micrograms inhaler; lactulose 3.35 g in 5 mL oral solution." in header()


def test_a_card_of_several_says_which_it_is_and_what_lies_in_the_others() -> None:
    only_morning = tuple(replace(c, contents=tuple(x for x in c.contents if x.medicine != "omep")) for c in CARD.cavities)
    second = replace(CARD, number=CardNumber("TS-20418"), cavities=tuple(c for c in CARD.cavities if c.column == 1))
    plan = replace(PERSON_PLAN, cards=(replace(CARD, cavities=only_morning), second))
    pages = draw_labels(plan, MATERIAL)[0]
    first = header([page for page in pages if dict(page.about)["card"] == "TS-20417"])
    assert "card 1 of 2" in first
    assert "In another card of this set: omeprazole 20 mg gastro-resistant capsule." in first
    assert "In another card of this set: quetiapine 50 mg modified-release tablet; warfarin 1 mg tablet." in header(pages)


def test_medicines_that_do_not_fit_go_on_in_further_headers_each_whole_and_numbered() -> None:
    assert len(PAGES) == 2
    for n, page in enumerate(PAGES, start=1):
        text = words_in(page, FORMAT.sheet.header)
        assert f"header {n} of 2" in text
        assert "Wilhelmina Okonedo-Hart" in text
        assert "TS-20417" in text
    assert [len(page.dials) for page in PAGES] == [28, 0]
    names = [medicine.name for medicine in CATALOGUE.values() if medicine.shape]
    assert sorted(name for page in PAGES for name in names if f"{name} " in words_in(page, FORMAT.sheet.header)) == sorted(names)


def test_one_medicine_takes_one_header_at_full_size() -> None:
    cavities = tuple(replace(c, contents=c.contents[:1]) for c in CARD.cavities if c.column == 1)
    pages = draw_labels(PersonPlan(PERSON_PLAN.person, (replace(CARD, cavities=cavities),), (), PERSON_PLAN.proof), MATERIAL)[0]
    assert len(pages) == 1
    assert "header" not in words_in(pages[0], FORMAT.sheet.header)
    assert next(run.size for run in pages[0].runs if run.text == "metformin 500 mg tablet") == 12.0


def test_directions_longer_than_a_header_stop() -> None:
    orders = tuple(replace(order, text="Take 1 tablet in the morning with plenty of water. " * 60) for order in ORDERS)
    findings = draw_labels(PERSON_PLAN, replace(MATERIAL, request=replace(REQUEST, orders=orders)))[1]
    assert {finding.code for finding in findings} >= {"paper.header-entry-does-not-fit"}


def test_more_medicines_than_a_label_can_say_stop_and_name_the_cavity() -> None:
    full = replace(CARD.cavities[0], contents=CARD.cavities[0].contents * 3)
    findings = draw_labels(replace(PERSON_PLAN, cards=(replace(CARD, cavities=(full,)),)), MATERIAL)[1]
    found = [finding.where for finding in findings if finding.code == "paper.cavity-text-does-not-fit"]
    assert [(where["row"], where["column"], where["date"], where["slot"]) for where in found] == [(1, 1, date(2026, 3, 2), "morning")]


def test_the_measured_room_is_what_really_fits() -> None:
    """As many one-line medicines as the measured lines allow are printed; one more is not."""
    lines = measure_label_lines(REQUEST, MATERIAL.fonts)
    assert lines.needed[MedicineCode("biso")] == 1
    content = replace(CARD.cavities[0].contents[1], quantity=Quantity(Fraction(1), CATALOGUE[MedicineCode("biso")].unit))

    def codes(count: int) -> set[str]:
        cavity = replace(CARD.cavities[0], contents=(content,) * count)
        return {f.code for f in draw_labels(replace(PERSON_PLAN, cards=(replace(CARD, cavities=(cavity,)),)), MATERIAL)[1]}

    assert "paper.cavity-text-does-not-fit" not in codes(lines.room)
    assert "paper.cavity-text-does-not-fit" in codes(lines.room + 1)


def test_labels_stand_where_the_card_format_says() -> None:
    left = [run.box for run in PAGES[0].runs if run.text == "Monday 2 March"]
    boxes = [FORMAT.cavity_label(1, column) for column in range(1, 5)]
    assert [(box.left, box.top) for box in left] == [(float(box.left), float(box.top)) for box in boxes]


def test_a_roll_prints_the_year_on_each_pouch() -> None:
    form = replace(FORMAT, rows=1, columns=4, roll=True)
    columns = tuple(replace(column, first=CARD.first) for column in CARD.columns)
    cavities = tuple(c for c in CARD.cavities if c.row == 1)
    plan = replace(PERSON_PLAN, cards=(replace(CARD, columns=columns, cavities=cavities, last=CARD.first),))
    pages = draw_labels(plan, replace(MATERIAL, request=replace(REQUEST, format=form)))[0]
    assert "Monday 2 March 2026" in label(1, 1, pages, form)


def test_a_time_of_ones_own_is_printed_like_any_other() -> None:
    column = CardColumn(1, SlotName("after breakfast"), time(9, 20), CARD.first)
    cavities = tuple(replace(c, slot=column.slot, time=column.time) for c in CARD.cavities if c.column == 1)
    pages = draw_labels(replace(PERSON_PLAN, cards=(replace(CARD, columns=(column,), cavities=cavities),)), MATERIAL)[0]
    assert "09:20 after breakfast" in label(1, 1, pages)
    assert {dial.at for dial in pages[0].dials} == {time(9, 20)}


def test_the_longest_dosing_time_and_the_longest_name_take_room_together() -> None:
    """Whichever person has which: a dosing time of two lines leaves less room, a name of two lines less, both least."""
    first, *rest = REQUEST.people
    named = (*rest, replace(first, name="Wilhelmina Alexandrina Okonedo-Hartington of Featherstonehaugh by the Saltmarsh"))
    timed = replace(STANDARD_TIMETABLE, slots=(*STANDARD_TIMETABLE.slots, DosingTime(SlotName("when the harbour light is lit"), time(23))))
    longer = [replace(REQUEST, timetable=timed), replace(REQUEST, people=named), replace(REQUEST, timetable=timed, people=named)]
    none, slot, name, both = (measure_label_lines(asked, MATERIAL.fonts).room for asked in (REQUEST, *longer))
    assert none > slot > both
    assert none > name > both
