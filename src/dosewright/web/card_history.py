"""A card's whole history on one screen that can be printed: by whom it was made, from which orders, everything that happened, every paper.

Found by scan, by number or by the person's name. `gather_history` is what the command `dosewright history` prints too.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction

from django.http import HttpResponse
from django.shortcuts import redirect

from dosewright.core.custody.chain import Entry, entry_hash
from dosewright.core.custody.event import Deed
from dosewright.core.custody.stage import Stage
from dosewright.core.units.amount_words import format_quantity
from dosewright.core.units.ids import CardNumber
from dosewright.core.units.quantity import Quantity
from dosewright.store.card_history import CardInBrief, entries_about, find_cards
from dosewright.store.cards import load_set
from dosewright.store.made_papers import load_made_lately
from dosewright.store.near_misses import load_near_misses
from dosewright.store.orders import load_order
from dosewright.store.papers import StoredPaper, load_papers
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.happened import Happened, happened
from dosewright.web.near_miss_words import KINDS, NOTICED, ORIGINS
from dosewright.web.order_lines import OrderLine, order_line
from dosewright.web.page import Strip, show
from dosewright.web.paper import TITLES
from dosewright.web.request import BenchRequest
from dosewright.web.rights import address_named

__all__ = ["CardHistory", "FoundScreen", "HandsLine", "HeldLine", "HistoryPaper", "card_history", "gather_history", "history"]

_MOST = 200  # cards found
_HANDS = (Deed.PLANNED, Deed.PRINTED, Deed.PLACED, Deed.TAKEN_OUT, Deed.FILLED, Deed.CHECKED, Deed.SENT_BACK, Deed.SEALED, Deed.RELEASED,
          Deed.HANDED_OVER, Deed.RECEIVED, Deed.RETURNED, Deed.DECIDED, Deed.WITHDRAWN, Deed.DESTROYED)  # fmt: skip


@dataclass(frozen=True, slots=True)
class HandsLine:
    """Who did it, in order, each once."""

    deed: str
    who: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HeldLine:
    """A lot that lies in the card now."""

    medicine: str
    lot: str
    expiry: date
    amount: str
    cavities: int


@dataclass(frozen=True, slots=True)
class HistoryPaper:
    """Paper that was printed for the card's set or made about it: the hash is of the bytes that are kept. `sheet`: its number, or None."""

    title: str
    at: datetime
    by: str
    basis: str
    sha256: str
    sheet: int | None
    kind: str
    copy: int = 1


@dataclass(frozen=True, slots=True)
class CardHistory:
    """Everything on record about a card. `unsound`: entries that do not match their own hash. `opens`: whoever looks may open its paper."""

    number: str
    stage: Stage
    out_of_date: bool
    first: date
    last: date
    beyond_use: date
    set_id: int
    planned_at: datetime
    planned_by: str
    basis: str
    rules: str
    hands: tuple[HandsLine, ...]
    orders: tuple[OrderLine, ...]
    held: tuple[HeldLine, ...]
    happened: tuple[Happened, ...]
    papers: tuple[HistoryPaper, ...]
    near_misses: tuple[str, ...]
    unsound: tuple[int, ...]
    strip: Strip
    opens: bool = False


@dataclass(frozen=True, slots=True)
class FoundScreen:
    """`word` is what was looked for; `more` whether there are more cards than are shown."""

    word: str
    cards: tuple[CardInBrief, ...]
    more: bool


def history(request: BenchRequest) -> HttpResponse:
    """A scan or a number goes to that card; a name to the person's cards."""
    word = " ".join(request.GET.get("scan", "").split())[:200]
    found = find_cards(word, _MOST + 1)
    if len(found) == 1:
        return redirect("card-history", found[0].number)
    return show(request, "card/find_history.html", FoundScreen(word, found[:_MOST], len(found) > _MOST))


