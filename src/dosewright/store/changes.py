"""Changes ⇄ rows: taken, decided, in work, done; and the pharmacy's own figures for ranking what can be done."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from django.db.models import QuerySet
from django.utils import timezone

from dosewright.core.custody.changing import Cause, ChangeStanding
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.stage import OVER, Stage
from dosewright.core.custody.state import state_of
from dosewright.core.paper.interim import Interim
from dosewright.core.regimen.order import Order
from dosewright.core.rework.tasks import CardTask
from dosewright.core.supply.account import LotKey
from dosewright.core.supply.movement import Movement, MovementKind
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode, PersonId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import parse_amount
from dosewright.store.cards import StoredCard, load_card
from dosewright.store.ledger import load_card_events, load_entries
from dosewright.store.missing import Missing
from dosewright.store.models import CardRow, ChangeRow, ReworkRates, StockMovement
from dosewright.store.people import person_of
from dosewright.store.value_json import format_value, parse_value

__all__ = [
    "OpenCards",
    "StoredChange",
    "Unreadable",
    "find_open_change",
    "load_change",
    "load_change_steps",
    "load_changes",
    "load_moved_since",
    "load_open_cards",
    "load_rates_text",
    "load_units_of",
    "lock_change",
    "save_change",
    "save_change_decided",
    "save_change_done",
    "save_rates_text",
    "save_standing",
    "save_tasks",
    "was_planned",
]


@dataclass(frozen=True, slots=True)
class StoredChange:
    """A change with all that is on record about it. `first` is None where no dose differs (a header, a card of as-needed medicines)."""

    id: int
    person: Person
    cause: Cause
    standing: ChangeStanding
    taken_at: datetime
    taken_by: str
    first: Moment | None
    before: tuple[Order, ...]
    tasks: tuple[CardTask, ...]
    held: Mapping[LotKey, Fraction]
    interims: tuple[Interim, ...]
    reason: str
    entry: int
    decided_at: datetime | None
    decided_by: str
    done_at: datetime | None
    done_by: str


_Held = tuple[tuple[str, str, Fraction], ...]


def save_change(person: PersonId, cause: Cause, before: tuple[Order, ...], first: Moment | None, on: Occasion) -> int:
    """A change is taken. Its id."""
    row = ChangeRow.objects.create(
        person_id=person,
        cause=cause.value,
        taken_at=on.at,
        taken_by=on.by.name,
        before=format_value(before),
        first_day=first.day if first else None,
        first_time=first.time if first else None,
    )
    return row.pk


def save_standing(change: int, standing: ChangeStanding, first: Moment | None = None) -> None:
    """Where it stands now; `first`, where it affects an earlier dosing time than it did."""
    said: dict[str, object] = {"standing": standing.value}
    if first is not None:
        said |= {"first_day": first.day, "first_time": first.time}
    ChangeRow.objects.filter(id=change).update(**said)


def save_change_decided(
    change: int,
    what: tuple[tuple[CardTask, ...], tuple[Interim, ...]],
    reason: str,
    on: Occasion,
    held: tuple[int, Mapping[LotKey, Fraction]],
) -> None:
    """What is to be done and what is to be given until then, who decided, when. `held`: the ledger's number and what lay in the person's
    cards; where it was decided before, that first account stays."""
    row = ChangeRow.objects.get(id=change)
    said: dict[str, object] = {} if row.entry else {"entry": held[0], "held": format_value(_written(held[1]))}
    tasks, interims = what
    ChangeRow.objects.filter(id=change).update(
        standing=ChangeStanding.DECIDED.value,
        tasks=format_value(tasks),
        interims=format_value(interims),
        reason=reason,
        decided_at=on.at,
        decided_by=on.by.name,
        **said,
    )


def save_tasks(change: int, tasks: tuple[CardTask, ...]) -> None:
    """What is to be done is another thing for one of the cards."""
    ChangeRow.objects.filter(id=change).update(tasks=format_value(tasks))


def save_change_done(change: int, on: Occasion) -> None:
    """Every card is right."""
    ChangeRow.objects.filter(id=change).update(standing=ChangeStanding.DONE.value, done_at=on.at, done_by=on.by.name)


def _written(held: Mapping[LotKey, Fraction]) -> _Held:
    return tuple((medicine, lot, amount) for (medicine, lot), amount in sorted(held.items()))


def load_change(change: int) -> StoredChange:
    """Raises Missing."""
    return _one(_rows().filter(id=change).first(), change)


def lock_change(change: int) -> StoredChange:
    """The change, kept from the other stations until the transaction ends. Raises Missing."""
    return _one(_rows().select_for_update(of=("self",)).filter(id=change).first(), change)


def find_open_change(person: PersonId) -> StoredChange | None:
    """The person's change that is not done and not withdrawn; there is one at most."""
    over = [ChangeStanding.DONE.value, ChangeStanding.WITHDRAWN.value]
    row = _rows().filter(person_id=person).exclude(standing__in=over).first()
    return _stored(row) if row else None


def load_changes(standings: Iterable[ChangeStanding], most: int = 200) -> tuple[StoredChange, ...]:
    """Changes that stand so, the most urgent first: by the first dosing time that they affect, then as they came."""
    rows = _rows().filter(standing__in=[one.value for one in standings])
    return tuple(_stored(row) for row in rows.order_by("first_day", "first_time", "taken_at")[:most])


def _rows() -> QuerySet[ChangeRow]:
    return ChangeRow.objects.select_related("person")


