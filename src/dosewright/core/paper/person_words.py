"""What the person's sheet says, in the person's language, before it is measured: each dosing time's doses, and about each medicine.

Comes in: one person of a plan, a language, the products of the last cycle. Goes out: rows and sentences, each with the zone that it is to
stand in; and findings: a `stop` for what the language cannot say without changing it, a `note` for what stays as it was given.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, time

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.dates import clock, year_day
from dosewright.core.paper.directions import number_style
from dosewright.core.paper.due import due_of
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import named_short, sentence
from dosewright.core.paper.page import About
from dosewright.core.paper.tongues.tongue import Tongue
from dosewright.core.paper.tongues.words import TONGUES, Said, amount_in, cautions_in, days_in, form_in, looks_in
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.words.say_plain import PHRASEBOOKS, say_plain
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import OrderId, SlotName
from dosewright.core.units.quantity import Quantity, format_amount
from dosewright.core.units.safe_text import tidy_text

__all__ = ["UNSAID", "PersonWords", "Row", "Sentence", "changed_look", "directions_in", "name_in", "purpose_of"]

UNSAID = "–"  # stands where a `stop` says that nothing may stand


@dataclass(frozen=True, slots=True)
class Row:
    """One medicine at one dosing time: so much of it, on which days ("": every day), and where it comes from if not from the card."""

    amount: str
    name: str
    days: str
    where: str
    about: About


@dataclass(frozen=True, slots=True)
class Sentence:
    """One thing said of a medicine; `loud`: it must be seen first; `given`: a mark or a reason in it is printed as it was given."""

    text: str
    about: About
    loud: bool = False
    given: bool = False


@dataclass(frozen=True, slots=True)
class PersonWords:
    """One person's words."""

    person: PersonPlan
    material: Material
    tongue: Tongue
    before: tuple[Medicine, ...]

    @staticmethod
    def of(person: PersonPlan, material: Material, lang: str, before: tuple[Medicine, ...]) -> "PersonWords":
        """Raises KeyError for a language without a sheet."""
        return PersonWords(person, material, TONGUES[lang], before)

    def identifiers(self) -> str:
        """Birth date, home and room or address."""
        who, tongue = self.material.person(self.person.person), self.tongue
        home = self.material.homes.get(who.home, who.home) if who.home else ""
        born = tongue.born.format(a=self.year_day(who.born)) if who.born else ""
        room = tongue.room.format(a=who.room) if who.room else ""
        return ", ".join(part for part in (born, home, room, who.address if not home else "") if part)

    def year_day(self, day: date) -> str:
        """A date with its year."""
        return year_day(day) if self.tongue.lang == "en" else PHRASEBOOKS[self.tongue.lang].say_date(day)

    def times(self) -> list[tuple[time, SlotName, list[Row]]]:
        """Every dosing time at which something is due in the cycle, in order of the clock, with its rows."""
        found: dict[tuple[time, SlotName], dict[tuple[bool, OrderId, Quantity], list[date]]] = defaultdict(lambda: defaultdict(list))
        medicines: dict[OrderId, Medicine] = {}
        request = self.material.request
        for due in due_of(self.person, self.material, request.first, request.days):
            medicines[due.order.id] = due.medicine
            found[due.time, due.slot][due.card is None, due.order.id, due.quantity].append(due.day)
        return [(at, slot, self._rows((at, slot), some, medicines)) for (at, slot), some in sorted(found.items())]

    def _rows(
        self, when: tuple[time, SlotName], some: dict[tuple[bool, OrderId, Quantity], list[date]], medicines: dict[OrderId, Medicine]
    ) -> list[Row]:
        """Those of the card first, by the medicine's name."""
        request, tongue = self.material.request, self.tongue
        ordered = sorted(some.items(), key=lambda one: (one[0][0], medicines[one[0][1]].label.casefold(), one[0][1], -one[0][2].count))
        return [
            Row(
                amount_in(tongue, medicines[order], quantity, number_style(self.material)) or UNSAID,
                name_in(tongue, medicines[order], self.material, short=True),
                days_in(tongue, days, request.first, request.last),
                tongue.own_pack if beside else "",
                ("take", self.person.person, clock(when[0]), when[1], order, format_amount(quantity.count), str(quantity.unit)),
            )
            for (beside, order, quantity), days in ordered
        ]

    def packed(self) -> tuple[tuple[Order, Medicine], ...]:
        """Orders of which something is in a card, by the medicine's name."""
        pairs = {content.order: content.medicine for card in self.person.cards for cavity in card.cavities for content in cavity.contents}
        found = [(self.material.order(order), self.material.medicine(code)) for order, code in pairs.items()]
        return tuple(sorted(found, key=lambda one: (one[1].label.casefold(), one[0].id)))

    def beside(self) -> tuple[tuple[Order, Medicine], ...]:
        """Orders that are in no card (R15), in the plan's order."""
        return tuple((self.material.order(line.order), self.material.medicine(line.medicine)) for line in self.person.alongside)

    def about_medicine(self, order: Order, medicine: Medicine) -> Iterator[Sentence]:
        """What is new first, then what it is for, how it looks, how it is taken, and every caution."""
        tongue, key = self.tongue, (self.person.person, order.id)
        if changed := changed_look(tongue, medicine, self.before):
            yield Sentence(changed, ("changed", *key), loud=True, given=True)
        if purpose := purpose_of(order):
            yield Sentence(tongue.purpose.format(a=sentence(purpose)), ("purpose", *key), given=True)
        if looks := looks_in(tongue, medicine).text:
            yield Sentence(tongue.looks.format(a=sentence(looks)[:1].lower() + sentence(looks)[1:]), ("looks", *key), given=True)
        directions = directions_in(tongue, order, self.material)
        if directions:
            yield Sentence(tongue.how.format(a=directions), ("how", *key))
        for number, caution in enumerate(cautions_in(tongue, medicine, self.material.country)):
            yield Sentence(sentence(caution.text), ("caution", *key, str(number)))

    def findings(self) -> tuple[Finding, ...]:
        """What the language cannot say, and what it leaves as it was given."""
        return tuple(self._findings())

    def _findings(self) -> Iterator[Finding]:
        tongue = self.tongue
        if tongue.lang == "en":
            return
        for _, _, rows in self.times():
            for row in (row for row in rows if row.amount == UNSAID):
                yield self._found("paper.not-in-that-language", Severity.STOP, f"{row.about[5]} {row.about[6]} {row.name}")
        for order, medicine in (*self.packed(), *self.beside()):
            if directions_in(tongue, order, self.material) == UNSAID:
                yield self._found("paper.not-in-that-language", Severity.STOP, order.text or medicine.label)
            for words in self._left(order, medicine):
                yield self._found("paper.left-untranslated", Severity.NOTE, words)

    def _left(self, order: Order, medicine: Medicine) -> Iterator[str]:
        """Words of the catalogue and the order that are not the language's."""
        tongue = self.tongue
        said: Sequence[Said] = (
            form_in(tongue, medicine.form),
            looks_in(tongue, medicine),
            *cautions_in(tongue, medicine, self.material.country),
        )
        yield from (words for one in said for words in one.left)
        yield from (words for words in (purpose_of(order),) if words)
        for dosage in order.dosages:
            beside = (
                *(one.text for one in dosage.additional),
                dosage.patient_instruction,
                dosage.as_needed_for.text if dosage.as_needed_for else "",
            )
            yield from (words for words in beside if words)

    def _found(self, code: str, severity: Severity, text: str) -> Finding:
        where: dict[str, Fact] = {"person": self.person.person}
        return Finding(code, severity, where, {"text": text, "lang": self.tongue.lang})


