"""Near misses: noted by anybody at the bench, and by the bench itself where it refused what would have been an error."""

from datetime import date, timedelta
from fractions import Fraction

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.note_near_miss import Noted, note_near_miss
from dosewright.actions.release_card import release_card
from dosewright.actions.say_what_changed import say_what_changed, take_back_what_changed
from dosewright.actions.scan_bottle import Bottle, scan_bottle
from dosewright.actions.send_back_card import send_back_card
from dosewright.core.checking.turn import Turn
from dosewright.core.custody.event import Role
from dosewright.core.custody.near_miss import Cause, Harm, NearMissKind, NoticedAt, Origin, caught_by_scan, caught_on_release
from dosewright.core.supply.scanning import Proof
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import CardNumber, Gtin, MedicineCode
from dosewright.store.cards import load_card
from dosewright.store.ledger import check_ledger, load_entries
from dosewright.store.near_misses import load_near_misses, load_outcomes_of_checks, load_turns

pytestmark = pytest.mark.usefixtures("guarded")
RAMIPRIL = MedicineCode("ramipril-5")


def in_hand(named: MedicineCode, wanted: MedicineCode = bench.BISOPROLOL) -> Bottle:
    """A bottle whose code names that medicine, held for another."""
    return Bottle(wanted, Proof(Gtin("04150999999994"), named), bench.LOTS[bench.BISOPROLOL], bench.EXPIRY)


def test_one_word_is_enough_and_nobody_is_named() -> None:
    card = bench.filled()
    before = load_card(card).state
    bench.must(note_near_miss(card, on(minutes=30), Noted(NearMissKind.WRONG_PLACE, NoticedAt.FILLING)))
    (miss,) = load_near_misses()
    assert (miss.card, miss.kind, miss.found_by, miss.note, miss.origin) == (card, NearMissKind.WRONG_PLACE, "", "", Origin.PERSON)
    assert load_card(card).state == before, "nothing happens to a card by it"
    (entry,) = [one for one in load_entries("card", card) if one.event == "near miss"]
    assert entry.who_name == "technician one", "the ledger has everybody's name"
    assert not check_ledger()


def test_who_wants_to_be_asked_may_say_so_and_add_what_they_know() -> None:
    bench.opened()
    said = Noted(NearMissKind.OTHER, NoticedAt.FETCHING, "two boxes on one shelf", Cause.ALIKE, Harm.SERIOUS, named=True)
    bench.must(note_near_miss("", on(Role.DRIVER), said))
    (miss,) = load_near_misses()
    assert (miss.card, miss.stage, miss.found_by, miss.cause, miss.harm) == ("", None, "driver one", Cause.ALIKE, Harm.SERIOUS)


@pytest.mark.parametrize(("card", "role", "said", "code"), [
    ("", Role.TECHNICIAN, Noted(NearMissKind.OTHER, NoticedAt.FILLING, " "), "custody.near-miss-unsaid"),
    ("000000000000000", Role.TECHNICIAN, Noted(NearMissKind.EXTRA, NoticedAt.FILLING), "custody.not-there"),
    ("", Role.INSPECTOR, Noted(NearMissKind.EXTRA, NoticedAt.FILLING), "custody.no-right"),
    ("", Role.CARER, Noted(NearMissKind.EXTRA, NoticedAt.FILLING), "custody.no-right"),
])  # fmt: skip
def test_what_cannot_be_noted_is_said(card: str, role: Role, said: Noted, code: str) -> None:
    bench.opened()
    assert bench.refused(note_near_miss(card, on(role), said)) == {code}
    assert load_near_misses() == ()


def test_a_bottle_that_no_cavity_asks_for_is_a_near_miss_once_in_a_shift() -> None:
    _, card = bench.ready_to_fill()
    for minutes in (0, 1, 2):
        assert bench.refused(scan_bottle(card, on(minutes=minutes), in_hand(RAMIPRIL))) == {"supply.wrong-product"}
    (miss,) = load_near_misses()
    assert (miss.kind, miss.origin, miss.noticed, miss.note) == (
        NearMissKind.WRONG_MEDICINE, Origin.SCAN, NoticedAt.FILLING, "ramipril-5 in the hand for bisoprolol-5")  # fmt: skip
    assert [entry.event for entry in load_entries("card", card)][-5:] == ["printed", "near miss", "refused", "refused", "refused"]
    scan_bottle(card, on(minutes=13 * 60), in_hand(RAMIPRIL))
    assert len(load_near_misses()) == 2


