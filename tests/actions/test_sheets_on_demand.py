"""Sheets on demand at the bench: made from what the store holds, kept byte for byte, in the ledger; refused to whoever may not."""

import hashlib
from datetime import date, datetime
from fractions import Fraction
from typing import Any

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on
from tests.core.paper.sheet_reading import text_of

import dosewright.actions.make_sheet as making
from dosewright.actions.make_sheet import Wanted, Way
from dosewright.actions.make_sheet import make_recall as keep_recall
from dosewright.actions.make_sheet import make_sheet as keep_sheet
from dosewright.actions.outcome import Outcome
from dosewright.actions.plan_set import plan_set
from dosewright.actions.print_set import print_set
from dosewright.actions.receive_medicines import receive_medicines
from dosewright.actions.receive_orders import receive_orders
from dosewright.actions.sheets_wanted import (
    check_of_set,
    manifest_of,
    month_of_home,
    month_of_person,
    notices_of,
    recall_of,
    round_of_home,
    sheet_of_person,
)
from dosewright.actions.stop_order import stop_order
from dosewright.actions.take_return import take_return
from dosewright.core.custody.event import Occasion, Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.paper.finish import Offered
from dosewright.core.supply.placement import Cell
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, HomeId, MedicineCode, OrderId
from dosewright.devices.fonts import load_fonts
from dosewright.store.ledger import load_entries
from dosewright.store.made_papers import load_made, load_made_lately
from dosewright.store.paper_sources import load_days, load_home, load_set_material
from dosewright.store.people import save_home

pytestmark = pytest.mark.usefixtures("guarded")
MADE_SUNDAY = datetime(2026, 3, 8, 10, 0)  # noqa: DTZ001
MADE = datetime(2026, 3, 2, 10, 0)  # noqa: DTZ001 — the clock on the pharmacy's wall
LINDENS = HomeId("lindens")
AT_HOME = {name: line.replace("1939-02-04,,,", "1939-02-04,lindens,12,") for name, line in bench.ORDERS.items()}
PUFFS = b"""code,name,strength,form,shape,length_mm,width_mm,thickness_mm,colour,mark,maker,gtin,pack_size,flags,cautions
bisoprolol-5-b,bisoprolol,5 mg,tablet,oval,8,6,3,white,X 5,Brook,,28,,
"""


def make_sheet(wanted: Wanted, occasion: Occasion) -> Outcome:
    """The sheet, under its own name."""
    return keep_sheet(wanted.name.subject, occasion, wanted)


def make_recall(wanted: Wanted, occasion: Occasion) -> Outcome:
    """The same of a recall."""
    return keep_recall(wanted.name.subject, occasion, wanted)


def read(outcome: Outcome) -> str:
    """The text of the sheet that was made."""
    made = load_made(int(bench.must(outcome).made[0]))
    assert made.sha256 == hashlib.sha256(made.pdf).hexdigest()
    return text_of(Offered(made.pdf, 0, (), ()))


def at_home() -> int:
    """The small bench with its person in a home; the set. The UK profile writes numbers of units as capital words."""
    bench.opened()
    save_home(LINDENS, "The Lindens", address="2 Linden Way")
    bench.ordered(*AT_HOME.values())
    return bench.planned()


def test_the_persons_sheet_says_every_dose_of_the_set() -> None:
    said = read(make_sheet(sheet_of_person(at_home(), 18.0, "en", MADE), on()))
    assert "08:00 morning ONE tablet bisoprolol 5 mg" in said
    assert "18:00 evening HALF a tablet metformin 500 mg" in said
    assert "Made 2 March 2026, 10:00." in said


def test_in_the_language_that_was_asked_for() -> None:
    set_id = at_home()
    for n, (lang, words) in enumerate((("fr", "UN comprimé"), ("es", "UN comprimido"), ("de", "EINE Tablette"))):
        assert f"{words} bisoprolol 5 mg" in read(make_sheet(sheet_of_person(set_id, 24.0, lang, MADE), on(minutes=n)))


