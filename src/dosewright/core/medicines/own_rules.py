"""The pharmacy's own suitability rules: what it has changed of the rules that ship, with source, date, by whom and why; laid over them.

A rule of a shipped one's id stands in its place; any other is added. A rule for named products stands in place of the rules by generic name
for those products, but never lifts what these exclude, call hazardous or mean for once a week.
"""

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from dosewright.core.medicines.rule_codes import CODES, HAZARDOUS, PACKABLE, known_code, limit_of
from dosewright.core.medicines.suitability import STANDING_OF, Rule, Rules, Standing
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import MedicineCode

__all__ = ["OWN", "OwnRule", "all_rules", "check_own_rule", "name_for_own", "overlaid"]

OWN = "pharmacy"  # the evidence of such a rule


@dataclass(frozen=True, slots=True)
class OwnRule:
    """One rule as the pharmacy wants it. `names`: generic names, `medicines`: products by code, either only for rules by product.

    `change` counts the pharmacy's changes, so that no two wordings of a rule have one date; `by`, `on`, `why`: who changed it, when, why.
    """

    id: str
    codes: tuple[str, ...]
    reason: str
    source: str
    dated: str
    names: tuple[str, ...] = ()
    forms: tuple[str, ...] = ()
    medicines: tuple[MedicineCode, ...] = ()
    weekly: bool = False
    asks: bool = True
    change: int = 0
    by: str = ""
    on: date = date.min
    why: str = ""

    def rule(self) -> Rule:
        """As the planner reads it. `dated` has the change in it: an answer given to an earlier wording does not count for this one."""
        return Rule(
            id=self.id,
            standing=max((STANDING_OF[code] for code in self.codes if code in STANDING_OF), default=Standing.FITS),
            why=self.id,
            reason=self.reason,
            source=self.source,
            dated=f"{self.dated}; change {self.change} of this pharmacy, {self.on}",
            evidence=OWN,
            limit_days=limit_of(self.codes),
            hazardous=HAZARDOUS in self.codes,
            weekly=self.weekly,
            asks=self.asks,
            names=self.names,
            forms=self.forms,
            medicines=self.medicines,
        )


def check_own_rule(rule: OwnRule, rules: Rules, known: Mapping[MedicineCode, object]) -> tuple[Finding, ...]:
    """Every fault of a rule that somebody wants to keep, all at once; `known` are the products of the catalogue."""
    return tuple(Finding(code, Severity.STOP, {"rule": rule.id}, facts) for code, facts in _faults(rule, rules, known))


def _faults(rule: OwnRule, rules: Rules, known: Mapping[MedicineCode, object]) -> Iterable[tuple[str, dict[str, Fact]]]:
    unknown = [code for code in rule.codes if not known_code(code)]
    if unknown or not rule.codes:
        yield "rules.unknown-code", {"found": tuple(unknown) or ("nothing",), "codes": (*CODES, "T30")}
    elif PACKABLE in rule.codes and any(STANDING_OF.get(code, Standing.FITS) > Standing.FITS for code in rule.codes):
        yield "rules.codes-differ", {"found": rule.codes}
    for field in ("reason", "source", "dated", "why"):
        if not getattr(rule, field).strip():
            yield "rules.field-empty", {"field": field}
    shipped = {one.id: one for one in all_rules(rules)}.get(rule.id)
    by_product = shipped is None or shipped in rules.products
    if by_product and not (rule.names or rule.medicines):
        yield "rules.about-nothing", {}
    if not by_product and (rule.names or rule.medicines or rule.forms):
        yield "rules.not-by-product", {}
    for code in rule.medicines:
        if code not in known:
            yield "rules.unknown-product", {"medicine": code}


def all_rules(rules: Rules) -> tuple[Rule, ...]:
    """Every suitability rule once: by form, by flag, by product."""
    by_form = (*rules.forms.values(), *rules.words.values(), *(rule for _, rule in rules.made_of))
    return tuple(dict.fromkeys((*by_form, *rules.flags.values(), *rules.products)))


def overlaid(rules: Rules, own: Sequence[OwnRule]) -> Rules:
    """The rules with the pharmacy's in their places."""
    if not own:
        return rules
    mine = {rule.id: rule.rule() for rule in own}
    known = {rule.id for rule in all_rules(rules)}

    def place(rule: Rule) -> Rule:
        return mine.get(rule.id, rule)

    return replace(
        rules,
        forms={form: place(rule) for form, rule in rules.forms.items()},
        words={word: place(rule) for word, rule in rules.words.items()},
        made_of=tuple((words, place(rule)) for words, rule in rules.made_of),
        flags={flag: place(rule) for flag, rule in rules.flags.items()},
        products=(*map(place, rules.products), *(rule for id, rule in mine.items() if id not in known)),
    )


def name_for_own(about: str, taken: Collection[str]) -> str:
    """A name of its own for a new rule about that generic name or product: "own.omeprazole", "own.omeprazole-2"."""
    word = re.sub(r"[^a-z0-9]+", "-", about.casefold()).strip("-")[:40] or "rule"
    names = (f"own.{word}" if at == 1 else f"own.{word}-{at}" for at in range(1, len(taken) + 2))
    return next(name for name in names if name not in taken)
