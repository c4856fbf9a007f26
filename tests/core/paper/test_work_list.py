"""The work list of a change and the sheet that holds until a card is right: what they say, read back from the finished PDF."""

from datetime import time
from fractions import Fraction

import pypdfium2
import pytest
from tests.core.paper.paper_sample import CARD, FIRST, MATERIAL, PERSON, PERSON_PLAN

from dosewright.core.packing.plan_values import Content
from dosewright.core.paper import interim
from dosewright.core.paper.interim import Interim, InterimDose
from dosewright.core.paper.offer import Offered, offer_interim, offer_work
from dosewright.core.paper.words import Para, bold
from dosewright.core.paper.work_list import CardWork, MedicineWork, WorkList
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId, SlotName
from dosewright.core.units.quantity import Quantity, Unit

BISO = MedicineCode("biso")
HALF, ONE = Fraction(1, 2), Fraction(1)
NEW = CardNumber("TS-20418")
AT = Moment(FIRST, time(12))


def work(*cards: CardWork) -> WorkList:
    return WorkList(PERSON_PLAN, AT, cards, {BISO: (ONE,) * 3}, {BISO: HALF * 3})


def opened(rows: int) -> CardWork:
    out = {(row, 1): HALF for row in range(1, rows + 1)}
    into = {(row, 1): ONE for row in range(1, rows + 1)}
    return CardWork("open", CARD, (), (MedicineWork(CARD, BISO, out, into, {(1, 1): 4}),))


def read(offered: Offered) -> str:
    assert not blocks(offered.findings), offered.findings
    document = pypdfium2.PdfDocument(offered.pdf)
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in document)


def test_what_comes_out_and_what_goes_in_is_said_in_numbers_and_on_maps() -> None:
    said = read(offer_work([work(opened(3))], MATERIAL))
    assert "Take out 1 and a half tablets as 3 pieces, 3 cavities; put in 3 tablets as 3 pieces, 3 cavities." in said
    assert "bisoprolol 2.5 mg tablet: fetch 3 tablets." in said
    assert "bisoprolol 2.5 mg tablet: 1 and a half tablets out of cards, to be destroyed." in said
    assert "4 in" in said
    assert PERSON.name in said


def test_what_is_taken_out_is_waste() -> None:
    """R10."""
    assert "What is taken out is waste. Nothing goes back into stock." in read(offer_work([work(opened(1))], MATERIAL))


@pytest.mark.parametrize(
    ("deed", "sentence"),
    [
        ("header", "Leave it closed. Stick the new header over the old one."),
        ("recall", "Call it back. When it is here:"),
        ("afresh", "Withdraw it; what is left in it is waste."),
        ("move", "carry what is left, cavity by cavity, to the new card"),
        ("wait", "Leave it as it is."),
    ],
)
def test_each_card_has_its_sentence(deed: str, sentence: str) -> None:
    assert sentence in read(offer_work([work(CardWork(deed, CARD, (NEW,), ()))], MATERIAL))


def test_as_many_blocks_as_there_are_take_as_many_pages_as_they_need() -> None:
    """Twelve medicines in one card: two blocks a page after the first, and the fill sheets of the set."""
    many = work(CardWork("open", CARD, (), opened(7).medicines * 12))
    assert "Step 12 of 12" in read(offer_work([many], MATERIAL))


def test_many_cards_flow_over_pages() -> None:
    said = read(offer_work([work(*[CardWork("afresh", CARD, (NEW,), ())] * 40)], MATERIAL))
    assert said.count("becomes") == 40
    assert "Released by (pharmacist)" in said


def dose(day: int) -> InterimDose:
    content = Content(OrderId("o-biso"), BISO, Quantity(HALF, Unit("tablet")))
    return InterimDose(FIRST.replace(day=FIRST.day + day), SlotName("morning"), time(8), (content,))


def test_the_sheet_until_a_card_is_right_says_what_to_give_and_never_to_open_a_card() -> None:
    said = read(offer_interim([Interim(PERSON.id, (CARD.number,), AT, (dose(0), dose(1)))], MATERIAL))
    assert f"Do not give anything from card {CARD.number} from 12:00, Monday 2 March 2026 on." in said
    assert "do not open it, do not take anything out of it, do not write on it" in said
    assert said.count("half a tablet bisoprolol 2.5 mg") == 2
    assert "Tue 3 Mar 08:00 morning" in said


def test_the_sheet_beside_cards_that_stay_in_use_calls_none_of_them_back() -> None:
    said = read(offer_interim([Interim(PERSON.id, (), AT, (dose(0),), AT)], MATERIAL))
    assert "From 12:00, Monday 2 March 2026 on, give what stands here as well." in said
    assert "half a tablet bisoprolol 2.5 mg" in said
    assert "Do not give anything" not in said
    assert "old card" not in said


def test_a_sheet_without_doses_says_that_nothing_is_due_and_asks_for_nothing() -> None:
    """ "Give what stands here" above an empty list sends a carer looking for a page that does not exist."""
    called_back = read(offer_interim([Interim(PERSON.id, (CARD.number,), AT, ())], MATERIAL))
    beside = read(offer_interim([Interim(PERSON.id, (), AT, (), AT)], MATERIAL))
    assert "Nothing is due in its place before what is right is there" in called_back
    assert f"Do not give anything from card {CARD.number}" in called_back
    assert "nothing of it is due before its card is there" in beside
    for said in (called_back, beside):
        assert "what stands here" not in said
        assert "there is nothing to sign" in said


def test_doses_of_a_month_take_several_sheets_with_the_warning_on_each() -> None:
    said = read(offer_interim([Interim(PERSON.id, (CARD.number,), AT, tuple(dose(n) for n in range(28)))], MATERIAL))
    assert said.count("Do not give anything") == said.count("Leave it closed") == 3
    assert said.count("Given by, at") == 28


def test_nobody_has_a_sheet_of_somebody_else() -> None:
    assert offer_work([], MATERIAL).pdf == b""
    assert offer_interim([], MATERIAL).pdf == b""


def test_as_many_medicines_as_a_dosing_time_has_stand_on_the_sheet_in_full_size() -> None:
    """A row of one height held three: somebody with five in the morning had no sheet at all."""
    doses = tuple(InterimDose(c.day, c.slot, c.time, c.contents) for c in CARD.cavities)
    assert max(len(one.contents) for one in doses) == 5
    said = read(offer_interim([Interim(PERSON.id, (CARD.number,), AT, doses)], MATERIAL))
    assert said.count("1 capsule omeprazole 20 mg gastro-resistant") == 7
    pages, _ = interim.draw_interim(Interim(PERSON.id, (CARD.number,), AT, doses), MATERIAL)
    assert min(run.size for page in pages for run in page.runs if run.text.startswith("1 capsule")) == 11.0


def test_an_interim_sheet_that_says_another_dose_is_not_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    """The renderer is broken on purpose: the words that are drawn are another dose's."""
    sheet = Interim(PERSON.id, (CARD.number,), AT, (dose(0), dose(1)))
    monkeypatch.setattr(interim, "_contents", lambda *args: (Para((bold("9 tablets"),), 11.0, 7.0),))
    offered = offer_interim([sheet], MATERIAL)
    assert {finding.code for finding in offered.findings} == {"paper.sheet-differs"}
    assert offered.pdf == b""
