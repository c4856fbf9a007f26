"""Paper of cards for as-needed medicines: labels without day or dial, a header that says nothing is due, a record with boxes to fill in."""

from dataclasses import replace
from fractions import Fraction

from tests.core.paper.paper_sample import FORMAT, PROFILE, REQUEST
from tests.core.paper.paper_sample import MATERIAL as SAMPLE

from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.profile import Sourced
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify import verify
from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material
from dosewright.core.paper.offer import offer_fill, offer_labels, offer_record
from dosewright.core.paper.record_rows import record_blocks
from dosewright.core.regimen.dosage import Amount, Dosage, Maximum, Repeat, Span, TimeUnit, Timing
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
