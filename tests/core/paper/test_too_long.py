"""What keeps a label from being set is named, once: the name, the field, the word or the medicine, never another."""

from collections.abc import Mapping
from dataclasses import replace

import pytest
from tests.core.paper.paper_sample import MATERIAL, ORDERS, PERSON, PERSON_PLAN, PHARMACY, REQUEST

from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material
from dosewright.core.units.finding import Fact, Severity
from dosewright.core.units.ids import HomeId, OrderId


def stops(material: Material) -> list[tuple[str, Mapping[str, Fact], object]]:
    found = draw_labels(PERSON_PLAN, material)[1]
    return [(one.code, one.where, one.facts.get("text")) for one in found if one.severity is Severity.STOP]


def ordered(order: str, **more: str) -> Material:
    orders = tuple(replace(one, **more) if one.id == OrderId(order) else one for one in ORDERS)  # type: ignore[arg-type]
    return replace(MATERIAL, request=replace(REQUEST, orders=orders))


@pytest.mark.parametrize(
    "name",
    ["W" * 200, ("Anna " * 40).strip(), "Wilhelmina-Okonedo-Hart-Wilhelmina-Okonedo-Hart-Wilhelmina"],
    ids=["one word of 200 letters", "200 letters in words", "58 letters without a space"],
)
def test_a_name_too_long_is_said_once_and_no_medicine_is_blamed(name: str) -> None:
    material = replace(MATERIAL, request=replace(REQUEST, people=(replace(PERSON, name=name),)))
    assert stops(material) == [("paper.name-does-not-fit", {"person": PERSON.id}, name)]


def test_a_name_that_no_font_draws_is_said_once_of_all_labels() -> None:
    """Han characters: no font here has them."""
    material = replace(MATERIAL, request=replace(REQUEST, people=(replace(PERSON, name="歐陽 慧敏"),)))
    assert stops(material) == [("paper.no-glyph", {"person": PERSON.id}, "歐陽 慧敏")]


WHERE = {"person": PERSON.id, "card": PERSON_PLAN.cards[0].number}
FIELDS = [
    (replace(MATERIAL, homes={HomeId("lindens"): "H" * 120}), f"born 4 February 1939, {'H' * 120}, room 12"),
    (
        replace(MATERIAL, pharmacy=replace(PHARMACY, name="P" * 300)),
        f"{'P' * 300}, 14 Tern Street, Saltmarsh SM1 4TS, telephone 01632 960 144. Prepared 26 February 2026.",
    ),
]


@pytest.mark.parametrize(("material", "text"), FIELDS, ids=["a home's name", "the pharmacy's name"])
def test_a_field_too_long_for_the_header_is_quoted(material: Material, text: str) -> None:
    assert stops(material) == [("paper.header-field-does-not-fit", WHERE, text)]


@pytest.mark.parametrize("more", [{"text": f"Take half a tablet {'x' * 120}"}, {"prescriber": "x" * 120}, {"rx_no": "x" * 120}], ids=str)
def test_a_single_word_too_wide_is_quoted_and_no_directions_are_called_long(more: dict[str, str]) -> None:
    assert stops(ordered("o-biso", **more)) == [("paper.header-word-does-not-fit", WHERE, f"{'x' * 120}.")]


def test_directions_too_long_name_their_medicine() -> None:
    material = ordered("o-warf", text="Take 3 tablets in the evening every other day. " * 60)
    assert stops(material) == [("paper.header-entry-does-not-fit", WHERE, "warfarin 1 mg tablet")]