def card_history(request: BenchRequest, number: str) -> HttpResponse:
    """The page."""
    found = gather_history(CardNumber(number))
    found = replace(found, opens=request.actor.role in address_named("paper-file").readers)
    return show(request, "card/history.html", found, strip=found.strip)


def gather_history(number: CardNumber) -> CardHistory:
    """Everything on record about the card. Raises Missing."""
    found = load_bench_card(number)
    stored, entries = found.stored, entries_about(found.stored)
    made = load_set(stored.set_id)
    mine = [entry for entry in entries if entry.subject_kind == "card"]
    return CardHistory(
        number=stored.number,
        stage=stored.state.stage,
        out_of_date=stored.state.out_of_date,
        first=stored.card.first,
        last=stored.card.last,
        beyond_use=stored.card.beyond_use,
        set_id=stored.set_id,
        planned_at=made.planned_at,
        planned_by=made.planned_by,
        basis=found.basis,
        rules=stored.rules,
        hands=tuple(_hands(mine)),
        orders=tuple(_orders(found)),
        held=tuple(_held(found)),
        happened=tuple(happened(entry, found) for entry in entries),
        papers=_papers(found, made.planned_at),
        near_misses=tuple(
            f"{KINDS[one.kind]}, {NOTICED[one.noticed]}, {ORIGINS[one.origin]}" for one in reversed(load_near_misses(stored.number))
        ),
        unsound=tuple(entry.sequence for entry in entries if entry_hash(entry) != entry.hash),
        strip=found.strip,
    )


def _hands(entries: Sequence[Entry]) -> Iterable[HandsLine]:
    for deed in _HANDS:
        who = dict.fromkeys(f"{entry.who_name}, {entry.who_role}" for entry in entries if entry.event == deed.value)
        if who:
            yield HandsLine(deed.value, tuple(who))


def _orders(found: BenchCard) -> Iterable[OrderLine]:
    orders = {content.order for cavity in found.stored.card.cavities for content in cavity.contents}
    return (order_line(load_order(order), found.rules.profile, found.times_of(order)) for order in sorted(orders))


def _held(found: BenchCard) -> Iterable[HeldLine]:
    groups: dict[tuple[str, str, date], list[tuple[Fraction, tuple[int, int]]]] = {}
    for units in found.stored.state.placed:
        key = (units.medicine, units.lot, units.expiry)
        groups.setdefault(key, []).append((units.amount, (units.cell.row, units.cell.column)))
    for (code, lot, expiry), parts in sorted(groups.items()):
        medicine = next(one for one in found.medicines.values() if one.code == code)
        amount = format_quantity(Quantity(sum((amount for amount, _ in parts), Fraction(0)), medicine.unit))
        yield HeldLine(found.name_of(medicine.code), lot, expiry, amount, len({spot for _, spot in parts}))


def _titled(paper: StoredPaper) -> str:
    """ "Card labels, copy 2: the first tore"."""
    why = f": {paper.reason}" if paper.reason else ""
    return f"{TITLES[paper.kind]}, copy {paper.copy}{why}"


def _papers(found: BenchCard, since: datetime) -> tuple[HistoryPaper, ...]:
    """In order of time: printed for the set; made about it, its person or their home since the set was planned."""
    stored = found.stored
    printed = [
        HistoryPaper(_titled(one), one.made_at, one.made_by, one.basis, one.sha256, None, one.kind, one.copy)
        for one in load_papers(stored.set_id)
    ]
    subjects = [f"set {stored.set_id}", f"person {stored.person.id}", *([f"home {stored.person.home}"] if stored.person.home else [])]
    sheets = [
        HistoryPaper(one.name.title, one.made_at, one.made_by, one.basis, one.sha256, one.id, one.name.kind)
        for subject in subjects
        for one in load_made_lately(subject, _MOST)
        if one.made_at >= since
    ]
    return tuple(sorted([*printed, *sheets], key=lambda one: one.at))
