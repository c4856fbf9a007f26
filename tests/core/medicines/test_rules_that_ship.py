"""The shipped rules against published lists of what not to repack, and against the spacing rules' own check values."""

from datetime import date, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.medicines.shipped_rules import pairs, rules, spacings
from tests.core.packing.makers import medicine

from dosewright.core.medicines.food import FoodRule
from dosewright.core.medicines.neighbours import PairRule, apart_because
from dosewright.core.medicines.spacing import SpacingRule, breaches, concerns
from dosewright.core.medicines.substances import Blend, DailyMaximum
from dosewright.core.medicines.suitability import Rule, Standing, limit_days, rules_about, strictest

MONDAY = date(2026, 3, 2)


def standing(name: str, form: str) -> Standing:
    rule = strictest(rules_about(medicine(name, form=form), rules()))
    assert rule is not None
    return rule.standing


@pytest.mark.parametrize("word", ["effervescent", "dispersible", "orodispersible", "buccal", "sublingual", "chewable"])
def test_forms_that_never_go_into_a_card_are_excluded(word: str) -> None:
    """CV-2.1. Source: Pharmaceutical Society of Australia, appendix 5; BMJ 1996;313:926."""
    assert standing("Alpha", word) is standing("Alpha", f"{word} tablet") is standing("Alpha", f"coated {word} tablet") is Standing.EXCLUDED


def test_the_form_decides_before_the_name() -> None:
    """CV-2.2: lansoprazole capsules are out unless proved, the orodispersible form is out."""
    assert standing("Lansoprazole", "gastro-resistant capsule") is Standing.UNLESS_PROVED
    assert standing("Lansoprazole", "orodispersible tablet") is Standing.EXCLUDED


NAMED = [
    pytest.param("Sodium valproate", Standing.EXCLUDED, id="Medsafe Prescriber Update 37(1):4"),
    pytest.param("Dabigatran etexilate", Standing.EXCLUDED, id="storage advice for patients"),
    pytest.param("Omeprazole", Standing.UNLESS_PROVED, id="PSA appendix 5"),
    pytest.param("Warfarin", Standing.SEPARATE, id="Pharmaceutical Journal"),
    pytest.param("Methotrexate", Standing.SEPARATE, id="Alberta College of Pharmacy"),
    pytest.param("Furosemide", Standing.CONFIRM, id="Curr Drug Saf 2009;4:74"),
    pytest.param("Paracetamol", Standing.FITS, id="in no list"),
    pytest.param("Bisoprolol fumarate", Standing.FITS, id="in no list, a salt"),
]


@pytest.mark.parametrize(("name", "expected"), NAMED)
def test_a_published_example_stands_as_published(name: str, expected: Standing) -> None:
    assert standing(name, "tablet") is expected


def test_a_name_counts_by_whole_words_only() -> None:
    assert standing("Calcipotriol carbonate", "tablet") is Standing.FITS
    assert standing("Penicillamine", "tablet") is Standing.FITS


def test_a_limit_in_days_is_the_shortest_that_any_rule_sets() -> None:
    assert limit_days(rules_about(medicine("Nicorandil"), rules())) == 30
    assert limit_days(rules_about(medicine("Alpha"), rules())) is None


@pytest.mark.parametrize(
    "form",
    ["oral liquid", "inhaler", "transdermal patch", "cream", "solution for injection", "suppository", "eye drops", "granules", "sachet"],
)
def test_what_is_no_solid_oral_form_stays_out(form: str) -> None:
    """Source: USP patient med pak text, solid oral dosage forms only."""
    assert standing("Alpha", form) is Standing.EXCLUDED


@pytest.mark.parametrize("form", ["tablet", "film-coated tablet", "gastro-resistant film-coated tablet", "hard capsule", "Tablet"])
def test_solid_forms_swallowed_whole_go_in(form: str) -> None:
    assert standing("Alpha", form) is Standing.FITS


def test_a_form_in_no_file_has_no_rule_by_form() -> None:
    assert not rules_about(medicine("Alpha", form="orange segment"), rules())


