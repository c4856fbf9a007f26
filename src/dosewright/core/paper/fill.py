"""Fill sheets of one person's set: medicine by medicine in the order of fetching, what to take from the bottle, and where it goes.

Comes in: one person of a plan. Goes out: A4 pages and findings. One block for each medicine and each kind of card: cards that take
it alike share a map. The blocks of a medicine follow one another: it is placed in all cards before the next bottle is opened.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate

from dosewright.core.packing.plan_values import Card, PersonPlan
from dosewright.core.paper.dates import short_day
from dosewright.core.paper.drawn import Drawn, join, once
from dosewright.core.paper.fetch import Fetch, already_in, fetches, pieces
from dosewright.core.paper.fill_map import CardMap, draw_card_map
from dosewright.core.paper.joints import bind_all
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import described, named, sentence, total_words
from dosewright.core.paper.page import About, Line, Page, Rect, Stroke
from dosewright.core.paper.sheet import A4, Sheet, finish_sheets, frame_sheet, set_text
from dosewright.core.paper.words import Para, bold, given, given_bold, plain
from dosewright.core.units.amount_words import plural_unit
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber
from dosewright.core.units.person import Person

__all__ = ["draw_fill"]

_TEXT = 62.0  # mm for what to fetch, at the left of the map
_BLOCK = 79.0  # mm a block: three to a page
_GAP = 4.0
_ALIKE_LETTERS = (10_000, 160, 120, 80, 40)  # of look-alikes' names in a block: all, then by the line fewer


@dataclass(frozen=True, slots=True)
class _Block:
    """One medicine in the cards that take it alike: its place in the order of fetching (from 1, of how many), and the map."""

    fetch: Fetch
    number: int
    of: int
    map: CardMap
    set: tuple[CardNumber, ...]  # all cards of the person's set
    first: bool  # of the medicine's blocks: the others take from what was fetched


def draw_fill(person: PersonPlan, material: Material) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """All fill sheets of the set; none where no card is packed."""
    if not person.cards:
        return (), ()
    who = material.person(person.person)
    single = person.cards[0].number if len(person.cards) == 1 else ""
    frame = frame_sheet(Sheet("Fill sheet", single, A4, f"{len(person.cards)} cards" if not single else ""), who, material)
    blocks = list(_blocks(person, material))
    per_page = max(1, int((frame.room.height + _GAP) // (_BLOCK + _GAP)))
    parts = [join(_page_blocks(blocks[n : n + per_page], frame.room, who, material)) for n in range(0, len(blocks), per_page)]
    pages = finish_sheets(parts, frame, A4, material, {"person": person.person, "sheet": "fill"})
    return pages, once(finding for part in (frame.edges, *parts) for finding in part.findings)


def _blocks(person: PersonPlan, material: Material) -> Iterator[_Block]:
    fetched = fetches(person, material)
    numbers = tuple(card.number for card in person.cards)
    for n, fetch in enumerate(fetched):
        for k, card_map in enumerate(_maps(fetched, n, ("fill", person.person, fetch.medicine.code), material)):
            yield _Block(fetch, n + 1, len(fetched), card_map, numbers, first=k == 0)


def _maps(fetched: tuple[Fetch, ...], number: int, about: About, material: Material) -> tuple[CardMap, ...]:
    """One map for all cards with the same dosing times, amounts and pieces in; pouches, each dated, are drawn strip by strip."""
    found: dict[object, CardMap] = {}
    for card, amounts in fetched[number].cards:
        already = already_in(fetched, number, card.number)
        key = (_shape(card), tuple(amounts.items()), tuple(already.items()))
        key_of_card: object = card.number if material.request.format.roll else key
        cards = found[key_of_card].cards if key_of_card in found else ()
        found[key_of_card] = CardMap((*cards, card), amounts, already, about)
    return tuple(found.values())


def _shape(card: Card) -> tuple[object, ...]:
    """What two cards must have in common to share a map: weekday of the first row, and the columns' dosing times and order."""
    columns = ((c.column, c.slot, c.time, c.part, c.parts, (c.first - card.first).days) for c in card.columns)
    return card.first.weekday(), *columns


def _page_blocks(blocks: list[_Block], room: Rect, person: Person, material: Material) -> Iterator[Drawn]:
    for n, block in enumerate(blocks):
        top = room.top + n * (_BLOCK + _GAP)
        if n:
            yield Drawn(lines=(Line(room.left, top - _GAP / 2, room.right, top - _GAP / 2, Stroke.HAIR),))
        yield _set_block(block, Rect(room.left, top, _TEXT - 4, _BLOCK), person, material)
        place = Rect(room.left + _TEXT, top, room.width - _TEXT, _BLOCK - 5)
        yield draw_card_map(block.map, place, person, material)
        caption = Rect(room.left + _TEXT, top + _BLOCK - 4.5, room.width - _TEXT, 4.5)
        yield set_text((Para((plain(_caption(material)),), 7.5, 7.0),), caption, material, person)


