"""A batch for one home, medicine by medicine: one bottle is open at a time, and goes over every card that asks for it before the next.

A batch is written "2026-03-02~lindens": the first day of its sets and the home, "" for the people at home.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from django.http import HttpResponse
from django.urls import reverse
from django.utils.http import urlencode

from dosewright.core.checking.still_open import still_open
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.paper.medicine_words import described, named
from dosewright.core.supply.whole_units import draw_whole_units
from dosewright.core.units.ids import CardNumber, HomeId, MedicineCode
from dosewright.store.cards import StoredCard, load_card
from dosewright.store.cards_at_hand import load_card_at_hand
from dosewright.store.catalogue import load_catalogue
from dosewright.store.missing import Missing
from dosewright.store.people import load_home_names
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.store.work import load_batch_cards
from dosewright.web.page import show
from dosewright.web.people import AT_HOME
from dosewright.web.request import BenchRequest

__all__ = ["BatchLine", "BatchScreen", "batch", "batch_place", "next_in_batch", "parse_batch"]


@dataclass(frozen=True, slots=True)
class BatchLine:
    """One medicine over the whole batch: what is still to fetch, for how many cards, and the first of them ("" where it is done). `left`:
    what remains of split units, card by card, and is waste."""

    code: str
    name: str
    appearance: str
    unit: str
    whole: Fraction
    left: Fraction
    cards: int
    of: int
    url: str


@dataclass(frozen=True, slots=True)
class BatchScreen:
    """`next` is the first medicine that is not done; `splits`: something is still to be split, card by card."""

    where: str
    first: date
    cards: int
    lines: tuple[BatchLine, ...]
    next: BatchLine | None
    full: tuple[str, ...]
    splits: bool


def batch(request: BenchRequest) -> HttpResponse:
    """Every medicine of the batch that the address names. Raises Missing for what is no batch, or of which no card is at the bench."""
    written = request.GET.get("batch", "")[:230]
    day, home = parse_batch(written)
    cards = [load_card(number) for number in load_batch_cards(day, home)]
    if not cards:
        raise Missing("batch", written)
    codes = {content.medicine for card in cards for cavity in card.card.cavities for content in cavity.contents}
    medicines, country = load_catalogue(codes), load_rules(load_pharmacy().rules).profile.country
    lines = tuple(sorted((_line(medicines[code], cards, country, written) for code in codes), key=lambda one: (not one.url, one.name)))
    full = tuple(card.number for card in cards if not any(still_open([card.filled], code) for code in codes))
    where = load_home_names().get(home, home) if home else AT_HOME
    following, splits = next((one for one in lines if one.url), None), any(line.left for line in lines)
    return show(request, "fill/batch.html", BatchScreen(where, day, len(cards), lines, following, full, splits))


def parse_batch(written: str) -> tuple[date, HomeId | None]:
    """The day and the home. Raises Missing for what is no batch."""
    day, _, home = written.partition("~")
    try:
        return date.fromisoformat(day), HomeId(home) if home else None
    except ValueError as error:
        raise Missing("batch", written[:100]) from error


def batch_place(written: str) -> str:
    """The address of the batch's own page."""
    return f"{reverse('batch')}?{urlencode({'batch': written})}"


def next_in_batch(written: str, number: CardNumber, medicine: MedicineCode) -> CardNumber | None:
    """The card after this one, round and round, that still asks for the medicine; None where every card has it."""
    numbers = load_batch_cards(*parse_batch(written))
    at = numbers.index(number) + 1 if number in numbers else 0
    for other in (*numbers[at:], *numbers[:at]):
        if other != number and still_open([load_card_at_hand(other).filled], medicine):
            return other
    return None


def _line(medicine: Medicine, cards: Iterable[StoredCard], country: str, written: str) -> BatchLine:
    asking = [card for card in cards if any(c.medicine == medicine.code for cavity in card.card.cavities for c in cavity.contents)]
    still = [(card.number, cells) for card in asking if (cells := still_open([card.filled], medicine.code))]
    # Card by card: what is left of a halved unit is waste, and is not carried over to another person's card.
    draws = [draw_whole_units(asked.amount for asked in cells.values()) for _, cells in still]
    return BatchLine(
        code=medicine.code,
        name=named(medicine, country),
        appearance=described(medicine),
        unit=medicine.unit,
        whole=sum((Fraction(draw.whole) for draw in draws), Fraction(0)),
        left=sum((draw.leftover for draw in draws), Fraction(0)),
        cards=len(still),
        of=len(asking),
        url=next(_places(still, medicine.code, written), ""),
    )


def _places(still: Iterable[tuple[CardNumber, object]], medicine: MedicineCode, written: str) -> Iterator[str]:
    for number, _ in still:
        yield f"{reverse('fill', args=[number])}?{urlencode({'medicine': medicine, 'batch': written})}"
