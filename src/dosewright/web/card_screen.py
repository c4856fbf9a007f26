"""A card's own screen: what stands, what is next, everything that ever happened to it in order, and the paper that was printed."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from django.http import HttpResponse
from django.urls import reverse

from dosewright.core.custody.cells import parse_cells
from dosewright.core.custody.chain import Entry
from dosewright.core.custody.event import Deed
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.stage import Stage
from dosewright.core.units.amount_words import format_quantity
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import CardNumber, MedicineCode
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.store.ledger import load_entries
from dosewright.store.papers import load_papers
from dosewright.store.value_json import parse_value
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.card_map import CardMap
from dosewright.web.next_step import Step, next_step
from dosewright.web.page import show
from dosewright.web.paper import TITLES
from dosewright.web.request import BenchRequest

__all__ = ["CardScreen", "Happened", "PrintedLine", "card"]

_IN_WORDS = {
    Deed.SENT_BACK: "sent back to be filled right",
    Deed.OUT_OF_DATE: "out of date: its orders changed",
    Deed.PRINTED: "paper printed",
}
_LABELS = {
    "reason": "because",
    "to": "to",
    "kind": "found",
    "choice": "choice",
    "signed by": "signed by",
    "meaning": "meaning",
    "witness": "witness",
}
_HERE = frozenset({Stage.PLANNED, Stage.PRINTED, Stage.FILLING, Stage.FILLED, Stage.CHECKED, Stage.SEALED, Stage.RELEASED})


@dataclass(frozen=True, slots=True)
class Happened:
    """One entry of the ledger about this card, in words."""

    at: datetime
    what: str
    who: str
    station: str
    details: tuple[str, ...]
    refused: bool


@dataclass(frozen=True, slots=True)
class PrintedLine:
    """One document printed for the card's set."""

    title: str
    copy: int
    at: datetime
    sha256: str


@dataclass(frozen=True, slots=True)
class CardScreen:
    """`others` are further things that the person signed in may do to the card now."""

    number: str
    stage: Stage
    out_of_date: bool
    step: Step | None
    mine: bool
    others: tuple[tuple[str, str], ...]
    happened: tuple[Happened, ...]
    printed: tuple[PrintedLine, ...]
    map: CardMap
    set_id: int


def card(request: BenchRequest, number: str) -> HttpResponse:
    """Everything about one card."""
    found = load_bench_card(CardNumber(number))
    state, set_id = found.stored.state, found.stored.set_id
    step = next_step(found.stored.number, set_id, state.stage, out_of_date=state.out_of_date)
    screen = CardScreen(
        number=found.stored.number,
        stage=state.stage,
        out_of_date=state.out_of_date,
        step=step,
        mine=bool(step and step.may(request.actor.role)),
        others=_others(found, request),
        happened=tuple(_happened(entry, found) for entry in load_entries("card", number)),
        printed=tuple(PrintedLine(TITLES[one.kind], one.copy, one.made_at, one.sha256) for one in load_papers(set_id)),
        map=found.contents(),
        set_id=set_id,
    )
    return show(request, "card/screen.html", screen, strip=found.strip)


def _others(found: BenchCard, request: BenchRequest) -> tuple[tuple[str, str], ...]:
    stage, number, role = found.stored.state.stage, found.stored.number, request.actor.role
    said: list[tuple[str, str]] = []
    if stage in {Stage.FILLED, Stage.CHECKED, Stage.SEALED} and role in RIGHTS[Ability.SEND_BACK_CARD]:
        said.append(("Send it back", reverse("send-back", args=[number])))
    if stage is Stage.FILLING and role in RIGHTS[Ability.TAKE_OUT_MEDICINE]:
        said.append(("Take something out", reverse("take-out", args=[number])))
    if stage in _HERE and role in RIGHTS[Ability.WITHDRAW_CARD]:
        said.append(("Take it out of use", reverse("withdraw", args=[number])))
    if stage in {Stage.RETURNED, Stage.WITHDRAWN} and role in RIGHTS[Ability.WASTE_UNITS]:
        said.append(("Destroy what is in it", reverse("destroy", args=[number])))
    if role in RIGHTS[Ability.NOTE_NEAR_MISS]:
        said.append(("Note a near miss", f"{reverse('note-near-miss')}?card={number}"))
    return tuple(said)


def _happened(entry: Entry, found: BenchCard) -> Happened:
    facts = parse_value(dict[str, Fact], entry.body)
    refused = entry.event == "refused"
    what = f"tried to {facts.get('what')}: refused" if refused else _said(entry.event)
    details = tuple(_details(entry.event, facts, found))
    return Happened(entry.at, what[0].upper() + what[1:], f"{entry.who_name}, {entry.who_role}", entry.station, details, refused)


def _said(event: str) -> str:
    return _IN_WORDS.get(Deed(event), event) if event in {deed.value for deed in Deed} else event


def _details(event: str, facts: Mapping[str, Fact], found: BenchCard) -> list[str]:
    said = []
    if "cells" in facts and "medicine" in facts:
        said.append(_units(facts, found))
    if facts.get("expiry"):
        said.append(f"lot {facts['lot']}, expires {_written(facts['expiry'])}")
    doses = facts.get("doses")
    if isinstance(doses, tuple):
        said += [*doses[:4], *([f"and {len(doses) - 4} more"] if len(doses) > 4 else [])]
    said += [f"{words} {facts[name]}" for name, words in _LABELS.items() if facts.get(name)]
    return said


def _units(facts: Mapping[str, Fact], found: BenchCard) -> str:
    code = MedicineCode(str(facts["medicine"]))
    cells = parse_cells(found.stored.number, facts["cells"])
    medicine = found.medicines.get(code)
    unit = medicine.unit if medicine else Unit("unit")
    amount = format_quantity(Quantity(sum(cells.values(), Fraction(0)), unit))
    return f"{amount} of {found.name_of(code) if medicine else code}, {len(cells)} cavit{'y' if len(cells) == 1 else 'ies'}"


def _written(value: Fact) -> str:
    return f"{value.day} {value:%b %Y}" if isinstance(value, date) else str(value)
