"""Codes that nobody knows: scan the bottle, say which medicine it is; somebody else does the same, without seeing what was said."""

from dataclasses import dataclass

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode

from dosewright.actions.teach_code import drop_code, teach_code
from dosewright.core.medicines.national_codes import national_words
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import Gtin, MedicineCode
from dosewright.store.catalogue import find_by_gtin, load_catalogue
from dosewright.store.pack_codes import WaitingCode, load_waiting_codes
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion, today
from dosewright.web.scanned import LONGEST_SCAN, read_scan

__all__ = ["CodesScreen", "TeachForm", "codes", "drop"]


_SECOND = "Now somebody else scans the same bottle here, and says which medicine it is."


class TeachForm(forms.Form):
    """Which medicine the bottle says it is."""

    scan = forms.CharField(max_length=LONGEST_SCAN, strip=False, widget=forms.HiddenInput())
    medicine = forms.ChoiceField(label="Read the bottle: which medicine is it?")

    def __init__(self, *args: object, medicines: list[tuple[str, str]], **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        field = self.fields["medicine"]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101  declared above
        field.choices = [("", "choose it"), *medicines]


@dataclass(frozen=True, slots=True)
class CodesScreen:
    """`gtin`: the code in the hand, "" while none was scanned; `national`: what its country calls it, if it says; `second`: somebody else
    has said something of it, and waits for this. `known`: the medicine that the code names already."""

    gtin: str
    national: str
    second: bool
    known: str
    form: TeachForm | None
    findings: tuple[Finding, ...]
    waiting: tuple[WaitingCode, ...]
    own: str
    token: str


def codes(request: BenchRequest) -> HttpResponse:
    """Scan; then say."""
    scan = (request.POST.get("scan") or request.GET.get("scan") or "")[:LONGEST_SCAN]
    read = read_scan(scan, today(request)) if scan.strip() else None
    if read is None or read.gtin is None or blocks(read.findings):
        found = read.findings if read else ()
        return _show(request, Gtin(""), None, found, status=422 if read else 200)
    medicines = sorted(((str(code), one.label) for code, one in load_catalogue().items()), key=lambda pair: pair[1].casefold())
    form = TeachForm(request.POST or None, initial={"scan": scan}, medicines=medicines)
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        outcome = teach_code(read.gtin, occasion(request), MedicineCode(form.cleaned_data["medicine"]))
        if outcome.done:
            messages.success(request, "The code counts now." if outcome.made else _SECOND)
            return redirect("codes")
        findings = outcome.findings
    return _show(request, read.gtin, form, findings, status=422 if request.method == "POST" else 200)


def drop(request: BenchRequest, gtin: str) -> HttpResponse:
    """What was said first counts no more."""
    outcome = drop_code(Gtin(gtin), occasion(request))
    if outcome.done:
        messages.success(request, "What was said of that code counts no more. Scan the bottle and say it anew.")
    return redirect(f"{reverse('codes')}?{urlencode({'scan': gtin})}" if outcome.done else "codes")


def _show(request: BenchRequest, gtin: Gtin, form: TeachForm | None, findings: tuple[Finding, ...], status: int) -> HttpResponse:
    waiting = load_waiting_codes()
    holder = find_by_gtin(gtin) if gtin else None
    screen = CodesScreen(
        gtin=gtin,
        national=national_words(gtin),
        second=any(one.gtin == gtin and one.by_id != request.actor.id for one in waiting),
        known=load_catalogue([holder])[holder].label if holder else "",
        form=None if holder else form,
        findings=with_names(findings),
        waiting=waiting,
        own=request.actor.id,
        token=new_token(),
    )
    return show(request, "stock/codes.html", screen, status=status)
