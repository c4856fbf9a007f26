"""The files that ship say what their comments say, and every slip in one is one sentence that names line, field and what would be right."""

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.interop.card_format_toml import parse_card_format
from dosewright.core.interop.profile_toml import PROFILE_RULES, parse_profile
from dosewright.core.interop.suitability_toml import parse_pairs, parse_rules
from dosewright.core.interop.toml_text import TomlError, parse_toml
from dosewright.devices.shipped import read_shipped, shipped_names

CARD, ROLL = read_shipped("formats", "seven-by-four.toml"), read_shipped("formats", "pouch-roll-14.toml")
US = read_shipped("profiles", "us.toml")
FORMS, PRODUCTS, PAIRS = (read_shipped("suitability", f"{name}.toml") for name in ("forms", "products", "pairs"))


@pytest.mark.parametrize("file", shipped_names("formats"))
def test_every_shipped_format_is_named_as_its_file_and_comments_every_value(file: str) -> None:
    text = read_shipped("formats", file)
    assert f"{parse_card_format(text).name}.toml" == file
    assert all("#" in line for line in text.splitlines() if line.strip())


@pytest.mark.parametrize("file", shipped_names("formats"))
def test_no_two_labels_of_a_shipped_format_overlap(file: str) -> None:
    card = parse_card_format(read_shipped("formats", file))
    boxes = [card.cavity_label(row, column) for row in range(1, card.rows + 1) for column in range(1, card.columns + 1)]
    boxes.append(card.sheet.header)
    for at, one in enumerate(boxes):
        assert 0 <= one.left <= card.sheet.width - one.width
        assert 0 <= one.top <= card.sheet.height - one.height
        for other in boxes[:at]:
            beside = one.left >= other.left + other.width or other.left >= one.left + one.width
            assert beside or one.top >= other.top + other.height or other.top >= one.top + one.height


def test_the_cavity_of_the_standard_format_holds_what_its_comments_say() -> None:
    cavity = parse_card_format(CARD).cavity
    assert cavity.volume == 40 * 22 * 12 * 1000
    assert cavity.usable_volume == 4_752_000


def test_a_label_outside_the_card_is_refused() -> None:
    with pytest.raises(ValueError, match="no cavity"):
        parse_card_format(CARD).cavity_label(8, 1)


@pytest.mark.parametrize("file", shipped_names("profiles"))
def test_every_line_of_a_shipped_profile_has_source_date_and_evidence(file: str) -> None:
    made = parse_profile(read_shipped("profiles", file))
    assert f"{made.name}.toml" == file
    assert set(made.rules) == set(PROFILE_RULES)
    lines = [*made.fields.values(), *made.rules.values()]
    assert all(line.source and line.dated and line.evidence for line in lines)


def test_all_profiles_settle_the_same_fields() -> None:
    fields = {tuple(parse_profile(read_shipped("profiles", file)).fields) for file in shipped_names("profiles")}
    assert len(fields) == 1


LIMITS = [("us", 60), ("uk", 56), ("au", 56)]


@pytest.mark.parametrize(("place", "days"), LIMITS)
def test_a_profile_has_the_published_longest_time(place: str, days: int) -> None:
    """US: USP patient med pak text, 60 days. UK, Australia: eight weeks, BMJ 1996;313:926 and Curr Drug Saf 2009;4:74."""
    assert parse_profile(read_shipped("profiles", f"{place}.toml")).number("bud_max_days") == days


def test_the_us_profile_requires_what_the_med_pak_text_requires() -> None:
    """Source: USP patient med pak text, Oregon OAR 855-041-1140."""
    required = set(parse_profile(US).required())
    assert {"pack.serial", "line.rx_no", "line.description", "line.total_qty", "line.prescriber", "pack.bud", "pharmacy.phone"} <= required
    assert "line.lot_expiry" not in required


def test_a_profile_keeps_the_day_of_its_verification() -> None:
    assert parse_profile(US.replace("# verified_on", "verified_on")).verified_on == date(2026, 3, 2)
    assert parse_profile(US).verified_on is None


