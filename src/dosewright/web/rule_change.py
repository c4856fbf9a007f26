"""A pharmacist changes a suitability rule, adds one, or takes the pharmacy's own wording back: one form, each field of it on record."""

from dataclasses import replace

from django import forms
from django.http import HttpResponse
from django.urls import reverse

from dosewright.actions.change_rule import add_rule, change_rule, drop_rule
from dosewright.core.medicines.own_rules import OwnRule, all_rules
from dosewright.core.medicines.rule_codes import HAZARDOUS, PACKABLE
from dosewright.core.medicines.suitability import Rule, Standing
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import MedicineCode
from dosewright.store.catalogue import load_catalogue
from dosewright.store.pharmacy import RulesInForce, load_pharmacy, load_rules
from dosewright.web.decision import Decision, ReasonForm
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.pair_change import change_known_pair
from dosewright.web.pair_words import find_pair
from dosewright.web.request import BenchRequest, new_token, occasion
from dosewright.web.rule_answer import back_to_rules, names_typed, show_change
from dosewright.web.rules import find_rule, rule_line

__all__ = ["RuleForm", "add", "change", "drop"]

_FOLLOWS = {
    PACKABLE: "It may lie in a card",
    "W": "It may, once confirmed for the order",
    "S": "Alongside, unless decided otherwise",
    "XD": "Alongside, unless data is on record",
    "X": "It never lies in a card",
}
_YES_OR_NO = [("", "no"), ("yes", "yes")]
_CODE_OF = {Standing.FITS: PACKABLE, Standing.CONFIRM: "W", Standing.SEPARATE: "S", Standing.UNLESS_PROVED: "XD", Standing.EXCLUDED: "X"}


class RuleForm(forms.Form):
    """The rule as it is to stand. A rule about a form or a flag has neither names nor a product."""

    names = forms.CharField(label="Generic names", help_text="whole words, a comma between two", max_length=400, required=False)
    product = forms.ChoiceField(label="Only for this product", required=False)
    follows = forms.ChoiceField(label="What follows", choices=list(_FOLLOWS.items()))
    days = forms.IntegerField(
        label="At most so many days in a card", help_text="from packing; leave empty for none", min_value=1, max_value=366, required=False
    )
    hazardous = forms.ChoiceField(label="Hazardous to handle", choices=_YES_OR_NO, required=False)
    weekly = forms.ChoiceField(label="Taken once a week only", choices=_YES_OR_NO, required=False)
    reason = forms.CharField(label="Reason", help_text="as people read it on the list and on screens", max_length=300)
    source = forms.CharField(label="Source", help_text="the publication, or the maker’s letter", max_length=300)
    dated = forms.CharField(label="Date of the source", max_length=60)
    why = forms.CharField(label="Why it is changed", max_length=1000, widget=forms.Textarea({"rows": 2}))

    def __init__(self, *args: object, products: list[tuple[str, str]], by_product: bool, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        if not by_product:
            del self.fields["names"], self.fields["product"], self.fields["weekly"]
            return
        field = self.fields["product"]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101  declared above
        field.choices = [("", "all of these names"), *products]


def change(request: BenchRequest, rule: str) -> HttpResponse:
    """One that is there, in its own words to begin with."""
    in_force = load_rules(load_pharmacy().rules)
    if pair := find_pair(rule, in_force):
        return change_known_pair(request, pair)
    known = find_rule(rule, in_force.suitability)
    by_product = not _by_form_or_flag(rule, in_force)
    form = RuleForm(request.POST or None, initial=_as_it_is(known, in_force), products=_products(), by_product=by_product)
    line = rule_line(known, in_force.suitability, {}, own=False)
    screen = ("Change a rule.", f"About {line.about}. Now: {line.follows}", reverse("change-rule", args=[rule]))
    return _answer(request, rule, form, screen, known.forms)


def add(request: BenchRequest) -> HttpResponse:
    """A new one, about generic names or one product."""
    form = RuleForm(request.POST or None, products=_products(), by_product=True)
    screen = ("Add a rule.", "About a medicine by its generic name, or about one product.", reverse("add-rule"))
    return _answer(request, "", form, screen)


def drop(request: BenchRequest, rule: str) -> HttpResponse:
    """What this pharmacy made of it no longer counts."""
    form = ReasonForm(request.POST or None)
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        outcome = drop_rule(rule, occasion(request), form.cleaned_data["reason"])
        if outcome.done:
            return back_to_rules(request, f"Taken back: {rule}.", outcome.findings)
        findings = outcome.findings
    about = "Where a rule that ships has this name, that one counts again. Sets that are planned already keep the rules that they have."
    ask = Decision(
        f"Take back this pharmacy’s rule {rule}.",
        about,
        reverse("drop-rule", args=[rule]),
        "It no longer counts",
        reverse("rule", args=[rule]),
        form,
        new_token(),
        with_names(findings),
    )
    return show(request, "decision.html", ask, status=422 if request.method == "POST" else 200)


def _answer(request: BenchRequest, rule: str, form: RuleForm, said: tuple[str, str, str], forms_only: tuple[str, ...] = ()) -> HttpResponse:
    """`rule` is "" for a new one. `forms_only`: the forms that the rule is limited to, which stay as they are."""
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        wanted = replace(_wanted(rule, form), forms=forms_only)
        outcome = change_rule(rule, occasion(request), wanted) if rule else add_rule(_about(form), occasion(request), wanted)
        if outcome.done:
            return back_to_rules(request, "The rule stands. It counts from the next plan on.", outcome.findings)
        findings = outcome.findings
    return show_change(request, form, said, findings)


def _wanted(rule: str, form: RuleForm) -> OwnRule:
    said = form.cleaned_data
    codes = [said["follows"], *([HAZARDOUS] if said["hazardous"] else []), *([f"T{said['days']}"] if said["days"] else [])]
    product = str(said.get("product", ""))
    return OwnRule(
        id=rule,
        codes=tuple(dict.fromkeys(codes)),
        reason=said["reason"].strip(),
        source=said["source"].strip(),
        dated=said["dated"].strip(),
        names=names_typed(str(said.get("names", ""))),
        medicines=(MedicineCode(product),) if product else (),
        weekly=bool(said.get("weekly")),
        why=said["why"].strip(),
    )


def _as_it_is(rule: Rule, in_force: RulesInForce) -> dict[str, object]:
    own = next((one for one in in_force.own if one.id == rule.id), None)
    return {
        "names": ", ".join(rule.names),
        "product": rule.medicines[0] if rule.medicines else "",
        "follows": _CODE_OF[rule.standing],
        "days": rule.limit_days,
        "hazardous": "yes" if rule.hazardous else "",
        "weekly": "yes" if rule.weekly else "",
        "reason": rule.reason,
        "source": rule.source,
        "dated": own.dated if own else rule.dated,
    }


def _by_form_or_flag(rule: str, in_force: RulesInForce) -> bool:
    return any(one.id == rule for one in all_rules(in_force.shipped) if one not in in_force.shipped.products)


def _products() -> list[tuple[str, str]]:
    return sorted(((code, medicine.label) for code, medicine in load_catalogue().items()), key=lambda pair: pair[1].casefold())


def _about(form: RuleForm) -> str:
    """What a new rule is named for: the product, or the first generic name."""
    return str(form.cleaned_data["product"] or form.cleaned_data["names"].split(",")[0])
