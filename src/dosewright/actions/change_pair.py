"""A pharmacist changes which medicines may not share a cavity, and which must be apart in time.

A wording of the pharmacy's own is new, or stands in place of a rule that ships, or puts that one out of force.
"""

from dataclasses import replace

from dosewright.actions.change_rule import OUT_OF_FORCE, count_changes, names_taken
from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.own_rules_toml import format_own_rules
from dosewright.core.medicines.own_pairs import OwnPair, check_own_pair, laid_over, names_not_held, say_pair
from dosewright.core.medicines.own_rules import name_for_own
from dosewright.core.units.finding import Fact, Finding, Severity, blocks
from dosewright.store.calendar import wall_day
from dosewright.store.catalogue import load_catalogue
from dosewright.store.ledger import append_entry
from dosewright.store.missing import Missing
from dosewright.store.open_cards import find_cards_with_both
from dosewright.store.pharmacy import RulesInForce, StoredPharmacy, load_rule_texts, load_rules, lock_pharmacy, save_rules

__all__ = ["add_pair", "change_pair"]

_SHOWN = 12  # card numbers in one sentence


@doing(Ability.CHANGE_RULE, "rule")
def change_pair(rule: str, on: Occasion, wanted: OwnPair) -> Outcome:
    """The rule stands as `wanted` from now on, or is out of force, in the next plans; sets planned before keep theirs. Raises Missing.

    Found beside it: open cards that hold what the rule keeps apart, and names that no product has.
    """
    pharmacy = lock_pharmacy()
    rules = load_rules(pharmacy.rules)
    if rules.shipped_pairs.find(rule) is None and all(one.id != rule for one in rules.own_pairs):
        raise Missing("rule", rule)
    return _stand(rule, on, wanted, pharmacy)


@doing(Ability.CHANGE_RULE, "rule")
def add_pair(about: str, on: Occasion, wanted: OwnPair) -> Outcome:
    """A rule under a name of its own, made of what it is `about`; `made` is that name. Sent twice, it is one rule."""
    pharmacy = lock_pharmacy()
    rule = name_for_own(about, names_taken(load_rules(pharmacy.rules)))
    outcome = _stand(rule, on, wanted, pharmacy)
    return replace(outcome, made=(rule,)) if outcome.done else outcome


def _stand(rule: str, on: Occasion, wanted: OwnPair, pharmacy: StoredPharmacy) -> Outcome:
    rules, texts = load_rules(pharmacy.rules), load_rule_texts(pharmacy.rules)
    made = replace(wanted, id=rule, change=count_changes() + 1, by=on.by.name, on=wall_day(on.at))
    if blocks(findings := (*check_own_pair(made, rules.shipped_pairs), *_other_kind(made, rules))):
        return not_done(findings)
    own = (*(one for one in rules.own_pairs if one.id != rule), made)
    named = save_rules(replace(texts, own=format_own_rules(replace(rules.book, pairs=own))))
    append_entry(on, "rule changed", ("rule", rule), {**_facts(made), "was": _was(rule, rules), "rules": named})
    return done((*_not_held(made, rules), *_held(rule, own, rules)))


def _other_kind(made: OwnPair, rules: RulesInForce) -> tuple[Finding, ...]:
    """An own rule stays of its kind, as one that ships does."""
    if any(one.id == made.id and one.kind is not made.kind and rules.shipped_pairs.find(made.id) is None for one in rules.own_pairs):
        return (Finding("rules.other-kind", Severity.STOP, {"rule": made.id}),)
    return ()


def _was(rule: str, rules: RulesInForce) -> tuple[str, ...]:
    """What it said before, in a word; nothing where it is new."""
    if known := rules.pair_book.find(rule):
        return (say_pair(known),)
    return (OUT_OF_FORCE,) if any(one.id == rule for one in rules.own_pairs) else ()


def _facts(rule: OwnPair) -> dict[str, Fact]:
    texts = {name: getattr(rule, name) for name in ("reason", "source", "dated", "why")}
    now = say_pair(rule.rule()) if rule.in_force else OUT_OF_FORCE
    return {"codes": (now,), "one": rule.one, "other": rule.other, **texts, "in_force": rule.in_force, "change": rule.change}


def _not_held(made: OwnPair, rules: RulesInForce) -> tuple[Finding, ...]:
    """Names that are in no generic name of the catalogue: allowed, for a product may yet come, and said, for it may be a slip."""
    names = names_not_held(made, rules.shipped_pairs, {medicine.name for medicine in load_catalogue().values()})
    return (Finding("rules.name-not-held", Severity.NOTE, {"rule": made.id}, {"found": names}),) if names else ()


def _held(rule: str, own: tuple[OwnPair, ...], rules: RulesInForce) -> tuple[Finding, ...]:
    """Each two products that the rule keeps apart now, with the open cards that hold both."""
    counting = laid_over(rules.shipped_pairs, own).find(rule)
    found = find_cards_with_both(counting) if counting else {}
    return tuple(_note(rule, one, other, cards) for (one, other), cards in sorted(found.items()))


def _note(rule: str, one: str, other: str, cards: tuple[str, ...]) -> Finding:
    shown = cards if len(cards) <= _SHOWN else (*cards[:_SHOWN], "…")
    return Finding(
        "rules.cards-hold-both", Severity.NOTE, {"rule": rule}, {"medicine": one, "other": other, "many": len(cards), "cards": shown}
    )