def name_in(tongue: Tongue, medicine: Medicine, material: Material, *, short: bool = False) -> str:
    """Name and strength as ordered, as on the pack; the form in the language, left out of `short` unless it tells two apart."""
    name = named_short(medicine, material.country)
    if not medicine.form or (short and not material.has_a_double(medicine)):
        return name
    return f"{name} {form_in(tongue, medicine.form).text}"


def directions_in(tongue: Tongue, order: Order, material: Material) -> str:
    """The directions as sentences; in English else as they were received, in another language else `UNSAID`: never half of each."""
    said = say_plain(order.dosages, tongue.lang, number_style(material))
    if said is None and tongue.lang != "en":
        return UNSAID
    received = order.text or " ".join(dosage.text for dosage in order.dosages)
    return sentence(tidy_text(said or received, material.country))


def purpose_of(order: Order) -> str:
    """What the order is for: as the prescriber says it, else what "when needed for" names; "" where nothing is said."""
    reasons = (dosage.as_needed_for.text for dosage in order.dosages if dosage.as_needed_for and dosage.as_needed_for.text)
    return order.purpose or ", ".join(dict.fromkeys(reasons))


def changed_look(tongue: Tongue, medicine: Medicine, before: Sequence[Medicine]) -> str:
    """ "New look. Your 5 mg tablet is now white, oval. …" where the last cycle had the same with other looks."""
    now = looks_in(tongue, medicine).text
    same = [old for old in before if _same_substance(old, medicine)]
    looked = [looks for old in same if (looks := looks_in(tongue, old).text)]
    if not now or not looked or now in looked:
        return ""
    unit = form_in(tongue, str(medicine.unit)).text
    new = tongue.look_new.format(a=medicine.strength, b=unit, c=now).replace("  ", " ")
    return " ".join((new[:1].upper() + new[1:], tongue.look_before.format(a=looked[0]), tongue.same_medicine))


def _same_substance(old: Medicine, new: Medicine) -> bool:
    return (old.name.casefold(), old.strength, old.form) == (new.name.casefold(), new.strength, new.form)
