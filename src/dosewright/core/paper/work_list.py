"""The work list of a change: what comes out of which cavity of which card and what goes in, medicine by medicine, with places to sign.

Comes in: the work on one person's cards as values, and the material of the plan after the change. Goes out: A4 pages and findings. First a
page that says what becomes of each card and what to fetch; then a block for each card and medicine with two maps of the card side by side,
what to take out and what to put in. New cards have fill sheets, as on a first filling.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from dosewright.core.packing.plan_values import Card, PersonPlan
from dosewright.core.paper.datamatrix import code_at
from dosewright.core.paper.dates import clock, long_day
from dosewright.core.paper.drawn import Drawn, join, once
from dosewright.core.paper.fetch import Amounts, pieces, whole_units
from dosewright.core.paper.fill_map import CardMap, draw_card_map
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import described, named, sentence, total_words
from dosewright.core.paper.page import Line, Page, Rect, Stroke
from dosewright.core.paper.setting import setting_of
from dosewright.core.paper.sheet import A4, Sheet, finish_sheets, frame_sheet, set_text
from dosewright.core.paper.words import Para, bold, given, given_bold, plain
from dosewright.core.units.amount_words import plural_unit
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, MedicineCode
from dosewright.core.units.person import Person

__all__ = ["WASTE_CODE", "CardWork", "MedicineWork", "WorkList", "draw_work"]

_BLOCK = 118.0  # mm a block
_A_PAGE = 2
_TEXT = 24.0  # mm of it for what to do, above the maps
_GAP = 4.0
WASTE_CODE = "WASTE-1"  # a scanner is known by six keys or more
_CODE = 34.0  # mm beside the text for it
_CARDS_A_PAGE = 7  # on the page that says what becomes of each

_DEEDS = {
    "open": "Open the cavities named on the next sheets, and no others; put them right; label and seal them again.",
    "header": "Leave it closed. Stick the new header over the old one.",
    "recall": "Call it back. When it is here: open the cavities named on the next sheets, put them right, label and seal them again.",
    "move": "Put it right as on the next sheets, then carry what is left, cavity by cavity, to the new card. Withdraw the old one.",
    "afresh": "Withdraw it; what is left in it is waste. Fill the new card by its fill sheet.",
    "add": "A new card beside the others. Fill it by its fill sheet.",
    "wait": "Leave it as it is. Tell whoever uses it what its header does not say.",
}


@dataclass(frozen=True, slots=True)
class MedicineWork:
    """One medicine in one card: what leaves which cavity, what goes in, and pieces of other medicines that stay there meanwhile."""

    card: Card
    medicine: MedicineCode
    out: Amounts
    into: Amounts
    others: Mapping[tuple[int, int], int]


@dataclass(frozen=True, slots=True)
class CardWork:
    """One card (as it was) and what is done with it; `new`: numbers of the cards that take its place, or of the added one.

    `deed`: open, header, recall, move, afresh, add or wait. `card` is None for an added card.
    """

    deed: str
    card: Card | None
    new: tuple[CardNumber, ...]
    medicines: tuple[MedicineWork, ...]


@dataclass(frozen=True, slots=True)
class WorkList:
    """One person's work. `fresh`: the new cards, to be filled. `drawn` and `wasted`: units in all, by medicine."""

    person: PersonPlan
    at: Moment
    cards: tuple[CardWork, ...]
    drawn: Mapping[MedicineCode, tuple[Fraction, ...]]
    wasted: Mapping[MedicineCode, Fraction]


def draw_work(work: WorkList, material: Material) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """The pages of the list; the fill sheets of new cards are `draw_fill`'s."""
    who = material.person(work.person.person)
    frame = frame_sheet(Sheet("Work list after a change", "", A4), who, material)
    parts = [join(part) for part in _summary(work, frame.room, who, material)]
    blocks = [one for card in work.cards for one in card.medicines]
    for n in range(0, len(blocks), _A_PAGE):
        parts.append(join(_blocks(blocks[n : n + _A_PAGE], (n, len(blocks)), frame.room, who, material)))
    pages = finish_sheets(parts, frame, A4, material, {"person": work.person.person, "sheet": "work"})
    return pages, once(finding for part in (frame.edges, *parts) for finding in part.findings)


def _summary(work: WorkList, room: Rect, who: Person, material: Material) -> Iterator[Iterator[Drawn]]:
    when = f"{clock(work.at.time)}, " if work.at.time.hour or work.at.time.minute else ""
    lead = Para((bold(f"Doses from {when}{long_day(work.at.day)} on follow the new orders."),), 13.0, 10.0, after=2.0)
    cards = [para for card in work.cards for para in _card_paras(card)]
    units = [*_unit_paras(work, material), *_rules()]
    texts = [(lead, *cards[n : n + _CARDS_A_PAGE * 2]) for n in range(0, max(1, len(cards)), _CARDS_A_PAGE * 2)]
    texts += [tuple(units[n : n + 16]) for n in range(0, len(units), 16)] if len(cards) + len(units) > 22 else []
    if len(cards) + len(units) <= 22:
        texts[-1] = (*texts[-1], *units)
    for n, paras in enumerate(texts):
        yield iter((set_text(paras, _beside_code(room), material, who), *(_waste_code(room, who, material) if n == 0 else ())))


def _beside_code(room: Rect) -> Rect:
    return Rect(room.left, room.top, room.width - _CODE, room.height)


def _waste_code(room: Rect, who: Person, material: Material) -> Iterator[Drawn]:
    """What is scanned when units have gone to waste."""
    yield Drawn(codes=(code_at(WASTE_CODE, room.right, room.top, setting_of(material, who.id).dpi),))
    box = Rect(room.right - _CODE + 2, room.top + 12, _CODE - 2, 10)
    yield set_text((Para((plain("Scan when it is in the waste"),), 8.0, 7.0),), box, material, who)


