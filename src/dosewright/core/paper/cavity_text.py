"""What one cavity's label says, as paragraphs: day and dosing time, each medicine with its amount (in full and shorter), the person."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from dosewright.core.packing.plan_values import Card, CardColumn, Content, PackedCavity
from dosewright.core.paper.dates import clock, long_day, month_day, year_day
from dosewright.core.paper.directions import number_style
from dosewright.core.paper.material import Material, Placed
from dosewright.core.paper.medicine_words import form_beyond_unit, named_short, placed_words
from dosewright.core.paper.when_needed import ONLY_WHEN_NEEDED, limit_words
from dosewright.core.paper.words import BIND, Para, bold, given, plain, tied
from dosewright.core.units.amount_words import format_count
from dosewright.core.units.finding import Fact
from dosewright.core.units.person import Person

__all__ = ["MEDICINE_SIZE", "CavityLabel", "CavityTexts", "cavity_texts", "content_para", "foot_paras", "heading_paras", "lot_words"]

TIME_SIZE, MEDICINE_SIZE = 9.5, 9.0  # points at full size; the floor is the card format's


@dataclass(frozen=True, slots=True)
class CavityLabel:
    """What one label is about: the place on the card, its day, and the cavity's contents (none: nothing to take then)."""

    card: Card
    column: CardColumn
    day: date
    cavity: PackedCavity | None

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
    floor = float(material.request.format.smallest_type)
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
    floor = float(material.request.format.smallest_type)
    if label.cavity is None:
        nothing = (Para((plain("nothing to take"),), MEDICINE_SIZE, floor),)
        return [nothing, nothing]
    contents = label.cavity.contents
    return [
        tuple(content_para(content, material, _lots(label, content, material), short=short) for content in contents)
        for short in (False, True)
    ]


def _lots(label: CavityLabel, content: Content, material: Material) -> tuple[Placed, ...]:
    """Lots and expiries, where the profile requires them at each cavity: known only once the card was filled."""
    if "line.lot_expiry" not in material.request.profile.required():
        return ()
    return material.placed.get((label.card.number, content.order), ())


def lot_words(placed: Placed) -> str:
    """ "lot K2207, expires 30 June 2027"."""
    return f"lot {placed.lot}, expires {year_day(placed.expiry)}"


def content_para(content: Content, material: Material, lots: Sequence[Placed] = (), *, short: bool) -> Para:
    """One medicine with its amount; the shorter form leaves out the unit and what the form says besides it, unless they tell it apart."""
    medicine = material.medicine(content.medicine)
    country, floor = material.country, float(material.request.format.smallest_type)
    style = number_style(material)
    if short and not material.has_a_double(medicine):
        amount, name = format_count(content.quantity.count, style), named_short(medicine, country)
    else:
        amount, name = placed_words(medicine, content.quantity, style), f"{named_short(medicine, country)} {form_beyond_unit(medicine)}"
    return Para((bold(amount), tied(name), *(given(lot_words(placed)) for placed in lots)), MEDICINE_SIZE, floor, indent=2.0)
