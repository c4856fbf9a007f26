"""For random people, medicines, formats and profiles: every sheet is drawn, read back without a difference, and says what the plan says."""

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.core.paper.paper_sample import MATERIAL
from tests.core.paper.paper_strategies import materials, renamed

from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material
from dosewright.core.paper.offer import Offered, offer_fill, offer_labels, offer_record
from dosewright.core.paper.page import Kind
from dosewright.core.paper.record import draw_record
from dosewright.core.paper.say import say
from dosewright.core.units.finding import Severity
from dosewright.core.units.safe_text import check_safe_text

SLOW = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
OFFERS = (offer_labels, offer_fill, offer_record)
DRAWS = (draw_labels, draw_fill, draw_record)


@settings(SLOW, max_examples=4)
@given(materials(most=5))
def test_everybody_gets_every_sheet_and_each_survives_the_read_back(material: Material) -> None:
    for offer in OFFERS:
        offered = offer(material)
        assert [say(f) for f in offered.findings if f.severity is not Severity.NOTE] == []
        assert offered.left_out == ()
        assert offered.pdf


@settings(SLOW, max_examples=15)
@given(materials(people=1))
def test_every_printed_string_about_medicines_is_safe(material: Material) -> None:
    """CV-4.5."""
    for draw in DRAWS:
        for page in draw(material.plan.people[0], material)[0]:
            for run in page.runs:
                assert run.kind is Kind.GIVEN or check_safe_text(run.text, material.country) == (), run.text


@settings(SLOW, max_examples=15)
@given(materials(people=1))
def test_the_record_has_a_block_for_every_order_packed_or_not(material: Material) -> None:
    """CV-2.3: count(lines on the record) = count(packed) + count(not packed); R15."""
    plan = material.plan.people[0]
    packed = {content.order for card in plan.cards for cavity in card.cavities for content in cavity.contents}
    pages = draw_record(plan, material)[0]
    text = " ".join(run.text for page in pages for run in page.runs)
    lines = Counter(re.findall(r"Prescription (\d{6})\.", text))
    wanted = {material.order(order).rx_no for order in packed} | {material.order(line.order).rx_no for line in plan.alongside}
    assert set(lines) == wanted
    assert len(wanted) == len(packed) + len(plan.alongside)


@settings(SLOW, max_examples=15)
@given(materials(people=1))
def test_every_sheet_carries_fingerprint_caution_number_of_pages_and_person(material: Material) -> None:
    plan = material.plan.people[0]
    basis = material.plan.basis[:16]
    fingerprint = " ".join(basis[n : n + 4] for n in (0, 4, 8, 12))
    for draw in DRAWS:
        pages = draw(plan, material)[0]
        for n, page in enumerate(pages, start=1):
            text = " ".join(run.text for run in page.runs)
            assert f"plan {fingerprint}" in text
            assert f"page {n} of {len(pages)}" in text
            assert "Does not replace professional judgement" in text
            assert material.request.people[0].name in text


@settings(SLOW, max_examples=10)
@given(materials(people=1, most=3), st.text(min_size=1, max_size=80).filter(str.strip))
def test_any_name_is_printed_whole_or_stops(material: Material, name: str) -> None:
    material = renamed(material, name)
    for draw in DRAWS:
        pages, findings = draw(material.plan.people[0], material)
        stops = {finding.code for finding in findings if finding.severity is Severity.STOP}
        assert all(say(finding) for finding in findings)
        if not stops and pages:
            text = "".join(run.text for run in pages[0].runs)
            assert "".join(name.split()) in "".join(text.split()) or name != " ".join(name.split())


@settings(SLOW, max_examples=2)
@given(materials(people=1, most=3))
def test_the_same_plan_gives_the_same_bytes(material: Material) -> None:
    """R18."""
    for offer in OFFERS:
        assert offer(material) == offer(material)


@settings(SLOW, max_examples=2)
@given(materials(people=2, most=3))
def test_a_person_who_cannot_be_printed_does_not_hold_up_the_others(material: Material) -> None:
    one, other = material.request.people
    mixed = replace(material, request=replace(material.request, people=(replace(one, name="張偉"), other)))
    offered = offer_labels(mixed)
    assert offered.left_out == (one.id,)
    assert offered.pdf


@pytest.mark.parametrize("offer", OFFERS)
def test_an_empty_plan_gives_no_paper(offer: Callable[[Material], Offered]) -> None:
    empty = replace(MATERIAL, plan=replace(MATERIAL.plan, people=()))
    assert (offer(empty).pdf, offer(empty).findings, offer(empty).left_out) == (b"", (), ())
