"""A change from the order to cards that are right: taken, laid out, decided, done cavity by cavity, counted again, told."""

from collections import Counter
from fractions import Fraction

import pytest
from tests import four_weeks
from tests import small_bench as bench
from tests.four_weeks import decide, latest, look, occasion

from dosewright.actions.change_sheets import CHANGE_SHEETS, sheet_of_change
from dosewright.actions.check_card import OwnCheck, check_card
from dosewright.actions.finish_change import finish_change, recount_change
from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.make_sheet import Asked, make_sheet
from dosewright.actions.outcome import Outcome
from dosewright.actions.release_card import release_card
from dosewright.actions.rework_card import Removed, relabel_card, remove_units
from dosewright.actions.seal_card import seal_card
from dosewright.actions.take_back_card import CameBack, take_back_card
from dosewright.core.custody.changing import ChangeStanding
from dosewright.core.custody.event import Role
from dosewright.core.custody.label_account import account_for
from dosewright.core.custody.reconciling import Returned
from dosewright.core.custody.stage import Stage
from dosewright.core.paper.copies import Copy
from dosewright.core.rework.brief import BriefKind
from dosewright.core.rework.situation import Place
from dosewright.core.supply.account import check_accounts
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, MedicineCode
from dosewright.store.calendar import wall_moment
from dosewright.store.card_units import load_units_in_cards
from dosewright.store.changes import load_change
from dosewright.store.label_sheets import load_card_lives, load_label_sheets
from dosewright.store.made_papers import load_made_lately
from dosewright.store.stock import load_movements, load_stock_by_lot

pytestmark = pytest.mark.usefixtures("guarded")
TECHNICIAN, CHECKER = Role.TECHNICIAN, Role.CHECKER


def nothing_lost() -> None:
    """R11: what the movements say is what stock and cards hold, lot by lot."""
    assert check_accounts(load_movements(), load_stock_by_lot(), load_units_in_cards()) == ()


def opened_counts(card: CardNumber) -> dict[tuple[int, int], dict[MedicineCode, Fraction]]:
    """What a careful checker finds in the opened cavities: all that is planned, and none of what was stopped."""
    filled = bench.now(card).filled
    known = {(cavity.row, cavity.column): cavity for cavity in filled.cavities}
    counts: dict[tuple[int, int], dict[MedicineCode, Fraction]] = {}
    for spot in bench.now(card).state.disturbed:
        held = dict(known[spot].wanted.values()) if spot in known else {}
        counts[spot] = {bench.BISOPROLOL: Fraction(0), **held}
    return counts


def put_right(card: CardNumber, minutes: int) -> None:
    """Take out, label, check, seal, release: a technician, a checker, a pharmacist."""
    bench.must(remove_units(card, occasion(TECHNICIAN, minutes=minutes), Removed(bench.BISOPROLOL, "WASTE-1")))
    bench.must(finish_filling(card, occasion(TECHNICIAN, minutes=minutes + 1)))
    bench.must(check_card(card, occasion(CHECKER, minutes=minutes + 2), OwnCheck(bench.counts(card), opened=opened_counts(card))))
    bench.must(relabel_card(card, occasion(TECHNICIAN, minutes=minutes + 3)))
    bench.must(seal_card(card, occasion(TECHNICIAN, minutes=minutes + 4)))
    bench.must(release_card(card, occasion(minutes=minutes + 5)))
    nothing_lost()


def print_sheet(kind: str, minutes: int = 1, reason: str = "") -> None:
    bench.must(make(kind, minutes, reason))


def make(kind: str, minutes: int, reason: str) -> Outcome:
    return make_sheet(f"change {latest()}", occasion(TECHNICIAN, minutes=minutes), sheet_of_change(latest(), kind), Asked(reason=reason))


def standings(card: CardNumber) -> list[dict[str, int]]:
    """Of each printed sheet of labels of the card, the first printed first: how many labels have which standing."""
    set_id = bench.now(card).set_id
    sheets = [one.sheet for one in load_label_sheets((set_id,))[set_id]]
    accounted = [one for one in account_for(sheets, load_card_lives((set_id,))) if one.card == card]
    return [dict(Counter(one.standing.value for one in accounted if one.sheet == sheet.id)) for sheet in sheets if sheet.card == card]