def test_alendronate_shares_a_cavity_with_nothing() -> None:
    """CV-5.6: regardless of the dosing time."""
    for other in ("Alpha", "Calcium carbonate", "Warfarin"):
        assert apart_because(medicine("Alendronic acid"), medicine(other), pairs(), rules()) == "pair.bisphosphonate"
        assert apart_because(medicine(other), medicine("Alendronic acid"), pairs(), rules()) == "pair.bisphosphonate"


def clock(text: str) -> time:
    return time.fromisoformat(text)


def too_close(one: str, at: list[str], other: str, other_at: list[str], days: int = 1) -> int:
    """How many pairs of doses are too close by any shipped rule, over so many days."""
    first, second = medicine(one), medicine(other)
    every = [MONDAY + timedelta(days=n) for n in range(days)]
    ones, others = ([(day, clock(c)) for day in every for c in clocks] for clocks in (at, other_at))
    return sum(len(list(breaches(rule, ones, others))) for rule in spacings() if concerns(rule, first, second))


APART = [
    pytest.param("Levothyroxine", ["08:00"], "Calcium carbonate", ["08:00"], 1, id="CV-5.2 together"),
    pytest.param("Levothyroxine", ["08:00"], "Calcium carbonate", ["12:00"], 0, id="CV-5.2 exactly four hours is allowed"),
    pytest.param("Ferrous sulfate", ["12:00"], "Calcium carbonate", ["12:00"], 1, id="CV-5.2 iron and calcium"),
    pytest.param("Ciprofloxacin", ["08:00", "22:00"], "Calcium carbonate", ["12:00"], 0, id="CV-5.3 noon"),
    pytest.param("Ciprofloxacin", ["08:00", "22:00"], "Calcium carbonate", ["18:00"], 1, id="CV-5.3 evening fails for 22:00"),
    pytest.param("Ciprofloxacin", ["08:00", "18:00"], "Calcium carbonate", ["12:00"], 0, id="CV-5.4 equality is allowed"),
    pytest.param("Doxycycline", ["08:00"], "Ferrous sulfate", ["12:00"], 0, id="CV-5.5 four hours after"),
    pytest.param("Doxycycline", ["08:00"], "Ferrous sulfate", ["08:00"], 1, id="CV-5.5 together"),
    pytest.param("Doxycycline", ["08:00"], "Ferrous sulfate", ["10:00"], 1, id="CV-5.5 two hours after"),
]


@pytest.mark.parametrize(("one", "at", "other", "other_at", "many"), APART)
def test_doses_are_apart_by_the_published_hours(one: str, at: list[str], other: str, other_at: list[str], many: int) -> None:
    assert too_close(one, at, other, other_at) == many


def test_hours_are_counted_past_midnight() -> None:
    """CV-5.7: 22:00 and the next 08:00 are ten hours apart; 23:00 and the next 01:00 are two."""
    assert too_close("Levothyroxine", ["08:00"], "Calcium carbonate", ["22:00"], days=3) == 0
    assert too_close("Levothyroxine", ["01:00"], "Calcium carbonate", ["23:00"], days=3) == 2


@given(st.integers(0, 23), st.integers(0, 23), st.integers(1, 4))
def test_another_day_never_hides_a_breach(one: int, other: int, days: int) -> None:
    at, other_at = [f"{one:02}:00"], [f"{other:02}:00"]
    assert too_close("Doxycycline", at, "Ferrous sulfate", other_at, days) <= too_close(
        "Doxycycline", at, "Ferrous sulfate", other_at, days + 1
    )


def test_every_rule_names_a_source_and_its_date() -> None:
    every: list[Rule | PairRule | SpacingRule | Blend | DailyMaximum | FoodRule] = [
        *rules().forms.values(),
        *rules().words.values(),
        *rules().flags.values(),
        *rules().products,
        *rules().blends,
        *rules().maxima,
        *rules().foods,
        *pairs(),
        *spacings(),
    ]
    assert all(rule.source and rule.dated and rule.evidence in ("retrieved", "memory", "proposal") for rule in every)
