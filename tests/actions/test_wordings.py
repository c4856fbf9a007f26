"""R13: a remembered wording chooses for nobody: it is shown, still confirmed order by order, and revoked with effect at once."""

from datetime import UTC, datetime

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.confirm_reading import confirm_reading
from dosewright.actions.look_around import look_around
from dosewright.actions.outcome import Outcome
from dosewright.actions.plan_set import draw_up_request, plan_set
from dosewright.actions.remember_wording import remember_wording
from dosewright.actions.revoke_wording import revoke_wording
from dosewright.core.custody.confirming import Confirmation
from dosewright.core.custody.event import Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.wordings import WHOLE_PHARMACY, choice_by
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Setting
from dosewright.core.units.ids import HomeId, OrderId, PersonId
from dosewright.store.ledger import check_ledger, load_entries
from dosewright.store.orders import load_order
from dosewright.store.wordings import load_wording, load_wordings

pytestmark = pytest.mark.usefixtures("guarded")

PHARMACIST = on(Role.PHARMACIST, minutes=10)
LINDENS = HomeId("The Lindens")
DINNER = "Take 1 tablet with dinner"
RX8, RX10 = OrderId("RX8"), OrderId("RX10")
ARTHUR = PersonId("p2")
EVENING = 0  # the first of the two readings that are laid out


def confirmed(order: OrderId, **said: object) -> Outcome:
    return confirm_reading(order, PHARMACIST, Confirmation(**said))  # type: ignore[arg-type]


def remembered(home: HomeId = WHOLE_PHARMACY, reason: str = "asked the home") -> int:
    """The words of RX8 mean the evening meal from now on; RX10 waits in the same words."""
    bench.asked()
    bench.must(confirmed(RX8, choice=EVENING))
    return int(bench.must(remember_wording(RX8, PHARMACIST, home, reason)).made[0])


def said_of(order: OrderId) -> int | None:
    """Which reading the remembered wording says of an order that waits."""
    stored = load_order(order)
    standing = look_around(stored, datetime(2026, 3, 2, 9, tzinfo=UTC)).wording
    return choice_by(standing.wording, stored.reading) if standing else None


def test_r13_a_wording_that_is_remembered_confirms_nothing_by_itself() -> None:
    remembered()
    assert said_of(RX10) == EVENING
    assert load_order(RX10).standing == "waiting"
    assert "custody.order-waits" in bench.refused(plan_set(ARTHUR, on(), PlanAsk(bench.MONDAY, 7)))
    assert draw_up_request(ARTHUR, PlanAsk(bench.MONDAY, 7), on()).orders == ()


def test_who_remembered_what_and_why_is_in_the_ledger() -> None:
    number = remembered()
    (entry,) = [entry for entry in load_entries("wording", str(number)) if entry.event == "wording remembered"]
    assert (entry.who_name, entry.who_role) == ("pharmacist one", "pharmacist")
    assert all(word in entry.body for word in ("take 1 tablet with dinner", "asked the home", "RX8", '"choice":0'))
    stored = load_wording(number)
    assert (stored.confirmed_by, stored.reason, stored.used, stored.revoked) == ("pharmacist one", "asked the home", 0, False)


def test_an_order_is_confirmed_by_the_wording_and_that_is_counted_and_written_down() -> None:
    number = remembered()
    bench.must(confirmed(RX10, choice=EVENING, wording=number))
    order = load_order(RX10)
    assert (order.standing, order.wording, load_wording(number).used) == ("confirmed", number, 1)
    (entry,) = [entry for entry in load_entries("order", RX10) if entry.event == "reading confirmed"]
    assert f'"wording":{number}' in entry.body


def test_a_wording_that_is_revoked_says_nothing_any_more_also_of_orders_that_wait() -> None:
    number = remembered()
    bench.must(revoke_wording(number, PHARMACIST, "dinner is at noon in The Lindens"))
    assert said_of(RX10) is None
    assert bench.refused(confirmed(RX10, choice=EVENING, wording=number)) == {"custody.wording-gone"}
    assert load_order(RX10).standing == "waiting"
    bench.must(confirmed(RX10, choice=1))
    (entry,) = [entry for entry in load_entries("wording", str(number)) if entry.event == "wording revoked"]
    assert "dinner is at noon in The Lindens" in entry.body
    assert check_ledger() == ()


