"""What sheets on demand are drawn from: a person's cards and the orders in force, a home's people, a delivery, a recalled lot."""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from fractions import Fraction
from hashlib import sha256

from dosewright.core.custody.event import Deed
from dosewright.core.custody.stage import LEFT_THE_PHARMACY, OVER, Stage
from dosewright.core.custody.state import state_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.fingerprint import canonical_bytes
from dosewright.core.packing.plan_values import Alongside, Card, PersonPlan, Plan, Proof
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.alike import Apart, tell_apart
from dosewright.core.paper.finish import basis_of
from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.manifest import Parcel, ParcelCard
from dosewright.core.paper.material import Material, Pharmacy, Placed
from dosewright.core.paper.recall import RecalledCard, RecalledDose
from dosewright.core.regimen.order import Order
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.placement import Placed as Units
from dosewright.core.units.ids import CardNumber, HomeId, Lot, MedicineCode, OrderId, PersonId
from dosewright.core.units.person import Person
from dosewright.store.calendar import wall_day
from dosewright.store.cards import StoredCard, load_card, load_request, load_set
from dosewright.store.catalogue import load_catalogue
from dosewright.store.changes import find_open_change
from dosewright.store.ledger import load_card_events
from dosewright.store.models import CardRow, CardSet, HomeRow, StockMovement
from dosewright.store.orders import load_confirmed, load_order
from dosewright.store.people import load_home_names, load_people, load_person, load_timetable
from dosewright.store.pharmacy import load_pharmacy, load_rules

__all__ = ["last_medicines", "load_days", "load_home", "load_parcels", "load_placed", "load_recalled", "load_set_material", "who_supplies"]

_KEEPS = timedelta(days=366)  # no card keeps longer than this after its cycle
_NO_PROOF = Proof(0, 0, optimal=False, nodes=0, cards=0, cards_lower_bound=0)


def who_supplies() -> Pharmacy:
    """The pharmacy as sheets name it. Raises Missing."""
    who = load_pharmacy()
    return Pharmacy(who.name, who.address, who.phone, who.registration)


def load_set_material(set_id: int, fonts: FontSet) -> Material:
    """What a set's sheets are drawn from: its plan and the request that it answers. Raises Missing."""
    apart = tell_apart(load_people())
    return Material(load_set(set_id).plan, load_request(set_id), who_supplies(), fonts, homes=load_home_names(), apart=apart)


def load_placed(set_id: int) -> dict[tuple[CardNumber, OrderId], tuple[Placed, ...]]:
    """Lot and expiry of what lies in the set's cards now, cavity by cavity. Raises Missing."""
    cells: dict[tuple[CardNumber, OrderId], dict[tuple[Lot, date], set[tuple[int, int]]]] = {}
    for card in load_set(set_id).cards:
        for units in card.state.placed:
            lots = cells.setdefault((card.number, units.cell.order), {})
            lots.setdefault((units.lot, units.expiry), set()).add((units.cell.row, units.cell.column))
    return {key: tuple(Placed(lot, expiry, frozenset(some)) for (lot, expiry), some in sorted(lots.items())) for key, lots in cells.items()}


def last_medicines(set_id: int) -> tuple[Medicine, ...]:
    """The products of the person's set before this one, as they looked then; nothing where there was none."""
    row = CardSet.objects.filter(id=set_id).only("person_id", "first").first()
    if row is None:
        return ()
    before = CardSet.objects.filter(person_id=row.person_id, first__lt=row.first, withdrawn=False).order_by("-first", "-id").first()
    if before is None:
        return ()
    request = load_request(before.pk)
    codes = sorted({order.medicine for order in request.orders if order.medicine in request.medicines})
    return tuple(request.medicines[code] for code in codes)


def load_days(person: PersonId, first: date, days: int, made_on: date, fonts: FontSet) -> Material | None:
    """One person's cards and orders for some days, whatever sets they are of; None for somebody with neither. Raises Missing.

    Cards that are over (returned, withdrawn, destroyed) count no more; their days go by the orders.
    """
    return _material(person, (first, days, made_on), fonts, tell_apart(load_people()))


