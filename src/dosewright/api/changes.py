"""The change desk by programs: a change taken, laid out, decided and signed, its work list, card by card put right, finished."""

from collections.abc import Iterator

from django.http import HttpResponse
from ninja import Query, Router

from dosewright.actions.change_sheets import sheet_of_change
from dosewright.actions.decide_anew import reopen_change
from dosewright.actions.decide_change import Decided, decide_change
from dosewright.actions.end_orders import end_orders, resume_orders
from dosewright.actions.finish_change import finish_change, recount_change
from dosewright.actions.lay_out_change import Gathered, findings_of_layout, gather, shown_as
from dosewright.actions.look_for_card import say_found, say_not_found
from dosewright.actions.make_sheet import Asked, make_sheet
from dosewright.actions.move_home import move_home
from dosewright.actions.rework_card import Removed, relabel_card, remove_units
from dosewright.actions.take_back_card import CameBack, take_back_card
from dosewright.actions.withdraw_change import withdraw_change
from dosewright.api.answer import answer, finding_out
from dosewright.api.card_shapes import ReasonIn, cells_of
from dosewright.api.change_shapes import (
    BackIn,
    ChangeBrief,
    ChangeFilter,
    ChangeOut,
    ChangeSheetIn,
    DecideChangeIn,
    FoundIn,
    RemoveIn,
    TakeChangeIn,
)
from dosewright.api.door import Scope
from dosewright.api.offer import does, gives, offer
from dosewright.api.own_home import require_own_home
from dosewright.api.request import ApiRequest
from dosewright.api.signature import require_signature
from dosewright.core.checking.still_open import still_open
from dosewright.core.custody.cells import format_cells
from dosewright.core.custody.changing import Cause, ChangeStanding, Deciding, waits_for
from dosewright.core.custody.ending import EndAsk
from dosewright.core.custody.reconciling import Returned
from dosewright.core.custody.reworking import to_take_out
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.pack_code import parse_pack_code
from dosewright.core.rework.choices import Choice
from dosewright.core.rework.picked import Pick
from dosewright.core.rework.tasks import CardTask
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, HomeId, MedicineCode, PersonId
from dosewright.core.units.quantity import format_amount
from dosewright.store.calendar import wall_day
from dosewright.store.cards import StoredCard
from dosewright.store.changes import StoredChange, load_change, load_changes

__all__ = [
    "change",
    "changes",
    "decide",
    "finish",
    "look_for",
    "make_sheet_of",
    "relabel",
    "remove",
    "reopen",
    "router",
    "take",
    "take_back",
    "withdraw",
]

router = Router(tags=["changes"])
_OPEN = (ChangeStanding.WAITING, ChangeStanding.DECIDED, ChangeStanding.IN_WORK)


@offer(router, gives("changes", "/changes", Ability.LOOK, scope=Scope.LIST), out=list[ChangeBrief])
def changes(request: ApiRequest, wanted: Query[ChangeFilter]) -> list[dict[str, object]]:
    """Changes, the most urgent first: by the first dosing time that they affect."""
    found = load_changes((wanted.standing,) if wanted.standing else _OPEN)
    return [_brief(one) for one in found if request.auth.home in {None, one.person.home}]


@offer(router, gives("change", "/changes/{int:change}", Ability.LOOK), out=ChangeOut)
def change(request: ApiRequest, change: int) -> dict[str, object]:
    """One change as things stand now: what can be done about it, or what is to be done, card by card."""
    stored = load_change(change)
    found = gather(stored, request.auth.on) if stored.standing in _OPEN else None
    asking = found if stored.standing is ChangeStanding.WAITING else None
    return {
        **_brief(stored),
        "reason": stored.reason,
        "shown": shown_as(asking) if asking else "",
        "ways": list(_ways(asking)) if asking else [],
        "choices": [_choice(one) for one in asking.layout.choices] if asking else [],
        "findings": _said(findings_of_layout(asking)) if asking else [],
        "tasks": [_task(task, found) for task in stored.tasks],
        "recount": _recount(found) if found and not asking else None,
    }


@offer(router, does("take-change", "/people/{path:person}/change", Ability.TAKE_CHANGE))
def take(request: ApiRequest, person: str, body: TakeChangeIn) -> HttpResponse:
    """Something happened to all of a person's orders, or the person moved; cards that it touches are out of date (R9)."""
    cause, at, who = Cause(body.cause), Moment(body.day, body.at.replace(tzinfo=None)), PersonId(person)
    if cause is Cause.RESUMED:
        return answer(resume_orders(who, request.auth.on, at, body.reason))
    if cause is Cause.MOVED_HOME:
        if body.home:
            require_own_home(request, "take-change", HomeId(body.home))
        return answer(move_home(who, request.auth.on, HomeId(body.home) if body.home else None, body.room, body.reason))
    return answer(end_orders(who, request.auth.on, EndAsk(at, cause, body.reason)))


@offer(router, does("decide-change", "/changes/{int:change}/decide", Ability.DECIDE_CHANGE))
def decide(request: ApiRequest, change: int, body: DecideChangeIn) -> HttpResponse:
    """The pharmacist decides and signs; `made` are new sets. Refused where it is not what was shown any more (R9, R17)."""
    require_signature(request, "decide-change", body.password)
    picks = tuple(Pick(one.name, tuple(map(CardNumber, one.cards))) for one in body.picks)
    said = Deciding(body.reason, {CardNumber(card): why for card, why in body.reasons.items()}, body.shown)
    return answer(decide_change(change, request.auth.on, Decided(said, body.way, picks)))


