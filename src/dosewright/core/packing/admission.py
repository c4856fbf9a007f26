"""Whether a product may lie in this person's cards at all: rules, profile and recorded answers in, admitted or the reason not, out.

Excluded stays out, whatever anyone says, and so does what is given another way than by mouth. Separate, unproved and controlled
products stay out unless an answer on record lets them in; what only needs confirming goes in and asks. An answer counts only for the rule
as it read when it was given.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.neighbours import hazardous
from dosewright.core.medicines.suitability import Rule, Rules, Standing, rules_about, strictest
from dosewright.core.packing.case import Case
from dosewright.core.packing.request import Answer
from dosewright.core.regimen.routes import other_way
from dosewright.core.units.finding import Fact, Finding

__all__ = ["Admission", "admit"]


@dataclass(frozen=True, slots=True)
class Admission:
    """`why` is the alongside code, "" where the product is admitted."""

    why: str
    findings: tuple[Finding, ...]


def admit(case: Case) -> Admission:
    """Judge one order's product for cards under the request's rules, profile and answers."""
    medicine, request = case.medicine, case.request
    said = _said_of(medicine, request.rules)
    rule = said.strictest
    if rule and rule.standing is Standing.EXCLUDED:
        return _out(case, rule.why, rule)
    if not said.form_known:
        return Admission("form.unknown", (case.decide("form.unknown", form=medicine.form),))
    if way := other_way(case.order.dosages):
        return Admission("route", (case.note("alongside.route", words=way),))
    if said.hazardous and not request.profile.allows("hazardous_in_card"):
        about = rules_about(medicine, request.rules)
        return _out(case, "hazardous", next((found for found in about if found.hazardous), None))
    if "controlled" in medicine.flags and not request.profile.allows("controlled_in_card"):
        return _out(case, "controlled", None)
    return _by_rule(case, rule)


class _Said(NamedTuple):
    """What the rules together say of a product, whosever it is."""

    strictest: Rule | None
    form_known: bool
    hazardous: bool


@lru_cache(maxsize=16384)
def _said_of(medicine: Medicine, rules: Rules) -> _Said:
    about = rules_about(medicine, rules)
    form_known = not rules.forms or any(found.id.startswith("form.") for found in about)
    return _Said(strictest(about), form_known, hazardous(medicine, rules))


def _by_rule(case: Case, rule: Rule | None) -> Admission:
    if rule is None or rule.standing is Standing.FITS:
        return _in(case)
    answer = _answer(case, rule)
    if answer:
        return _answered(case, answer)
    if rule.standing is Standing.CONFIRM:
        ask = case.decide if rule.asks else case.note
        return _in(case, ask("suitability.confirm", **_cited(rule)))
    return _out(case, rule.why, rule)


def _answer(case: Case, rule: Rule) -> Answer | None:
    answers = (a for a in case.request.answers if a.order == case.order.id)
    return next((a for a in answers if a.about == rule.id and a.dated == rule.dated), None)


def _answered(case: Case, answer: Answer) -> Admission:
    noted = case.note("suitability.answered", rule=answer.about, choice=answer.choice, reason=answer.reason)
    return Admission("suitability.decided", (noted,)) if answer.choice == "alongside" else _in(case, noted)


_ADMITTED = Admission("", ())


def _in(case: Case, *findings: Finding) -> Admission:
    """Admitted; a product that was never measured is packed as the largest it could be, and a person must say so."""
    if case.medicine.size and not findings:
        return _ADMITTED
    unmeasured = () if case.medicine.size else (case.decide("medicine.not-measured"),)
    return Admission("", (*findings, *unmeasured))


def _out(case: Case, why: str, rule: Rule | None) -> Admission:
    noted = case.note("suitability.alongside", why=why, **_cited(rule)) if rule else case.note(f"alongside.{why}")
    return Admission(why, (noted,))


def _cited(rule: Rule) -> dict[str, Fact]:
    return {"rule": rule.id, "reason": rule.reason, "source": rule.source, "dated": rule.dated}