def _one(row: ChangeRow | None, change: int) -> StoredChange:
    if row is None:
        raise Missing("change", str(change))
    return _stored(row)


def _stored(row: ChangeRow) -> StoredChange:
    held = {(MedicineCode(medicine), Lot(lot)): amount for medicine, lot, amount in parse_value(_Held, row.held)}
    return StoredChange(
        id=row.pk,
        person=person_of(row.person),
        cause=Cause(row.cause),
        standing=ChangeStanding(row.standing),
        taken_at=row.taken_at,
        taken_by=row.taken_by,
        first=Moment(row.first_day, row.first_time) if row.first_day and row.first_time is not None else None,
        before=parse_value(tuple[Order, ...], row.before),
        tasks=parse_value(tuple[CardTask, ...], row.tasks),
        held=held,
        interims=parse_value(tuple[Interim, ...], row.interims),
        reason=row.reason,
        entry=row.entry,
        decided_at=row.decided_at,
        decided_by=row.decided_by,
        done_at=row.done_at,
        done_by=row.done_by,
    )


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A card of which nobody can say what it holds: its record does not read as it was written."""

    number: CardNumber
    stage: Stage
    why: str


@dataclass(frozen=True, slots=True)
class OpenCards:
    """Every card of a person whose life is not over, wherever it is."""

    cards: tuple[StoredCard, ...]
    unreadable: tuple[Unreadable, ...]


def load_open_cards(person: PersonId, *, locked: bool = False) -> OpenCards:
    """One that cannot be read is named, and hides none of the others."""
    rows = CardRow.objects.filter(card_set__person_id=person).exclude(stage__in=[stage.value for stage in OVER])
    if locked:
        rows = rows.select_for_update(of=("self",))
    cards: list[StoredCard] = []
    lost: list[Unreadable] = []
    for number, stage in rows.order_by("number").values_list("number", "stage"):
        try:
            cards.append(load_card(CardNumber(number)))
        except (ValueError, KeyError) as error:
            lost.append(Unreadable(CardNumber(number), Stage(stage), str(error)[:200]))
    return OpenCards(tuple(sorted(cards, key=lambda one: (one.card.first, one.number))), tuple(lost))


def was_planned(person: PersonId, day: date) -> bool:
    """Whether a card of theirs was ever to cover the day, whatever became of it."""
    return CardRow.objects.filter(card_set__person_id=person, first__lte=day, last__gte=day).exists()


def load_units_of(person: PersonId) -> dict[LotKey, Fraction]:
    """What lies in all cards that the person ever had, by medicine and lot, counted from the cards' own events."""
    held: dict[LotKey, Fraction] = {}
    for number in CardRow.objects.filter(card_set__person_id=person).order_by("number").values_list("number", flat=True):
        state = state_of(CardNumber(number), load_card_events(CardNumber(number)))
        for units in state.placed if state.stage is not Stage.RETURNED else ():
            held[units.medicine, units.lot] = held.get((units.medicine, units.lot), Fraction(0)) + units.amount
    return held


def load_moved_since(person: PersonId, entry: int) -> tuple[Movement, ...]:
    """Movements into and out of the person's cards after an entry of the ledger."""
    numbers = CardRow.objects.filter(card_set__person_id=person).values_list("number", flat=True)
    rows = StockMovement.objects.select_related("lot").filter(card__in=list(numbers), entry__gt=entry).order_by("id")
    return tuple(
        Movement(
            MovementKind(row.kind), MedicineCode(row.lot.medicine_id), Lot(row.lot.lot), parse_amount(row.amount), CardNumber(row.card)
        )
        for row in rows
    )


_STEPS = {
    Deed.REWORKED: "to be opened and put right",
    Deed.WITHDRAWN: "taken out of use",
    Deed.CAME_BACK: "came back and was counted",
    Deed.RELABELLED: "old labels void, new ones on",
    Deed.CHECKED: "checked",
    Deed.RELEASED: "released",
    Deed.HANDED_OVER: "handed over",
    Deed.RETURNED: "returned",
}
_CHANGE_STEPS = {
    "change taken": "change taken",
    "change added to": "further orders added",
    "change decided": "decided and signed",
    "change done": "counted again: every card is right",
    "change withdrawn": "withdrawn",
}


def load_change_steps(change: StoredChange) -> tuple[tuple[datetime, str, str], ...]:
    """What was done about the change, in order: when, what, by whom. Of its cards only what happened since it was decided."""
    steps = [
        (e.sequence, e.at, _CHANGE_STEPS[e.event], e.who_name) for e in load_entries("change", str(change.id)) if e.event in _CHANGE_STEPS
    ]
    numbers = dict.fromkeys(number for task in change.tasks for number in (task.card, *task.new) if number)
    for number in numbers if change.entry else ():
        entries = (e for e in load_entries("card", number) if e.sequence >= change.entry and e.event in {deed.value for deed in _STEPS})
        steps += [(e.sequence, e.at, f"card {number} {_STEPS[Deed(e.event)]}", e.who_name) for e in entries]
    end = change.done_at
    kept = sorted(one for one in steps if end is None or one[1] <= end)
    return tuple((timezone.localtime(at), words, by) for _, at, words, by in kept)


def load_rates_text() -> str:
    """The pharmacy's own figures; "" where it works by those that ship."""
    row = ReworkRates.objects.order_by("-id").first()
    return row.text if row else ""


def save_rates_text(text: str, on: Occasion) -> None:
    """From now on these count; "" goes back to those that ship."""
    ReworkRates.objects.create(text=text, changed_at=on.at, changed_by=on.by.name)
