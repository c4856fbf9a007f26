"""FHIR R4 out: what released cards hold, as MedicationDispense. In come bundles of MedicationRequests through `/orders`."""

from typing import Any

from django.http import HttpResponse
from ninja import Query, Router, Schema

from dosewright.api.door import Scope
from dosewright.api.fields import Code
from dosewright.api.offer import gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.fhir_dispense import DispensedCard, format_dispenses
from dosewright.core.interop.json_text import Writable, format_json
from dosewright.core.units.ids import CardNumber, PersonId
from dosewright.store.card_list import CardsWanted, list_cards
from dosewright.store.cards import load_card
from dosewright.store.catalogue import load_catalogue
from dosewright.store.ledger import load_card_events
from dosewright.store.missing import Missing
from dosewright.store.orders import load_order

__all__ = ["Wanted", "dispense", "dispenses", "router"]

router = Router(tags=["FHIR R4"])
_LOOKS = (Ability.LOOK, Ability.RECEIVE_CARD)
_FHIR = {"responses": {200: {"content": {"application/fhir+json": {"schema": {"type": "object"}}}}}}
_MOST = 100  # cards in one bundle


class Wanted(Schema):
    """Of which card, or of whose cards; the next page begins `after` the last card's number."""

    card: Code | None = None
    person: Code | None = None
    after: Code | None = None


@offer(router, gives("dispenses", "/fhir/MedicationDispense", *_LOOKS, scope=Scope.LIST), out=dict[str, Any], extra=_FHIR)
def dispenses(request: ApiRequest, wanted: Query[Wanted]) -> HttpResponse:
    """A searchset Bundle of every order and lot in cards that were released, by card."""
    person = PersonId(wanted.person) if wanted.person else None
    number = CardNumber(wanted.card) if wanted.card else None
    listed = list_cards(CardsWanted(request.auth.home, person=person, number=number, after=wanted.after or "", most=_MOST))
    resources = [resource for card in listed for resource in _of(card.number)]
    place = request.build_absolute_uri(request.path)
    entries: list[Writable] = [{"fullUrl": f"{place}/{one['id']}", "resource": one} for one in resources]
    bundle: dict[str, Writable] = {"resourceType": "Bundle", "type": "searchset", "total": len(entries)}
    return _fhir({**bundle, "entry": entries} if entries else bundle)


@offer(router, gives("dispense", "/fhir/MedicationDispense/{dispense}", *_LOOKS), out=dict[str, Any], extra=_FHIR)
def dispense(request: ApiRequest, dispense: str) -> HttpResponse:
    """One of them."""
    for resource in _of(CardNumber(dispense.rpartition("-")[0])):
        if resource["id"] == dispense:
            return _fhir(resource)
    raise Missing("dispense", dispense)


def _of(number: CardNumber) -> tuple[dict[str, Writable], ...]:
    stored = load_card(number)
    ids = {content.order for cavity in stored.card.cavities for content in cavity.contents}
    orders = {order: load_order(order) for order in ids}
    events = load_card_events(number)
    medicines = load_catalogue({kept.order.medicine for kept in orders.values()})
    found = DispensedCard(stored.card, events, stored.person, {one: (kept.order, kept.source) for one, kept in orders.items()}, medicines)
    return format_dispenses(found)


def _fhir(resource: dict[str, Writable]) -> HttpResponse:
    return HttpResponse(format_json(resource), content_type="application/fhir+json")
