"""Sets: which are on their way, planning one, its paper, who has one in hand, and laying a medicine over the fill map across its cards."""

from datetime import date
from typing import Literal

from django.http import HttpResponse
from ninja import Field, Router, Schema

from dosewright.actions.claim_set import claim_set, hand_on_set, put_back_set
from dosewright.actions.place_medicine import Placement, place_medicine
from dosewright.actions.plan_set import plan_set
from dosewright.actions.print_set import print_set
from dosewright.actions.record_owing import record_owing
from dosewright.actions.refuse_address import refuse_address
from dosewright.api.answer import Refused, answer, stop
from dosewright.api.card_shapes import CellIn
from dosewright.api.door import Scope
from dosewright.api.fields import Amount, Code, Day, Reason, Scanned, proof_of
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.stage import Stage
from dosewright.core.packing.request import Answer as RuleAnswer
from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode, OrderId, PersonId
from dosewright.store.calendar import wall_day
from dosewright.store.missing import Missing
from dosewright.store.papers import load_papers
from dosewright.store.work import OpenSet, load_open_sets

__all__ = [
    "PDF",
    "AnswerIn",
    "CellOfCard",
    "ClaimIn",
    "OwingIn",
    "PlaceIn",
    "PlanIn",
    "PrintIn",
    "SetCard",
    "SetOut",
    "claim",
    "find_sets",
    "owing",
    "paper",
    "place",
    "plan",
    "print_paper",
    "router",
]

router = Router(tags=["sets"])
PDF = {"responses": {200: {"content": {"application/pdf": {"schema": {"type": "string", "format": "binary"}}}}}}


class SetCard(Schema):
    """A card of a set."""

    number: str
    position: int
    stage: Stage
    out_of_date: bool


class SetOut(Schema):
    """One person's cards for one cycle."""

    id: int
    person: str
    name: str
    home: str | None
    first: date
    cards: list[SetCard]


class AnswerIn(Schema):
    """Where one order's medicine goes in spite of a rule, and why."""

    order: Code
    rule: Code
    dated: Code
    choice: Literal["card", "alongside"]
    reason: Code


class PlanIn(Schema):
    """From which day, for how many; what a pharmacist answers; and reasons by the `key` of the finding that asks."""

    first: Day
    days: int = Field(..., ge=1, le=92)
    answers: tuple[AnswerIn, ...] = ()
    reasons: dict[Code, Code] = Field(default_factory=dict)


class PrintIn(Schema):
    """For which printer the paper is drawn, "" for any; and why, where it was printed before: a further copy needs a reason."""

    printer: Reason = ""
    reason: Reason = ""


class ClaimIn(Schema):
    """Whoever the program acts for takes it; or a colleague does, by the name they sign in with; or it goes back on the list."""

    colleague: Reason = ""
    back: bool = False


class OwingIn(Schema):
    """Of which medicine."""

    medicine: Code


class CellOfCard(CellIn):
    """So much of one order in one cavity of one card."""

    card: Code
    amount: Amount


class PlaceIn(Schema):
    """One medicine of one lot: into the cells named, or (`cells` left out) into all that are still open in the set."""

    medicine: Code
    scan: Scanned = ""
    lot: Code
    expiry: date
    reason: Reason = ""
    cells: list[CellOfCard] | None = None


@offer(router, gives("find-sets", "/sets", Ability.LOOK, scope=Scope.LIST), out=list[SetOut])
def find_sets(request: ApiRequest) -> list[dict[str, object]]:
    """Every set with a card still here, by first day, home and name."""
    return [_out(one) for one in load_open_sets() if request.auth.home in {None, one.home_id}]


@offer(router, does("plan", "/people/{path:person}/plan", Ability.PLAN_SET))
def plan(request: ApiRequest, person: str, body: PlanIn) -> HttpResponse:
    """A person's confirmed orders become cards; `made` is the set's id."""
    if (body.answers or body.reasons) and Ability.ANSWER_FINDING not in request.auth.abilities:
        refuse_address("api plan", request.auth.on, ("custody.token-not-given",))
        raise Refused(403, stop("custody.token-not-given", what=Ability.ANSWER_FINDING.value))
    answers = tuple(RuleAnswer(OrderId(one.order), one.rule, one.dated, one.choice, one.reason) for one in body.answers)
    return answer(plan_set(PersonId(person), request.auth.on, PlanAsk(body.first, body.days, answers, body.reasons)))


@offer(router, does("print", "/sets/{int:set_id}/print", Ability.PRINT_SET))
def print_paper(request: ApiRequest, set_id: int, body: PrintIn) -> HttpResponse:
    """Labels, fill sheet and record are drawn, read back and kept; `made` is the SHA-256 of each."""
    return answer(print_set(set_id, request.auth.on, body.printer, body.reason))


@offer(router, gives("paper", "/sets/{int:set_id}/paper", Ability.PRINT_SET), out=bytes, extra=PDF)
def paper(request: ApiRequest, set_id: int, kind: Literal["labels", "fill", "record"]) -> HttpResponse:
    """The latest copy, byte for byte as it was kept."""
    for kept in load_papers(set_id):
        if kept.kind == kind:
            return HttpResponse(kept.pdf, content_type="application/pdf")
    raise Missing("paper", f"{kind} of set {set_id}")


@offer(router, does("claim", "/sets/{int:set_id}/claim", Ability.CLAIM_SET))
def claim(request: ApiRequest, set_id: int, body: ClaimIn) -> HttpResponse:
    """Who has the set in hand from now on; it holds nobody off."""
    if body.colleague:
        return answer(hand_on_set(set_id, request.auth.on, body.colleague))
    return answer((put_back_set if body.back else claim_set)(set_id, request.auth.on))


@offer(router, does("owing", "/sets/{int:set_id}/owing", Ability.PLACE_MEDICINE))
def owing(request: ApiRequest, set_id: int, body: OwingIn) -> HttpResponse:
    """What is wanting of a medicine for the set is owed; how much is counted here, from the cards and the stock."""
    return answer(record_owing(set_id, request.auth.on, MedicineCode(body.medicine)))


@offer(router, does("place", "/sets/{int:set_id}/place", Ability.PLACE_MEDICINE))
def place(request: ApiRequest, set_id: int, body: PlaceIn) -> HttpResponse:
    """The units are in the cells now, with lot, expiry, who and when (R7, R11)."""
    proof = proof_of(body.scan, body.reason, wall_day(request.auth.on.at))
    cells = None
    if body.cells is not None:
        cells = {Cell(CardNumber(one.card), one.row, one.column, OrderId(one.order)): one.amount for one in body.cells}
        if len(cells) < len(body.cells):
            facts = {"field": "cells", "why": "one of them is given twice; give each once"}
            raise Refused(422, (Finding("custody.request-wrong", Severity.STOP, facts=facts),))
    what = Placement(MedicineCode(body.medicine), Lot(body.lot), body.expiry, proof, cells)
    return answer(place_medicine(set_id, request.auth.on, what))


def _out(one: OpenSet) -> dict[str, object]:
    cards = [{"number": c.number, "position": c.position, "stage": c.stage, "out_of_date": c.out_of_date} for c in one.cards]
    who = {"person": one.person, "name": one.name, "home": one.home_id or None}
    return {"id": one.id, **who, "first": one.first, "cards": cards}
