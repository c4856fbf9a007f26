"""What a card's header says, as paragraphs: whose card it is and for when, each medicine, what is elsewhere, who supplied it.

Order and sizes after USP <17>: the person, the medicine, its strength and directions first and large; the rest below and smaller.
Comes in: the plan and the request. Goes out: `HeaderText`, not yet measured.
"""

from dataclasses import dataclass

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Card, PersonPlan
from dosewright.core.paper.apart_marks import NAME_APART
from dosewright.core.paper.border import Pattern
from dosewright.core.paper.contents import Held, held_in, medicines_elsewhere, orders_alongside
from dosewright.core.paper.copies import copy_mark, copy_paras
from dosewright.core.paper.dates import span_of_days, year_day
from dosewright.core.paper.directions import directions_of
from dosewright.core.paper.marks import CAUTION, CHILDREN, fingerprint, second_identifiers
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import closed, described, named, sentence, total_words
from dosewright.core.paper.when_needed import ONLY_WHEN_NEEDED
from dosewright.core.paper.words import Para, Words, bold, given, given_bold, plain
from dosewright.core.units.person import Person
from dosewright.core.units.safe_text import tidy_text

__all__ = ["HeaderText", "corner_paras", "header_text"]

# Points: full size and floor. USP <17> asks for 11 point sans serif or more for what matters; EU readability guideline: never below 7.
NAME, NAME_FLOOR = 18.0, 14.0
MATTER = 12.0  # its floor is the profile's
DETAIL, DETAIL_FLOOR = 9.5, 7.5
SMALL, SMALL_FLOOR = 7.5, 7.0
_NAMES = 6  # of a list, to a paragraph


@dataclass(frozen=True, slots=True)
class HeaderText:
    """`strip` heads every header of the card; `entries` flow over as many headers as they need, each kept whole; `foot` closes each.
    `pattern`: the border of somebody whose card could be taken for another's. `copy`: "copy 2"."""

    strip: tuple[Para, ...]
    days: tuple[Para, ...]
    entries: tuple[tuple[Para, ...], ...]
    foot: tuple[Para, ...]
    number: str
    which: str
    fingerprint: str
    pattern: Pattern | None = None
    copy: str = ""


def header_text(card: Card, person: PersonPlan, material: Material, *, keyed: bool = False) -> HeaderText:
    """All that the header must say; empty values are left out here and found by `check_fields`. `keyed`: its medicines are numbered."""
    who = material.person(person.person)
    number = person.cards.index(card) + 1
    held = held_in(card, material)
    entries = [_medicine(one, material, n if keyed else 0) for n, one in enumerate(held, start=1)]
    entries += _list("Supplied alongside, not in this card", tuple(m for _, m in orders_alongside(person, material)), material)
    entries += _list("In another card of this set", medicines_elsewhere(card, person, material), material)
    which = f"card {number} of {len(person.cards)}" if len(person.cards) > 1 else "the only card"
    apart = material.apart.get(person.person)
    strip, foot = _strip(who, material), _foot(material)
    corner = (card.number, which, fingerprint(material))
    pattern = apart.pattern if apart else None
    return HeaderText(strip, _days(card, material.smallest_on_header), tuple(entries), foot, *corner, pattern, copy_mark(material.copy))


def _strip(person: Person, material: Material) -> tuple[Para, ...]:
    others = second_identifiers(person, material)
    name, floor = NAME_APART if person.id in material.apart else (NAME, NAME_FLOOR)
    return (
        Para((given_bold(person.name),), name, floor),
        *((Para((given(others),), 11.0, material.smallest_on_header),) if others else ()),
        Para((plain(CHILDREN),), 8.5, DETAIL_FLOOR),
    )


def _days(card: Card, floor: float) -> tuple[Para, ...]:
    if card.as_needed:
        return (
            Para((bold(f"{ONLY_WHEN_NEEDED}: nothing in this card is due at any time."),), 11.5, floor),
            Para((plain(f"One cavity is one dose. Use no later than {year_day(card.beyond_use)}."),), DETAIL, DETAIL_FLOOR),
        )
    return (
        Para((bold(span_of_days(card.first, card.last)),), 11.5, floor),
        Para((plain(f"Use no later than {year_day(card.beyond_use)}."),), DETAIL, DETAIL_FLOOR),
    )


def corner_paras(text: HeaderText, number: int, of: int) -> tuple[Para, ...]:
    """The card's number, which card of the set it is, which of its headers this is, which copy, the plan's fingerprint."""
    header = (Para((bold(f"header {number} of {of}"),), 9.0, DETAIL_FLOOR),) if of > 1 else ()
    copy = (Para((bold(text.copy),), 9.0, DETAIL_FLOOR),) if text.copy else ()
    return (
        Para((given_bold(text.number),), MATTER, DETAIL_FLOOR),
        Para((plain(text.which),), 9.0, DETAIL_FLOOR),
        *header,
        *copy,
        Para((given(text.fingerprint),), SMALL, SMALL_FLOOR),
    )


def _medicine(held: Held, material: Material, number: int) -> tuple[Para, ...]:
    medicine, order, country = held.medicine, held.order, material.country
    cautions = " ".join(sentence(tidy_text(caution, country)) for caution in medicine.cautions)
    directions = sentence(directions_of(order, material))
    floor = material.smallest_on_header
    return (
        Para((*((bold(f"Medicine {number}:"),) if number else ()), bold(named(medicine, country))), MATTER, floor),
        *((Para((plain(directions),), MATTER, floor),) if directions else ()),
        *((Para((plain(cautions),), DETAIL + 0.5, DETAIL_FLOOR),) if cautions else ()),
        Para(_particulars(held), DETAIL, DETAIL_FLOOR, after=1.2),
    )


def _particulars(held: Held) -> tuple[Words, ...]:
    """How it looks, how much is here, who prescribed it under which number, who made it."""
    medicine, order = held.medicine, held.order
    looks = described(medicine)
    parts: list[Words] = [given(sentence(looks))] if looks else []
    # Not "9 tablets in this card": after "marked W 1." that would read as 1.9.
    parts.append(plain(f"In this card: {total_words(medicine, held.total)}."))
    if order.prescriber:
        parts += [plain("Prescribed by"), given(f"{order.prescriber}.")]
    if order.rx_no:
        parts += [plain("Prescription"), given(f"{order.rx_no}.")]
    if medicine.maker:
        parts += [plain("Made by"), given(f"{medicine.maker}.")]
    return tuple(parts)


def _list(lead: str, medicines: tuple[Medicine, ...], material: Material) -> list[tuple[Para, ...]]:
    """The medicines' names after a lead, some to a paragraph so that a long list can go on in the next column."""
    names = [named(medicine, material.country) for medicine in medicines]
    some = [names[n : n + _NAMES] for n in range(0, len(names), _NAMES)]
    return [(Para((bold(f"{lead}:"), plain(closed("; ".join(few)))), DETAIL, 8.0, after=1.2),) for few in some]


def _foot(material: Material) -> tuple[Para, ...]:
    pharmacy = material.pharmacy
    parts = (pharmacy.name, pharmacy.address, f"telephone {pharmacy.phone}" if pharmacy.phone else "", pharmacy.registration)
    known = ", ".join(part for part in parts if part)
    supplier = (given_bold(f"{known}."),) if known else ()
    return (
        Para((*supplier, plain(f"Prepared {year_day(material.request.prepared_on)}.")), 8.5, DETAIL_FLOOR),
        *copy_paras(material.copy, 8.5, DETAIL_FLOOR),
        Para((plain(CAUTION),), SMALL, SMALL_FLOOR),
    )