def test_a_bottle_of_the_same_card_before_its_turn_is_everyday_work() -> None:
    _, card = bench.ready_to_fill()
    assert bench.refused(scan_bottle(card, on(), in_hand(bench.METFORMIN))) >= {"supply.wrong-product"}
    assert load_near_misses() == ()


WRONG = Finding("supply.wrong-product", Severity.STOP, {"medicine": "bisoprolol-5"}, {"scanned": "bisoprolol-2.5", "gtin": "1"})


def test_the_same_name_is_another_strength() -> None:
    names = {MedicineCode("bisoprolol-5"): "bisoprolol", MedicineCode("bisoprolol-2.5"): "bisoprolol"}
    caught = caught_by_scan([WRONG], {MedicineCode("bisoprolol-5")}, names)
    assert caught == (NearMissKind.WRONG_STRENGTH, "bisoprolol-2.5 in the hand for bisoprolol-5")
    assert caught_by_scan([WRONG], {MedicineCode("bisoprolol-5")}, {}) == (NearMissKind.WRONG_MEDICINE, caught[1])


def test_a_checked_card_that_may_not_leave_for_its_days_is_a_near_miss() -> None:
    card = bench.sealed()
    late = on(Role.PHARMACIST, minutes=60 * 24 * 90)
    assert "checking.card-past" in bench.refused(release_card(card, late))
    (miss,) = load_near_misses()
    assert (miss.kind, miss.origin, miss.noticed) == (NearMissKind.PAST_LAST_DAY, Origin.RELEASE, NoticedAt.RELEASE)


def test_a_card_that_is_not_so_far_is_no_error_of_anybody() -> None:
    card = bench.filled()
    bench.refused(release_card(card, on(Role.PHARMACIST)))
    assert load_near_misses() == ()


def test_contents_that_differ_at_release_have_their_kind() -> None:
    short = Finding("checking.cell-differs", Severity.STOP, {}, {"found": Fraction(0), "expected": Fraction(1, 2)})
    over = Finding("checking.cell-differs", Severity.STOP, {}, {"found": Fraction(1), "expected": Fraction(1, 2)})
    stray = Finding("checking.not-in-plan", Severity.STOP, {}, {"medicine": "x"})
    assert caught_on_release([short, over, stray, stray]) == (NearMissKind.MISSING, NearMissKind.EXTRA, NearMissKind.WRONG_MEDICINE)


def test_the_checks_that_near_misses_are_counted_against() -> None:
    card = bench.checked()
    bench.must(send_back_card(card, on(Role.PHARMACIST, minutes=30), NearMissKind.DAMAGED, "the film tore"))
    accepted, back = load_outcomes_of_checks()
    assert (len(accepted), len(back)) == (1, 1)
    assert back[0] - accepted[0] == timedelta(minutes=10)


def test_what_changed_is_said_with_who_and_taken_back_with_who() -> None:
    bench.opened()
    manager = on(Role.MANAGER)
    outcome = bench.must(say_what_changed("near misses", manager, date(2026, 3, 1), "another supplier of metformin", Turn.ANEW))
    (turn,) = load_turns()
    assert (turn.text, turn.turn, turn.said_by) == ("another supplier of metformin", Turn.ANEW, "manager one")
    bench.must(take_back_what_changed("near misses", manager, int(outcome.made[0])))
    assert load_turns() == ()
    assert [entry.event for entry in load_entries("chart")] == ["change noted", "change taken back"]
    assert bench.refused(take_back_what_changed("near misses", manager, 1)) == {"custody.not-there"}


@pytest.mark.parametrize(("day", "text", "role", "code"), [
    (date(2026, 3, 3), "something to come", Role.MANAGER, "custody.day-to-come"),
    (date(2026, 3, 1), "  ", Role.MANAGER, "custody.no-reason"),
    (date(2026, 3, 1), "said by somebody else", Role.TECHNICIAN, "custody.no-right"),
])  # fmt: skip
def test_what_cannot_be_said_of_a_day(day: date, text: str, role: Role, code: str) -> None:
    bench.opened()
    assert bench.refused(say_what_changed("near misses", on(role), day, text, Turn.SAID)) == {code}


def test_a_card_s_own_near_misses_are_found() -> None:
    card = bench.filled()
    bench.must(note_near_miss("", on(), Noted(NearMissKind.EXTRA, NoticedAt.FILLING)))
    bench.must(note_near_miss(card, on(), Noted(NearMissKind.EXTRA, NoticedAt.CHECK)))
    assert [miss.card for miss in load_near_misses(card)] == [card]
    assert load_near_misses(CardNumber("nothing")) == ()