def test_the_next_set_of_another_makers_tablet_says_how_it_looks_now() -> None:
    at_home()
    bench.must(receive_medicines("more.csv", on(Role.MANAGER), PUFFS))
    bench.must(stop_order(OrderId("RX1"), on(Role.PHARMACIST), Moment(date(2026, 3, 9)), "another maker"))
    bench.ordered(AT_HOME["RX1"].replace("RX1,bisoprolol-5", "RX5,bisoprolol-5-b").replace("2026-03-02", "2026-03-09"))
    next_set = int(bench.must(plan_set(bench.PERSON, on(), PlanAsk(date(2026, 3, 9), 7))).made[0])
    said = read(make_sheet(sheet_of_person(next_set, 18.0, "en", MADE), on()))
    assert "New look. Your 5 mg tablet is now white, oval, marked X 5. Before, it was white, round, marked B 5." in said


def test_the_check_sheet_has_the_orders_and_no_count() -> None:
    said = read(make_sheet(check_of_set(at_home(), MADE), on()))
    assert "18:00 evening: HALF a tablet, every day" in said
    assert "7 tablets" not in said
    assert "SEVEN" not in said


def test_a_months_record_has_the_cards_days_and_those_after_by_the_orders() -> None:
    at_home()
    said = read(make_sheet(month_of_home(LINDENS, date(2026, 3, 1), MADE), on()))
    assert "Sunday 1 March to Tuesday 31 March 2026" in said
    assert "18:00 evening half a tablet" in said
    assert "The Lindens, room 12" in read(make_sheet(month_of_person(bench.PERSON, date(2026, 4, 1), MADE), on()))


def test_a_round_of_the_home_lists_what_is_due_that_day() -> None:
    at_home()
    said = read(make_sheet(round_of_home(LINDENS, date(2026, 3, 4), MADE), on()))
    assert "08:00 morning" in said
    assert "ONE tablet bisoprolol 5 mg" in said
    assert "Wednesday 4 March 2026" in said


def test_an_order_that_was_stopped_while_its_card_still_holds_it_keeps_the_person_off_the_round() -> None:
    at_home()
    bench.must(stop_order(OrderId("RX1"), on(Role.PHARMACIST), Moment(date(2026, 3, 4)), "stopped"))
    outcome = make_sheet(round_of_home(LINDENS, date(2026, 3, 4), MADE), on())
    assert bench.codes(outcome) >= {"paper.card-differs-from-orders"}
    assert outcome.done is False or "Not on this list" in read(outcome)


def test_an_order_that_waits_is_not_on_the_round_and_it_is_said() -> None:
    at_home()
    line = AT_HOME["RX1"].replace("RX1,bisoprolol-5", "RX9,ramipril-5")
    bench.must(receive_orders("more.csv", on(), (bench.HEADER + line).encode()))
    outcome = bench.must(make_sheet(round_of_home(LINDENS, date(2026, 3, 4), MADE), on()))
    assert "custody.orders-wait" in bench.codes(outcome)
    assert "ramipril" not in read(outcome)


def test_a_manifest_lists_only_what_is_released() -> None:
    bench.released()
    said = read(make_sheet(manifest_of(None, bench.PERSON, date(2026, 3, 2), MADE), on()))
    assert "1 card and 0 other items for 1 person." in said


def test_there_is_no_manifest_of_nothing() -> None:
    at_home()
    assert bench.refused(make_sheet(manifest_of(LINDENS, None, date(2026, 3, 2), MADE), on())) == {"custody.nothing-to-print"}


def test_a_recall_finds_every_card_with_the_lot_and_what_is_still_to_come() -> None:
    """Seven tablets placed on Monday morning's card; recalled on Monday at ten: Monday's eight o'clock is past, six are to come."""
    card = bench.handed_over()
    said = ("Class 2", "wrong strength in one bottle")
    pharmacist = on(Role.PHARMACIST, minutes=30)
    sheet = read(make_recall(recall_of(bench.BISOPROLOL, bench.LOTS[bench.BISOPROLOL], said, MADE), pharmacist))
    assert f"card {card} handed over." in sheet
    assert "To come: 6 tablets in 6 cavities. Exposed: 1 tablet in 1 cavity." in sheet
    notice = read(make_recall(notices_of(bench.BISOPROLOL, bench.LOTS[bench.BISOPROLOL], said, MADE), pharmacist))
    assert "Tue 3 Mar, 08:00 morning: 1 tablet" in notice
    assert "Do not open them" in notice


