"""Cards: found, looked at, and everything that is done to one, each by the same action as at the bench."""

from django.http import HttpResponse
from ninja import Query, Router

from dosewright.actions.check_card import check_card
from dosewright.actions.check_plan import load_check_plan
from dosewright.actions.decide_card import decide_card
from dosewright.actions.destroy_card import destroy_card
from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.receive_card import receive_card
from dosewright.actions.release_card import release_card
from dosewright.actions.scan_bottle import Bottle, scan_bottle
from dosewright.actions.seal_card import seal_card
from dosewright.actions.send_back_card import send_back_card
from dosewright.actions.take_out_medicine import TakenOut, take_out_medicine
from dosewright.actions.take_return import take_return
from dosewright.actions.withdraw_card import withdraw_card
from dosewright.api.answer import answer
from dosewright.api.card_shapes import (
    CardBrief,
    CardOut,
    CheckIn,
    CheckPlanOut,
    DecideIn,
    DestroyIn,
    EventOut,
    Filter,
    HandOverIn,
    ReasonIn,
    ReleaseIn,
    ReturnIn,
    ScanIn,
    SendBackIn,
    TakeOutIn,
    cells_of,
    own_check,
)
from dosewright.api.door import Scope
from dosewright.api.fields import proof_of
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.api.signature import require_signature
from dosewright.core.custody.event import CardEvent
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.findings_json import facts_in_json
from dosewright.core.supply.movement import Place
from dosewright.core.units.ids import CardNumber, HomeId, Lot, MedicineCode, PersonId
from dosewright.core.units.quantity import format_amount
from dosewright.store.calendar import wall_day
from dosewright.store.card_list import CardsWanted, ListedCard, list_cards
from dosewright.store.cards import StoredCard, load_card
from dosewright.store.ledger import load_card_events

__all__ = [
    "card",
    "check",
    "check_plan",
    "decide",
    "destroy",
    "find_cards",
    "finish",
    "hand_over",
    "history",
    "receive",
    "release",
    "router",
    "scan",
    "seal",
    "send_back",
    "take_back",
    "take_out",
    "withdraw",
]

router = Router(tags=["cards"])
_LOOKS = (Ability.LOOK, Ability.RECEIVE_CARD)


@offer(router, gives("find-cards", "/cards", *_LOOKS, scope=Scope.LIST), out=list[CardBrief])
def find_cards(request: ApiRequest, wanted: Query[Filter]) -> list[dict[str, object]]:
    """Cards by number; the next page begins `after` the last one."""
    person, home = PersonId(wanted.person) if wanted.person else None, HomeId(wanted.home) if wanted.home else None
    found = list_cards(CardsWanted(request.auth.home, home, person, wanted.stage, after=wanted.after or "", most=wanted.most))
    return [_brief(card) for card in found]


@offer(router, gives("card", "/cards/{number}", *_LOOKS), out=CardOut)
def card(request: ApiRequest, number: str) -> dict[str, object]:
    """One card as it is now, cavity by cavity."""
    stored = load_card(CardNumber(number))
    return {
        "number": stored.number,
        "set": stored.set_id,
        "person": stored.person.id,
        "name": stored.person.name,
        "home": stored.person.home,
        "stage": stored.state.stage,
        "out_of_date": stored.state.out_of_date,
        "first": stored.card.first,
        "last": stored.card.last,
        "position": stored.position,
        "of": stored.of,
        "beyond_use": stored.card.beyond_use,
        "cavities": _cavities(stored),
    }


@offer(router, gives("card-history", "/cards/{number}/history", Ability.LOOK), out=list[EventOut])
def history(request: ApiRequest, number: str) -> list[dict[str, object]]:
    """Everything that happened to the card, in order."""
    return [_event(event) for event in load_card_events(CardNumber(number))]


@offer(router, does("scan", "/cards/{number}/scan", Ability.PLACE_MEDICINE))
def scan(request: ApiRequest, number: str, body: ScanIn) -> HttpResponse:
    """May this bottle be used for this card now? Nothing is placed by it; a wrong one is on record."""
    proof = proof_of(body.scan, body.reason, wall_day(request.auth.on.at))
    lot, expiry = Lot(body.lot) or proof.scanned_lot or Lot(""), body.expiry or proof.scanned_expiry
    return answer(scan_bottle(CardNumber(number), request.auth.on, Bottle(MedicineCode(body.medicine), proof, lot, expiry)))


@offer(router, does("take-out", "/cards/{number}/take-out", Ability.TAKE_OUT_MEDICINE))
def take_out(request: ApiRequest, number: str, body: TakeOutIn) -> HttpResponse:
    """Units out of cavities, as an event of its own."""
    what = TakenOut(MedicineCode(body.medicine), Lot(body.lot), cells_of(number, body.cells), Place(body.to), body.reason)
    return answer(take_out_medicine(CardNumber(number), request.auth.on, what))


@offer(router, does("finish", "/cards/{number}/finish", Ability.FINISH_FILLING))
def finish(request: ApiRequest, number: str) -> HttpResponse:
    """The card is full and waits for its check."""
    return answer(finish_filling(CardNumber(number), request.auth.on))


