"""Paper of cards for as-needed medicines: labels without day or dial, a header that says nothing is due, a record with boxes to fill in."""

import re
from dataclasses import replace
from datetime import date, datetime, time
from fractions import Fraction
from typing import Any

import pytest
from tests.core.paper.paper_sample import FORMAT, PROFILE, REQUEST
from tests.core.paper.paper_sample import MATERIAL as SAMPLE
from tests.core.paper.sheet_reading import pages_of, stops_of, text_of

from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.profile import Sourced
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify import verify
from dosewright.core.paper import check_sheet, round_needed, when_needed
from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.finish import Offered
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material
from dosewright.core.paper.offer import offer_fill, offer_labels, offer_record
from dosewright.core.paper.offer_sheets import offer_check, offer_round
from dosewright.core.paper.overlay import check_rest, rest_of_cycle
from dosewright.core.paper.record_rows import record_blocks
from dosewright.core.paper.round_list import RoundList
from dosewright.core.regimen.dosage import Amount, Dosage, Maximum, Repeat, Span, TimeUnit, Timing
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import MedicineCode, OrderId
from dosewright.core.units.quantity import Quantity, Unit

TABLET = Unit("tablet")


def _tablets(count: int) -> Quantity:
    return Quantity(Fraction(count), TABLET)


NEEDED = Dosage(
    timing=Timing(repeat=Repeat(frequency=1, period=Fraction(4), period_unit=TimeUnit.HOUR)),
    as_needed=True,
    amounts=(Amount(quantity=_tablets(2)),),
    max_per_period=Maximum(_tablets(8), Span(Fraction(24), TimeUnit.HOUR)),
)
DAILY = Dosage(
    timing=Timing(repeat=Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=("MORN",))),
    amounts=(Amount(quantity=_tablets(1)),),
)


def _material() -> Material:
    """Paracetamol when needed, and bisoprolol every morning: one card of each kind."""
    para, biso = (next(o for o in REQUEST.orders if o.medicine == code) for code in ("para", "biso"))
    allowed = {**PROFILE.rules, "as_needed_in_card": Sourced(value=True, source="test", dated="2026"),
               "bud_max_days": Sourced(60, "test", "2026"), "max_supply_days": Sourced(60, "test", "2026"),
               "weeks_a_card_max": Sourced(4, "test", "2026")}  # fmt: skip
    asked: PlanRequest = replace(
        REQUEST,
        orders=(replace(para, dosages=(NEEDED,)), replace(biso, dosages=(DAILY,))),
        profile=replace(PROFILE, rules=allowed),
        format=FORMAT,
        medicines={code: REQUEST.medicines[MedicineCode(code)] for code in (MedicineCode("para"), MedicineCode("biso"))},
    )
    plan = plan_cycle(asked)
    assert verify(plan, asked) == ()
    return replace(SAMPLE, plan=plan, request=asked)


MATERIAL = _material()
(PERSON,) = MATERIAL.plan.people


def _texts(pages: object) -> str:
    return " ".join(run.text for page in pages for run in page.runs)  # type: ignore[attr-defined]


def test_labels_fill_sheet_and_record_survive_the_read_back() -> None:
    for offer in (offer_labels, offer_fill, offer_record):
        offered = offer(MATERIAL)
        assert offered.pdf, offered.findings
        assert offered.left_out == ()


def test_its_labels_say_when_and_how_much_and_neither_day_nor_dial() -> None:
    pages, _ = draw_labels(PERSON, MATERIAL)
    due, needed = (page for page in pages if ("sheet", "labels") in page.about)
    said = _texts([needed])
    assert said.count("Only when needed") == 28 + 1  # one a dose, and the header
    assert "at most 8 tablets in 24 hours, at least 4 hours apart" in " ".join(said.split())
    assert "nothing in this card is due at any time" in said
    assert "Use no later than" in said
    assert "March" not in said.split("Use no later than")[0].replace("Only when needed: nothing", "")
    assert needed.dials == ()
    assert len(due.dials) == 7


