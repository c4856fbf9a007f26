"""The pharmacy's own suitability rules: laid over those that ship, told apart by their change, kept as text."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.medicines.shipped_rules import rules
from tests.core.packing.makers import medicine

from dosewright.core.interop.own_rules_toml import OwnBook, format_own_rules, parse_own_rules
from dosewright.core.interop.toml_text import TomlError
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.own_rules import OwnRule, all_rules, check_own_rule, overlaid
from dosewright.core.medicines.suitability import Rule, Standing, limit_days, rules_about, strictest
from dosewright.core.paper.say import say
from dosewright.core.units.ids import MedicineCode

OMEPRAZOLE = medicine("Omeprazole", form="capsule")
OWN = OwnRule(
    id="product.omeprazole",
    codes=("ok", "T28"),
    reason="the maker has shown four weeks outside its bottle",
    source="letter of the maker",
    dated="January 2026",
    names=("omeprazole",),
    change=1,
    by="R. Moreau",
    on=date(2026, 3, 2),
    why="stability data came in",
)


def decides(own: OwnRule, product: Medicine = OMEPRAZOLE) -> Rule:
    found = strictest(rules_about(product, overlaid(rules(), [own])))
    assert found
    return found


def test_a_rule_of_a_shipped_ones_name_stands_in_its_place() -> None:
    assert strictest(rules_about(OMEPRAZOLE, rules())).standing is Standing.UNLESS_PROVED  # type: ignore[union-attr]
    about = rules_about(OMEPRAZOLE, overlaid(rules(), [OWN]))
    assert strictest(about).standing is Standing.FITS  # type: ignore[union-attr]
    assert limit_days(about) == 28
    assert len(all_rules(overlaid(rules(), [OWN]))) == len(all_rules(rules()))


def test_nothing_else_changes_by_it() -> None:
    changed = {one.id: one for one in all_rules(overlaid(rules(), [OWN]))}
    assert {one.id for one in all_rules(rules()) if changed[one.id] != one} == {"product.omeprazole"}


def test_a_form_s_rule_is_changed_wherever_the_form_is_meant() -> None:
    own = replace(OWN, id="form.chewable", codes=("S",), names=())
    for form in ("chewable tablet", "chewable", "strawberry chewable tablet"):
        assert decides(own, medicine("Alpha", form=form)).standing is Standing.SEPARATE


def test_a_new_rule_is_added() -> None:
    own = replace(OWN, id="own.alpha", codes=("X",), names=("alpha",))
    assert decides(own, medicine("Alpha")).id == "own.alpha"
    assert strictest(rules_about(medicine("Beta"), overlaid(rules(), [own]))).id == "form.packable"  # type: ignore[union-attr]


def test_a_rule_for_one_product_stands_in_place_of_the_rule_by_name_for_that_product_only() -> None:
    own = replace(OWN, id="own.one", names=(), medicines=(OMEPRAZOLE.code,))
    assert decides(own).standing is Standing.FITS
    other = replace(OMEPRAZOLE, code=MedicineCode("omeprazole-of-another-maker"))
    assert decides(own, other).standing is Standing.UNLESS_PROVED


@pytest.mark.parametrize("name", ["Dabigatran", "Methotrexate", "Finasteride", "Alendronic acid"])
def test_a_rule_for_one_product_lifts_nothing_excluded_hazardous_or_weekly(name: str) -> None:
    product = medicine(name)
    own = replace(OWN, id="own.one", names=(), codes=("ok",), medicines=(product.code,))
    before, after = rules_about(product, rules()), rules_about(product, overlaid(rules(), [own]))
    assert {rule.id for rule in before} <= {rule.id for rule in after}
    assert decides(own, product).standing is strictest(before).standing  # type: ignore[union-attr]


def test_an_answer_to_an_earlier_wording_does_not_count_for_this_one() -> None:
    """`Answer.dated` is compared with the rule's: two changes on one day, from one source, still differ."""
    assert OWN.rule().dated != replace(OWN, change=2).rule().dated


TEXT = st.text(st.characters(codec="utf-8"), min_size=1, max_size=12).filter(str.strip)
LISTS = st.lists(TEXT, max_size=3).map(tuple)


@given(
    st.builds(
        OwnRule,
        id=TEXT,
        codes=st.lists(st.sampled_from(["X", "XD", "S", "H", "W", "ok", "T30", "T5"]), min_size=1, max_size=3).map(tuple),
        reason=TEXT,
        source=TEXT,
        dated=TEXT,
        names=LISTS,
        forms=LISTS,
        medicines=LISTS,
        weekly=st.booleans(),
        asks=st.booleans(),
        change=st.integers(0, 999),
        by=TEXT,
        on=st.dates(date(2000, 1, 1), date(2099, 12, 31)),
        why=TEXT,
    )
)
def test_what_is_written_is_read_back_the_same(own: OwnRule) -> None:
    assert parse_own_rules(format_own_rules(OwnBook((own,)))) == OwnBook((own,))


def test_no_rules_are_no_text() -> None:
    assert format_own_rules(OwnBook()) == ""
    assert parse_own_rules("") == OwnBook()


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ('codes = ["Y"]', "codes must be of X"),
        ('weekly = "yes"', "weekly must be true or false"),
        ("change = -1", "change must be a whole number"),
        ('colour = "red"', "colour"),
    ],
)
def test_a_slip_in_the_text_is_one_sentence_that_names_the_field(wrong: str, said: str) -> None:
    lines = [line for line in format_own_rules(OwnBook((OWN,))).splitlines() if not line.startswith(wrong.partition(" = ")[0] + " ")]
    with pytest.raises(TomlError, match=said):
        parse_own_rules("\n".join([*lines, wrong]))


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"codes": ()}, "rules.unknown-code"),
        ({"codes": ("Q",)}, "rules.unknown-code"),
        ({"codes": ("ok", "X")}, "rules.codes-differ"),
        ({"source": " "}, "rules.field-empty"),
        ({"why": ""}, "rules.field-empty"),
        ({"names": ()}, "rules.about-nothing"),
        ({"medicines": (MedicineCode("no-such"),)}, "rules.unknown-product"),
        ({"id": "form.chewable"}, "rules.not-by-product"),
    ],
)
def test_a_rule_that_says_too_little_or_too_much_is_refused_in_a_sentence(changes: dict[str, object], code: str) -> None:
    found = check_own_rule(replace(OWN, **changes), rules(), {})  # type: ignore[arg-type]
    assert [finding.code for finding in found] == [code]
    assert "{" not in say(found[0])


def test_a_sound_rule_is_kept() -> None:
    assert check_own_rule(OWN, rules(), {}) == ()
