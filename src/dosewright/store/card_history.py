"""Everything on record about one card: its own entries of the ledger and those of its set, its orders and its person; cards by a word."""

from dataclasses import dataclass
from datetime import date

from django.db.models import Q

from dosewright.core.custody.chain import Entry
from dosewright.core.custody.stage import Stage
from dosewright.core.units.ids import CardNumber
from dosewright.core.units.person import Person
from dosewright.store.cards import StoredCard
from dosewright.store.models import CardRow, LedgerEntry
from dosewright.store.people import person_of

__all__ = ["CardInBrief", "entries_about", "find_cards"]


@dataclass(frozen=True, slots=True)
class CardInBrief:
    """A card as a list of found ones shows it."""

    number: CardNumber
    person: Person
    first: date
    last: date
    stage: Stage
    out_of_date: bool


def find_cards(word: str, most: int) -> tuple[CardInBrief, ...]:
    """Cards of that number, or of people whose name has the word in it or whose id it is; latest first. Nothing for an empty word."""
    if not word.strip():
        return ()
    bare = "".join(word.split())
    fits = Q(number=bare) | Q(card_set__person__name__icontains=word.strip()) | Q(card_set__person_id=word.strip())
    rows = CardRow.objects.filter(fits).select_related("card_set__person").defer("value", "card_set__request", "card_set__plan")
    return tuple(_in_brief(row) for row in rows.order_by("card_set__person__name", "-first", "number")[:most])


def _in_brief(row: CardRow) -> CardInBrief:
    return CardInBrief(CardNumber(row.number), person_of(row.card_set.person), row.first, row.last, Stage(row.stage), row.out_of_date)


def entries_about(card: StoredCard) -> tuple[Entry, ...]:
    """Entries about the card, its set, the orders that lie in it and its person's record, in the ledger's own order."""
    orders = {content.order for cavity in card.card.cavities for content in cavity.contents}
    about = Q(subject_kind="card", subject_id=card.number) | Q(subject_kind="set", subject_id=str(card.set_id))
    about |= Q(subject_kind="order", subject_id__in=orders) | Q(subject_kind="person", subject_id=card.person.id)
    rows = LedgerEntry.objects.filter(about).order_by("sequence")
    return tuple(Entry(**{name: getattr(row, name) for name in Entry.__slots__}) for row in rows)
