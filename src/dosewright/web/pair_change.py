"""A pharmacist changes, adds or puts out of force a rule about two medicines: in one cavity, or too close in time."""

from django import forms
from django.http import HttpResponse
from django.urls import reverse

from dosewright.actions.change_pair import add_pair, change_pair
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.medicines.own_pairs import FARTHEST, OwnPair, PairKind
from dosewright.core.medicines.spacing import SpacingRule
from dosewright.core.units.finding import Finding
from dosewright.web.pair_words import Pair, say_about, say_standing
from dosewright.web.request import BenchRequest, occasion
from dosewright.web.rule_answer import back_to_rules, names_typed, show_change

__all__ = ["PairForm", "add_apart", "add_spacing", "change_known_pair"]

_OUT = "out"
_COUNTS = [("", "It counts as it stands here"), (_OUT, "It is out of force in this pharmacy")]
_NAMES = "any of these generic names, in whole words, a comma between two"


class PairForm(forms.Form):
    """The rule as it is to stand. Only a rule that ships can be put out of force; only one about time has minutes."""

    counts = forms.ChoiceField(label="Whether it counts", choices=_COUNTS, required=False)
    one = forms.CharField(label="The first medicine", help_text=_NAMES, max_length=2000, widget=forms.Textarea({"rows": 2}))
    other = forms.CharField(
        label="The second medicine",
        help_text=f"{_NAMES}; empty means any other medicine",
        max_length=2000,
        required=False,
        widget=forms.Textarea({"rows": 2}),
    )
    before = forms.IntegerField(
        label="Minutes before", help_text="the first at least so long before the second", min_value=0, max_value=FARTHEST
    )
    after = forms.IntegerField(label="Minutes after", help_text="or at least so long after it", min_value=0, max_value=FARTHEST)
    reason = forms.CharField(label="Reason", help_text="as people read it on the list and on screens", max_length=300)
    source = forms.CharField(label="Source", help_text="the publication, or the maker’s letter", max_length=300)
    dated = forms.CharField(label="Date of the source", max_length=60)
    why = forms.CharField(label="Why it is changed", max_length=1000, widget=forms.Textarea({"rows": 2}))

    def __init__(self, *args: object, kind: PairKind, ships: bool, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        if kind is PairKind.APART:
            del self.fields["before"], self.fields["after"]
        if not ships:
            del self.fields["counts"]


def change_known_pair(request: BenchRequest, pair: Pair) -> HttpResponse:
    """One that is there, in its own words to begin with."""
    kind, rule = _kind(pair.rule), pair.rule.id
    form = PairForm(request.POST or None, initial=_as_it_is(pair), kind=kind, ships=pair.shipped is not None)
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        outcome = change_pair(rule, occasion(request), _wanted(rule, kind, form))
        if outcome.done:
            return back_to_rules(request, _done(form), outcome.findings)
        findings = outcome.findings
    about = f"About {say_about(pair.rule)}. Now: {say_standing(pair)}"
    return show_change(request, form, ("Change a rule.", about, reverse("change-rule", args=[rule])), findings)


def add_apart(request: BenchRequest) -> HttpResponse:
    """A new rule about one cavity."""
    said = "What may not lie in one cavity.", "The first is never in a cavity with the second, in any plan made from now on."
    return _add(request, PairKind.APART, (*said, reverse("add-apart")))


def add_spacing(request: BenchRequest) -> HttpResponse:
    """A new rule about time."""
    said = "What must be apart in time.", "Doses that are closer become a question when a set is planned. Nothing is moved by itself."
    return _add(request, PairKind.SPACING, (*said, reverse("add-spacing")))


def _add(request: BenchRequest, kind: PairKind, said: tuple[str, str, str]) -> HttpResponse:
    form = PairForm(request.POST or None, kind=kind, ships=False)
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        wanted = _wanted("", kind, form)
        outcome = add_pair("-".join((*wanted.one[:1], *wanted.other[:1])), occasion(request), wanted)
        if outcome.done:
            return back_to_rules(request, _done(form), outcome.findings)
        findings = outcome.findings
    return show_change(request, form, said, findings)


def _done(form: PairForm) -> str:
    if form.cleaned_data.get("counts") == _OUT:
        return "The rule is out of force from the next plan on."
    return "The rule stands. It counts from the next plan on."


def _kind(rule: PairRule | SpacingRule) -> PairKind:
    return PairKind.APART if isinstance(rule, PairRule) else PairKind.SPACING


def _wanted(rule: str, kind: PairKind, form: PairForm) -> OwnPair:
    said = form.cleaned_data
    return OwnPair(
        id=rule,
        kind=kind,
        one=names_typed(said["one"]),
        other=names_typed(said["other"]),
        before=said.get("before") or 0,
        after=said.get("after") or 0,
        in_force=said.get("counts") != _OUT,
        **{name: said[name].strip() for name in ("reason", "source", "dated", "why")},
    )


def _as_it_is(pair: Pair) -> dict[str, object]:
    rule = pair.rule
    minutes = {"before": rule.before, "after": rule.after} if isinstance(rule, SpacingRule) else {}
    return {
        "counts": "" if pair.own is None or pair.own.in_force else _OUT,
        "one": ", ".join(rule.one),
        "other": ", ".join(rule.other),
        **minutes,
        "reason": rule.reason,
        "source": rule.source,
        "dated": pair.own.dated if pair.own else rule.dated,
    }
