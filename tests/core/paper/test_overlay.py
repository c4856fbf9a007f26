"""Label sheets that are not the first: lot and expiry in each cavity, the rest of a cycle, and medicines by number where no name fits."""

from dataclasses import replace
from datetime import date, time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.core.paper.paper_sample import CARD, CATALOGUE, MATERIAL, ORDERS, PERSON_PLAN
from tests.core.paper.paper_strategies import materials
from tests.core.paper.sheet_reading import pages_of, stops_of, text_of
from tests.core.paper.test_required_fields import PROFILES, requiring

from dosewright.core.paper import cavity_text, header_text
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material, Placed
from dosewright.core.paper.offer import offer_labels
from dosewright.core.paper.overlay import lots_later, rest_of_cycle, with_lots
from dosewright.core.paper.page import Face
from dosewright.core.paper.say import say
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Severity
from dosewright.core.units.ids import Lot, MedicineCode

THURSDAY_NOON = Moment(date(2026, 3, 5), time(12))
SLOW = settings(deadline=None, max_examples=6, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
EXPIRY = date(2027, 6, 30)


def placed(lots: dict[str, frozenset[tuple[int, int]] | None]) -> dict[object, tuple[Placed, ...]]:
    return {(CARD.number, order.id): tuple(Placed(Lot(lot), EXPIRY, cells) for lot, cells in lots.items()) for order in ORDERS}


def only(code: str) -> Material:
    """The sample with one medicine in its card."""
    cavities = tuple(
        replace(cavity, contents=tuple(c for c in cavity.contents if c.medicine == code))
        for cavity in CARD.cavities
        if any(c.medicine == code for c in cavity.contents)
    )
    plan = replace(PERSON_PLAN, cards=(replace(CARD, cavities=cavities),))
    return replace(MATERIAL, plan=replace(MATERIAL.plan, people=(plan,)))


# Lot and expiry in each cavity.


def test_every_cavity_has_lot_and_expiry_of_every_product() -> None:
    """CV-1.6: as many labels with lot and expiry as there are filled cavities. COMAR 10.34.36.08 B."""
    material = with_lots(only("para"), placed({"K2207": None}))  # type: ignore[arg-type]
    offered = offer_labels(material)
    assert stops_of(offered) == set()
    assert text_of(offered).count("lot K2207, expires 30 June 2027") == 28


def test_a_cavity_says_the_lot_that_lies_in_it_and_no_other() -> None:
    """CV-9.1: one line may be of two lots; a recall must find the right cavities."""
    first = frozenset((row, column) for row in range(1, 4) for column in range(1, 5))
    second = frozenset((row, column) for row in range(4, 8) for column in range(1, 5))
    said = text_of(offer_labels(with_lots(only("para"), placed({"A1": first, "B2": second}))))  # type: ignore[arg-type]
    assert (said.count("lot A1"), said.count("lot B2")) == (12, 16)


def test_a_cavity_of_which_no_lot_is_known_stops() -> None:
    missing = with_lots(only("para"), placed({"A1": frozenset({(1, 1)})}))  # type: ignore[arg-type]
    found = [f for f in offer_labels(missing).findings if f.severity is Severity.STOP]
    assert {(f.code, f.where["field"]) for f in found} == {("paper.field-not-printed", "line.lot_expiry")}
    assert len(found) == 27
    assert "paper.field-missing" in stops_of(offer_labels(with_lots(only("para"), {})))


def test_the_first_labels_of_such_a_place_are_made_before_lots_are_known_and_it_is_said() -> None:
    there = requiring(MATERIAL, PROFILES["uk.toml"], "line.lot_expiry")
    first, notes = lots_later(there)
    assert [say(note) for note in notes]
    assert stops_of(offer_labels(first)) == set()
    assert lots_later(MATERIAL) == (MATERIAL, ())


# The rest of a cycle.


def test_the_rest_of_a_cycle_has_the_days_and_totals_that_are_left_and_no_label_before() -> None:
    """From Thursday noon: warfarin on Friday and Sunday evening (of Monday, Wednesday, Friday, Sunday) is six tablets."""
    offered = offer_labels(rest_of_cycle(MATERIAL, THURSDAY_NOON))
    assert stops_of(offered) == set()
    said = text_of(offered)
    assert "Thursday 5 March to Sunday 8 March 2026" in said
    assert "In this card: 6 tablets." in said
    assert "Wednesday 4 March" not in said
    assert said.count("08:00 morning") == 3  # Friday, Saturday, Sunday: Thursday's morning is past
    assert said.count("12:00 noon") == 4


def test_nothing_is_left_of_a_card_that_is_over() -> None:
    over = rest_of_cycle(MATERIAL, Moment(date(2026, 3, 8), time(22, 1)))
    assert over.plan.people[0].cards == ()
    assert offer_labels(over).pdf == b""


@SLOW
@given(materials(people=1, most=4), st.integers(0, 7), st.sampled_from([time(0), time(8), time(12), time(18, 30), time(23)]))
def test_of_any_set_the_rest_is_exactly_what_is_due_from_then_on(material: Material, days: int, at: time) -> None:
    moment = Moment(date.fromordinal(material.request.first.toordinal() + days), at)
    rest = rest_of_cycle(material, moment)
    left = sorted((c.day, c.time, c.contents) for card in rest.plan.people[0].cards for c in card.cavities)
    due = sorted(
        (c.day, c.time, c.contents) for card in material.plan.people[0].cards for c in card.cavities if Moment(c.day, c.time) >= moment
    )
    assert left == due
    assert stops_of(offer_labels(rest)) == set()


# Medicines by number.


def crowded(profile: str) -> Material:
    """Six medicines with long names each morning, on labels of 28 mm: no form of their names fits at the smallest size."""
    more = "hydrochloride and calcium carbonate with colecalciferol"
    long = {code: replace(m, name=f"{m.name} {more}", strength="1.25 g and 400 units") for code, m in CATALOGUE.items()}
    return requiring(replace(MATERIAL, request=replace(MATERIAL.request, medicines=long)), PROFILES[profile])


def test_where_no_name_fits_and_the_profile_allows_it_cavities_name_medicines_by_the_headers_number() -> None:
    offered = offer_labels(crowded("uk.toml"))
    assert [say(f) for f in offered.findings if f.severity is Severity.STOP] == []
    said = text_of(offered)
    assert "HALF a tablet, medicine 1" in said
    assert "Medicine 1: bisoprolol hydrochloride" in said
    assert "Medicine 7: warfarin hydrochloride" in said


def test_where_the_profile_requires_the_names_in_each_cavity_it_stops_instead() -> None:
    offered = offer_labels(crowded("us.toml"))
    assert "paper.cavity-text-does-not-fit" in stops_of(offered)
    assert offered.pdf == b""


def test_a_header_that_does_not_fit_goes_on_in_another_and_each_says_which_it_is() -> None:
    pages = pages_of(offer_labels(crowded("uk.toml")))
    assert len(pages) > 1
    for number, page in enumerate(pages, start=1):
        assert f"header {number} of {len(pages)}" in page


def shifted(text: str) -> object:
    from dosewright.core.paper.words import bold  # noqa: PLC0415

    return bold(text.replace("Medicine 1:", "Medicine 2:"))


NUMBER_BREAKS = {
    "the cavity's numbers are another order's": (cavity_text, "key_numbers", lambda card, material: {order.id: 9 for order in ORDERS}),
    "the header's numbers are shifted": (header_text, "bold", shifted),
}


@pytest.mark.parametrize("how", NUMBER_BREAKS)
def test_numbers_that_mean_another_medicine_are_not_printed(how: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(*NUMBER_BREAKS[how])
    offered = offer_labels(crowded("uk.toml"))
    assert stops_of(offered) & {"paper.label-lacks", "paper.field-not-printed"}
    assert offered.pdf == b""


# Fit, for anybody.


@SLOW
@given(materials(people=1, most=7))
def test_no_name_is_cut_no_word_is_parted_and_no_amount_stands_without_its_unit_and_medicine(material: Material) -> None:
    pages, findings = draw_labels(material.plan.people[0], material)
    assert [say(f) for f in findings if f.severity is Severity.STOP] == []
    runs = [run for page in pages for run in page.runs]
    assert not [run.text for run in runs if run.text.endswith(("-", "…", "..."))]
    for run in (run for run in runs if run.face is Face.BOLD and run.size < 10):
        if run.text.isdigit() and len(run.text) < 4:  # a year may stand alone
            beside = [other for other in runs if other.baseline == run.baseline and other.box == run.box and other.x > run.x]
            assert beside, f"{run.text} stands alone on its line"
    words = {word for run in runs for word in run.text.split()}
    for content in (c for card in material.plan.people[0].cards for cavity in card.cavities for c in cavity.contents):
        name = material.medicine(MedicineCode(content.medicine)).name
        assert set(name.split()) <= words, name
    assert min(run.size - run.floor for run in runs) >= 0
