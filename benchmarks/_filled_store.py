"""A store with many people's printed cards, and the smallest change that a request can make. Django must be set up before."""

import secrets
from itertools import count

from django.db.models import Model
from django.http import HttpRequest, HttpResponse
from tests.bench_fixtures import on

from dosewright.core.custody.event import Deed
from dosewright.core.packing.card_number import make_card_number
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import load_card, save_event
from dosewright.store.models import Attempt, CardRow, CardSet, OrderRow, PersonRow
from dosewright.store.turns import write_turn

__all__ = ["SCAN", "marks", "one_row", "people"]

SCAN = "01062910415002131727063010LOT42A"
marks = count()


def one_row(request: HttpRequest) -> HttpResponse:
    """One transaction with one row, as small as a change can be."""
    with write_turn():
        Attempt.objects.create(token=f"bare {secrets.token_hex(16)}", deed="bare", by="", outcome="")
    return HttpResponse(b"")


def people(size: int) -> None:
    """Copies of the first person, with a printed card each, until there are so many."""
    order, card_set = OrderRow.objects.get(id="RX1"), CardSet.objects.order_by("id")[0]
    card = card_set.cards.get()
    with write_turn():
        for number in range(PersonRow.objects.count() + 1, size + 1):
            _copy(number, order, card_set, card)


def _copy(number: int, order: OrderRow, card_set: CardSet, card: CardRow) -> None:
    person, old, new = f"p{number}", card.number, make_card_number("benchmark", str(number))
    PersonRow.objects.create(id=person, name=f"Person Number{number}", born="1939-02-04")
    said = {"source": f"RX1-{number}", "person_id": person, "value": _renamed(order.value, "RX1", f"RX1-{number}", person)}
    _clone(order, id=f"RX1-{number}", **said)
    text = {name: _renamed(getattr(card_set, name), "RX1", f"RX1-{number}", person).replace(old, new) for name in ("plan", "request")}
    copied = _clone(card_set, pk=None, person_id=person, **text)
    value = _renamed(card.value, "RX1", f"RX1-{number}", person).replace(old, new)
    _clone(card, number=new, card_set_id=copied.pk, value=value, stage="planned")
    stored = load_card(CardNumber(new))
    for deed in (Deed.PLANNED, Deed.PRINTED):
        stored, _ = save_event(stored, deed, on(), {"set": copied.pk})


def _renamed(text: str, order: str, new: str, person: str) -> str:
    return text.replace(f'"{order}"', f'"{new}"').replace('"p1"', f'"{person}"')


def _clone(row: Model, **changed: object) -> Model:
    copy = type(row)._default_manager.get(pk=row.pk)
    for name, value in changed.items():
        setattr(copy, name, value)
    copy.save(force_insert=True)
    return copy