def back_from_home(card: CardNumber, minutes: int) -> CameBack:
    """Count and record agree: what was due is gone and written, the rest is there."""
    now = wall_moment(occasion(minutes=minutes).at)
    stored = bench.now(card)
    due = {(c.row, c.column) for c in stored.card.cavities if Moment(c.day, c.time) < now}
    counted = {u.cell: Fraction(0) if (u.cell.row, u.cell.column) in due else u.amount for u in stored.state.placed}
    return CameBack(Returned(counted, frozenset(due)))


def test_a_stop_on_day_10_is_found_in_every_card_wherever_it_is() -> None:
    week_1, *still = four_weeks.stopped_on_day_10()
    found = look()
    assert found.change.standing is ChangeStanding.WAITING
    assert found.change.first == four_weeks.DAY_10
    assert {one.card.number: (one.card.place, len(one.changes)) for one in found.layout.differences} == {
        still[0]: (Place.PERSON, 5),
        still[1]: (Place.SHELF, 7),
        still[2]: (Place.SHELF, 7),
    }
    assert sum(len(one.changes) for one in found.layout.differences) == 19  # CV-7.3
    assert week_1 not in {card.number for card in found.open.cards}


def test_it_is_read_in_five_seconds_what_from_when_and_how_much_a_day() -> None:
    four_weeks.stopped_on_day_10()
    from dosewright.actions.lay_out_change import what_changes  # noqa: PLC0415

    (only,) = what_changes(bench.PERSON, load_change(latest()).before, wall_moment(occasion().at))
    assert (only.kind, only.was, only.since, only.before, only.after, only.days) == (
        BriefKind.STOPPED,
        bench.BISOPROLOL,
        four_weeks.DAY_10,
        Fraction(1),
        Fraction(0),
        1,
    )


def test_it_is_brought_to_the_end() -> None:
    _, week_2, week_3, week_4 = four_weeks.stopped_on_day_10()
    bench.must(decide())
    change = load_change(latest())
    assert {task.card: task.deed for task in change.tasks} == {week_2: "recall", week_3: "open", week_4: "open"}
    assert {bench.now(card).state.stage for card in (week_3, week_4)} == {Stage.FILLING}
    for kind in CHANGE_SHEETS:
        print_sheet(kind)
    (_, new), before = standings(week_3), standings(week_4)
    assert set(new) == {"in use"}  # printed, and accounted for like any other label
    put_right(week_3, 10)
    old, now = standings(week_3)
    assert old["voided"] == sum(now.values()) == sum(new.values())  # destroyed when the new ones went on
    assert set(now) == {"in use"}
    assert "not accounted for" not in old
    assert standings(week_4) == before
    assert load_change(latest()).standing is ChangeStanding.IN_WORK
    assert "change.card-not-right" in bench.refused(finish_change(latest(), occasion(minutes=20)))
    put_right(week_4, 20)
    assert "change.card-not-right" in bench.refused(finish_change(latest(), occasion(minutes=30)))  # week 2 is still out
    bench.must(take_back_card(week_2, occasion(TECHNICIAN, minutes=40), back_from_home(week_2, 40)))
    nothing_lost()
    assert "custody.copy-without-reason" in bench.refused(make("labels", 41, ""))
    print_sheet("labels", 41, "the card of week 2 is back")
    assert load_made_lately(f"change {latest()}")[0].copy == Copy(2, "the card of week 2 is back")
    put_right(week_2, 50)
    assert recount_change(look(minutes=60)) == ()
    bench.must(finish_change(latest(), occasion(minutes=60)))
    assert load_change(latest()).standing is ChangeStanding.DONE
    print_sheet("answer", 60)
    wasted = sum(m.amount for m in load_movements() if m.kind.value == "taken to waste")
    assert wasted == 19  # CV-7.3
    bench.must(hand_over_card(week_2, occasion(minutes=61), "W. Okonedo-Hart"))
    nothing_lost()
