"""Release: everything that must be true, with its evidence; then the pharmacist's password again."""

from dataclasses import dataclass

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect

from dosewright.actions.release_card import MEANING, may_release, release_card
from dosewright.core.custody.event import CardEvent, Deed
from dosewright.core.custody.follow import check_follows
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.ledger import load_card_events
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.check_words import counted_words
from dosewright.web.dates import day_in_full
from dosewright.web.findings import with_names
from dosewright.web.own_password import is_own_password, password_again
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, local, new_token, occasion

__all__ = ["Claim", "PasswordForm", "ReleaseScreen", "release"]


class PasswordForm(forms.Form):
    """The password, again."""

    password = password_again()


@dataclass(frozen=True, slots=True)
class Claim:
    """One thing that must be true before the card may leave, whether it holds, and how that is known."""

    claim: str
    holds: bool
    evidence: str


@dataclass(frozen=True, slots=True)
class ReleaseScreen:
    """`may`: nothing stands against it. `meaning`: what the signature says. `wrong`: the password did not fit.
    `may_send_back`: it is at a stage from which it can be filled right."""

    number: str
    claims: tuple[Claim, ...]
    findings: tuple[Finding, ...]
    may: bool
    meaning: str
    form: PasswordForm
    wrong: bool
    token: str
    may_send_back: bool


def release(request: BenchRequest, number: str) -> HttpResponse:
    """The list of what must be true; with the password, the card may leave."""
    card = load_bench_card(CardNumber(number))
    if request.method != "POST":
        return _show(request, card, may_release(card.stored, occasion(request)))
    form = PasswordForm(request.POST)
    if not form.is_valid() or not is_own_password(request, form.cleaned_data["password"]):
        return _show(request, card, may_release(card.stored, occasion(request)), wrong=True)
    outcome = release_card(card.stored.number, occasion(request))
    if not outcome.done:
        return _show(request, card, outcome.findings, refused=True)
    messages.success(request, f"Card {format_card_number(card.stored.number)} may leave. Signed by {request.actor.name}.")
    return redirect("card", number)


def _show(
    request: BenchRequest, card: BenchCard, findings: tuple[Finding, ...], *, wrong: bool = False, refused: bool = False
) -> HttpResponse:
    may, named = not blocks(findings), with_names(findings)
    back = not blocks(check_follows(card.stored.state, Deed.SENT_BACK))
    screen = ReleaseScreen(card.stored.number, _claims(card, findings), named, may, MEANING, PasswordForm(), wrong, new_token(), back)
    return show(request, "release/screen.html", screen, strip=card.strip, status=422 if wrong or refused else 200)


def _claims(card: BenchCard, findings: tuple[Finding, ...]) -> tuple[Claim, ...]:
    events, codes = load_card_events(card.stored.number), {finding.code for finding in findings}
    state, filled = card.stored.state, card.stored.filled
    cavities = len(filled.cavities)
    placed = sum(len(cavity.placements) for cavity in filled.cavities)
    wrong = {"checking.cell-differs", "checking.not-in-plan", "checking.no-such-cavity"} & codes
    late = {"checking.after-beyond-use", "checking.after-expiry", "checking.expiry-before-beyond-use", "checking.card-past"} & codes
    fillers = sorted({event.by.name for event in events if event.deed in {Deed.PLACED, Deed.TAKEN_OUT, Deed.FILLED}})
    return (
        Claim("The orders have not changed since it was planned", not state.out_of_date, f"plan {card.basis[:4]}·{card.basis[4:8]}"),
        Claim(
            "Every cavity holds what the orders ask, and nothing else",
            not wrong,
            f"{placed} placements in {cavities} cavities, recounted now",
        ),
        Claim("Every unit was scanned, or a reason is on record", not _without_proof(events), _proof_words(events)),
        Claim("No dose lies after its last day", not late, f"use by {day_in_full(card.stored.card.beyond_use)}"),
        Claim("Nothing in it is of a lot that is recalled", "checking.lot-recalled" not in codes, _lot_words(card)),
        Claim("Filled to the end", bool(_since_sent_back(events, Deed.FILLED)), f"by {', '.join(fillers)}" if fillers else "by nobody yet"),
        Claim("Checked by somebody who did not fill it", _checked_by_another(card, events), _check_words(events)),
        Claim("Sealed", _since_sent_back(events, Deed.SEALED) is not None, _deed_words(events, Deed.SEALED)),
    )


def _lot_words(card: BenchCard) -> str:
    lots = sorted({str(units.lot) for units in card.stored.state.placed})
    return f"lots {', '.join(lots)}" if lots else "no lots yet"


def _since_sent_back(events: tuple[CardEvent, ...], deed: Deed) -> CardEvent | None:
    """The latest event of that kind, unless the card was sent back after it."""
    for event in reversed(events):
        if event.deed in {Deed.SENT_BACK, Deed.REWORKED}:
            return None
        if event.deed is deed:
            return event
    return None


def _deed_words(events: tuple[CardEvent, ...], deed: Deed) -> str:
    event = _since_sent_back(events, deed)
    if event is None:
        return "not yet"
    at = local(event.at)
    alone = f", alone because: {event.facts['alone because']}" if event.facts.get("alone because") else ""
    return f"by {event.by.name}, {event.by.role.value}, {day_in_full(at)}, {at:%H:%M}{alone}"


def _check_words(events: tuple[CardEvent, ...]) -> str:
    """Who checked, and where cavities were left uncounted, how many and what such a check misses."""
    event, said = _since_sent_back(events, Deed.CHECKED), _deed_words(events, Deed.CHECKED)
    counted = counted_words(event.facts) if event else ""
    return f"{said}. {counted}" if counted else said


def _checked_by_another(card: BenchCard, events: tuple[CardEvent, ...]) -> bool:
    event = _since_sent_back(events, Deed.CHECKED)
    return event is not None and (event.by.id not in card.stored.state.fillers or bool(event.facts.get("alone because")))


def _without_proof(events: tuple[CardEvent, ...]) -> int:
    return sum(event.deed is Deed.PLACED and not event.facts.get("gtin") and not event.facts.get("reason") for event in events)


def _proof_words(events: tuple[CardEvent, ...]) -> str:
    placed = [event for event in events if event.deed is Deed.PLACED]
    reasons = sum(bool(event.facts.get("reason")) for event in placed)
    return f"{len(placed) - reasons} times scanned, {reasons} times placed with a reason"
