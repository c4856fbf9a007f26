"""What may lie in a card: every suitability rule in words with its source, found by a word, and the pharmacy's own changes with history."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from django.http import HttpResponse

from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.medicines.own_rules import all_rules
from dosewright.core.medicines.suitability import Rule, Rules, Standing
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import MedicineCode
from dosewright.store.catalogue import load_catalogue
from dosewright.store.ledger import load_entries
from dosewright.store.missing import Missing
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.store.value_json import parse_value
from dosewright.web.page import show
from dosewright.web.pair_words import Pair, find_pair, say_about, say_apart, say_others, say_standing, standing_pairs
from dosewright.web.request import BenchRequest

__all__ = [
    "Change",
    "Group",
    "RuleLine",
    "RuleScreen",
    "RulesScreen",
    "find_rule",
    "pair_line",
    "rule_line",
    "rules",
    "say_follows",
    "show_rule",
]

_KINDS = (
    "This pharmacy’s own",
    "Never in one cavity",
    "Apart in time",
    "By product",
    "By form",
    "By what is flagged in the medicines file",
)
_FOLLOWS = {
    Standing.FITS: "May lie in a card",
    Standing.CONFIRM: "May lie in a card, with a word of caution",
    Standing.SEPARATE: "Stays alongside, unless a pharmacist decides otherwise for an order",
    Standing.UNLESS_PROVED: "Stays alongside, unless stability data or the maker’s advice is on record for an order",
    Standing.EXCLUDED: "Never lies in a card",
}
_KNOWN = {
    "retrieved": "an excerpt of the source was read",
    "memory": "recalled, to be verified",
    "proposal": "a proposal of this program",
    "pharmacy": "set by this pharmacy",
}
_SHOWN_WORDS = 12


@dataclass(frozen=True, slots=True)
class RuleLine:
    """One rule in words: what it is about, what follows from it, why, by which source, and how the source was known."""

    id: str
    about: str
    follows: str
    reason: str
    source: str
    known: str
    own: bool


@dataclass(frozen=True, slots=True)
class Group:
    """Rules of a kind."""

    title: str
    lines: tuple[RuleLine, ...]


@dataclass(frozen=True, slots=True)
class RulesScreen:
    """Every rule that has the words typed."""

    query: str
    count: int
    groups: tuple[Group, ...]
    may_change: bool


@dataclass(frozen=True, slots=True)
class Change:
    """One entry of the ledger about the rule: when, who, what it became, why."""

    at: datetime
    who: str
    what: str
    why: str
    source: str


@dataclass(frozen=True, slots=True)
class RuleScreen:
    """One rule with its history. `own` where this pharmacy's wording counts; `shipped` says what would count without it, "" for nothing."""

    line: RuleLine
    shipped: str
    history: tuple[Change, ...]
    may_change: bool


def rules(request: BenchRequest) -> HttpResponse:
    """The list."""
    query = request.GET.get("q", "").strip()[:100]
    in_force = load_rules(load_pharmacy().rules)
    own = {rule.id for rule in in_force.own}
    names = {code: medicine.label for code, medicine in load_catalogue().items()}
    lines = [
        (_kind(rule, in_force.suitability, own), rule_line(rule, in_force.suitability, names, own=rule.id in own), " ".join(rule.names))
        for rule in all_rules(in_force.suitability)
    ]
    lines += [(_kind_of_pair(pair), pair_line(pair), "") for pair in standing_pairs(in_force)]
    found: dict[str, list[RuleLine]] = {title: [] for title in _KINDS}
    for title, line, names_too in lines:
        if query.casefold() in f"{line.about} {line.follows} {line.reason} {line.source} {names_too}".casefold():
            found[title].append(line)
    groups = tuple(Group(title, tuple(sorted(lines, key=lambda line: line.about.casefold()))) for title, lines in found.items() if lines)
    count = sum(len(group.lines) for group in groups)
    return show(request, "rules/list.html", RulesScreen(query, count, groups, _may_change(request)))


def show_rule(request: BenchRequest, rule: str) -> HttpResponse:
    """One of them."""
    in_force = load_rules(load_pharmacy().rules)
    if pair := find_pair(rule, in_force):
        as_shipped = f"{say_about(pair.shipped)}. {say_apart(pair.shipped)}" if pair.own and pair.shipped else ""
        told = replace(pair_line(pair), about=", ".join(pair.rule.one), follows=f"With {say_others(pair.rule)}: {say_standing(pair)}")
        return show(request, "rules/rule.html", RuleScreen(told, as_shipped, _history(rule), _may_change(request)))
    known = find_rule(rule, in_force.suitability)
    shipped = next((one for one in all_rules(in_force.shipped) if one.id == rule), None)
    own = any(one.id == rule for one in in_force.own)
    names = {code: medicine.label for code, medicine in load_catalogue(set(known.medicines)).items()}
    line = rule_line(known, in_force.suitability, names, own=own)
    as_shipped = say_follows(shipped) if own and shipped else ""
    return show(request, "rules/rule.html", RuleScreen(line, as_shipped, _history(rule), _may_change(request)))


