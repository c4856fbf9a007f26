"""Wordings that this pharmacy reads its own way: the list, one more from an order that was just confirmed, and taking one back."""

from dataclasses import dataclass
from datetime import datetime

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.remember_wording import remember_wording
from dosewright.actions.revoke_wording import revoke_wording
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.wordings import check_remembering
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import HomeId, OrderId
from dosewright.store.orders import StoredOrder, load_order, load_waiting
from dosewright.store.people import load_home_names
from dosewright.store.wordings import StoredWording, load_wording, load_wordings
from dosewright.web.decision import Decision, ReasonForm
from dosewright.web.directions import say_reading
from dosewright.web.findings import with_names
from dosewright.web.page import show, strip_of
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["RememberForm", "WordingLine", "WordingsScreen", "remember", "revoke", "wordings"]

_EVERYBODY = "all"


class RememberForm(forms.Form):
    """For whom, and why."""

    scope = forms.ChoiceField(label="For whom it is read so")
    reason = forms.CharField(label="Why, and who said so", max_length=1000, widget=forms.Textarea({"rows": 3}))

    def __init__(self, *args: object, home: str, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        own = [("home", f"Orders of {home}")] if home else []
        self.fields["scope"] = forms.ChoiceField(
            label="For whom it is read so", choices=[*own, (_EVERYBODY, "All orders of this pharmacy")]
        )


@dataclass(frozen=True, slots=True)
class WordingLine:
    """One wording: the words, what they are read as, for whom and for which products; who, when, why; how often; and its end."""

    id: int
    text: str
    meant: str
    where: str
    product: str
    by: str
    at: datetime
    reason: str
    used: int
    revoked_by: str
    revoked_at: datetime | None
    revoked_because: str


@dataclass(frozen=True, slots=True)
class WordingsScreen:
    """Those in force, those that were revoked, and whether whoever looks may revoke."""

    held: tuple[WordingLine, ...]
    revoked: tuple[WordingLine, ...]
    may_revoke: bool


def wordings(request: BenchRequest) -> HttpResponse:
    """The list."""
    homes = load_home_names()
    lines = [_line(stored, homes) for stored in load_wordings()]
    held = tuple(line for line in lines if line.revoked_at is None)
    revoked = tuple(line for line in lines if line.revoked_at is not None)
    may_revoke = request.actor.role in RIGHTS[Ability.REVOKE_WORDING]
    return show(request, "orders/wordings.html", WordingsScreen(held, revoked, may_revoke))


def remember(request: BenchRequest, order: str) -> HttpResponse:
    """What was chosen for the order's words is chosen for the same words from now on."""
    stored = load_order(OrderId(order))
    home = load_home_names().get(stored.person.home, "") if stored.person.home else ""
    form = RememberForm(request.POST or None, home=home)
    cannot = check_remembering(stored.standing, stored.reading, stored.choice, "not asked yet", taken=False)
    findings = with_names(cannot)
    if request.method == "POST" and form.is_valid():
        scope = stored.person.home if form.cleaned_data["scope"] == "home" and stored.person.home else HomeId("")
        outcome = remember_wording(stored.order.id, occasion(request), scope, form.cleaned_data["reason"])
        if outcome.done:
            messages.success(request, f"Remembered: “{stored.order.text}”. Each order is still confirmed by a pharmacist.")
            return _onward(stored)
        findings = with_names(outcome.findings)
    screen = Decision(
        title=f"“{stored.order.text}” is read here as: {say_reading(stored.order.dosages)}",
        about="The same words for the same kind of product are then laid out so, with your name and the day beside them. "
        "A pharmacist still confirms each order, and can revoke this at any time.",
        action=reverse("remember-wording", args=[order]),
        button="" if cannot else "These words are read so from now on",
        back=_place(stored),
        back_words="Only this once",
        form=form,
        token=new_token(),
        findings=findings,
    )
    return show(request, "decision.html", screen, strip=strip_of(stored.person, home), status=422 if request.method == "POST" else 200)


def revoke(request: BenchRequest, wording: int) -> HttpResponse:
    """The words are asked about again from now on."""
    stored = load_wording(wording)
    form = ReasonForm(request.POST or None)
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        outcome = revoke_wording(wording, occasion(request), form.cleaned_data["reason"])
        if outcome.done:
            messages.success(
                request, f"Revoked: “{load_order(stored.order).order.text}”. The words are asked about again, also of orders that wait."
            )
            return redirect("wordings")
        findings = with_names(outcome.findings)
    screen = Decision(
        title=f"Revoke “{load_order(stored.order).order.text}”.",
        about=f"Used for {stored.used} order{', which stays as it is' if stored.used == 1 else 's, which stay as they are'}. "
        "The words are asked about again.",
        action=reverse("revoke-wording", args=[wording]),
        button="These words are asked about again",
        back=reverse("wordings"),
        form=form,
        token=new_token(),
        findings=findings,
    )
    return show(request, "decision.html", screen, status=422 if request.method == "POST" else 200)


def _onward(stored: StoredOrder) -> HttpResponse:
    return redirect(_place(stored))


def _place(stored: StoredOrder) -> str:
    """The person's next order that waits, else the list, else the person."""
    waiting = load_waiting()
    if same := next((other for other in waiting if other.person.id == stored.person.id), None):
        return reverse("reading", args=[same.order.id])
    return reverse("readings") if waiting else reverse("person", args=[stored.person.id])


def _line(stored: StoredWording, homes: dict[HomeId, str]) -> WordingLine:
    key = stored.wording.key
    return WordingLine(
        id=stored.id,
        text=load_order(stored.order).order.text,
        meant=say_reading(stored.wording.meanings[stored.wording.chosen]),
        where=homes.get(key.home, key.home) if key.home else "all of this pharmacy",
        product=key.form,
        by=stored.confirmed_by,
        at=stored.confirmed_at,
        reason=stored.reason,
        used=stored.used,
        revoked_by=stored.revoked_by,
        revoked_at=stored.revoked_at,
        revoked_because=stored.revoked_because,
    )