@offer(router, does("withdraw-change", "/changes/{int:change}/withdraw", Ability.WITHDRAW_CHANGE))
def withdraw(request: ApiRequest, change: int, body: ReasonIn) -> HttpResponse:
    """The orders ask again what they asked before, while nothing was done to a card; `made` are the orders that were put back."""
    return answer(withdraw_change(change, request.auth.on, body.reason))


@offer(router, does("reopen-change", "/changes/{int:change}/anew", Ability.DECIDE_CHANGE))
def reopen(request: ApiRequest, change: int, body: ReasonIn) -> HttpResponse:
    """It waits for a decision again, by what lies in the cards now."""
    return answer(reopen_change(change, request.auth.on, body.reason))


@offer(router, does("finish-change", "/changes/{int:change}/done", Ability.FINISH_CHANGE))
def finish(request: ApiRequest, change: int) -> HttpResponse:
    """It is done: every card holds what the orders ask, and every unit is accounted for (R11, R17)."""
    return answer(finish_change(change, request.auth.on))


@offer(router, does("make-change-sheet", "/changes/{int:change}/sheets", Ability.MAKE_SHEET))
def make_sheet_of(request: ApiRequest, change: int, body: ChangeSheetIn) -> HttpResponse:
    """Drawn, read back and kept; `made` is the sheet's number."""
    wanted, asked = sheet_of_change(change, body.kind), Asked(body.printer, body.reason)
    return answer(make_sheet(f"change {change}", request.auth.on, wanted, asked))


@offer(router, does("remove-units", "/cards/{number}/remove", Ability.REWORK_CARD))
def remove(request: ApiRequest, number: str, body: RemoveIn) -> HttpResponse:
    """All of a medicine that is not to be in a card that is put right is out of it, and waste (R10, R11)."""
    scan = body.scan.strip()
    gtin = parse_pack_code(scan, wall_day(request.auth.on.at).year).gtin if scan else None
    return answer(remove_units(CardNumber(number), request.auth.on, Removed(MedicineCode(body.medicine), scan[:60], gtin, body.reason)))


@offer(router, does("relabel-card", "/cards/{number}/relabel", Ability.REWORK_CARD))
def relabel(request: ApiRequest, number: str) -> HttpResponse:
    """The old labels are void and destroyed, the new ones are on."""
    return answer(relabel_card(CardNumber(number), request.auth.on))


@offer(router, does("take-back-card", "/cards/{number}/back", Ability.TAKE_BACK_CARD))
def take_back(request: ApiRequest, number: str, body: BackIn) -> HttpResponse:
    """A card that was called back is here: counted beside the record of doses, to be put right for the same person."""
    back = Returned(cells_of(number, body.counted), frozenset((one.row, one.column) for one in body.recorded))
    return answer(take_back_card(CardNumber(number), request.auth.on, CameBack(back, body.reason)))


@offer(router, does("look-for-card", "/cards/{number}/look", Ability.LOOK_FOR_CARD))
def look_for(request: ApiRequest, number: str, body: FoundIn) -> HttpResponse:
    """Nobody finds the card, or it is found again."""
    say = say_found if body.found else say_not_found
    return answer(say(CardNumber(number), request.auth.on, body.reason))


def _brief(one: StoredChange) -> dict[str, object]:
    who = {"person": one.person.id, "name": one.person.name, "home": one.person.home}
    first = f"{one.first.day.isoformat()}T{one.first.time:%H:%M}" if one.first else None
    by = {name: getattr(one, name) for name in ("taken_by", "decided_by", "done_by")}
    return {"id": one.id, **who, "cause": one.cause, "standing": one.standing, "first": first, **by}


def _ways(found: Gathered) -> Iterator[dict[str, object]]:
    if found.layout.held or found.layout.left:
        return
    for number, layout in enumerate((found.layout, *found.layout.alternatives)):
        if layout.chosen:
            yield {"way": number, "picks": [{"name": one.name, "cards": list(one.cards)} for one in layout.chosen]}


def _choice(one: Choice) -> dict[str, object]:
    cost = {"minutes": format_amount(one.cost.minutes), "at_risk": one.cost.at_risk}
    return {"name": one.name, "cards": list(one.cards), "lawful": one.lawful, **cost, "findings": _said(one.findings)}


def _task(task: CardTask, found: Gathered | None) -> dict[str, object]:
    card = next((one for one in found.open.cards if one.number == task.card), None) if found else None
    said = {"card": task.card, "deed": task.deed, "out": task.out, "new": list(task.new)}
    return {**said, **(_work(card) if card else {"waits": "", "leaving": [], "entering": [], "opened": [], "old_labels": False})}


def _work(card: StoredCard) -> dict[str, object]:
    """The work list, by what lies in the card now, so that anybody can go on with it anywhere."""
    leaving = to_take_out(card.filled, card.state)
    wanted = sorted({medicine for cavity in card.filled.cavities for medicine, _ in cavity.wanted.values()})
    return {
        "waits": waits_for(card.state),
        "leaving": [{"medicine": medicine, "lot": lot, "cells": list(format_cells(cells))} for (medicine, lot), cells in leaving.items()],
        "entering": [medicine for medicine in wanted if still_open([card.filled], medicine)],
        "opened": [f"{row}.{column}" for row, column in sorted(card.state.disturbed)],
        "old_labels": card.state.old_labels,
    }


def _recount(found: Gathered) -> list[dict[str, object]] | None:
    if any(waits_for(card.state) for card in found.open.cards):
        return None
    return _said(recount_change(found))


def _said(findings: tuple[Finding, ...]) -> list[dict[str, object]]:
    return [dict(finding_out(one)) for one in findings]
