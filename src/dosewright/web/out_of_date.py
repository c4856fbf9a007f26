"""A card whose orders have changed: what differs, dose by dose, and the choices that it leaves open (R9)."""

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, time, timedelta

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect

from dosewright.actions.decide_card import decide_card
from dosewright.core.custody.decision import Choice, choices_for
from dosewright.core.custody.event import Deed
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import CardNumber, MedicineCode
from dosewright.core.units.quantity import parse_amount
from dosewright.store.changes import find_open_change
from dosewright.store.ledger import load_card_events
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.card_map import glyph
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["ChangedDose", "OpenChoice", "OutOfDateScreen", "out_of_date"]

_WORDS = {
    Choice.WAIT: ("It may run out as it is", "the change starts with the person’s next card"),
    Choice.AFRESH: ("Take it out of use, plan anew", "this card is withdrawn and waits to be destroyed"),
    Choice.RECALL: ("Call it back", "the card is not here: tell whoever has it"),
}
_DOSE = re.compile(r"(?P<day>\d{4}-\d\d-\d\d) (?P<time>\d\d:\d\d) (?P<medicine>.+): (?P<before>[\d./]+) → (?P<after>[\d./]+)")


@dataclass(frozen=True, slots=True)
class ChangedDose:
    """A dose as the card has it and as the orders are now, on so many days in a row: glyphs, "0" where there is none."""

    first: date
    last: date
    days: int
    time: time
    medicine: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class OpenChoice:
    """One thing that may be done, and what follows from it."""

    value: str
    words: str
    follows: str


@dataclass(frozen=True, slots=True)
class OutOfDateScreen:
    """`choices` is empty where there is nothing to decide; `change` is where all cards of the person are laid out together. `rests`: what
    else it rests on was changed, and why.
    """

    number: str
    many: int
    doses: tuple[ChangedDose, ...]
    rests: tuple[str, ...]
    choices: tuple[OpenChoice, ...]
    findings: tuple[Finding, ...]
    reason: str
    token: str
    change: int | None


def out_of_date(request: BenchRequest, number: str) -> HttpResponse:
    """The pharmacist decides, with a reason."""
    card = load_bench_card(CardNumber(number))
    findings: tuple[Finding, ...] = ()
    if request.method == "POST":
        choice, reason = request.POST.get("choice", ""), request.POST.get("reason", "")
        outcome = decide_card(card.stored.number, occasion(request), choice, reason)
        if outcome.done:
            messages.success(request, f"Decided: {_WORDS[Choice(choice)][0].lower()}.")
            return redirect("card", number)
        findings = outcome.findings
    choices = tuple(OpenChoice(choice.value, *_WORDS[choice]) for choice in choices_for(card.stored.state))
    doses = _changed(card)
    many, reason = sum(dose.days for dose in doses), request.POST.get("reason", "")[:1000]
    change = find_open_change(card.stored.person.id)
    number_of = change.id if change else None
    screen = OutOfDateScreen(card.stored.number, many, doses, _rests(card), choices, with_names(findings), reason, new_token(), number_of)
    return show(request, "card/out_of_date.html", screen, strip=card.strip, status=422 if request.method == "POST" else 200)


def _changed(card: BenchCard) -> tuple[ChangedDose, ...]:
    """What differs, as the ledger has it from the change."""
    written = _latest(card).get("doses", ())
    found = [match for text in written if (match := _DOSE.fullmatch(text))] if isinstance(written, tuple) else []
    alike: dict[tuple[str, str, str, str], list[date]] = defaultdict(list)
    for match in found:
        alike[match["time"], match["medicine"], match["before"], match["after"]].append(date.fromisoformat(match["day"]))
    doses = (_dose(card, first, last, said) for said, days in alike.items() for first, last in _runs(sorted(days)))
    return tuple(sorted(doses, key=lambda dose: (dose.first, dose.time, dose.medicine)))


def _latest(card: BenchCard) -> Mapping[str, Fact]:
    """What the ledger says of the latest change."""
    events = reversed(load_card_events(card.stored.number))
    return next((event.facts for event in events if event.deed is Deed.OUT_OF_DATE), {})


def _rests(card: BenchCard) -> tuple[str, ...]:
    """ "The card format was changed.", each field of it, and why."""
    facts = _latest(card)
    changes = facts.get("changes", ())
    said = [f"{str(facts['what changed'])[:1].upper()}{str(facts['what changed'])[1:]} was changed."] if facts.get("what changed") else []
    said += [f"The dosing times of {facts['timetable']} were changed."] if facts.get("timetable") else []
    said += changes if isinstance(changes, tuple) else ()
    return (*said, *((f"Why: {facts['reason']}",) if facts.get("reason") else ()))


def _runs(days: list[date]) -> Iterator[tuple[date, date]]:
    """Days in a row, as first and last."""
    first = last = days[0]
    for day in days[1:]:
        if day - last > timedelta(days=1):
            yield first, last
            first = day
        last = day
    yield first, last


def _dose(card: BenchCard, first: date, last: date, said: tuple[str, str, str, str]) -> ChangedDose:
    clock, medicine, before, after = said
    code = MedicineCode(medicine)
    name = card.name_of(code) if code in card.medicines else medicine
    was, now = (glyph(parse_amount(amount)) for amount in (before, after))
    return ChangedDose(first, last, (last - first).days + 1, time.fromisoformat(clock), name, was, now)
