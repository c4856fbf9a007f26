"""What every action has in common: rights (R14), refusals on record, a second submit known for one, all or nothing."""

import importlib
import pkgutil
from fractions import Fraction
from inspect import signature

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

import dosewright.actions
from dosewright.actions.outcome import Outcome
from dosewright.actions.place_medicine import place_medicine
from dosewright.actions.plan_set import plan_set
from dosewright.actions.print_set import print_set
from dosewright.actions.seal_card import seal_card
from dosewright.actions.waste_units import waste_units
from dosewright.core.custody.event import Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.units.ids import Lot
from dosewright.store.cards import load_set
from dosewright.store.ledger import check_ledger, load_entries, load_head
from dosewright.store.stock import load_stock

pytestmark = pytest.mark.usefixtures("guarded")


def actions() -> dict[str, object]:
    """Every action of the house: a function that was made one by `doing`."""
    found: dict[str, object] = {}
    for module in pkgutil.iter_modules(dosewright.actions.__path__):
        loaded = importlib.import_module(f"dosewright.actions.{module.name}")
        for name in getattr(loaded, "__all__", ()):
            thing = getattr(loaded, name)
            if hasattr(thing, "ability") and thing.__module__ == loaded.__name__:
                found[name] = thing
    return found


def test_every_ability_that_changes_something_has_an_action_and_every_action_an_ability() -> None:
    used = {thing.ability for thing in actions().values()}  # type: ignore[attr-defined]
    # Looking changes nothing.
    assert used == set(Ability) - {Ability.LOOK, Ability.LOOK_AT_HOME, Ability.INSPECT, Ability.LOOK_AT_LEDGER}


def test_r14_only_a_pharmacist_answers_what_the_planner_asks() -> None:
    bench.opened()
    bench.ordered()
    answered = PlanAsk(bench.MONDAY, 7, reasons={"a.question|order=RX1": "it will do"})
    assert bench.refused(plan_set(bench.PERSON, on(), answered)) == {"custody.no-right"}
    bench.must(plan_set(bench.PERSON, on(Role.PHARMACIST), answered))
    planned = [entry for entry in load_entries("set") if entry.event == "set planned"]
    assert "a.question|order=RX1: it will do" in planned[0].body


def test_r12_a_set_of_nothing_but_what_goes_alongside_is_in_the_ledger_too() -> None:
    bench.opened()
    bench.ordered(bench.ORDERS["RX1"].replace("Take 1 tablet in the morning", "Take 1 tablet when needed"))
    set_id = bench.planned()
    assert load_set(set_id).cards == ()
    bench.must(print_set(set_id, on()))
    assert [entry.event for entry in load_entries("set", str(set_id))] == ["set planned", "set printed"]


@pytest.mark.parametrize("name", sorted(actions()))
@pytest.mark.parametrize("role", Role)
def test_r14_whoever_may_not_changes_nothing_and_the_attempt_is_on_record(role: Role, name: str) -> None:
    act = actions()[name]
    if role in RIGHTS[act.ability]:  # type: ignore[attr-defined]
        return  # what this role may do is tested where it is done
    asked = list(signature(act).parameters.values())[2:]  # type: ignore[arg-type]
    rest = [None if one.default is one.empty else one.default for one in asked]
    outcome: Outcome = act("anything", on(role), *rest)  # type: ignore[operator]
    assert bench.refused(outcome) == {"custody.no-right"}
    (entry,) = load_entries()
    assert (entry.event, entry.subject_id, entry.who_role) == ("refused", "anything", role.value)
    assert act.ability.value in entry.body  # type: ignore[attr-defined]


def test_a_form_that_is_submitted_twice_is_done_once_and_answered_twice() -> None:
    bench.opened()
    spilled = (bench.BISOPROLOL, on(token="form 1"), Lot("LOT42A"), Fraction(3), "spilled")
    first, head = waste_units(*spilled), load_head()
    assert waste_units(*spilled) == first
    assert load_head() == head
    assert {stock.amount for stock in load_stock(bench.BISOPROLOL)} == {97}
    bench.must(waste_units(bench.BISOPROLOL, on(token="form 2"), Lot("LOT42A"), Fraction(3), "spilled again"))
    assert {stock.amount for stock in load_stock(bench.BISOPROLOL)} == {94}


def test_a_refusal_that_is_submitted_twice_is_the_same_refusal() -> None:
    card = bench.ready_to_fill()[1]
    first = seal_card(card, on(token="form 1"))
    assert not first.done
    assert seal_card(card, on(token="form 1")) == first


def test_somebody_elses_form_with_the_same_mark_is_another_form() -> None:
    bench.opened()
    for name in ("technician one", "technician two"):
        bench.must(waste_units(bench.BISOPROLOL, on(name=name, token="form 1"), Lot("LOT42A"), Fraction(1), "spilled"))
    assert {stock.amount for stock in load_stock(bench.BISOPROLOL)} == {98}


def test_what_fails_in_the_middle_leaves_nothing_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    set_id, card = bench.ready_to_fill()
    head, stock = load_head(), load_stock()

    def fail(*_: object) -> None:
        raise OSError("the disk is full")

    monkeypatch.setattr("dosewright.actions.place_medicine.save_movements", fail)
    with pytest.raises(OSError, match="disk is full"):
        place_medicine(set_id, on(token="form 1"), bench.placement(bench.BISOPROLOL))
    monkeypatch.undo()
    assert (load_head(), load_stock(), bench.now(card).state.placed) == (head, stock, ())
    bench.must(place_medicine(set_id, on(token="form 1"), bench.placement(bench.BISOPROLOL)))
    assert check_ledger() == ()