def _card_paras(work: CardWork) -> tuple[Para, ...]:
    new = " and ".join(work.new)
    old = (plain("Card"), given_bold(work.card.number)) if work.card else (plain("New card"), given_bold(new))
    becomes = (plain("becomes"), given_bold(f"{new}.")) if work.card and work.new else ()
    return (Para((*old, *becomes), 12.0, 9.0), Para((plain(_DEEDS[work.deed]),), 10.5, 8.0, after=2.5))


def _unit_paras(work: WorkList, material: Material) -> Iterator[Para]:
    for code, amounts in work.drawn.items():
        medicine, total, whole = material.medicine(code), sum(amounts, Fraction()), whole_units(list(amounts))
        left = f"; {total_words(medicine, whole - total)} left over" if whole != total else ""
        cut = sum(amount.denominator != 1 for amount in amounts)
        cutting = f", cut for {cut} {'cavity' if cut == 1 else 'cavities'}{left}" if cut else ""
        fetch = f"fetch {whole:,} {plural_unit(medicine.unit, Fraction(whole))}{cutting}."
        yield Para((bold(f"{named(medicine, material.country)}:"), plain(fetch)), 11.0, 8.5, after=1.0)
    for code, total in work.wasted.items():
        medicine = material.medicine(code)
        said = f"{total_words(medicine, total)} out of cards, to be destroyed."
        yield Para((bold(f"{named(medicine, material.country)}:"), plain(said)), 11.0, 8.5, after=1.0)


def _rules() -> Iterator[Para]:
    yield Para((bold("What is taken out is waste. Nothing goes back into stock."),), 11.0, 9.0, after=2.0)
    for what in (
        "Every cavity that was opened, checked by",
        "Every other cavity, counted by",
        "Old labels and headers destroyed by",
        "Waste received by",
        "Released by (pharmacist)",
    ):
        yield Para((plain(what), given("______________________________")), 11.0, 9.0, after=2.0)


def _blocks(blocks: Sequence[MedicineWork], place: tuple[int, int], room: Rect, who: Person, material: Material) -> Iterator[Drawn]:
    for n, one in enumerate(blocks):
        top = room.top + n * (_BLOCK + _GAP)
        if n:
            yield Drawn(lines=(Line(room.left, top - _GAP / 2, room.right, top - _GAP / 2, Stroke.HAIR),))
        yield from _block(one, (place[0] + n + 1, place[1]), Rect(room.left, top, room.width, _BLOCK), who, material)


def _block(one: MedicineWork, step: tuple[int, int], box: Rect, who: Person, material: Material) -> Iterator[Drawn]:
    half = (box.width - 6) / 2
    yield set_text(_what(one, step, material), Rect(box.left, box.top, half, _TEXT), material, who)
    yield set_text(_signs(one, material), Rect(box.left + half + 6, box.top, half, _TEXT), material, who)
    for at, (title, amounts) in enumerate((("Take out", one.out), ("Put in", one.into))):
        left = box.left + at * (half + 6)
        yield set_text(
            (Para((bold(title if amounts else f"{title}: nothing"),), 10.5, 8.0),), Rect(left, box.top + _TEXT, half, 5), material, who
        )
        held = dict(one.others)
        place = Rect(left, box.top + _TEXT + 5, half, _BLOCK - _TEXT - 5)
        yield draw_card_map(CardMap((one.card,), amounts, held), place, who, material)


def _what(one: MedicineWork, step: tuple[int, int], material: Material) -> tuple[Para, ...]:
    medicine = material.medicine(one.medicine)
    looks = described(medicine)
    return (
        Para((plain(f"Step {step[0]} of {step[1]}, card"), given_bold(one.card.number)), 10.0, 8.0, after=0.5),
        Para((bold(named(medicine, material.country)),), 13.0, 9.0, after=0.5),
        *((Para((given(sentence(looks)),), 9.5, 8.0, after=0.5),) if looks else ()),
        Para((plain(_counts(one, material)),), 10.0, 8.0),
    )


def _counts(one: MedicineWork, material: Material) -> str:
    said = [_count("take out", one.out, one, material), _count("put in", one.into, one, material)]
    return sentence("; ".join(part for part in said if part))


def _count(verb: str, amounts: Amounts, one: MedicineWork, material: Material) -> str:
    if not amounts:
        return ""
    many, where = sum(pieces(amount) for amount in amounts.values()), len(amounts)
    words = total_words(material.medicine(one.medicine), sum(amounts.values(), Fraction()))
    cavities = f"{where} {'cavity' if where == 1 else 'cavities'}"
    return f"{verb} {words} as {many} {'piece' if many == 1 else 'pieces'}, {cavities}"


def _signs(one: MedicineWork, material: Material) -> tuple[Para, ...]:
    lot: Iterable[Para] = (
        (Para((plain("Lot"), given("_______________"), plain("expiry"), given("____________")), 10.0, 8.0, after=1.0),) if one.into else ()
    )
    return (
        *lot,
        Para((plain("Done by"), given("__________________________")), 10.0, 8.0, after=1.0),
        Para((plain("Checked by"), given("_______________________")), 10.0, 8.0, after=1.0),
        Para((plain(f"{_seen(material)} Large: this medicine. Small: pieces of others there."),), 7.5, 7.0),
    )


def _seen(material: Material) -> str:
    """How the maps lie: as on the fill sheets."""
    if material.request.format.roll:
        return "The pouches in order of time."
    if material.request.format.filled_from_back:
        return "Seen from the back, as for filling: left and right are exchanged."
    return "The card with its labels to you."
