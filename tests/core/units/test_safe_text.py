"""The hard text rules. Source of the bad and good column: ISMP list of error-prone abbreviations; Joint Commission do-not-use list."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.units.amount_words import NumberStyle
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.core.units.safe_text import (
    DECIMAL_COMMA_LANGUAGES,
    DECIMAL_COMMA_RULES,
    RULES,
    check_safe_text,
    format_count,
    format_quantity,
    format_strength,
    tidy_text,
)

BAD = [  # rule, what breaks it, what to write instead
    ("trailing-zero", "1.0 mg", "1 mg"),
    ("trailing-zero", "2.50 mg", "2.5 mg"),
    ("no-leading-zero", ".5 mg", "0.5 mg"),
    ("no-space-before-unit", "10mg", "10 mg"),
    ("no-space-before-unit", "2tablets", "2 tablets"),
    ("name-run-into-strength", "propranolol20 mg", "propranolol 20 mg"),
    ("no-thousands-separator", "100000 units", "100,000 units"),
    ("no-thousands-separator", "1000 mg", "1,000 mg"),
    ("unit-u", "10 U", "10 units"),
    ("unit-u", "400 IU", "400 international units"),
    ("unit-u", "10u", "10 units"),
    ("microgram-sign", "125 ug", "125 micrograms"),
    ("microgram-sign", "125µg", "125 mcg"),
    ("microgram-sign", "125 μg", "125 mcg"),
    ("daily-abbreviation", "1 tablet QD", "1 tablet daily"),
    ("daily-abbreviation", "1 tablet OD", "1 tablet every day"),
    ("daily-abbreviation", "1 tablet q.d.", "1 tablet daily"),
    ("alternate-day-abbreviation", "QOD", "every other day"),
    ("bedtime-abbreviation", "1 tablet HS", "1 tablet at bedtime"),
    ("bedtime-abbreviation", "qhs", "at bedtime"),
    ("bedtime-abbreviation", "qn", "at bedtime"),
    ("fraction-with-slash", "1/2 tablet", "half a tablet"),
    ("fraction-with-slash", "co-codamol 8/500", "8 mg and 500 mg"),
    ("roman-numeral", "V tablets", "5 tablets"),
    ("weekly-abbreviation", "TIW", "3 times weekly"),
    ("weekly-abbreviation", "BIW", "2 times weekly"),
    ("comparison-sign", "< 5", "less than 5"),
    ("joining-symbol", "@ 8", "at 8"),
    ("joining-symbol", "senna & docusate", "senna and docusate"),
    ("joining-symbol", "senna + docusate", "senna and docusate"),
    ("medicine-abbreviation", "MS 10 mg", "morphine sulfate 10 mg"),
    ("medicine-abbreviation", "MTX 2.5 mg", "methotrexate 2.5 mg"),
    ("as-directed-abbreviation", "UD", "1 tablet in the morning"),
    ("as-directed-abbreviation", "MDU", "1 tablet in the morning"),
    ("slash-as-separator", "25 units/10 units", "25 units and 10 units"),
    ("slash-as-separator", "5 mg/mL", "5 mg per mL"),
    ("period-after-unit", "5 mg. twice", "5 mg twice"),
    ("lower-case-litre", "5 ml", "5 mL"),
    ("cc", "5 cc", "5 mL"),
    ("discharge-or-discontinue", "d/c", "stop"),
    ("other-abbreviation", "BT", "bedtime"),
    ("other-abbreviation", "SSI", "sliding scale insulin"),
    ("other-abbreviation", "1 drop AU", "1 drop in each ear"),
]


@pytest.mark.parametrize(("rule", "bad", "good"), BAD)
def test_each_rule_finds_what_breaks_it_and_passes_what_to_write_instead(rule: str, bad: str, good: str) -> None:
    assert rule in check_safe_text(bad)
    assert check_safe_text(good) == ()


def test_every_rule_has_a_worked_case_and_its_own_advice_is_safe() -> None:
    assert {rule for rule, _, _ in BAD} == {rule.id for rule in RULES}
    assert all(check_safe_text(part) == () for rule in RULES for part in (rule.instead,))


@pytest.mark.parametrize(
    "text",
    [
        "Take 1 tablet in the morning and 1 tablet at bedtime.",  # CV-4.4
        "Monday 2 March 2026, 08:00",
        "page 1 of 12",
        "Take AS NEEDED",
        "colecalciferol 800 international units capsule",
        "vitamin B12 1,000 micrograms",
        "PRENDRE AU COUCHER",
        "Swallow whole. Do not chew and/or crush.",
        "2-5 mg",
    ],
)
def test_plain_text_breaks_nothing(text: str) -> None:
    assert check_safe_text(text) == ()


STRENGTHS = [  # CV-4.1, CV-4.2 (micrograms below 1 mg in the UK: BNF, from memory)
    (Fraction(1, 2), "mg", "US", "0.5 mg"),
    (Fraction(5), "mg", "GB", "5 mg"),
    (Fraction(1000), "units", "GB", "1,000 units"),
    (Fraction(1), "unit", "GB", "1 unit"),
    (Fraction(1, 8), "mg", "GB", "125 micrograms"),
    (Fraction(1, 8), "mg", "US", "0.125 mg"),
    (Fraction("0.0625"), "mg", "GB", "62.5 micrograms"),
    (Fraction(1), "mg", "GB", "1 mg"),
    (Fraction(1, 1000), "mg", "GB", "1 microgram"),
    (Fraction(125), "mcg", "US", "125 mcg"),
    (Fraction(125), "mcg", "IE", "125 micrograms"),
]


@pytest.mark.parametrize(("amount", "unit", "country", "expected"), STRENGTHS)
def test_a_strength_has_no_trailing_zero_a_leading_one_and_its_unit_apart(amount: Fraction, unit: str, country: str, expected: str) -> None:
    assert format_strength(amount, unit, country) == expected


def test_a_strength_that_has_no_decimal_form_is_refused() -> None:
    with pytest.raises(ValueError, match="decimal form"):
        format_strength(Fraction(1, 3), "mg", "GB")


QUANTITIES = [  # CV-4.3; the rest follows the same pattern (no source)
    ("1/2", "half a tablet", "HALF a tablet"),
    ("3/2", "1 and a half tablets", "ONE AND A HALF tablets"),
    ("1/4", "a quarter of a tablet", "A QUARTER of a tablet"),
    ("3/4", "three quarters of a tablet", "THREE QUARTERS of a tablet"),
    ("5/4", "1 and a quarter tablets", "ONE AND A QUARTER tablets"),
    ("7/4", "1 and three quarters tablets", "ONE AND THREE QUARTERS tablets"),
    ("1/3", "a third of a tablet", "A THIRD of a tablet"),
    ("1", "1 tablet", "ONE tablet"),
    ("3", "3 tablets", "THREE tablets"),
    ("21", "21 tablets", "21 tablets"),
    ("1200", "1,200 tablets", "1,200 tablets"),
    ("1/7", "1 of 7 parts of a tablet", "1 OF 7 PARTS of a tablet"),
]


@pytest.mark.parametrize(("count", "digits", "words"), QUANTITIES)
def test_counted_units_are_written_in_words_where_they_are_parts(count: str, digits: str, words: str) -> None:
    quantity = Quantity(Fraction(count), Unit("tablet"))
    assert (format_quantity(quantity), format_quantity(quantity, "words")) == (digits, words)


@pytest.mark.parametrize(
    ("count", "unit", "expected"),
    [
        ("5/2", "mL", "2.5 mL"),
        ("1/2", "mg", "0.5 mg"),
        ("1000", "unit", "1,000 units"),
        ("1/3", "mL", "a third of a mL"),
        ("1/2", "ampoule", "half an ampoule"),
        ("3/2", "", "1 and a half"),
        ("2", "patch", "2 patches"),
        ("2", "suppository", "2 suppositories"),
    ],
)
def test_measured_units_keep_their_digits(count: str, unit: str, expected: str) -> None:
    assert format_quantity(Quantity(Fraction(count), Unit(unit))) == expected


UNITS = st.sampled_from(["tablet", "capsule", "mL", "mg", "unit", "mcg", "patch", "ampoule", ""])
COUNTS = st.fractions(min_value=0, max_value=100_000, max_denominator=16)


@given(COUNTS, UNITS, st.sampled_from(["digits", "words"]))
def test_every_amount_that_can_be_written_is_safe(count: Fraction, unit: str, style: NumberStyle) -> None:
    assert check_safe_text(format_quantity(Quantity(count, Unit(unit)), style)) == ()


@given(COUNTS, COUNTS)
def test_different_amounts_are_never_written_alike(one: Fraction, other: Fraction) -> None:
    assert (format_count(one) == format_count(other)) == (one == other)


@given(
    st.decimals(min_value=0, max_value=10_000, places=4), st.sampled_from(["mg", "mcg", "g", "unit"]), st.sampled_from(["GB", "US", "IE"])
)
def test_every_strength_that_can_be_written_is_safe_in_its_country(amount: Decimal, unit: str, country: str) -> None:
    assert check_safe_text(format_strength(Fraction(amount), unit, country), country) == ()


TIDY = [
    ("10mg", "GB", "10 mg"),
    ("5.0 mg", "GB", "5 mg"),
    (".5mg", "US", "0.5 mg"),
    (".5mg", "GB", "500 micrograms"),
    ("50 mg/12.5 mg", "GB", "50 mg and 12.5 mg"),
    ("0.5mg/25mg", "GB", "500 micrograms and 25 mg"),
    ("5mg/5ml", "GB", "5 mg per 5 mL"),
    ("100 micrograms/hour", "US", "100 micrograms per hour"),
    ("100000 units", "AU", "100,000 units"),
    ("125 mcg", "GB", "125 micrograms"),
    ("125 mcg", "US", "125 mcg"),
    ("125µg", "US", "125 mcg"),
    ("400IU", "GB", "400 international units"),
    ("senna & docusate", "GB", "senna and docusate"),
    ("Take 10 ml.", "GB", "Take 10 mL"),
    ("5 mg", "GB", "5 mg"),
]


@pytest.mark.parametrize(("text", "country", "expected"), TIDY)
def test_what_has_one_meaning_is_mended(text: str, country: str, expected: str) -> None:
    assert tidy_text(text, country) == expected
    assert check_safe_text(expected, country) == ()


@pytest.mark.parametrize(
    "text", ["0,125 mg", "0,5 mg", "1,125 mg", "1\u00a0000 mg", "20\u202f000 units", "1 000 mg", "Prendre 2,5 mg le matin."]
)
@pytest.mark.parametrize("country", ["FR", "CA", "GB"])
def test_a_decimal_comma_and_a_blank_between_thousands_are_left_alone(text: str, country: str) -> None:
    """ "0,125 mg" tidied as thousands would be 125 mg: a thousand times as much."""
    assert tidy_text(text, country) == text


COMMA_BAD = [
    ("trailing-zero-after-comma", "5,0 mg", "5 mg"),
    ("trailing-zero-after-comma", "2,50 mg", "2,5 mg"),
    ("no-zero-before-comma", "Prendre ,5 mg", "Prendre 0,5 mg"),
    ("point-between-thousands", "1.000 mg", "1\u00a0000 mg"),
    ("international-unit-abbreviation", "10 UI", "10 unités internationales"),
    ("international-unit-abbreviation", "10IE", "10 Internationale Einheiten"),
    ("international-unit-abbreviation", "10 I.E. abends", "10 Internationale Einheiten abends"),
]


@pytest.mark.parametrize(("rule", "bad", "good"), COMMA_BAD)
@pytest.mark.parametrize("lang", sorted(DECIMAL_COMMA_LANGUAGES))
def test_each_rule_of_the_decimal_comma_finds_what_breaks_it(rule: str, bad: str, good: str, lang: str) -> None:
    assert rule in check_safe_text(bad, lang=lang)
    assert check_safe_text(good, lang=lang) == ()


def test_every_rule_of_the_decimal_comma_has_a_worked_case_and_holds_in_its_languages_only() -> None:
    assert {rule for rule, _, _ in COMMA_BAD} == {rule.id for rule in DECIMAL_COMMA_RULES}
    assert check_safe_text("1,000 units") == ()
    assert check_safe_text("Take 1 tablet, 0.5 mg", lang="en") == ()


@pytest.mark.parametrize("text", ["1/2 tablet OD", "HCTZ 25 mg", "co-codamol 8/500", "less than < 5", "V tablets", "at 8.00"])
def test_what_has_more_than_one_reading_is_left_for_a_person(text: str) -> None:
    assert tidy_text(text, "GB") == text
    assert check_safe_text(text)


@pytest.mark.parametrize("text", ["0.25-0.5 mg", "0.25 to 0.5mg", "2 or 0.5 mg"])
def test_a_unit_is_never_changed_under_a_number_that_borrows_it(text: str) -> None:
    """ "0.25-500 micrograms" would be another dose: the range keeps its milligrams, and the UK check asks for a person."""
    assert "microgram" not in tidy_text(text, "GB")
    assert "below-one-milligram" in check_safe_text(tidy_text(text, "GB"), "GB")


@given(st.text(alphabet="0123456789., mgMLlUuI/-+&abcµ", max_size=30), st.sampled_from(["GB", "US"]))
def test_tidying_twice_changes_nothing_more(text: str, country: str) -> None:
    once = tidy_text(text, country)
    assert tidy_text(once, country) == once