def find_rule(rule: str, rules: Rules) -> Rule:
    """Raises Missing."""
    known = next((one for one in all_rules(rules) if one.id == rule), None)
    if known is None:
        raise Missing("rule", rule)
    return known


def rule_line(rule: Rule, rules: Rules, names: Mapping[MedicineCode, str], *, own: bool) -> RuleLine:
    """The rule in words; `names` are the printed names of products by code."""
    source = f"{rule.source}, {rule.dated}"
    return RuleLine(rule.id, _about(rule, rules, names), say_follows(rule), rule.reason, source, _KNOWN[rule.evidence], own)


def pair_line(pair: Pair) -> RuleLine:
    """A rule about two medicines in words."""
    rule = pair.rule
    source = f"{rule.source}, {rule.dated}"
    return RuleLine(rule.id, say_about(rule), say_standing(pair), rule.reason, source, _KNOWN[rule.evidence], pair.own is not None)


def say_follows(rule: Rule) -> str:
    """ "Stays alongside, unless …; at most 30 days from packing; hazardous to handle"."""
    said = [_FOLLOWS[rule.standing]]
    if rule.standing is Standing.CONFIRM and rule.asks:
        said = ["May lie in a card once a pharmacist has confirmed it for the order"]
    if rule.limit_days is not None:
        said.append(f"at most {rule.limit_days} days from packing")
    if rule.hazardous:
        said.append("hazardous to handle")
    if rule.weekly:
        said.append("once a week only")
    return "; ".join(said) + "."


def _about(rule: Rule, rules: Rules, names: Mapping[MedicineCode, str]) -> str:
    if rule.medicines:
        return ", ".join(names.get(code, code) for code in rule.medicines)
    if rule.names:
        return ", ".join(rule.names) + (f" ({', '.join(rule.forms)})" if rule.forms else "")
    flag = next((flag for flag, one in rules.flags.items() if one.id == rule.id), "")
    forms = [form for form, one in rules.forms.items() if one.id == rule.id]
    more = "" if len(forms) <= _SHOWN_WORDS else ", …"
    return f"flag “{flag}”" if flag else ", ".join(forms[:_SHOWN_WORDS]) + more


def _kind(rule: Rule, rules: Rules, own: set[str]) -> str:
    if rule.id in own:
        return _KINDS[0]
    if rule.names:
        return _KINDS[3]
    return _KINDS[5] if any(one.id == rule.id for one in rules.flags.values()) else _KINDS[4]


def _kind_of_pair(pair: Pair) -> str:
    if pair.own:
        return _KINDS[0]
    return _KINDS[1] if isinstance(pair.rule, PairRule) else _KINDS[2]


def _may_change(request: BenchRequest) -> bool:
    return request.actor.role in RIGHTS[Ability.CHANGE_RULE]


def _history(rule: str) -> tuple[Change, ...]:
    """Newest first."""
    made = (entry for entry in load_entries("rule", rule) if entry.event in ("rule changed", "rule taken back"))
    changes = [(entry, parse_value(dict[str, Fact], entry.body)) for entry in made]
    return tuple(
        Change(entry.at, entry.who_name, _say_change(entry.event, facts), str(facts["why"]), _say_source(facts))
        for entry, facts in reversed(changes)
    )


def _say_change(event: str, facts: dict[str, Fact]) -> str:
    was, now = (_codes(facts.get(name)) for name in ("was", "codes"))
    if event == "rule taken back":
        return f"taken back: {was} no longer counts"
    names = f" ({_listed(facts['one'])} – with {_listed(facts['other']) or 'any other medicine'})" if "one" in facts else ""
    return f"{was} became {now}{names}" if was else f"new: {now}{names}"


def _listed(written: Fact) -> str:
    return ", ".join(map(str, written)) if isinstance(written, tuple) else str(written or "")


def _codes(written: Fact) -> str:
    return " ".join(map(str, written)) if isinstance(written, tuple) else str(written or "")


def _say_source(facts: dict[str, Fact]) -> str:
    return f"{facts['source']}, {facts['dated']}" if "source" in facts else ""
