"""A pharmacist changes what may lie in a card: a suitability rule of the pharmacy's own, new or in place of another; or a rule of any kind
that ships comes back in its place."""

from collections.abc import Iterable
from dataclasses import replace

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.own_rules_toml import OwnBook, format_own_rules
from dosewright.core.medicines.own_pairs import say_pair
from dosewright.core.medicines.own_rules import OwnRule, all_rules, check_own_rule, name_for_own, overlaid
from dosewright.core.medicines.suitability import Rule, Rules, rules_about
from dosewright.core.units.finding import Fact, Finding, Severity, blocks
from dosewright.store.calendar import wall_day
from dosewright.store.catalogue import load_catalogue
from dosewright.store.ledger import append_entry, load_entries
from dosewright.store.open_cards import medicines_in_open_cards
from dosewright.store.pharmacy import RulesInForce, StoredPharmacy, load_rule_texts, load_rules, lock_pharmacy, save_rules

__all__ = ["OUT_OF_FORCE", "add_rule", "change_rule", "count_changes", "drop_rule", "names_taken"]

OUT_OF_FORCE = "out of force"  # in the ledger: what a rule that ships became here


@doing(Ability.CHANGE_RULE, "rule")
def change_rule(rule: str, on: Occasion, wanted: OwnRule) -> Outcome:
    """The rule stands as `wanted` from now on, in the next plans; sets planned before keep theirs. A `stop` keeps it from being changed.

    Found beside it: products in open cards that the rule speaks of.
    """
    return _stand(rule, on, wanted, lock_pharmacy())


@doing(Ability.CHANGE_RULE, "rule")
def add_rule(about: str, on: Occasion, wanted: OwnRule) -> Outcome:
    """A rule under a name of its own, made of what it is `about`; `made` is that name. Sent twice, it is one rule."""
    pharmacy = lock_pharmacy()
    rule = name_for_own(about, names_taken(load_rules(pharmacy.rules)))
    outcome = _stand(rule, on, wanted, pharmacy)
    return replace(outcome, made=(rule,)) if outcome.done else outcome


def _stand(rule: str, on: Occasion, wanted: OwnRule, pharmacy: StoredPharmacy) -> Outcome:
    rules, texts = load_rules(pharmacy.rules), load_rule_texts(pharmacy.rules)
    made = replace(wanted, id=rule, change=count_changes() + 1, by=on.by.name, on=wall_day(on.at))
    findings = check_own_rule(made, rules.shipped, load_catalogue(set(made.medicines)))
    if rule in _pair_names(rules):
        findings = (*findings, Finding("rules.other-kind", Severity.STOP, {"rule": rule}))
    if blocks(findings):
        return not_done(findings)
    own = (*(one for one in rules.own if one.id != rule), made)
    named = save_rules(replace(texts, own=format_own_rules(replace(rules.book, rules=own))))
    append_entry(on, "rule changed", ("rule", rule), {**_facts(made), "was": _codes_of(rule, rules), "rules": named})
    return done(_held(rule, overlaid(rules.shipped, own)))


@doing(Ability.CHANGE_RULE, "rule")
def drop_rule(rule: str, on: Occasion, why: str) -> Outcome:
    """The pharmacy's own rule goes; where one that ships has its id, that one counts again. A reason is needed."""
    pharmacy = lock_pharmacy()
    rules, texts = load_rules(pharmacy.rules), load_rule_texts(pharmacy.rules)
    if (was := _own_before(rule, rules)) is None:
        return not_done((Finding("rules.not-yours", Severity.STOP, {"rule": rule}),))
    if not why.strip():
        return not_done((Finding("rules.field-empty", Severity.STOP, {"rule": rule}, {"field": "why"}),))
    own = OwnBook(tuple(one for one in rules.own if one.id != rule), tuple(one for one in rules.own_pairs if one.id != rule))
    named = save_rules(replace(texts, own=format_own_rules(own)))
    facts: dict[str, Fact] = {"was": was, "why": why, "change": count_changes() + 1, "rules": named}
    append_entry(on, "rule taken back", ("rule", rule), facts)
    return done(_held(rule, overlaid(rules.shipped, own.rules)))


def _own_before(rule: str, rules: RulesInForce) -> tuple[str, ...] | None:
    """What the pharmacy's own wording said, in a word; None where it has none."""
    codes = next((one.codes for one in rules.own if one.id == rule), None)
    pair = next((one for one in rules.own_pairs if one.id == rule), None)
    return (say_pair(pair.rule()) if pair.in_force else OUT_OF_FORCE,) if pair else codes


def names_taken(rules: RulesInForce) -> set[str]:
    """The ids of all rules, of every kind: a new one has none of them."""
    return {one.id for one in all_rules(rules.suitability)} | _pair_names(rules)


def _pair_names(rules: RulesInForce) -> set[str]:
    return {one.id for one in rules.shipped_pairs.rules} | {one.id for one in rules.own_pairs}


def count_changes() -> int:
    """How often the pharmacy has changed a rule, over all of them: never the same number twice."""
    return sum(entry.event in ("rule changed", "rule taken back") for entry in load_entries("rule"))


def _facts(rule: OwnRule) -> dict[str, Fact]:
    lists = {name: getattr(rule, name) for name in ("codes", "names", "forms", "medicines")}
    texts = {name: getattr(rule, name) for name in ("reason", "source", "dated", "why")}
    return {**lists, **texts, "weekly": rule.weekly, "asks": rule.asks, "change": rule.change}


def _codes_of(rule: str, rules: RulesInForce) -> tuple[str, ...]:
    """What it said before, in a word: codes of the pharmacy's own, the standing of one that ships, nothing where it is new."""
    own = next((one.codes for one in rules.own if one.id == rule), None)
    shipped = next((one.standing.name.lower() for one in all_rules(rules.shipped) if one.id == rule), None)
    return own or ((shipped,) if shipped else ())


def _held(rule: str, rules: Rules) -> tuple[Finding, ...]:
    """Products of open cards that the rule speaks of now, each with how many cards."""
    counts = medicines_in_open_cards()
    medicines = load_catalogue(set(counts))
    touched = [medicine for medicine in medicines.values() if _speaks(rule, rules_about(medicine, rules))]
    return tuple(_note(rule, medicine.label, counts[medicine.code]) for medicine in sorted(touched, key=lambda one: one.label))


def _speaks(rule: str, about: Iterable[Rule]) -> bool:
    return any(one.id == rule for one in about)


def _note(rule: str, medicine: str, many: int) -> Finding:
    return Finding("rules.cards-hold", Severity.NOTE, {"rule": rule}, {"medicine": medicine, "many": many})
