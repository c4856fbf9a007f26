"""Every printed label is in use, voided with a reason, or not accounted for, by what was printed and what was done since."""

from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.custody.label_account import CardLife, LabelSheet, Standing, Why, account_for, check_voiding
from dosewright.core.custody.stage import OVER, Stage
from dosewright.core.units.ids import CardNumber

CARD, OTHER = CardNumber("1001"), CardNumber("1002")
LABELS = ("h1", "c1-1", "c2-1")
FIRST = LabelSheet("p1", CARD, LABELS)
SECOND = LabelSheet("p2", CARD, LABELS)


def alive(stage: Stage = Stage.PRINTED, *, out_of_date: bool = False) -> Mapping[CardNumber, CardLife]:
    return {CARD: CardLife(stage, out_of_date=out_of_date), OTHER: CardLife(Stage.PRINTED)}


CASES = [
    pytest.param([FIRST], alive(), [(Standing.IN_USE, Why.NOTHING)], id="printed once: in use"),
    pytest.param(
        [FIRST, SECOND],
        alive(),
        [(Standing.UNACCOUNTED, Why.LATER_COPY), (Standing.IN_USE, Why.NOTHING)],
        id="printed twice: the first copy is not accounted for",
    ),
    pytest.param(
        [replace(FIRST, voided=dict.fromkeys(LABELS, "torn")), SECOND],
        alive(),
        [(Standing.VOIDED, Why.REASON), (Standing.IN_USE, Why.NOTHING)],
        id="the first copy was voided",
    ),
    pytest.param(
        [FIRST, replace(SECOND, voided=dict.fromkeys(LABELS, "smudged"))],
        alive(),
        [(Standing.IN_USE, Why.NOTHING), (Standing.VOIDED, Why.REASON)],
        id="the second copy was voided: the first is on the card",
    ),
    pytest.param([FIRST], alive(out_of_date=True), [(Standing.UNACCOUNTED, Why.CARD_CHANGED)], id="the card's orders changed"),
    pytest.param([FIRST], alive(Stage.WITHDRAWN), [(Standing.UNACCOUNTED, Why.CARD_OVER)], id="the card was withdrawn"),
    pytest.param([FIRST], alive(Stage.RETURNED), [(Standing.UNACCOUNTED, Why.CARD_OVER)], id="the card came back"),
    pytest.param([FIRST], alive(Stage.DESTROYED), [(Standing.VOIDED, Why.DESTROYED)], id="the card was destroyed, its labels with it"),
    pytest.param(
        [FIRST, SECOND],
        alive(Stage.DESTROYED),
        [(Standing.UNACCOUNTED, Why.LATER_COPY), (Standing.VOIDED, Why.DESTROYED)],
        id="a copy that was never on the destroyed card",
    ),
    pytest.param(
        [FIRST, replace(SECOND, went_on=True)],
        alive(),
        [(Standing.VOIDED, Why.REPLACED), (Standing.IN_USE, Why.NOTHING)],
        id="new labels went on the card: the old ones are destroyed",
    ),
    pytest.param(
        [replace(FIRST, labels=("h1", "h2")), replace(SECOND, labels=("h1",), went_on=True)],
        alive(),
        [(Standing.VOIDED, Why.REPLACED), (Standing.IN_USE, Why.NOTHING)],
        id="one new header takes the place of two",
    ),
    pytest.param(
        [replace(FIRST, labels=("c2-1",)), replace(SECOND, labels=("h1", "c1-1"), went_on=True)],
        alive(),
        [(Standing.IN_USE, Why.NOTHING), (Standing.IN_USE, Why.NOTHING)],
        id="a cavity that was not opened keeps its label",
    ),
    pytest.param(
        [FIRST, replace(SECOND, card=OTHER, went_on=True)],
        alive(),
        [(Standing.IN_USE, Why.NOTHING), (Standing.IN_USE, Why.NOTHING)],
        id="another card's new labels replace nothing",
    ),
]


@pytest.mark.parametrize(("sheets", "cards", "expected"), CASES)
def test_each_label_has_the_standing_that_its_sheets_and_its_card_give_it(
    sheets: list[LabelSheet], cards: Mapping[CardNumber, CardLife], expected: list[tuple[Standing, Why]]
) -> None:
    found = account_for(sheets, cards)
    assert [(one.sheet, one.label) for one in found] == [(sheet.id, label) for sheet in sheets for label in sheet.labels]
    assert [(one.standing, one.why) for one in found] == [said for sheet, said in zip(sheets, expected, strict=True) for _ in sheet.labels]


def test_a_sheet_for_some_cavities_takes_the_place_of_those_only() -> None:
    rest = LabelSheet("m7", CARD, ("h1", "c2-1"))
    found = {(one.sheet, one.label): one.standing for one in account_for([FIRST, rest], alive())}
    assert found["p1", "c1-1"] is Standing.IN_USE
    assert found["p1", "c2-1"] is Standing.UNACCOUNTED
    assert found["m7", "c2-1"] is Standing.IN_USE


@given(
    st.lists(st.frozensets(st.sampled_from(LABELS)), max_size=5),
    st.builds(CardLife, st.sampled_from(Stage), out_of_date=st.booleans()),
)
def test_no_place_of_a_card_ever_has_two_labels_in_use_and_none_on_a_card_that_is_over(
    voided: list[frozenset[str]], life: CardLife
) -> None:
    """A label counts as in use for one place of an open card at most; every label that was printed has one standing."""
    sheets = [LabelSheet(f"p{n}", CARD, LABELS, dict.fromkeys(some, "torn")) for n, some in enumerate(voided)]
    found = account_for(sheets, {CARD: life})
    used = [one.label for one in found if one.standing is Standing.IN_USE]
    assert len(used) == len(set(used))
    assert not used or (life.stage not in OVER and not life.out_of_date)
    assert len(found) == len(LABELS) * len(sheets)
    assert all(one.reason for one in found if one.why is Why.REASON)


REFUSED = [
    pytest.param("p1", (), [FIRST], "custody.no-label-named", id="no label"),
    pytest.param("p9", ("h1",), [FIRST], "custody.no-label-named", id="no such sheet"),
    pytest.param("p1", ("c7-4",), [FIRST, SECOND], "custody.label-not-there", id="a label that the sheet never had"),
    pytest.param(
        "p1", ("h1",), [replace(FIRST, voided={"h1": "torn"}), SECOND], "custody.label-not-there", id="a label that is voided already"
    ),
    pytest.param("p1", ("c1-1",), [FIRST], "custody.label-needed", id="the only label of its place"),
    pytest.param(
        "p2", ("c1-1",), [FIRST, replace(SECOND, went_on=True)], "custody.label-needed", id="the new label: the old one is destroyed"
    ),
    pytest.param(
        "p2", ("c1-1",), [replace(FIRST, voided={"c1-1": "torn"}), SECOND], "custody.label-needed", id="the last label of its place"
    ),
]


@pytest.mark.parametrize(("sheet", "labels", "sheets", "code"), REFUSED)
def test_what_cannot_be_voided_is_refused(sheet: str, labels: tuple[str, ...], sheets: list[LabelSheet], code: str) -> None:
    assert {finding.code for finding in check_voiding(sheet, labels, sheets, alive())} == {code}


def test_either_of_two_copies_can_be_voided_and_the_only_one_of_a_card_that_is_over() -> None:
    assert check_voiding("p1", LABELS, [FIRST, SECOND], alive()) == ()
    assert check_voiding("p2", LABELS, [FIRST, SECOND], alive()) == ()
    assert check_voiding("p1", LABELS, [FIRST], alive(Stage.WITHDRAWN)) == ()