def test_what_was_confirmed_by_it_stays_and_the_same_words_may_be_remembered_anew() -> None:
    number = remembered()
    bench.must(confirmed(RX10, choice=EVENING, wording=number))
    assert bench.refused(remember_wording(RX8, PHARMACIST, WHOLE_PHARMACY, "again")) == {"custody.wording-known"}
    bench.must(revoke_wording(number, PHARMACIST, "asked again"))
    assert bench.refused(revoke_wording(number, PHARMACIST, "twice")) == {"custody.wording-revoked"}
    again = int(bench.must(remember_wording(RX8, PHARMACIST, WHOLE_PHARMACY, "it was right")).made[0])
    assert load_order(RX10).standing == "confirmed"
    assert [(one.id, one.revoked) for one in load_wordings()] == [(again, False), (number, True)]


@pytest.mark.parametrize(("choice", "wording"), [(1, 0), (None, 0), (EVENING, 1)], ids=["another choice", "no choice", "another number"])
def test_r13_a_form_that_says_something_else_than_the_wording_confirms_nothing(choice: int | None, wording: int) -> None:
    number = remembered()
    if wording:
        bench.must(confirmed(RX10, choice=EVENING))
        number = int(bench.must(remember_wording(RX10, PHARMACIST, LINDENS, "the home's own")).made[0])
        line = bench.order_line(bench.AT_HOME, "RX12", bench.METFORMIN, DINNER)
        (waits,) = bench.waiting(line)
        assert "custody.wording-gone" in bench.refused(confirmed(waits, choice=EVENING, wording=number, beside=True))
        return
    assert "custody.wording-gone" in bench.refused(confirmed(RX10, choice=choice, wording=number))


def test_a_homes_own_wording_is_read_before_the_pharmacys_and_only_there() -> None:
    remembered()
    bench.must(confirmed(RX10, choice=1))
    bench.must(remember_wording(RX10, PHARMACIST, LINDENS, "dinner is at noon here"))
    here, there = bench.waiting(
        bench.order_line(bench.IN_THE_LINDENS, "RX20", bench.METFORMIN, DINNER),
        bench.order_line(bench.AT_HOME, "RX21", bench.METFORMIN, DINNER),
    )
    assert (said_of(here), said_of(there)) == (1, EVENING)


def test_a_wording_is_not_remembered_for_a_home_that_the_order_is_not_of() -> None:
    bench.asked()
    bench.must(confirmed(RX8, choice=EVENING))
    assert bench.refused(remember_wording(RX8, PHARMACIST, LINDENS, "x")) == {"custody.unknown-choice"}
    assert load_wordings() == ()


UNSAFE = [
    pytest.param("Take 1 or 2 tablets in the morning", id="a range"),
    pytest.param("Take 1 or 2 tablets with dinner", id="a range beside a convention"),
    pytest.param("Take 1 tablet biweekly", id="an error-prone abbreviation"),
]


@pytest.mark.parametrize("text", UNSAFE)
def test_r13_an_answer_to_a_question_of_safety_is_never_remembered(text: str) -> None:
    bench.opened()
    (order,) = bench.waiting(bench.order_line(bench.AT_HOME, "RX1", bench.METFORMIN, text))
    bench.must(confirmed(order, choice=1))
    assert bench.refused(remember_wording(order, PHARMACIST, WHOLE_PHARMACY, "x")) == {"custody.wording-of-safety"}


def test_directions_that_were_written_anew_are_no_answer_to_remember() -> None:
    bench.asked()
    anew = read("Take 1 tablet at noon", Setting("en", "GB", "tablet", "500 mg"))
    bench.must(confirmed(RX8, choice=EVENING, restated=anew, reason="Dr Example"))
    assert load_order(RX8).choice is None
    assert bench.refused(remember_wording(RX8, PHARMACIST, WHOLE_PHARMACY, "x")) == {"custody.wording-not-confirmed"}


def test_nobody_but_a_pharmacist_remembers_or_revokes() -> None:
    number = remembered()
    assert bench.refused(remember_wording(RX10, on(Role.CHECKER), WHOLE_PHARMACY, "x")) == {"custody.no-right"}
    assert bench.refused(revoke_wording(number, on(Role.MANAGER), "x")) == {"custody.no-right"}
    assert bench.refused(revoke_wording(number + 1, PHARMACIST, "x")) == {"custody.not-there"}
    assert bench.refused(revoke_wording(number, PHARMACIST, " ")) == {"custody.no-reason"}
    assert not load_wording(number).revoked


def test_words_in_another_language_or_of_another_product_are_other_words() -> None:
    remembered()
    bench.must(confirmed(RX10, choice=EVENING))
    line = bench.order_line(bench.AT_HOME, "RX30", "ramipril-5", DINNER)
    (capsule,) = bench.waiting(line)
    assert said_of(capsule) is None