def _material(person: PersonId, span: tuple[date, int, date], fonts: FontSet, apart: Mapping[PersonId, Apart]) -> Material | None:
    """`span`: the first day, how many, and the day on which the sheet is made."""
    first, days, made_on = span
    last = first + timedelta(days=days - 1)
    stored, called_back = _without_replaced(person, _cards_of(person, first, last))
    cards = [(one.card, basis) for one, basis in stored]
    orders = _orders_of(person, cards)
    codes = {order.medicine for order in orders} | {c.medicine for card, _ in cards for v in card.cavities for c in v.contents}
    if not codes:
        return None
    rules = load_rules(load_pharmacy().rules)
    request = PlanRequest(
        people=(load_person(person),),
        orders=orders,
        medicines=load_catalogue(codes),
        format=rules.card_format,
        profile=rules.profile,
        first=first,
        days=days,
        prepared_on=made_on,
        rules=rules.suitability,
        timetable=load_timetable(person),
    )
    known = {order.id for order in orders}
    beside = tuple(line for line in _alongside(cards) if line.order in known)
    mine = PersonPlan(person, tuple(card for card, _ in cards), beside, _NO_PROOF)
    bases = [basis for _, basis in cards] or [sha256(canonical_bytes(orders)).hexdigest()]
    plan = Plan(basis_of(bases), first, days, rules.profile.name, rules.card_format.name, (mine,), ())
    waiting = frozenset(one.number for one, _ in stored if one.state.decision == "wait" and not one.state.out_of_date)
    return Material(plan, request, who_supplies(), fonts, homes=load_home_names(), apart=apart, waiting=waiting, called_back=called_back)


_Stored = list[tuple[StoredCard, str]]


def _without_replaced(person: PersonId, found: _Stored) -> tuple[_Stored, dict[CardNumber, date]]:
    """The cards without those outside that others take the place of, once these are outside too. And the cards outside from which nothing
    is given until what is right is there, each with the day on which that was decided."""
    outside = [one for one, _ in found if one.state.stage in LEFT_THE_PHARMACY]
    gone = {one.number for one in outside if one.state.replaced}
    instead = [one for one, _ in found if one.number not in gone]
    there = {
        one.number
        for one in outside
        if one.state.replaced and all(new.state.stage in LEFT_THE_PHARMACY for new in instead if _share_a_day(new, one))
    }
    held = [one for one in outside if (one.state.replaced or one.state.decision == "recall") and one.number not in there]
    change = find_open_change(person) if held else None
    since = wall_day(change.decided_at) if change and change.decided_at else None
    return [pair for pair in found if pair[0].number not in there], {one.number: since or one.card.first for one in held}


def _share_a_day(one: StoredCard, other: StoredCard) -> bool:
    return one.card.first <= other.card.last and other.card.first <= one.card.last


def _orders_of(person: PersonId, cards: Iterable[tuple[Card, str]]) -> tuple[Order, ...]:
    """Every confirmed order, and any other that a card still holds: what lies there must be accounted for."""
    confirmed = load_confirmed(person)
    held = {content.order for card, _ in cards for cavity in card.cavities for content in cavity.contents}
    more = sorted(held - {order.id for order in confirmed})
    return (*confirmed, *(load_order(order).order for order in more))


def _cards_of(person: PersonId, first: date, last: date) -> list[tuple[StoredCard, str]]:
    """The person's cards on those days that are not over, each with its plan's fingerprint, in order of their days. What is taken when it
    is needed may be taken until it keeps no longer, though its cycle has ended."""
    rows = CardRow.objects.filter(card_set__person_id=person, first__lte=last, last__gte=first - _KEEPS)
    rows = rows.exclude(stage__in=[stage.value for stage in OVER]).select_related("card_set").order_by("first", "number")
    found = [(load_card(CardNumber(row.number)), row.card_set.basis) for row in rows]
    return [(one, basis) for one, basis in found if (one.card.beyond_use if one.card.as_needed else one.card.last) >= first]


def _alongside(cards: Iterable[tuple[Card, str]]) -> tuple[Alongside, ...]:
    """What the latest of the sets supplies alongside."""
    numbers = [card.number for card, _ in cards]
    row = CardSet.objects.filter(cards__number__in=numbers).order_by("-first", "-id").first()
    return load_set(row.pk).mine.alongside if row else ()


