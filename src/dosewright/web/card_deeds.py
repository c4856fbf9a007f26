"""The simple decisions about one card: seal it, send it back, hand it over, decide about changed orders, withdraw it."""

from collections.abc import Callable
from dataclasses import replace

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.decide_card import decide_card
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.outcome import Outcome
from dosewright.actions.seal_card import seal_card
from dosewright.actions.send_back_card import send_back_card
from dosewright.actions.withdraw_card import withdraw_card
from dosewright.core.custody.decision import Choice, choices_for
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.ledger import load_card_events
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.decision import Decision, ReasonForm
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["ChoiceForm", "HandOverForm", "SendBackForm", "hand_over", "out_of_date", "seal", "send_back", "withdraw"]

_CHOICE_WORDS = {
    Choice.WAIT: "It may run out as it is; the change starts with the next card",
    Choice.AFRESH: "Take this card out of use and plan the person anew",
    Choice.RECALL: "Call the card back",
}


class SendBackForm(forms.Form):
    """What was found, and a few words."""

    kind = forms.ChoiceField(label="What was found", choices=[(kind.value, kind.value.capitalize()) for kind in NearMissKind])
    reason = forms.CharField(label="In a few words: where, and what", max_length=1000, widget=forms.Textarea({"rows": 3}))


class HandOverForm(forms.Form):
    """To whom."""

    to = forms.CharField(label="Received by", help_text="printed name of the person who takes it", max_length=120)


class ChoiceForm(ReasonForm):
    """Which of the choices that the card leaves open, and why."""

    choice = forms.ChoiceField(label="What is to be done")
    field_order = ("choice", "reason")

    def __init__(self, *args: object, open_choices: tuple[Choice, ...] = (), **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        field = self.fields["choice"]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101  declared above
        field.choices = [(choice.value, _CHOICE_WORDS[choice]) for choice in open_choices]


def seal(request: BenchRequest, number: str) -> HttpResponse:
    """A checked card is closed."""
    card = load_bench_card(CardNumber(number))
    ask = _ask(
        card, "Seal the card now.", "From then on, whatever is taken out of it goes to waste.", "seal", "The card is sealed", forms.Form()
    )
    ask = replace(ask, findings=check_follows(card.stored.state, Deed.SEALED))
    return _decide(request, card, ask, lambda on, _: seal_card(card.stored.number, on), "Sealed.")


def send_back(request: BenchRequest, number: str) -> HttpResponse:
    """The card is to be filled right; what was found is a near miss."""
    card = load_bench_card(CardNumber(number))
    form = SendBackForm(request.POST or None)
    about = "It is filled right and checked again. What was found is noted as a near miss: about the work, not about blame."
    ask = _ask(card, "Send the card back to be filled right.", about, "send-back", "The card goes back", form)
    ask = replace(ask, findings=check_follows(card.stored.state, Deed.SENT_BACK))

    def act(on: Occasion, said: dict[str, str]) -> Outcome:
        return send_back_card(card.stored.number, on, NearMissKind(said["kind"]), said["reason"])

    return _decide(request, card, ask, act, "Sent back.")


def hand_over(request: BenchRequest, number: str) -> HttpResponse:
    """A released card goes into other hands."""
    card = load_bench_card(CardNumber(number))
    about = f"Compare name and birth date on the card with {card.stored.person.name}."
    ask = _ask(card, "Hand the card over.", about, "hand-over", "The card is handed over", HandOverForm(request.POST or None))
    ask = replace(ask, findings=check_follows(card.stored.state, Deed.HANDED_OVER))
    return _decide(request, card, ask, lambda on, said: hand_over_card(card.stored.number, on, said["to"]), "Handed over.")


def withdraw(request: BenchRequest, number: str) -> HttpResponse:
    """A card is taken out of use before it leaves."""
    card = load_bench_card(CardNumber(number))
    about = "Its days may be planned anew. What is in it waits to be destroyed."
    ask = _ask(card, "Take this card out of use.", about, "withdraw", "The card is out of use", ReasonForm(request.POST or None))
    ask = replace(ask, findings=check_follows(card.stored.state, Deed.WITHDRAWN))
    return _decide(request, card, ask, lambda on, said: withdraw_card(card.stored.number, on, said["reason"]), "Taken out of use.")


def out_of_date(request: BenchRequest, number: str) -> HttpResponse:
    """The orders behind a card have changed: a pharmacist decides (R9)."""
    card = load_bench_card(CardNumber(number))
    choices = choices_for(card.stored.state)
    form = ChoiceForm(request.POST or None, open_choices=choices)
    ask = _ask(card, "The orders behind this card have changed.", _changed_words(card), "out-of-date", "This is decided", form)
    if not choices:
        ask = replace(ask, title="The orders behind this card have not changed.", about="There is nothing to decide.", button="")
    return _decide(request, card, ask, lambda on, said: decide_card(card.stored.number, on, said["choice"], said["reason"]), "Decided.")


def _ask(card: BenchCard, title: str, about: str, name: str, button: str, form: forms.Form) -> Decision:
    number = card.stored.number
    return Decision(title, about, reverse(name, args=[number]), button, reverse("card", args=[number]), form, new_token())


def _decide(
    request: BenchRequest, card: BenchCard, ask: Decision, act: Callable[[Occasion, dict[str, str]], Outcome], said: str
) -> HttpResponse:
    """Show the decision, or carry it out and go to the card."""
    findings: tuple[Finding, ...] = tuple(ask.findings)
    bare = not ask.form.fields
    if request.method == "POST" and (bare or ask.form.is_valid()):
        outcome = act(occasion(request), {} if bare else ask.form.cleaned_data)
        if outcome.done:
            messages.success(request, said)
            return redirect("card", card.stored.number)
        findings = outcome.findings
    button = "" if blocks(ask.findings) else ask.button
    screen = replace(ask, findings=with_names(findings), button=button)
    return show(request, "decision.html", screen, strip=card.strip, status=422 if request.method == "POST" else 200)


def _changed_words(card: BenchCard) -> str:
    """What differs, as the ledger has it from the change."""
    latest = next((event for event in reversed(load_card_events(card.stored.number)) if event.deed is Deed.OUT_OF_DATE), None)
    doses = latest.facts.get("doses") if latest else None
    if not isinstance(doses, tuple) or not doses:
        return "The medicines on its header are no longer right."
    shown = "; ".join(doses[:6])
    return f"{len(doses)} dose{'' if len(doses) == 1 else 's'} differ{'s' if len(doses) == 1 else ''}: {shown}{'; …' if len(doses) > 6 else ''}."
