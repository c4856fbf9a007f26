"""Whether the cards were right before the change: what they hold against what the earlier orders asked; and doses taken before their time.

A change is judged by what the cards hold, whatever was asked before. But where that differs, somebody should know that the card was not
what its papers said.
"""

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from dosewright.core.rework.asked import Asked, Claim, When
from dosewright.core.rework.situation import OpenCard, Situation
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
    then = (situation.at.day, situation.at.time)
    for cavity in (cavity for card in cards for cavity in card.card.cavities):
        when = (cavity.day, cavity.time)
        if when >= then:
            for content in cavity.contents:
                key = (when, content.medicine)
                held[key] = held[key] + content.quantity.count if key in held else content.quantity.count
    return held


def _asked(before: Asked, cards: Sequence[OpenCard]) -> _Held:
    """Only for days that some card covers: for other days nothing was packed."""
    spans = [(card.card.first, card.card.last) for card in cards]
    covered = {day for day in {when[0] for when in before.doses} if any(first <= day <= last for first, last in spans)}
    sums = {at: _sums(claims) for at, claims in {id(claims): claims for claims in before.doses.values()}.items()}
    return {(when, code): count for when, claims in before.doses.items() if when[0] in covered for code, count in sums[id(claims)]}


def _sums(claims: Mapping[MedicineCode, tuple[Claim, ...]]) -> list[tuple[MedicineCode, Fraction]]:
    return [(code, sum((count for _, count in found), Fraction(0))) for code, found in claims.items()]


def _taken_early(person: Person, cards: Iterable[OpenCard], situation: Situation) -> Iterable[Finding]:
    for card in cards:
        used = (cavity for cavity in card.card.cavities if (cavity.row, cavity.column) in card.used)
        gone = [cavity for cavity in used if (cavity.day, cavity.time) >= (situation.at.day, situation.at.time)]
        if gone:
            first = min(gone, key=lambda cavity: (cavity.day, cavity.time))
            where: dict[str, Fact] = {"person": person.id, "card": card.number, "date": first.day, "slot": first.slot}
            yield Finding("rework.taken-early", Severity.DECIDE, where, {"name": person.name, "cavities": len(gone)})
