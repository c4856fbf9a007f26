"""Whether the cards were right before the change: what they hold against what the earlier orders asked; and doses taken before their time.

A change is judged by what the cards hold, whatever was asked before. But where that differs, somebody should know that the card was not
what its papers said.
"""

from collections.abc import Iterable, Sequence
from fractions import Fraction

from dosewright.core.rework.asked import Asked, When
from dosewright.core.rework.situation import OpenCard, Situation
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.person import Person

__all__ = ["check_earlier"]

_Held = dict[tuple[When, MedicineCode], Fraction]


def check_earlier(person: Person, cards: Sequence[OpenCard], before: Asked, situation: Situation) -> tuple[Finding, ...]:
    """One `decide` for each medicine of which the cards hold something else than was asked, at its first such dose; one for each card from
    which doses due after the moment are gone already."""
    return (*_differing(person, cards, before, situation), *_taken_early(person, cards, situation))


def _differing(person: Person, cards: Sequence[OpenCard], before: Asked, situation: Situation) -> Iterable[Finding]:
    held, asked = _held(cards, situation), _asked(before, cards)
    said: set[MedicineCode] = set()
    for when, code in sorted(held.keys() | asked.keys()):
        found, expected = held.get((when, code), Fraction(0)), asked.get((when, code), Fraction(0))
        if found != expected and code not in said:
            said.add(code)
            where: dict[str, Fact] = {"person": person.id, "date": when[0]}
            facts: dict[str, Fact] = {"time": when[1], "expected": expected, "found": found}
            label = situation.after.medicines[code].label if code in situation.after.medicines else code
            yield Finding("rework.differed-before", Severity.DECIDE, where, {"name": person.name, "medicine": label, **facts})


def _held(cards: Iterable[OpenCard], situation: Situation) -> _Held:
    """Used cavities count too: what was in them was packed."""
    held: _Held = {}
    for cavity in (cavity for card in cards for cavity in card.card.cavities):
        if Moment(cavity.day, cavity.time) >= situation.at:
            for content in cavity.contents:
                key = ((cavity.day, cavity.time), content.medicine)
                held[key] = held.get(key, Fraction(0)) + content.quantity.count
    return held


def _asked(before: Asked, cards: Sequence[OpenCard]) -> _Held:
    """Only for days that some card covers: for other days nothing was packed."""
    covered = [(card.card.first, card.card.last) for card in cards]
    return {
        (when, code): sum((count for _, count in claims), Fraction(0))
        for when, by_medicine in before.doses.items()
        for code, claims in by_medicine.items()
        if any(first <= when[0] <= last for first, last in covered)
    }


def _taken_early(person: Person, cards: Iterable[OpenCard], situation: Situation) -> Iterable[Finding]:
    for card in cards:
        gone = [c for c in card.card.cavities if (c.row, c.column) in card.used and Moment(c.day, c.time) >= situation.at]
        if gone:
            first = min(gone, key=lambda cavity: (cavity.day, cavity.time))
            where: dict[str, Fact] = {"person": person.id, "card": card.number, "date": first.day, "slot": first.slot}
            yield Finding("rework.taken-early", Severity.DECIDE, where, {"name": person.name, "cavities": len(gone)})
