"""The fields that a profile requires on a card's labels: each must have a value, and that value must be seen on the drawn labels (CV-1.7).

Comes in: the profile's field ids, the card, its drawn pages. Goes out: one `stop` finding for every field without a value or not printed.
A field id that nothing here knows is a finding too: what cannot be checked may not be passed over.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from dosewright.core.packing.plan_values import Card, Content, PackedCavity, PersonPlan
from dosewright.core.paper.cavity_text import key_numbers, keyed_allowed, keyed_words, lot_words
from dosewright.core.paper.contents import Held, held_in, orders_alongside
from dosewright.core.paper.dates import clock, long_day, month_day, year_day
from dosewright.core.paper.directions import directions_of, number_style
from dosewright.core.paper.marks import CHILDREN, second_identifiers
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import described, named, named_short, placed_words, sentence, total_words
from dosewright.core.paper.page import Page, Rect
from dosewright.core.paper.when_needed import ONLY_WHEN_NEEDED
from dosewright.core.units.amount_words import format_count
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.safe_text import tidy_text

__all__ = ["CARD_FIELDS", "CAVITY_FIELDS", "LINE_FIELDS", "check_fields"]


@dataclass(frozen=True, slots=True)
class _Scope:
    """One card of one person."""

    card: Card
    person: PersonPlan
    material: Material


# Texts that must be seen; an empty text means that the value is missing. No text: nothing to see for this card or line.
Texts = tuple[str, ...]


def _patient(scope: _Scope) -> Texts:
    return (scope.material.person(scope.person.person).name,)


def _second(scope: _Scope) -> Texts:
    return (second_identifiers(scope.material.person(scope.person.person), scope.material),)


def _pharmacy(value: Callable[[Material], str]) -> Callable[[_Scope], Texts]:
    """A stamped header has room for it: the pharmacist stamps it, and a `note` has said so."""
    return lambda scope: () if scope.material.pharmacy.by_stamp else (value(scope.material),)


def _not_packed(scope: _Scope) -> Texts:
    return tuple(named(medicine, scope.material.country) for _, medicine in orders_alongside(scope.person, scope.material))


def _day_slots(scope: _Scope) -> Texts:
    number = scope.card.number
    cavities = [c for c in scope.card.cavities if scope.material.cell_is_labelled(number, c.row, c.column)]
    if scope.card.as_needed:
        return (ONLY_WHEN_NEEDED,)
    return tuple(dict.fromkeys(text for c in cavities for text in (month_day(c.day), f"{clock(c.time)} {c.slot}")))


CARD_FIELDS: Mapping[str, Callable[[_Scope], Texts]] = {
    "patient.name": _patient,
    "patient.second_identifier": _second,
    "pharmacy.name": _pharmacy(lambda material: material.pharmacy.name),
    "pharmacy.address": _pharmacy(lambda material: material.pharmacy.address),
    "pharmacy.phone": _pharmacy(lambda material: material.pharmacy.phone),
    "pack.serial": lambda scope: (scope.card.number,),
    "pack.prepared_on": lambda scope: (f"Prepared {year_day(scope.material.request.prepared_on)}",),
    "pack.bud": lambda scope: (f"Use no later than {year_day(scope.card.beyond_use)}",),
    "pack.not_packed": _not_packed,
    "pack.child_safety": lambda _: (CHILDREN,),
    "cavity.day_slot": _day_slots,
    # What must stand in each cavity is looked for label by label, by `_check_cavities`; the finished PDF is recounted so too.
    "cavity.contents": lambda _: (),
    "cavity.unit_count": lambda _: (),
    # Who packed and who checked is the ledger's; paper has no part in it.
    "record.packer_checker": lambda _: (),
}


def _cautions(held: Held, material: Material) -> Texts:
    """A product may have no caution; that none is known is a `note` of its own, not a missing value."""
    return tuple(sentence(tidy_text(caution, material.country)) for caution in held.medicine.cautions)


def _lots(held: Held, material: Material) -> Texts:
    return tuple(lot_words(one) for one in material.placed.get((held.card, held.order.id), ())) or ("",)


LINE_FIELDS: Mapping[str, Callable[[Held, Material], Texts]] = {
    "line.rx_no": lambda held, _: (held.order.rx_no,),
    "line.name": lambda held, material: (tidy_text(held.medicine.name, material.country),),
    "line.strength": lambda held, material: (tidy_text(held.medicine.strength, material.country),),
    "line.form": lambda held, _: (held.medicine.form,),
    "line.manufacturer": lambda held, _: (held.medicine.maker,),
    "line.description": lambda held, _: (sentence(described(held.medicine)) if held.medicine.colour and held.medicine.shape else "",),
    "line.total_qty": lambda held, _: (total_words(held.medicine, held.total),),
    "line.directions": lambda held, material: (sentence(directions_of(held.order, material)),),
    "line.cautions": _cautions,
    "line.prescriber": lambda held, _: (held.order.prescriber,),
    "line.lot_expiry": _lots,
}


def _check_numbers(scope: _Scope, seen: str, where: dict[str, Fact]) -> Iterator[Finding]:
    """Where cavities name medicines by number, the header says which number is which medicine."""
    if ", medicine " not in seen:
        return
    for number, held in enumerate(held_in(scope.card, scope.material), start=1):
        words = f"Medicine {number}: {named(held.medicine, scope.material.country)}"
        if words not in seen:
            at: dict[str, Fact] = {**where, "order": held.order.id, "medicine": held.medicine.label, "field": "cavity.contents"}
            yield Finding("paper.field-not-printed", Severity.STOP, at, {"text": words})


def check_fields(card: Card, person: PersonPlan, pages: Sequence[Page], material: Material) -> Iterator[Finding]:
    """Findings for the fields that the profile requires, in the profile's order."""
    seen = " ".join(run.text for page in pages for run in page.runs)
    scope = _Scope(card, person, material)
    where: dict[str, Fact] = {"person": person.person, "card": card.number}
    yield from _check_numbers(scope, seen, where)
    for field in material.request.profile.required():
        if field in CARD_FIELDS:
            yield from _judge(field, CARD_FIELDS[field](scope), seen, where)
            yield from _check_cavities(field, scope, pages, where)
        elif field in LINE_FIELDS:
            for held in held_in(card, material):
                at = {**where, "order": held.order.id, "medicine": held.medicine.label}
                yield from _judge(field, LINE_FIELDS[field](held, material), seen, at)
            yield from _check_cavities(field, scope, pages, where)
        else:
            yield Finding("paper.field-unknown", Severity.STOP, {**where, "field": field})


