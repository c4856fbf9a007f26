"""The administration record: every order, every dosing time, a box for every day, hatched where nothing is due."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction

from tests.core.paper.paper_sample import CARD, FIRST, MATERIAL, ORDERS, PERSON_PLAN, REQUEST

from dosewright.core.packing.plan_values import Alongside
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Page, Shade
from dosewright.core.paper.record import draw_record
from dosewright.core.paper.record_foot import CODES
from dosewright.core.paper.record_rows import record_blocks
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.units.quantity import Quantity, Unit

DAILY = Timing(repeat=Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=("EVE",)))
SYRUP = Dosage(timing=DAILY, amounts=(Amount(quantity=Quantity(Fraction(15), Unit("mL"))),))
NEEDED = Dosage(as_needed=True, amounts=(Amount(quantity=Quantity(Fraction(2), Unit("puff"))),))


def with_dosages(material: Material = MATERIAL) -> Material:
    """The sample with structure for what is alongside: lactulose every evening, salbutamol when needed."""
    by_medicine = {"lact": (SYRUP,), "salb": (NEEDED,)}
    orders = tuple(replace(order, dosages=by_medicine.get(order.medicine, ())) for order in ORDERS)
    return replace(material, request=replace(material.request, orders=orders))


def text_of(pages: Sequence[Page]) -> str:
    return " ".join(run.text for page in pages for run in page.runs)


def test_packed_alongside_and_as_needed_medicines_are_all_on_it() -> None:
    """CV-2.3 and R15."""
    blocks = record_blocks(PERSON_PLAN, with_dosages())
    assert [block.medicine.name for block in blocks] == [
        "bisoprolol",
        "digoxin",
        "metformin",
        "omeprazole",
        "paracetamol",
        "quetiapine",
        "warfarin",
        "lactulose",
        "salbutamol",
    ]
    assert [block.packed for block in blocks] == [True] * 7 + [False] * 2
    assert [len(block.rows) for block in blocks] == [1, 1, 2, 1, 4, 1, 1, 1, 0]


def test_a_row_has_the_days_on_which_the_plan_packs_it() -> None:
    warfarin = next(block for block in record_blocks(PERSON_PLAN, MATERIAL) if block.medicine.name == "warfarin")
    (row,) = warfarin.rows
    assert (row.time, row.quantity.count) == (time(18), Fraction(3))
    assert row.days == {FIRST + timedelta(days=n) for n in (0, 2, 4, 6)}


def test_what_is_alongside_takes_its_days_from_its_directions() -> None:
    lactulose = next(block for block in record_blocks(PERSON_PLAN, with_dosages()) if block.medicine.name == "lactulose")
    (row,) = lactulose.rows
    assert (row.slot, row.quantity) == ("evening", Quantity(Fraction(15), Unit("mL")))
    assert len(row.days) == 7


def test_a_changing_amount_gets_a_row_for_each_amount() -> None:
    content = CARD.cavities[0].contents[0]
    cavities = tuple(
        replace(c, contents=(replace(content, quantity=Quantity(Fraction(4 - c.row), content.quantity.unit)),))
        for c in CARD.cavities
        if c.column == 1 and c.row <= 3
    )
    (block,) = record_blocks(replace(PERSON_PLAN, cards=(replace(CARD, cavities=cavities),), alongside=()), MATERIAL)
    assert [(row.quantity.count, sorted(row.days)) for row in block.rows] == [
        (Fraction(3 - n), [FIRST + timedelta(days=n)]) for n in range(3)
    ]


def test_a_dose_split_over_two_cavities_is_one_box_with_the_whole_amount() -> None:
    first = next(c for c in CARD.cavities if (c.row, c.column) == (1, 2))
    halves = tuple(replace(first, column=n, part=n, parts=2) for n in (1, 2))
    columns = tuple(replace(CARD.columns[1], column=n, part=n, parts=2) for n in (1, 2))
    plan = replace(PERSON_PLAN, cards=(replace(CARD, columns=columns, cavities=halves),), alongside=())
    (block,) = record_blocks(plan, MATERIAL)
    assert [(row.quantity.count, row.days) for row in block.rows] == [(Fraction(4), frozenset({FIRST}))]


def boxes(pages: Sequence[Page], days: int) -> list[list[Shade]]:
    """Boxes of the schedule, row by row, hatched or not: they are the ones with the height of a row."""
    found = [place for page in pages for place in page.places if abs(place.rect.height - 8.2) < 0.01]
    return [[place.shade for place in found[n : n + days]] for n in range(0, len(found), days)]


def test_there_is_a_box_for_each_dose_and_each_day_without_one_is_hatched() -> None:
    pages = draw_record(PERSON_PLAN, with_dosages())[0]
    rows = boxes(pages, 7)
    assert len(rows) == 12
    assert sum(shade is Shade.NONE for row in rows for shade in row) == 11 * 7 + 4
    assert [shade is Shade.NONE for shade in rows[10]] == [True, False, True, False, True, False, True]


def test_it_has_legend_allergies_signatures_and_room_for_entries_that_two_people_sign() -> None:
    text = text_of(draw_record(PERSON_PLAN, with_dosages())[0])
    assert all(f"{letter} {meaning}" in text for letter, meaning in CODES)
    assert "Allergies: not stated to the pharmacy; write here:" in text
    assert "Handwritten entries: a second person compares each with the prescription and signs." in text
    assert "Who signs here:" in text
    allergic = replace(with_dosages(), allergies={PERSON_PLAN.person: "penicillin: rash (2011)"})
    assert "Allergies: penicillin: rash (2011)" in text_of(draw_record(PERSON_PLAN, allergic)[0])


def test_the_legend_is_on_every_sheet_that_has_boxes() -> None:
    for page in draw_record(PERSON_PLAN, with_dosages())[0]:
        if any(place.shade is Shade.HATCHED for place in page.places):
            assert "Hatched: not due." in text_of([page])


def test_more_than_a_month_is_drawn_in_equal_stretches() -> None:
    request = replace(REQUEST, days=56)
    pages = draw_record(PERSON_PLAN, replace(with_dosages(), request=replace(with_dosages().request, days=request.days)))[0]
    assert all(len(row) == 28 for row in boxes(pages, 28))
    assert len(boxes(pages, 28)) == 2 * 12


def test_a_great_many_rows_go_on_over_several_parts_with_the_medicine_named_on_each() -> None:
    content = CARD.cavities[0].contents[0]
    cavities = tuple(
        replace(
            c,
            day=date(2026, 3, 2) + timedelta(days=n),
            contents=(replace(content, quantity=Quantity(Fraction(n + 1), content.quantity.unit)),),
        )
        for n, c in enumerate(CARD.cavities[:26])
    )
    plan = replace(PERSON_PLAN, cards=(replace(CARD, cavities=cavities),), alongside=())
    pages, findings = draw_record(plan, replace(MATERIAL, request=replace(REQUEST, days=28)))
    assert findings == ()
    assert sum(run.text == "metformin 500 mg tablet" for page in pages for run in page.runs) == 3


def test_an_order_that_is_only_alongside_still_has_a_record() -> None:
    plan = replace(PERSON_PLAN, cards=(), alongside=(Alongside(ORDERS[-1].id, ORDERS[-1].medicine, "form.liquid"),))
    pages = draw_record(plan, with_dosages())[0]
    assert "Alongside, not in a card." in text_of(pages)


def test_somebody_without_any_order_has_no_record() -> None:
    assert draw_record(replace(PERSON_PLAN, cards=(), alongside=()), MATERIAL) == ((), ())