def load_home(home: HomeId, first: date, days: int, made_on: date, fonts: FontSet) -> tuple[Material, ...]:
    """The same for everybody of a home, by name; whoever has neither card nor order is left out."""
    apart = tell_apart(load_people())
    found = (_material(person.id, (first, days, made_on), fonts, apart) for person in load_people(home))
    return tuple(material for material in found if material is not None)


def load_parcels(home: HomeId | None, people: Iterable[Person]) -> tuple[tuple[Parcel, ...], tuple[CardNumber, ...], str]:
    """What may leave now for these people: released cards; the numbers of those still here; and the address of the home."""
    homes, apart, parcels, waiting = load_home_names(), tell_apart(load_people()), [], []
    for person in people:
        rows = CardRow.objects.filter(card_set__person_id=person.id, card_set__withdrawn=False).select_related("card_set")
        rows = rows.order_by("first", "position")
        ready = [row for row in rows if row.stage == Stage.RELEASED.value]
        waiting += [CardNumber(row.number) for row in rows if Stage(row.stage) not in {Stage.RELEASED, *LEFT_THE_PHARMACY, *OVER}]
        if ready:
            cards = tuple(ParcelCard(CardNumber(row.number), row.first, row.last, row.card_set.basis) for row in ready)
            beside = sum(len(load_set(set_id).mine.alongside) for set_id in sorted({row.card_set_id for row in ready}))
            parcels.append(Parcel(person, _others(person, homes), cards, beside, apart.get(person.id)))
    row = HomeRow.objects.filter(id=home).first() if home else None
    return tuple(parcels), tuple(waiting), row.address if row else ""


def _others(person: Person, homes: dict[HomeId, str]) -> str:
    """What tells the person apart, but the home, which the sheet is for."""
    home = homes.get(person.home, "") if person.home else ""
    born = f"born {person.born.day} {person.born:%B %Y}" if person.born else ""
    return ", ".join(part for part in (born, f"room {person.room}" if person.room else "", "" if home else person.address) if part)


def load_recalled(medicine: MedicineCode, lot: Lot) -> tuple[RecalledCard, ...]:
    """Every card that has units of the lot of that medicine, or had some when it left: who took them is exposed, whatever came back."""
    homes = load_home_names()
    moved = StockMovement.objects.filter(lot__lot=lot, lot__medicine_id=medicine).exclude(card="")
    numbers = moved.order_by("card").values_list("card", flat=True).distinct()
    found = (_recalled(load_card(CardNumber(number)), medicine, lot, homes) for number in numbers)
    return tuple(card for card in found if card.doses)


def _recalled(stored: StoredCard, medicine: MedicineCode, lot: Lot, homes: dict[HomeId, str]) -> RecalledCard:
    person, state = stored.person, stored.state
    place = homes.get(person.home, str(person.home)) if person.home else person.name
    now = _of_lot(state.placed, medicine, lot)
    by_place = {(cavity.row, cavity.column): cavity for cavity in stored.card.cavities}
    doses = tuple(
        RecalledDose(cell.row, cell.column, cavity.day, cavity.time, cavity.slot, amount)
        for cell, amount in sorted(_out_of_it(stored, now, medicine, lot).items())
        for cavity in (by_place[cell.row, cell.column],)
    )
    basis = load_set(stored.set_id).plan.basis
    return RecalledCard(person, _others(person, homes), place, stored.number, state.stage.value, state.left, basis, doses)


def _out_of_it(stored: StoredCard, now: dict[Cell, Fraction], medicine: MedicineCode, lot: Lot) -> dict[Cell, Fraction]:
    """Units that somebody has taken or may take: what was laid in and never taken out, less what came back where the card is over."""
    if not stored.state.left:
        return {} if stored.state.over else now
    by_hand = (event for event in load_card_events(stored.number) if event.deed in (Deed.PLACED, Deed.TAKEN_OUT))
    ever = _of_lot(state_of(stored.number, by_hand).placed, medicine, lot)
    if not stored.state.over:
        return ever
    return {cell: amount - now.get(cell, Fraction()) for cell, amount in ever.items() if amount > now.get(cell, Fraction())}


def _of_lot(placed: Iterable[Units], medicine: MedicineCode, lot: Lot) -> dict[Cell, Fraction]:
    found: dict[Cell, Fraction] = {}
    for units in placed:
        if (units.medicine, units.lot) == (medicine, lot):
            found[units.cell] = found.get(units.cell, Fraction()) + units.amount
    return found