SLIPS = [
    pytest.param(CARD, "roll = false", "rolls = false", "roll is missing", id="missing key"),
    pytest.param(CARD, 'title = "', 'extra = 1\ntitle = "', "extra is not known here", id="unknown key"),
    pytest.param(CARD, "rows = 7", 'rows = "7"', "rows must be a whole number", id="text for a number"),
    pytest.param(CARD, "rows = 7", "rows = 0", "rows must be from 1 to 100", id="no rows"),
    pytest.param(CARD, "rows = 7", "rows = true", "rows must be a whole number", id="true for a number"),
    pytest.param(CARD, "width_mm = 22", "width_mm = 41", "cavity.width_mm must not exceed", id="wider than long"),
    pytest.param(CARD, "depth_mm = 12", "depth_mm = -12", "cavity.depth_mm must be a number above zero", id="negative depth"),
    pytest.param(CARD, "design_fill = 0.45", "design_fill = 0.65", "cavity.design_fill must be at most 0.64", id="over-full"),
    pytest.param(CARD, "design_fill = 0.45", "design_fill = 45e-2", "plain decimal", id="exponent"),
    pytest.param(CARD, "design_fill = 0.45", "design_fill = nan", "plain decimal", id="not a number"),
    pytest.param(CARD, "pitch_down_mm = 30", "pitch_down_mm = 29", "sheet.pitch_down_mm must not be less", id="labels overlap"),
    pytest.param(CARD, "width_mm = 210", "width_mm = 190", "must leave all its labels on the sheet", id="labels leave the sheet"),
    pytest.param(CARD, "top_mm = 7 ", "top_mm = 9 ", "sheet.header must not reach over", id="header over cavities"),
    pytest.param(CARD, "[cavity]", "[cavity", "this is not TOML", id="not TOML"),
    pytest.param(ROLL, "rows = 1", "rows = 2", "rows must be 1 for a roll", id="a roll of two rows"),
    pytest.param(US, 'standing = "required"', 'standing = "needed"', "fields.patient.name.standing must be one of", id="unknown standing"),
    pytest.param(US, "value = 60", 'value = "60"', "rules.bud_max_days.value must be a whole number", id="days as text"),
    pytest.param(US, "value = 60", "value = 0", "rules.bud_max_days.value must be at least 1", id="no days"),
    pytest.param(US, "weeks_a_card_max", "weeks_a_card", "rules.weeks_a_card_max is missing", id="a rule misspelt"),
]


@pytest.mark.parametrize(("text", "right", "wrong", "said"), SLIPS)
def test_a_slip_is_one_sentence_that_names_the_field(text: str, right: str, wrong: str, said: str) -> None:
    assert right in text
    with pytest.raises(TomlError) as caught:
        (parse_profile if text is US else parse_card_format)(text.replace(right, wrong, 1))
    assert said in caught.value.reason
    assert caught.value.reason.endswith(".")
    assert "\n" not in caught.value.reason


def read_all(forms: str, products: str, pairs: str) -> None:
    parse_rules(forms, products)
    parse_pairs(pairs)


RULE_SLIPS = [
    pytest.param(0, '"soluble tablet"', '"tablet"', "form.forms must not repeat", id="a form with two rules"),
    pytest.param(0, 'flag = "light"', 'flag = "lite"', "flag.flag must be one of", id="unknown flag"),
    pytest.param(1, '"T30"', '"T0"', "product.codes must be of X", id="a limit of no days"),
    pytest.param(1, 'id = "product.valproate"', 'id = "product.warfarin"', "product.id must be its own", id="an id twice"),
    pytest.param(1, 'source = "Medsafe', 'sauce = "Medsafe', "product.source is missing", id="no source"),
    pytest.param(2, "before_minutes = 240", "before_minutes = 2.5", "spacing.before_minutes must be a whole number", id="half minutes"),
    pytest.param(2, "[[apart]]", "[[aparts]]", "aparts is not known here", id="unknown table"),
]


@pytest.mark.parametrize(("which", "right", "wrong", "said"), RULE_SLIPS)
def test_a_slip_in_the_rules_is_one_sentence(which: int, right: str, wrong: str, said: str) -> None:
    texts = [FORMS, PRODUCTS, PAIRS]
    assert right in texts[which]
    texts[which] = texts[which].replace(right, wrong, 1)
    with pytest.raises(TomlError, match=r"line \d+") as caught:
        read_all(*texts)
    assert said in caught.value.reason
    starts = ("[[", right.partition(" ")[0], wrong.partition(" ")[0], "forms", "codes")
    assert texts[which].splitlines()[caught.value.line - 1].startswith(starts)


def test_the_line_named_is_the_line_of_the_slip() -> None:
    for number, line in enumerate(CARD.splitlines(), start=1):
        if line.startswith("depth_mm"):
            with pytest.raises(TomlError) as caught:
                parse_card_format(CARD.replace("depth_mm = 12", "depth_mm = 0"))
            assert caught.value.line == number


@given(st.integers(0, 10**6), st.integers(0, 6))
def test_decimals_are_read_exactly(digits: int, places: int) -> None:
    text = f"{digits // 10**places}.{str(digits % 10**places).rjust(places, '0') if places else '0'}"
    assert parse_toml(f"a = {text}1").amount("a") == Fraction(f"{text}1")


@given(st.text(max_size=40))
def test_whatever_is_not_such_a_file_is_refused_with_a_sentence(text: str) -> None:
    with pytest.raises(TomlError):
        parse_card_format(text)
