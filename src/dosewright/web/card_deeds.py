"""The simple decisions about one card: seal it, send it back, hand it over, take it out of use."""

from collections.abc import Callable
from dataclasses import replace

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.outcome import Outcome
from dosewright.actions.seal_card import seal_card
from dosewright.actions.send_back_card import send_back_card
from dosewright.actions.withdraw_card import withdraw_card
from dosewright.core.checking.visual_defects import VISUAL_DEFECTS
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import CardNumber
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.decision import Decision, ReasonForm
from dosewright.web.findings import with_names
from dosewright.web.near_miss_words import KINDS
from dosewright.web.onward import onward
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["HandOverForm", "SendBackForm", "hand_over", "seal", "send_back", "withdraw"]


class SendBackForm(forms.Form):
    """What was found, and a few words."""

    kind = forms.ChoiceField(label="What was found", choices=[(kind.value, words) for kind, words in KINDS.items()])
    seen = forms.ChoiceField(
        label="What can be seen of a damaged unit",
        choices=[("", "nothing of this kind"), *((one, one.capitalize()) for one in VISUAL_DEFECTS)],
        required=False,
    )
    reason = forms.CharField(label="In a few words: where, and what", max_length=1000, widget=forms.Textarea({"rows": 3}))


class HandOverForm(forms.Form):
    """To whom."""

    to = forms.CharField(label="Received by", help_text="printed name of the person who takes it", max_length=120)


def seal(request: BenchRequest, number: str) -> HttpResponse:
    """A checked card is closed."""
    card = load_bench_card(CardNumber(number))
    words = ("Seal the card now.", "From then on, whatever is taken out of it goes to waste.", "The card is sealed")
    ask = _ask(card, Deed.SEALED, "seal", words, forms.Form())
    return _decide(request, card, ask, lambda on, _: seal_card(card.stored.number, on), "Sealed.")


def send_back(request: BenchRequest, number: str) -> HttpResponse:
    """The card is to be filled right; what was found is a near miss."""
    card = load_bench_card(CardNumber(number))
    form = SendBackForm(request.POST or None)
    about = "It is filled right and checked again. What was found is noted as a near miss: about the work, not about blame."
    ask = _ask(card, Deed.SENT_BACK, "send-back", ("Send the card back to be filled right.", about, "The card goes back"), form)

    def act(on: Occasion, said: dict[str, str]) -> Outcome:
        reason = f"{said['seen']}: {said['reason']}" if said["seen"] else said["reason"]
        return send_back_card(card.stored.number, on, NearMissKind(said["kind"]), reason)

    return _decide(request, card, ask, act, "Sent back.")


def hand_over(request: BenchRequest, number: str) -> HttpResponse:
    """A released card goes into other hands."""
    card = load_bench_card(CardNumber(number))
    about = f"Compare name and birth date on the card with {card.stored.person.name}."
    words = ("Hand the card over.", about, "The card is handed over")
    ask = _ask(card, Deed.HANDED_OVER, "hand-over", words, HandOverForm(request.POST or None))
    return _decide(request, card, ask, lambda on, said: hand_over_card(card.stored.number, on, said["to"]), "Handed over.")


def withdraw(request: BenchRequest, number: str) -> HttpResponse:
    """A card is taken out of use before it leaves."""
    card = load_bench_card(CardNumber(number))
    about = "Its days may be planned anew. What is in it waits to be destroyed."
    words = ("Take this card out of use.", about, "The card is out of use")
    ask = _ask(card, Deed.WITHDRAWN, "withdraw", words, ReasonForm(request.POST or None))
    return _decide(request, card, ask, lambda on, said: withdraw_card(card.stored.number, on, said["reason"]), "Taken out of use.")


def _ask(card: BenchCard, deed: Deed, name: str, words: tuple[str, str, str], form: forms.Form) -> Decision:
    """`words`: the title, what it is about, the button. What stands against the deed is said at once."""
    title, about, button = words
    findings = check_follows(card.stored.state, deed)
    return Decision(title, about, reverse(name, args=[card.stored.number]), button, "", form, new_token(), findings)


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
            return redirect(onward(request.actor.role, card.stored.number))
        findings = outcome.findings
    button = "" if blocks(ask.findings) else ask.button
    screen = replace(ask, findings=with_names(findings), button=button, back=onward(request.actor.role, card.stored.number))
    return show(request, "decision.html", screen, strip=card.strip, status=422 if request.method == "POST" else 200)