def test_a_label_that_lacks_the_limit_is_not_printed() -> None:
    """The recount of the finished labels asks for the words: another limit in the plan than on the label is found."""
    needed = next(card for card in PERSON.cards if card.as_needed)
    says = needed.columns[0].when_needed
    assert says is not None
    other = replace(needed, columns=tuple(replace(c, when_needed=replace(says, most=_tablets(4))) for c in needed.columns))
    from dosewright.core.paper.recount import LabelRecount  # noqa: PLC0415

    changed = replace(PERSON, cards=tuple(other if card is needed else card for card in PERSON.cards))
    assert changed.cards != PERSON.cards
    recount = LabelRecount.of([changed], MATERIAL)
    assert recount.cards[other.number][1].columns[0].when_needed != says


def test_its_fill_sheet_has_doses_in_rows_and_no_dosing_time() -> None:
    pages, findings = draw_fill(PERSON, MATERIAL)
    said = _texts(pages)
    assert findings == ()
    assert "when needed" in said.replace("when", "when ").replace("  ", " ")
    assert "row 7" in said
    assert "00:00" not in said


def test_the_record_has_boxes_to_fill_in_by_hand_for_it() -> None:
    every = record_blocks(PERSON, MATERIAL)
    blocks = {block.order.id: block for block in every}
    needed = blocks[OrderId("o-para")]
    assert needed.packed
    assert needed.rows == ()
    assert len(every) == len(blocks) == 2  # one block an order, and none with days for what is not due


MADE = datetime(2026, 3, 2, 10, 0)  # noqa: DTZ001 — the clock on the pharmacy's wall
MONDAY, SUNDAY = date(2026, 3, 2), date(2026, 3, 8)
NEEDED_CARD = next(card for card in PERSON.cards if card.as_needed)


def round_on(day: date, material: Material = MATERIAL) -> Offered:
    return offer_round(RoundList("The Lindens", day, MADE, (material,)))


def test_the_check_sheet_has_a_page_for_the_card_and_asks_of_it_what_such_a_card_has() -> None:
    offered = offer_check(MATERIAL, MADE)
    assert stops_of(offered) == set()
    orders, due, needed = pages_of(offered)
    assert "Only when needed: 2 tablets in each cavity that is used." in orders
    assert "At most 8 tablets in 24 hours, at least 4 hours apart." in orders
    assert NEEDED_CARD.number in needed
    assert "card 2 of 2" in needed
    assert "no days and no dosing times" in needed
    assert "Every cavity label: how much at most" in needed
    assert "Every cavity label: day and dosing time" in due
    assert not re.search(r"\b\d\d:\d\d\b", needed.replace("10:00", ""))  # no dosing time; that clock is when the sheet was made


def test_the_check_sheet_of_a_set_of_such_cards_only_is_no_empty_sheet() -> None:
    only = replace(PERSON, cards=(NEEDED_CARD,))
    offered = offer_check(replace(MATERIAL, plan=replace(MATERIAL.plan, people=(only,))), MADE)
    assert stops_of(offered) == set()
    assert offered.pages == 2


def test_the_round_list_ends_with_what_may_be_given_when_needed_from_which_card_and_how_much() -> None:
    offered = round_on(MONDAY)
    assert stops_of(offered) == set()
    *rounds, last = pages_of(offered)
    assert f"2 tablets paracetamol 500 mg, from card {NEEDED_CARD.number}, one cavity a dose." in last
    assert "At most 8 tablets in 24 hours. At least 4 hours between doses." in last
    assert all("When needed, see the last sheet: paracetamol 500 mg tablet" in page for page in rounds)