@offer(router, gives("check-plan", "/cards/{number}/check-plan", Ability.CHECK_CARD), out=CheckPlanOut)
def check_plan(request: ApiRequest, number: str) -> dict[str, object]:
    """Which cavities a check by this caller must count, and what such a check misses."""
    stored = load_card(CardNumber(number))
    plan = load_check_plan(stored, request.auth.actor)
    cavities = [{"row": row, "column": column, "why": plan.always.get((row, column), ())} for row, column in sorted(plan.demanded)]
    missed = {str(wrong): format_amount(plan.missed(wrong)) for wrong in (1, 2, 4) if plan.is_choice and wrong <= plan.others}
    whole = "" if plan.is_choice or plan.draw.whole is None else plan.draw.whole.value
    said = {"of": len(plan.cavities), "drawn": len(plan.drawn), "others": plan.others, "seed": plan.draw.seed if plan.is_choice else ""}
    return {**said, "seen": stored.state.events, "whole": whole, "cavities": cavities, "missed": missed}


@offer(router, does("check", "/cards/{number}/check", Ability.CHECK_CARD))
def check(request: ApiRequest, number: str, body: CheckIn) -> HttpResponse:
    """The second person's own counts against the orders; never by whoever filled it (R8)."""
    return answer(check_card(CardNumber(number), request.auth.on, own_check(body)))


@offer(router, does("send-back", "/cards/{number}/send-back", Ability.SEND_BACK_CARD))
def send_back(request: ApiRequest, number: str, body: SendBackIn) -> HttpResponse:
    """Back to be filled right, with a near miss."""
    return answer(send_back_card(CardNumber(number), request.auth.on, body.kind, body.reason))


@offer(router, does("seal", "/cards/{number}/seal", Ability.SEAL_CARD))
def seal(request: ApiRequest, number: str) -> HttpResponse:
    """A checked card is closed."""
    return answer(seal_card(CardNumber(number), request.auth.on))


@offer(router, does("release", "/cards/{number}/release", Ability.RELEASE_CARD))
def release(request: ApiRequest, number: str, body: ReleaseIn) -> HttpResponse:
    """The pharmacist lets the card leave, with their password again; wrong ones lock the account as at the bench."""
    require_signature(request, "release", body.password)
    return answer(release_card(CardNumber(number), request.auth.on))


@offer(router, does("hand-over", "/cards/{number}/hand-over", Ability.HAND_OVER_CARD))
def hand_over(request: ApiRequest, number: str, body: HandOverIn) -> HttpResponse:
    """A released card goes into other hands."""
    return answer(hand_over_card(CardNumber(number), request.auth.on, body.to))


@offer(router, does("receive", "/cards/{number}/receive", Ability.RECEIVE_CARD))
def receive(request: ApiRequest, number: str) -> HttpResponse:
    """The home has it."""
    return answer(receive_card(CardNumber(number), request.auth.on))


@offer(router, does("return", "/cards/{number}/return", Ability.TAKE_RETURN))
def take_back(request: ApiRequest, number: str, body: ReturnIn) -> HttpResponse:
    """A card came back; what is left in it is counted."""
    return answer(take_return(CardNumber(number), request.auth.on, cells_of(number, body.counted)))


@offer(router, does("withdraw", "/cards/{number}/withdraw", Ability.WITHDRAW_CARD))
def withdraw(request: ApiRequest, number: str, body: ReasonIn) -> HttpResponse:
    """A card that has not left is taken out of use."""
    return answer(withdraw_card(CardNumber(number), request.auth.on, body.reason))


@offer(router, does("destroy", "/cards/{number}/destroy", Ability.WASTE_UNITS))
def destroy(request: ApiRequest, number: str, body: DestroyIn) -> HttpResponse:
    """What is left in a returned or withdrawn card is waste, before a witness."""
    return answer(destroy_card(CardNumber(number), request.auth.on, body.reason, body.witness))


@offer(router, does("decide", "/cards/{number}/decide", Ability.DECIDE_CARD))
def decide(request: ApiRequest, number: str, body: DecideIn) -> HttpResponse:
    """What becomes of a card whose orders have changed (R9)."""
    return answer(decide_card(CardNumber(number), request.auth.on, body.choice, body.reason))


def _brief(card: ListedCard) -> dict[str, object]:
    return {name: getattr(card, name) for name in ("number", "set", "person", "home", "stage", "out_of_date", "first", "last")}


def _cavities(stored: StoredCard) -> list[dict[str, object]]:
    return [
        {
            "row": cavity.row,
            "column": cavity.column,
            "day": cavity.day,
            "slot": cavity.slot,
            "contents": [
                {
                    "order": order,
                    "medicine": medicine,
                    "asked": format_amount(amount),
                    "placed": format_amount(cavity.placed(order)),
                    "lots": sorted({units.lot for units in cavity.placements if units.cell.order == order}),
                }
                for order, (medicine, amount) in cavity.wanted.items()
            ],
        }
        for cavity in stored.filled.cavities
    ]


def _event(event: CardEvent) -> dict[str, object]:
    who = {"by": event.by.name, "role": event.by.role.value, "station": event.station}
    return {"deed": event.deed.value, "at": event.at.isoformat(), **who, "facts": facts_in_json(event.facts)}
