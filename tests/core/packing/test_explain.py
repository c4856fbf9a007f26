"""Why so many columns and cards: what binds is named, and what would save a card does save it when it is tried."""

from dataclasses import replace

from hypothesis import given, settings
from tests.core.packing.drawn_requests import requests
from tests.core.packing.makers import IRIS, ROLL, dosage, medicine, order, plan_of, request

from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.packing.explain import explain
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.request import LabelLines, PlanRequest
from dosewright.core.units.finding import Finding

ALPHA, BETA, GAMMA = (medicine(name, colour=name) for name in ("Alpha", "Beta", "Gamma"))
APART = PairRule("pair.test", ("alpha",), ("beta",), "test", "test", "2026", "proposal")


def about(asked: PlanRequest, code: str) -> list[Finding]:
    return [found for found in explain(IRIS, asked) if found.code == code]


def both(one: int, other: int, **changes: object) -> PlanRequest:
    """Alpha and Beta in the morning."""
    return request([order("a", ALPHA, dosage(one, "MORN")), order("b", BETA, dosage(other, "MORN"))], [ALPHA, BETA], **changes)


def test_one_column_is_said_to_be_enough() -> None:
    (said,) = about(both(1, 1), "explain.one-column")
    assert (said.where["slot"], said.facts["medicines"]) == ("morning", 2)


def test_pieces_that_bind_are_counted() -> None:
    (said,) = about(both(5, 4), "explain.pieces")
    assert (said.facts["columns"], said.facts["need"], said.facts["limit"]) == (2, 9, 8)


def test_volume_that_binds_is_measured() -> None:
    """Six discs of 16 × 3.2 mm, 643.4 mm³ each, where 3,240 mm³ may be filled (arithmetic)."""
    wide = [medicine(name, replace(ALPHA.size, length=16, width=16)) for name in ("Wide", "Broad")]  # type: ignore[type-var]
    asked = request([order(what.name, what, dosage(3, "MORN")) for what in wide], wide)
    (said,) = about(asked, "explain.volume")
    assert (said.facts["columns"], said.facts["need"], said.facts["limit"]) == (2, 3861, 3240)


def test_label_lines_that_bind_are_counted() -> None:
    (said,) = about(both(1, 1, label_lines=LabelLines(3, {ALPHA.code: 2, BETA.code: 2})), "explain.label-lines")
    assert (said.facts["need"], said.facts["limit"]) == (4, 3)


def test_medicines_that_exclude_each_other_are_named() -> None:
    (said,) = about(both(1, 1, pairs=(APART,)), "explain.apart")
    assert said.facts["medicines"] == (ALPHA.label, BETA.label)


def test_nothing_packed_has_nothing_to_explain() -> None:
    assert explain(IRIS, request([order("a", ALPHA, dosage(1, "MORN", as_needed=True))], [ALPHA])) == ()


def test_a_roll_is_counted_in_strips() -> None:
    (said,) = about(both(1, 1, format=ROLL), "explain.cards")
    assert (said.facts["weeks"], said.facts["rows"], said.facts["cards"]) == (28, 1, 2)


def test_what_would_save_a_card_is_named_with_the_number_left() -> None:
    """Two columns a week are two cards of two weeks; one column is one card of four."""
    said = about(both(5, 4), "explain.saves-card")
    assert [(found.facts["medicine"], found.facts["cards"]) for found in said] == [(ALPHA.label, 1), (BETA.label, 1)]


def test_what_would_save_only_a_column_is_named_as_that() -> None:
    said = about(both(5, 4, days=7), "explain.saves-column")
    assert [(found.facts["medicine"], found.facts["columns"]) for found in said] == [(ALPHA.label, 1), (BETA.label, 1)]


def without(asked: PlanRequest, label: object) -> PlanRequest:
    """The request without the orders of that product."""
    gone = {code for code, what in asked.medicines.items() if what.label == label}
    return replace(asked, orders=tuple(one for one in asked.orders if one.medicine not in gone))


@settings(max_examples=25)
@given(requests())
def test_the_explanation_counts_as_the_plan_does_and_its_savings_come_true(asked: PlanRequest) -> None:
    """Tried by planning again. A product of several dosing times is taken out of them all, which can only save more."""
    for person, planned in zip(asked.people, plan_cycle(asked).people, strict=True):
        said = explain(person, asked) if planned.cards else ()
        assert [found.facts["cards"] for found in said if found.code == "explain.cards"] == ([len(planned.cards)] if planned.cards else [])
        for found in said:
            if found.code == "explain.saves-card":
                alone = replace(without(asked, found.facts["medicine"]), people=(person,))
                fewer = len(plan_cycle(alone).people[0].cards)
                assert fewer <= found.facts["cards"] < len(planned.cards)  # type: ignore[operator]


def test_a_plan_explained_is_the_plan_recounted() -> None:
    """The makers' request is one that the recount agrees with."""
    asked = both(5, 4)
    assert len(plan_of(asked).people[0].cards) == about(asked, "explain.cards")[0].facts["cards"]