def test_after_the_cards_last_day_it_comes_from_its_own_pack() -> None:
    """The card keeps until 27 April 2026; the day after, nothing in it may be taken."""
    assert {cavity.day for cavity in NEEDED_CARD.cavities} == {date(2026, 4, 27)}
    card = f"from card {NEEDED_CARD.number}"
    assert card in text_of(round_on(date(2026, 4, 27)))
    late = text_of(round_on(date(2026, 4, 28)))
    assert card not in late
    assert "paracetamol 500 mg tablet, from its own pack." in late


def test_somebody_who_takes_everything_only_when_needed_is_on_the_list() -> None:
    para = next(order for order in MATERIAL.request.orders if order.medicine == "para")
    only = replace(
        MATERIAL,
        plan=replace(MATERIAL.plan, people=(replace(PERSON, cards=(NEEDED_CARD,)),)),
        request=replace(MATERIAL.request, orders=(para,)),
    )
    offered = round_on(MONDAY, only)
    assert stops_of(offered) == set()
    assert "Wilhelmina Okonedo-Hart" in text_of(offered)


@pytest.mark.parametrize("broken", [when_needed, round_needed], ids=["check sheet", "round list"])
def test_another_amount_than_the_cavities_hold_is_caught_when_the_sheet_is_read_back(broken: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """The renderer broken on purpose: one module at a time says three where the cavities hold two."""
    right = broken.placed_words
    monkeypatch.setattr(broken, "placed_words", lambda *said: right(*said).replace("2 tablets", "3 tablets"))
    if broken is when_needed:
        # Its truth is made in the same module, from other values: there it stays right.
        monkeypatch.setattr(check_sheet, "on_demand_truth", lambda *_: {OrderId("o-para"): (MedicineCode("para"), SAID)})
    offered = offer_check(MATERIAL, MADE) if broken is when_needed else round_on(MONDAY)
    assert offered.pdf == b""
    assert "paper.sheet-differs" in stops_of(offered)


SAID = "Only when needed: 2 tablets in each cavity that is used."


def test_cavities_that_hold_another_dose_than_the_column_says_stop_the_sheets() -> None:
    """Independent of what the column says: the cavities are what the checker finds, and what somebody takes."""
    first, *rest = NEEDED_CARD.cavities
    (content,) = first.contents
    odd = replace(first, contents=(replace(content, quantity=_tablets(1)),))
    card = replace(NEEDED_CARD, cavities=(odd, *rest))
    cards = tuple(card if one.number == card.number else one for one in PERSON.cards)
    wrong = replace(MATERIAL, plan=replace(MATERIAL.plan, people=(replace(PERSON, cards=cards),)))
    assert offer_check(wrong, MADE).pdf == b""
    assert round_on(MONDAY, wrong).pdf == b""


def test_labels_for_the_rest_of_a_cycle_have_every_dose_that_keeps_and_say_that_some_may_be_gone() -> None:
    rest = rest_of_cycle(MATERIAL, Moment(date(2026, 3, 5), time(12)))
    offered = offer_labels(rest)
    assert stops_of(offered) == set()
    due, needed = pages_of(offered)
    assert due.count("08:00 morning") == 3  # Friday to Sunday: Thursday's is over by noon
    assert needed.count("Only when needed") == 28 + 1
    (note,) = check_rest(rest)
    assert (note.code, note.where["card"], note.facts["many"]) == ("paper.doses-gone-not-known", NEEDED_CARD.number, 28)
    assert set(offered.labels[NEEDED_CARD.number]) == {"h1"} | {f"c{row}-{column}" for row in range(1, 8) for column in range(1, 5)}


def test_a_card_for_when_it_is_needed_has_no_labels_once_it_keeps_no_longer() -> None:
    assert [card.number for p in rest_of_cycle(MATERIAL, Moment(date(2026, 4, 28))).plan.people for card in p.cards] == []
    assert [card.number for p in rest_of_cycle(MATERIAL, Moment(date(2026, 4, 27))).plan.people for card in p.cards] == [NEEDED_CARD.number]
