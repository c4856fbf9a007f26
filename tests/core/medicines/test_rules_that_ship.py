"""The shipped rules against published lists of what not to repack, and against the spacing rules' own check values."""

from datetime import date, datetime, time, timedelta
from fractions import Fraction

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
    pytest.param("Glyceryl trinitrate", Standing.EXCLUDED, id="PSA appendix 5, volatile"),
    pytest.param("Buprenorphine", Standing.EXCLUDED, id="PSA appendix 5"),
    pytest.param("Methenamine hippurate", Standing.EXCLUDED, id="PSA appendix 5, hexamine"),
    pytest.param("Lansoprazole", Standing.UNLESS_PROVED, id="PSA appendix 5; J Pharm Health Serv Res 2017;8:81"),
    pytest.param("Atenolol", Standing.CONFIRM, id="J Pharm Health Serv Res 2017;8:81"),
    pytest.param("Nifedipine", Standing.UNLESS_PROVED, id="PSA appendix 5, light"),
    pytest.param("Tamoxifen", Standing.UNLESS_PROVED, id="PSA appendix 5, light, and hazardous"),
    pytest.param("Prochlorperazine", Standing.CONFIRM, id="Curr Drug Saf 2009;4:74, light"),
    pytest.param("Levothyroxine", Standing.CONFIRM, id="PSA appendix 5, limited time"),
    pytest.param("Alendronic acid", Standing.SEPARATE, id="product information, from memory"),
    pytest.param("Nicorandil", Standing.UNLESS_PROVED, id="product information, from memory"),
    pytest.param("Co-amoxiclav", Standing.EXCLUDED, id="product information, from memory: hygroscopic"),
    pytest.param("Flucloxacillin", Standing.SEPARATE, id="Swedish Medical Products Agency: some antibiotics"),
    pytest.param("Ferrous sulfate", Standing.CONFIRM, id="binds, see spacing"),
    pytest.param("Co-beneldopa", Standing.CONFIRM, id="NICE QS164 statement 4, time-critical"),
    pytest.param("Mycophenolate mofetil", Standing.SEPARATE, id="NIOSH list, from memory"),
    pytest.param("Capecitabine", Standing.EXCLUDED, id="Pharmaceutical Journal 2006, cytotoxics"),
    pytest.param("Finasteride", Standing.SEPARATE, id="harm to the unborn, from memory"),
    pytest.param("Tacrolimus", Standing.UNLESS_PROVED, id="product information, from memory"),
    pytest.param("Pancreatin", Standing.EXCLUDED, id="product information, from memory"),
    pytest.param("Rifampicin", Standing.UNLESS_PROVED, id="product information, from memory"),
    pytest.param("Mesalazine", Standing.CONFIRM, id="product information, from memory"),
    pytest.param("Sumatriptan", Standing.SEPARATE, id="on demand, from memory"),
    pytest.param("Captopril", Standing.SEPARATE, id="odour, from memory"),
    pytest.param("Chlorpromazine", Standing.SEPARATE, id="contact dermatitis, from memory"),
    pytest.param("Magnesium trisilicate", Standing.EXCLUDED, id="PSA appendix 5, antacids"),
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


# The published spacing rules, row by row: the first medicine, the second, hours before, hours after. One minute less is a breach, the
# hours themselves are enough. Sources as the rules name them.
ROWS = [
    ("Levothyroxine", "Calcium carbonate", 4, 4),
    ("Levothyroxine", "Ferrous fumarate", 4, 4),
    ("Levothyroxine", "Magnesium trisilicate", 4, 4),
    ("Levothyroxine", "Sucralfate", 4, 4),
    ("Levothyroxine", "Colestyramine", 4, 4),
    ("Ciprofloxacin", "Magnesium hydroxide", 2, 6),
    ("Ciprofloxacin", "Zinc sulfate", 2, 6),
    ("Levofloxacin", "Ferrous sulfate", 2, 2),
    ("Moxifloxacin", "Aluminium hydroxide", 4, 8),
    ("Doxycycline", "Calcium carbonate", 4, 2),
    ("Minocycline", "Zinc sulfate", 4, 2),
    ("Tetracycline", "Bismuth subsalicylate", 2, 6),
    ("Alendronic acid", "Paracetamol", Fraction(1, 2), 6),
    ("Risedronate", "Paracetamol", Fraction(1, 2), 6),
    ("Ibandronic acid", "Paracetamol", 1, 6),
    ("Mycophenolate mofetil", "Sevelamer", 2, 2),
    ("Penicillamine", "Ferrous sulfate", 2, 2),
    ("Co-careldopa", "Ferrous sulfate", 2, 2),
    ("Gabapentin", "Magnesium hydroxide", 0, 2),
    ("Digoxin", "Aluminium hydroxide", 2, 2),
    ("Colestyramine", "Paracetamol", 4, 1),
    ("Bisacodyl", "Magnesium trisilicate", 1, 1),
    ("Mesalazine", "Calcium carbonate", 1, 1),
    ("Dolutegravir", "Ferrous sulfate", 2, 6),
    ("Raltegravir", "Aluminium hydroxide", 24, 24),
    ("Azithromycin", "Magnesium hydroxide", 1, 2),
    ("Ferrous sulfate", "Calcium carbonate", 2, 2),
]


@pytest.mark.parametrize(("one", "other", "before", "after"), ROWS)
def test_every_published_pair_is_apart_by_its_hours_and_no_more(one: str, other: str, before: Fraction, after: Fraction) -> None:
    first, second = medicine(one), medicine(other)
    (rule,) = (rule for rule in spacings() if concerns(rule, first, second))
    assert (Fraction(rule.before), Fraction(rule.after)) == (before * 60, after * 60)
    for minutes in {rule.before, -rule.after, rule.before - 1, 1 - rule.after} - {1, -1}:
        noon = datetime.combine(MONDAY, time(12))
        moved = noon + timedelta(minutes=minutes)
        close = list(breaches(rule, [(noon.date(), noon.time())], [(moved.date(), moved.time())]))
        assert bool(close) == (-rule.after < minutes < rule.before)


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
