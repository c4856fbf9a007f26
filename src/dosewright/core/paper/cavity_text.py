"""What one cavity's label says, as paragraphs: day and dosing time, each medicine with its amount (in full and shorter), the person."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from dosewright.core.packing.plan_values import Card, CardColumn, Content, PackedCavity
from dosewright.core.paper.contents import held_in
from dosewright.core.paper.dates import clock, long_day, month_day, year_day
from dosewright.core.paper.directions import number_style
from dosewright.core.paper.joints import BIND
from dosewright.core.paper.material import Material, Placed
from dosewright.core.paper.medicine_words import form_beyond_unit, named_short, placed_words
from dosewright.core.paper.when_needed import ONLY_WHEN_NEEDED, limit_words
from dosewright.core.paper.words import Para, Words, amount, bold, given, plain, tied
from dosewright.core.units.amount_words import format_count
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import OrderId
from dosewright.core.units.person import Person

__all__ = [
    "MEDICINE_SIZE",
    "CavityLabel",
    "CavityTexts",
    "cavity_texts",
    "content_para",
    "foot_paras",
    "heading_paras",
    "key_numbers",
    "keyed_allowed",
    "keyed_words",
    "lot_words",
    "short_form_allowed",
]

TIME_SIZE, MEDICINE_SIZE = 9.5, 9.0  # points at full size; the floor is the card format's


@dataclass(frozen=True, slots=True)
class CavityLabel:
    """What one label is about: the place on the card, its day, and the cavity's contents (none: nothing to take then)."""

    card: Card
    column: CardColumn
    day: date
    cavity: PackedCavity | None
    keyed: bool = False  # medicines by their number on the header, where no other form fits

    @property
    def where(self) -> dict[str, Fact]:
        row = self.cavity.row if self.cavity else (self.day - self.column.first).days + 1
        return {"card": self.card.number, "row": row, "column": self.column.column, "date": self.day, "slot": self.column.slot}


@dataclass(frozen=True, slots=True)
class CavityTexts:
    """The label's paragraphs: the heading, the medicines in full and in shorter form, the foot."""

    heading: tuple[Para, ...]
    forms: list[tuple[Para, ...]]
    foot: tuple[Para, ...]


def cavity_texts(label: CavityLabel, person: Person, material: Material) -> CavityTexts:
    """All paragraphs of the label."""
    return CavityTexts(heading_paras(label.day, label.column, material), _forms(label, material), foot_paras(person))


def heading_paras(on: date, column: CardColumn, material: Material) -> tuple[Para, ...]:
    """The day in words; the clock time and its word. Where nothing is due: that it is for when it is needed, and how much at most."""
    floor = material.smallest_in_cavity
    if column.when_needed:
        limit = limit_words(column.when_needed, material)
        return Para((bold(ONLY_WHEN_NEEDED),), TIME_SIZE, floor), Para((plain(limit),), MEDICINE_SIZE, floor)
    day = long_day(on) if material.request.format.roll else month_day(on)
    when = f"{clock(column.time)} {column.slot}"
    if column.parts > 1:
        when += f", part{BIND}{column.part}{BIND}of{BIND}{column.parts}"
    return Para((bold(day),), TIME_SIZE, floor), Para((bold(when),), TIME_SIZE, floor)


def foot_paras(person: Person) -> tuple[Para, ...]:
    """Whose card it is: labels of two people must not change places."""
    return (Para((given(person.name),), 7.0, 7.0),)


def _forms(label: CavityLabel, material: Material) -> list[tuple[Para, ...]]:
    floor = material.smallest_in_cavity
    if label.cavity is None:
        nothing = (Para((plain("nothing to take"),), MEDICINE_SIZE, floor),)
        return [nothing, nothing]
    contents = label.cavity.contents
    if label.keyed:
        keys = key_numbers(label.card, material)
        contents = tuple(sorted(contents, key=lambda content: keys[content.order]))
        words = [keyed_words(content, keys, material) for content in contents]
        paras = tuple(
            _with_lots((bold(text),), _lots(label, content, material), floor) for text, content in zip(words, contents, strict=True)
        )
        return [paras, paras]
    return [
        tuple(content_para(content, material, _lots(label, content, material), short=short) for content in contents)
        for short in (False, True)
    ]


def keyed_allowed(material: Material) -> bool:
    """Whether a cavity may name its medicines by number: not where the profile requires each product's name there."""
    return "cavity.contents" not in material.request.profile.required()


def short_form_allowed(material: Material) -> bool:
    """Whether a cavity may say "1 metformin 500 mg" where "1 tablet metformin 500 mg modified-release" does not fit."""
    return material.request.profile.permits("short_form_in_cavity")


def key_numbers(card: Card, material: Material) -> dict[OrderId, int]:
    """The numbers of the card's medicines, in the order in which its header lists them."""
    return {held.order.id: number for number, held in enumerate(held_in(card, material), start=1)}


def keyed_words(content: Content, keys: Mapping[OrderId, int], material: Material) -> str:
    """ "1 tablet, medicine 3": the word keeps the number from being read as an amount."""
    much = placed_words(material.medicine(content.medicine), content.quantity, number_style(material))
    return f"{much}, medicine{BIND}{keys[content.order]}"


def _lots(label: CavityLabel, content: Content, material: Material) -> tuple[Placed, ...]:
    """Lots and expiries, where the profile requires them at each cavity: known only once the card was filled."""
    if "line.lot_expiry" not in material.request.profile.required():
        return ()
    placed, row = material.placed.get((label.card.number, content.order), ()), label.where["row"]
    return tuple(one for one in placed if one.lies_in(int(str(row)), label.column.column))


def lot_words(placed: Placed) -> str:
    """ "lot K2207, expires 30 June 2027"."""
    return f"lot {placed.lot}, expires {year_day(placed.expiry).replace(' ', BIND)}"


def content_para(content: Content, material: Material, lots: Sequence[Placed] = (), *, short: bool) -> Para:
    """One medicine with its amount; the shorter form leaves out the unit and what the form says besides it, unless they tell it apart."""
    medicine = material.medicine(content.medicine)
    country, floor = material.country, material.smallest_in_cavity
    style = number_style(material)
    if short and short_form_allowed(material) and not material.has_a_double(medicine):
        much, name = format_count(content.quantity.count, style), named_short(medicine, country)
    else:
        much, name = placed_words(medicine, content.quantity, style), f"{named_short(medicine, country)} {form_beyond_unit(medicine)}"
    return _with_lots((amount(much), tied(name)), lots, floor)


def _with_lots(words: tuple[Words, ...], lots: Sequence[Placed], floor: float) -> Para:
    """A semicolon parts the strength from the lots, and one lot from the next: "500 mg lot 20" would run together."""
    every = [*words, *(given(lot_words(placed)) for placed in lots)]
    parted = (replace(one, text=f"{one.text};") if len(words) <= n < len(every) else one for n, one in enumerate(every, start=1))
    return Para(tuple(parted), MEDICINE_SIZE, floor, indent=2.0)