def test_whoever_took_from_a_card_that_came_back_is_listed_as_exposed() -> None:
    """CV-9.2: the card came back with its last three tablets; four of the lot were taken, and nothing is to come."""
    card = bench.handed_over()
    back = {cell: amount for cell, amount in held(card, bench.BISOPROLOL).items() if cell.row > 4}
    rest = {cell: Fraction(0) for cell in held(card, bench.METFORMIN)}
    sunday = on(Role.DRIVER, minutes=6 * 24 * 60)
    bench.must(take_return(card, sunday, {**back, **rest}))
    said = read(make_recall(recall_of(bench.BISOPROLOL, bench.LOTS[bench.BISOPROLOL], ("2", "x"), MADE_SUNDAY), on(Role.PHARMACIST)))
    assert "To come: nothing. Exposed: 4 tablets in 4 cavities." in said


def test_a_card_that_never_left_exposes_nobody() -> None:
    """It is sealed here on the Wednesday: five of its tablets are still to come, and nobody has taken the first two."""
    bench.sealed()
    at = datetime(2026, 3, 4, 7, 0)  # noqa: DTZ001
    said = read(make_recall(recall_of(bench.BISOPROLOL, bench.LOTS[bench.BISOPROLOL], ("2", "x"), at), on(Role.PHARMACIST)))
    assert "To come: 5 tablets in 5 cavities." in said
    assert "Exposed:" not in said


def held(card: CardNumber, medicine: MedicineCode) -> dict[Cell, Fraction]:
    """What lies in the card of one medicine."""
    return {units.cell: units.amount for units in bench.now(card).state.placed if units.medicine == medicine}


def test_r14_whoever_may_not_makes_none_and_the_attempt_is_on_record() -> None:
    set_id = at_home()
    assert bench.refused(make_sheet(check_of_set(set_id, MADE), on(Role.DRIVER))) == {"custody.no-right"}
    assert bench.refused(make_recall(recall_of(bench.BISOPROLOL, bench.LOTS[bench.BISOPROLOL], ("", ""), MADE), on())) == {
        "custody.no-right"
    }
    assert load_made_lately() == ()
    assert [entry.event for entry in load_entries("paper")] == ["refused", "refused"]


def test_what_was_made_is_in_the_ledger_and_a_second_submit_makes_no_second() -> None:
    set_id = at_home()
    occasion = on(token="one form")
    first = bench.must(make_sheet(check_of_set(set_id, MADE), occasion))
    assert bench.must(make_sheet(check_of_set(set_id, MADE), occasion)).made == first.made
    assert [entry.event for entry in load_entries("paper")] == ["sheet made"]
    assert [made.name.title for made in load_made_lately(f"set {set_id}")] == ["Check sheet"]


def test_r6_what_changed_while_the_sheet_was_drawn_keeps_it_from_being_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    at_home()
    wanted = month_of_home(LINDENS, date(2026, 3, 1), MADE)

    def meanwhile(sources: Any, way: Way) -> Offered:
        offered = wanted.draw(sources, way)
        bench.must(stop_order(OrderId("RX1"), on(Role.PHARMACIST), Moment(date(2026, 3, 20)), "stopped meanwhile"))
        return offered

    outcome = make_sheet(Wanted(wanted.name, wanted.gather, meanwhile, wanted.bases), on())
    assert bench.refused(outcome) == {"custody.sheet-changed-meanwhile"}
    monkeypatch.setattr(making, "check_drawn", lambda *args, **named: ())
    assert make_sheet(Wanted(wanted.name, wanted.gather, wanted.draw, wanted.bases), on(minutes=1)).done


def test_the_sets_own_paper_is_as_before() -> None:
    set_id = at_home()
    assert len(bench.must(print_set(set_id, on(minutes=2))).made) == 3


def test_people_who_are_alike_are_told_apart_on_sheets_on_demand_by_everybody_supplied() -> None:
    """Two people in one room: the border of one does not depend on who else is on the sheet."""
    set_id = at_home()
    bench.ordered(AT_HOME["RX1"].replace("p1,Wilhelmina Okonedo-Hart", "p2,Iris Munn").replace("RX1", "RX9").replace("1001", "1009"))
    alone = load_set_material(set_id, load_fonts()).apart[bench.PERSON]
    assert alone.others == ("Iris Munn",)
    assert alone.pattern is not None
    day = load_days(bench.PERSON, date(2026, 3, 4), 1, date(2026, 3, 2), load_fonts())
    home = load_home(LINDENS, date(2026, 3, 4), 1, date(2026, 3, 2), load_fonts())
    assert day is not None
    assert {material.apart[bench.PERSON] for material in (day, *home)} == {alone}
