"""The pharmacy's own rules about two medicines: in place of those that ship, beside them, or putting them out of force; kept as text."""

from dataclasses import replace
from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.medicines.shipped_rules import pairs, rules, spacings
from tests.core.packing.makers import medicine

from dosewright.core.interop.own_rules_toml import OwnBook, format_own_rules, parse_own_rules
from dosewright.core.interop.toml_text import TomlError
from dosewright.core.medicines.neighbours import apart_because
from dosewright.core.medicines.own_pairs import FARTHEST, OwnPair, PairBook, PairKind, check_own_pair, laid_over, names_not_held
from dosewright.core.medicines.spacing import breaches, concerns
from dosewright.core.paper.say import say

SHIPPED = PairBook(pairs(), spacings())
CALCIUM = OwnPair(
    id="spacing.levothyroxine",
    kind=PairKind.SPACING,
    one=("levothyroxine",),
    other=("calcium carbonate",),
    before=30,
    after=240,
    reason="half an hour before is enough here",
    source="letter of the maker",
    dated="January 2026",
    change=1,
    by="R. Moreau",
    on=date(2026, 3, 2),
    why="the clinic asked",
)
TOGETHER = replace(CALCIUM, id="own.alpha-beta", kind=PairKind.APART, one=("alpha",), other=("beta",), before=0, after=0)


def test_a_wording_of_a_shipped_ones_id_stands_in_its_place_and_nothing_else_changes() -> None:
    book = laid_over(SHIPPED, [CALCIUM])
    assert [rule.id for rule in book.rules] == [rule.id for rule in SHIPPED.rules]
    assert [rule.id for rule, was in zip(book.rules, SHIPPED.rules, strict=True) if rule != was] == ["spacing.levothyroxine"]
    (changed,) = (rule for rule in book.spacing if rule.id == "spacing.levothyroxine")
    day = date(2026, 3, 2)
    assert not list(breaches(changed, [(day, time(7, 30))], [(day, time(8))]))
    assert list(breaches(changed, [(day, time(7, 31))], [(day, time(8))]))


def test_a_new_one_is_asked_after_those_that_ship() -> None:
    book = laid_over(SHIPPED, [TOGETHER])
    assert book.apart[:-1] == SHIPPED.apart
    alpha, beta, gamma = (medicine(name) for name in ("Alpha", "Beta", "Gamma"))
    assert apart_because(alpha, beta, book.apart, rules()) == apart_because(beta, alpha, book.apart, rules()) == "own.alpha-beta"
    assert apart_because(alpha, gamma, book.apart, rules()) is None
    assert apart_because(alpha, beta, SHIPPED.apart, rules()) is None


@pytest.mark.parametrize("rule", SHIPPED.rules, ids=lambda rule: rule.id)
def test_every_rule_that_ships_can_be_put_out_of_force(rule) -> None:  # type: ignore[no-untyped-def]
    kind = PairKind.APART if rule in SHIPPED.apart else PairKind.SPACING
    out = replace(CALCIUM, id=rule.id, kind=kind, one=rule.one, other=rule.other, in_force=False)
    assert laid_over(SHIPPED, [out]).rules == tuple(one for one in SHIPPED.rules if one != rule)


def test_the_same_rules_changed_twice_have_two_dates() -> None:
    """A reason given for a question is for the rule in that wording; `dated` is part of it."""
    assert CALCIUM.rule().dated != replace(CALCIUM, change=2).rule().dated