def _set_block(block: _Block, place: Rect, person: Person, material: Material) -> Drawn:
    """With all its look-alikes named, or else with as many as there is room for: who has many white round tablets must get a fill sheet."""
    tries = (set_text(_text(block, material, letters), place, material, person) for letters in _ALIKE_LETTERS)
    fitting = next((drawn for drawn in tries if not drawn.findings), None)
    return fitting or set_text(_text(block, material, 0), place, material, person)


def _text(block: _Block, material: Material, letters: int) -> tuple[Para, ...]:
    """`letters`: how many of them look-alikes' names may take."""
    medicine, fetch = block.fetch.medicine, block.fetch
    looks = described(medicine)
    whole = f"{fetch.whole:,} {plural_unit(medicine.unit, fetch.total)}"
    take = f"Fetch {whole}" if block.first else f"From the {whole} fetched"
    return (
        Para((plain(f"Medicine {block.number} of {block.of}"),), 9.0, 7.5, after=1.0),
        Para((bold(named(medicine, material.country)),), 15.0, 10.0, after=1.0),
        *((Para((given(sentence(looks)),), 10.5, 8.0, after=2.0),) if looks else ()),
        Para((bold(f"{take}."),), 13.0, 10.0),
        *(_cutting(fetch) if block.first else ()),
        Para((plain(_put(block)),), 10.5, 8.0, after=1.0),
        *_cards(block),
        *_alike(fetch, material, letters),
        Para((plain("Lot"), given("______________"), plain("expiry"), given("___________")), 10.0, 8.0, after=1.0),
        Para((plain("Placed by"), given("___________________")), 10.0, 8.0, after=1.0),
        Para((plain("Checked by"), given("__________________")), 10.0, 8.0),
    )


def _put(block: _Block) -> str:
    amounts = block.map.now
    total = total_words(block.fetch.medicine, sum(amounts.values(), Fraction()))
    placed = sum(pieces(amount) for amount in amounts.values())
    cavities = f"{len(amounts)} {'cavity' if len(amounts) == 1 else 'cavities'}"
    which = f"In each of these {len(block.map.cards)} cards" if len(block.map.cards) > 1 else "In this card"
    return f"{which}: {total} as {placed} {'piece' if placed == 1 else 'pieces'} in {cavities}."


def _cards(block: _Block) -> tuple[Para, ...]:
    """The cards by number, which of the set each is, and from when it runs."""
    lines = [
        Para(
            (given_bold(f"{card.number},"), plain(f"{block.set.index(card.number) + 1} of {len(block.set)}, {_from(card)}")),
            9.0,
            7.5,
            after=2.0 if card is block.map.cards[-1] else 0.0,
        )
        for card in block.map.cards
    ]
    return tuple(lines)


def _from(card: Card) -> str:
    return bind_all(f"from {short_day(card.first)}")


def _cutting(fetch: Fetch) -> tuple[Para, ...]:
    """What is cut, and what is left over: a part that stays must be accounted for."""
    cut = [amount for _, amounts in fetch.cards for amount in amounts.values() if amount.denominator != 1]
    if not cut:
        return ()
    left = fetch.whole - fetch.total
    over = f", {total_words(fetch.medicine, left)} left over" if left else ", nothing left over"
    return (Para((plain(f"Cut for {len(cut)} cavities{over}."),), 10.5, 8.0),)


def _alike(fetch: Fetch, material: Material, letters: int) -> tuple[Para, ...]:
    if not fetch.alike:
        return ()
    names = [named(other, material.country) for other in fetch.alike]
    shown = _first_of(names, letters)
    more = f" and {len(names) - len(shown)} more" if len(shown) < len(names) else ""
    head = "Looks like another medicine of this set:" if not more else f"Looks like {len(names)} other medicines of this set:"
    keep = "keep its bottle closed." if len(names) == 1 else "keep their bottles closed."
    return (Para((bold(head), plain(f"{', '.join(shown)}{more}; {keep}")), 10.5, 8.0, after=2.0),)


def _first_of(names: Sequence[str], letters: int) -> list[str]:
    """As many whole names as so many letters hold, at least one."""
    ends = accumulate(len(name) + 2 for name in names)
    return [name for at, (name, end) in enumerate(zip(names, ends, strict=True)) if at == 0 or end <= letters]


def _caption(material: Material) -> str:
    if material.request.format.roll:
        return "The pouches in order of time. Large: place now. Small: pieces in already."
    if material.request.format.filled_from_back:
        return "Seen from the back, as it lies to be filled: left and right are exchanged. Large: place now. Small: in already."
    return "The card as it lies on the bench, labels to you. Large: place now. Small: pieces in already."