def _cavity_lots(content: Content, cavity: PackedCavity, scope: _Scope) -> Iterator[tuple[str, ...]]:
    placed = scope.material.placed.get((scope.card.number, content.order), ())
    here = [one for one in placed if one.lies_in(cavity.row, cavity.column)]
    yield from ((lot_words(one),) for one in here)
    if placed and not here:
        yield ("lot",)  # a cavity of which no lot is known has nothing to show, and may not pass for one that has


def _when(cavity: PackedCavity, scope: _Scope) -> tuple[tuple[str, ...], ...]:
    """Day and dosing time; where nothing is due, that it is only for when it is needed."""
    if scope.card.as_needed:
        return ((ONLY_WHEN_NEEDED,),)
    return (month_day(cavity.day), long_day(cavity.day)), (f"{clock(cavity.time)} {cavity.slot}",)


# What must be seen on the label of a cavity for each of its contents: of each tuple, one of the ways of saying it.
CAVITY_FIELDS: Mapping[str, Callable[[Content, PackedCavity, _Scope], Iterable[tuple[str, ...]]]] = {
    "cavity.day_slot": lambda _, cavity, scope: _when(cavity, scope),
    "cavity.contents": lambda content, _, scope: (_names(content, scope),),
    "cavity.unit_count": lambda content, _, scope: (_counts(content, scope),),
    "line.lot_expiry": _cavity_lots,
}


def _names(content: Content, scope: _Scope) -> tuple[str, ...]:
    return (named_short(scope.material.medicine(content.medicine), scope.material.country), *_keyed(content, scope))


def _counts(content: Content, scope: _Scope) -> tuple[str, ...]:
    """In full, without the unit, or by the medicine's number on the header."""
    medicine, style = scope.material.medicine(content.medicine), number_style(scope.material)
    name = named_short(medicine, scope.material.country)
    amount = placed_words(medicine, content.quantity, style)
    return f"{amount} {name}", f"{format_count(content.quantity.count, style)} {name}", *_keyed(content, scope)


def _keyed(content: Content, scope: _Scope) -> tuple[str, ...]:
    """ "1 tablet, medicine 3": only where the profile allows that a cavity names its medicines by number."""
    if not keyed_allowed(scope.material):
        return ()
    return (keyed_words(content, key_numbers(scope.card, scope.material), scope.material),)


def _check_cavities(field: str, scope: _Scope, pages: Sequence[Page], where: dict[str, Fact]) -> Iterator[Finding]:
    """The field, looked for on the label of each cavity: the words of another cavity's label do not count."""
    if field not in CAVITY_FIELDS:
        return
    labels: dict[Rect, list[str]] = defaultdict(list)
    for run in (run for page in pages[:1] for run in page.runs):
        labels[run.box].append(run.text)
    for cavity in scope.card.cavities:
        if not scope.material.cell_is_labelled(scope.card.number, cavity.row, cavity.column):
            continue
        box = scope.material.request.format.cavity_label(cavity.row, cavity.column)
        seen = " ".join(labels[Rect(float(box.left), float(box.top), float(box.width), float(box.height))])
        for content in cavity.contents:
            label = scope.material.medicine(content.medicine).label
            at = {**where, "order": content.order, "medicine": label, "field": field, "row": cavity.row, "column": cavity.column}
            for ways in CAVITY_FIELDS[field](content, cavity, scope):
                if not any(" ".join(way.replace("\u00a0", " ").split()) in seen for way in ways):
                    yield Finding("paper.field-not-printed", Severity.STOP, at, {"text": ways[0]})


def _judge(field: str, texts: Texts, seen: str, where: dict[str, Fact]) -> Iterator[Finding]:
    at = {"order": "", "medicine": "", **where, "field": field}
    if any(not text.strip() for text in texts):
        yield Finding("paper.field-missing", Severity.STOP, at)
        return
    for text in texts:
        if " ".join(text.split()) not in seen:
            yield Finding("paper.field-not-printed", Severity.STOP, at, {"text": text})