def test_whole_words_of_the_generic_name_count() -> None:
    rule = replace(CALCIUM, one=("alpha",), other=("calcium",)).rule()
    assert concerns(rule, medicine("Alpha"), medicine("Calcium carbonate"))  # type: ignore[arg-type]
    assert not concerns(rule, medicine("Alpha"), medicine("Calcipotriol"))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("rule", "changes", "code"),
    [
        (CALCIUM, {"one": ()}, "rules.pair-about-nothing"),
        (CALCIUM, {"before": 0, "after": 0}, "rules.no-distance"),
        (CALCIUM, {"before": FARTHEST + 1}, "rules.too-far"),
        (CALCIUM, {"after": -1}, "rules.too-far"),
        (CALCIUM, {"other": ("–",)}, "rules.no-word"),
        (CALCIUM, {"source": " "}, "rules.field-empty"),
        (CALCIUM, {"reason": ""}, "rules.field-empty"),
        (CALCIUM, {"dated": ""}, "rules.field-empty"),
        (CALCIUM, {"why": ""}, "rules.field-empty"),
        (CALCIUM, {"kind": PairKind.APART, "before": 0, "after": 0}, "rules.other-kind"),
        (TOGETHER, {"id": "spacing.iron"}, "rules.other-kind"),
        (TOGETHER, {"before": 30}, "rules.no-minutes-here"),
        (TOGETHER, {"in_force": False}, "rules.own-out-of-force"),
    ],
)
def test_a_rule_that_says_too_little_or_too_much_is_refused_in_a_sentence(rule: OwnPair, changes: dict[str, object], code: str) -> None:
    found = check_own_pair(replace(rule, **changes), SHIPPED)  # type: ignore[arg-type]
    assert [finding.code for finding in found] == [code]
    assert "{" not in say(found[0])


def test_sound_ones_are_kept() -> None:
    sound = (CALCIUM, TOGETHER, replace(CALCIUM, other=(), before=0), replace(CALCIUM, in_force=False), replace(CALCIUM, id="own.x"))
    assert [check_own_pair(rule, SHIPPED) for rule in sound] == [()] * 5


def test_only_new_names_that_no_product_has_are_said() -> None:
    held = ["Levothyroxine sodium", "Calcium carbonate"]
    assert names_not_held(CALCIUM, PairBook(), held) == ()
    slip = replace(CALCIUM, other=("calcium carbonate", "calcum", "colestipol"))
    assert names_not_held(slip, SHIPPED, held) == ("calcum",)  # colestipol stands in the rule that ships
    assert names_not_held(slip, PairBook(), held) == ("calcum", "colestipol")


TEXT = st.text(st.characters(codec="utf-8"), min_size=1, max_size=12).filter(str.strip)
NAMES = st.lists(TEXT, max_size=3).map(tuple)


@st.composite
def own_pairs(draw: st.DrawFn) -> OwnPair:
    kind = draw(st.sampled_from(PairKind))
    far, near = draw(st.integers(1, FARTHEST)), draw(st.integers(0, FARTHEST))
    before, after = draw(st.permutations([far, near])) if kind is PairKind.SPACING else (0, 0)
    texts = {name: draw(TEXT) for name in ("id", "reason", "source", "dated", "by", "why")}
    one = draw(NAMES.filter(bool))
    return replace(
        CALCIUM, kind=kind, one=one, other=draw(NAMES), before=before, after=after, in_force=draw(st.booleans()),
        change=draw(st.integers(0, 999)), on=draw(st.dates(date(2000, 1, 1), date(2099, 12, 31))), **texts,
    )  # fmt: skip


@given(own_pairs())
def test_what_is_written_is_read_back_the_same(own: OwnPair) -> None:
    assert parse_own_rules(format_own_rules(OwnBook(pairs=(own,)))) == OwnBook(pairs=(own,))


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ("one = []", "one must be a list of texts"),
        ("before_minutes = 1441", "must be 1440 or fewer"),
        ("before_minutes = -1", "before_minutes must be a whole number"),
        ('in_force = "no"', "in_force must be true or false"),
        ('colour = "red"', "colour"),
    ],
)
def test_a_slip_in_the_text_is_one_sentence_that_names_the_field(wrong: str, said: str) -> None:
    key = wrong.partition(" = ")[0]
    lines = [line for line in format_own_rules(OwnBook(pairs=(CALCIUM,))).splitlines() if not line.startswith(f"{key} ")]
    with pytest.raises(TomlError, match=said):
        parse_own_rules("\n".join([*lines, wrong]))


def test_one_id_is_one_rule_s_whatever_its_kind() -> None:
    twice = format_own_rules(OwnBook(pairs=(TOGETHER, replace(CALCIUM, id=TOGETHER.id))))
    with pytest.raises(TomlError, match=r"own\.alpha-beta stands twice"):
        parse_own_rules(twice)
