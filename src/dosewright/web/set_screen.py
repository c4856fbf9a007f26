"""A set: its cards as they are to be, what is supplied alongside, the proof that fewer cards will not do, and what is next."""

from dataclasses import dataclass
from datetime import date

from django.http import HttpResponse

from dosewright.core.custody.answering import finding_key, place_key
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.stage import Stage
from dosewright.core.packing.plan_values import Alongside, Proof
from dosewright.core.paper.medicine_words import named
from dosewright.core.regimen.order import Order
from dosewright.core.units.amount_words import format_count
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import OrderId
from dosewright.store.cards import StoredSet, load_request, load_set
from dosewright.store.claims import load_claim
from dosewright.store.held_cards import load_cards_with_recalled
from dosewright.store.ledger import load_entries
from dosewright.store.value_json import parse_value
from dosewright.web.bench_card import BenchCard, bench_card
from dosewright.web.card_map import CardMap
from dosewright.web.directions import say_directions
from dosewright.web.findings import with_names
from dosewright.web.next_step import Step, next_step
from dosewright.web.page import show, strip_of
from dosewright.web.request import BenchRequest
from dosewright.web.wording import say_alongside

__all__ = ["AlongsideLine", "CardOfSet", "Decided", "SetScreen", "say_proof", "show_set"]


@dataclass(frozen=True, slots=True)
class AlongsideLine:
    """What goes with the set but not in a card, why, and how it is taken."""

    medicine: str
    why: str
    directions: str


@dataclass(frozen=True, slots=True)
class CardOfSet:
    """One card: its number, its days, what it stands at, and what is to lie where."""

    number: str
    first: date
    last: date
    beyond_use: date
    stage: Stage
    out_of_date: bool
    map: CardMap
    as_needed: bool
    limits: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Decided:
    """What the planner asked, and why it goes on all the same."""

    finding: Finding
    reason: str


@dataclass(frozen=True, slots=True)
class SetScreen:
    """`step` is what comes next; `mine` whether the person signed in may take it."""

    id: int
    first: date
    days: int
    planned_by: str
    proof: str
    step: Step | None
    mine: bool
    claimed: str
    may_claim: bool
    cards: tuple[CardOfSet, ...]
    alongside: tuple[AlongsideLine, ...]
    decided: tuple[Decided, ...]
    findings: tuple[Finding, ...]


def show_set(request: BenchRequest, set_id: int) -> HttpResponse:
    """The whole set."""
    found, orders = load_set(set_id), {order.id: order for order in load_request(set_id).orders}
    drawn = tuple(bench_card(stored) for stored in found.cards)
    held = load_cards_with_recalled()
    steps = [
        next_step(card.number, set_id, card.state.stage, out_of_date=card.state.out_of_date, recalled=card.number in held)
        for card in found.cards
    ]
    waiting = [step for step in steps if step]
    own = [step for step in waiting if step.may(request.actor.role)]
    country = drawn[0].country if drawn else ""
    screen = SetScreen(
        id=set_id,
        first=found.plan.first,
        days=found.plan.days,
        planned_by=found.planned_by,
        proof=say_proof(found.mine.proof),
        step=next(iter(own or waiting), None),
        mine=bool(own),
        claimed=claim.name if (claim := load_claim(found.id)) else "",
        may_claim=request.actor.role in RIGHTS[Ability.CLAIM_SET],
        cards=tuple(
            CardOfSet(
                card.stored.number,
                card.stored.card.first,
                card.stored.card.last,
                card.stored.card.beyond_use,
                card.stored.state.stage,
                card.stored.state.out_of_date,
                card.contents(),
                card.stored.card.as_needed,
                _limits(card),
            )
            for card in drawn
        ),
        alongside=tuple(_alongside(line, orders, found, country) for line in found.mine.alongside),
        decided=_decided(found),
        findings=with_names(finding for finding in found.plan.findings if finding.severity is not Severity.DECIDE),
    )
    home = drawn[0].home if drawn else ""
    return show(request, "plan/set.html", screen, strip=strip_of(found.person, home, plan=found.plan.basis))


def _limits(card: BenchCard) -> tuple[str, ...]:
    """What each medicine of an as-needed card allows: "metformin 500 mg tablet: 1 a cavity, at most 3 in 24 hours"."""
    said = dict.fromkeys(column.when_needed for column in card.stored.card.columns if column.when_needed)
    return tuple(
        f"{card.name_of(one.medicine)}: {format_count(one.dose.count)} a cavity, at most {format_count(one.most.count)} in 24 hours"
        for one in said
    )


def _decided(found: StoredSet) -> tuple[Decided, ...]:
    """Each question with the reason that the ledger has for it."""
    facts = (parse_value(dict[str, Fact], entry.body) for entry in load_entries("set", str(found.id)) if entry.event == "set planned")
    written = next((said.get("reasons") for said in facts), ())
    reasons = dict(str(text).split(": ", 1) for text in written) if isinstance(written, tuple) else {}
    asked = [finding for finding in found.plan.findings if finding.severity is Severity.DECIDE]
    given = [reasons.get(finding_key(ask)) or reasons.get(place_key(ask), "") for ask in asked]
    return tuple(Decided(shown, reason) for shown, reason in zip(with_names(asked), given, strict=True))


def say_proof(proof: Proof) -> str:
    """ "2 cards, and no fewer will do.": what was proved, or what is not proved."""
    if not proof.cards:
        return "No card is needed: everything is supplied alongside."
    cards = f"{proof.cards} card{'s' if proof.cards > 1 else ''}"
    if not proof.columns:
        return f"{cards} for what is taken when needed, and no fewer will do: every column is one medicine, and all but the last are full."
    columns = f"the fullest week needs {proof.columns} column{'s' if proof.columns > 1 else ''}"
    if proof.optimal and proof.cards <= proof.cards_lower_bound:
        how = f"proved in {proof.nodes:,} steps" if proof.nodes else "proved by the bound alone"
        return f"{cards}, and no fewer will do: {columns}, {how}."
    return f"{cards}: {columns}. Whether {proof.cards_lower_bound} could do is not proved; the search ended after {proof.nodes:,} steps."


def _alongside(line: Alongside, orders: dict[OrderId, Order], found: StoredSet, country: str) -> AlongsideLine:
    order = orders[line.order]
    request = load_request(found.id)
    medicine = request.medicines[line.medicine]
    rules = (finding for finding in found.plan.findings if finding.code == "suitability.alongside")
    reason = next((rule.facts.get("reason") for rule in rules if rule.where.get("order") == line.order), None)
    why = str(reason or say_alongside(line.why))
    return AlongsideLine(named(medicine, country), why, say_directions(order.dosages, order.text, request.profile.number_style))
