"""Why: a cavity that was touched says what lies in it and by which order; a set says why it has no card fewer, and what would save one."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time

from django.http import HttpResponse

from dosewright.core.packing.explain import explain, explain_dosing_time
from dosewright.core.packing.why import Reason, explain_cavity
from dosewright.core.units.amount_words import format_quantity
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber
from dosewright.core.units.person import Person
from dosewright.devices.other_formats import in_other_formats
from dosewright.store.cards import load_request, load_set
from dosewright.store.missing import Missing
from dosewright.store.people import load_home_names
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.directions import say_directions
from dosewright.web.page import show, strip_of
from dosewright.web.regimen_strip import event_in_words
from dosewright.web.request import BenchRequest
from dosewright.web.set_screen import say_proof
from dosewright.web.wording import say_finding

__all__ = ["CavityScreen", "WhyLine", "WhySetScreen", "why_cavity", "why_set"]

_SAVES = "explain.saves-"


@dataclass(frozen=True, slots=True)
class WhyLine:
    """One content: how much of what; the order's words, their reading, and every reason."""

    amount: str
    medicine: str
    order: str
    text: str
    directions: str
    because: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class CavityScreen:
    """`columns` is why its dosing time needs so many columns."""

    number: str
    set_id: int
    row: int
    column: int
    day: date
    time: time
    slot: str
    part: str
    lines: tuple[WhyLine, ...]
    columns: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WhySetScreen:
    """What was proved, and how; `columns`, dosing time by dosing time; how they come to `cards`; the changes that `save`."""

    id: int
    proof: str
    how: str
    columns: tuple[str, ...]
    cards: tuple[str, ...]
    saves: tuple[str, ...]


def why_cavity(request: BenchRequest, number: str, row: int, column: int) -> HttpResponse:
    """One cavity, as it was planned."""
    found = load_bench_card(CardNumber(number))
    cavity = next((one for one in found.stored.card.cavities if (one.row, one.column) == (row, column)), None)
    if cavity is None:
        raise Missing("cavity", f"in row {row}, column {column} of card {number}")
    asked, person = load_request(found.stored.set_id), found.stored.person
    screen = CavityScreen(
        number=found.stored.number,
        set_id=found.stored.set_id,
        row=row,
        column=column,
        day=cavity.day,
        time=cavity.time,
        slot=cavity.slot,
        part=f"part {cavity.part} of {cavity.parts}" if cavity.parts > 1 else "",
        lines=tuple(_line(reason, found) for reason in explain_cavity(cavity, person, asked)),
        columns=_sentences(explain_dosing_time(person, asked, cavity.slot), person),
    )
    return show(request, "card/why.html", screen, strip=found.strip)


def _line(reason: Reason, found: BenchCard) -> WhyLine:
    order = reason.order
    return WhyLine(
        amount=format_quantity(reason.content.quantity),
        medicine=found.name_of(reason.content.medicine),
        order=reason.content.order,
        text=order.text if order else "",
        directions=say_directions(order.dosages, order.text, found.rules.profile.number_style) if order else "",
        because=tuple(map(event_in_words, reason.because)),
    )


def why_set(request: BenchRequest, set_id: int) -> HttpResponse:
    """The whole set."""
    found, asked = load_set(set_id), load_request(set_id)
    said, person = explain(found.person, asked, in_other_formats(asked)), found.person
    proof, _, how = say_proof(found.mine.proof).partition(": ")
    screen = WhySetScreen(
        id=set_id,
        proof=proof,
        how=how[:1].upper() + how[1:],
        columns=_sentences((one for one in said if "slot" in one.where and not one.code.startswith(_SAVES)), person),
        cards=_sentences((one for one in said if "slot" not in one.where and not one.code.startswith(_SAVES)), person),
        saves=_sentences((one for one in said if one.code.startswith(_SAVES)), person),
    )
    home = load_home_names().get(found.person.home, "") if found.person.home else ""
    return show(request, "plan/why.html", screen, strip=strip_of(found.person, home, plan=found.plan.basis))


def _sentences(said: Iterable[Finding], person: Person) -> tuple[str, ...]:
    """Without the person's name, which stands on the strip."""
    told = (say_finding(one).removeprefix(person.name).lstrip(",: ") for one in said)
    return tuple(text[:1].upper() + text[1:] for text in told)
