"""A pharmacist's own combination in place of the recommended one: a choice for each card comes in, the layout that it leads to goes out.

Nothing is taken on trust: every card that the change touches has exactly one choice, each of them lawful; the recount comes after.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from dosewright.core.rework.after import as_it_was, with_parts
from dosewright.core.rework.choices import Choice, ChoiceName
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.situation import Situation
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber

__all__ = ["Pick", "pick", "touched_cards"]


@dataclass(frozen=True, slots=True)
class Pick:
    """One choice of those laid out, by its name and its cards."""

    name: ChoiceName
    cards: tuple[CardNumber, ...]


def touched_cards(layout: PersonLayout) -> tuple[CardNumber, ...]:
    """The cards about which something must be decided, in their order."""
    apart = (choice for choice in layout.choices if choice.name not in (ChoiceName.AFRESH, ChoiceName.ADD))
    return tuple(dict.fromkeys(number for choice in apart for number in choice.cards))


def pick(layout: PersonLayout, picks: Sequence[Pick], situation: Situation) -> tuple[PersonLayout, tuple[Finding, ...]]:
    """The layout with those choices, and what stands against it. Without any pick the recommended combination stays."""
    if not picks:
        return layout, ()
    found = [_choice(layout, one) for one in picks]
    chosen = tuple(choice for choice in found if choice is not None)
    faults = (*_unknown(layout, picks, found), *_not_once(layout, picks), *_on_no_card(layout, chosen))
    faults += tuple(one for choice in chosen for one in choice.findings if one.severity is Severity.STOP)
    done = {number for choice in chosen for number in choice.cards}
    still = tuple(as_it_was(one, situation) for one in layout.differences if one.card.number not in done)
    laid = sorted((*still, *(laid for choice in chosen for laid in choice.laid)), key=lambda one: (one.card.first, one.card.number))
    said = tuple(one for choice in chosen for one in choice.findings)
    kept = tuple(one for one in layout.findings if not any(one in choice.findings for choice in layout.choices))
    left = tuple(number for number in layout.left if number not in done)
    kept = tuple(one for one in kept if one.code != "rework.left" or one.where.get("card") in left)
    return replace(layout, chosen=chosen, laid=with_parts(laid), left=left, findings=(*kept, *said), alternatives=()), faults


def _choice(layout: PersonLayout, wanted: Pick) -> Choice | None:
    return next((one for one in layout.choices if (one.name, one.cards) == (wanted.name, wanted.cards)), None)


def _unknown(layout: PersonLayout, picks: Iterable[Pick], found: Iterable[Choice | None]) -> Iterable[Finding]:
    for one, choice in zip(picks, found, strict=True):
        # Moving over is laid out to be compared; at the bench a new card is filled from bottles (`AFRESH`), never out of another card.
        if choice is None or choice.name in (ChoiceName.ADD, ChoiceName.MOVE):
            where = {"person": layout.person.id, "card": one.cards[0] if one.cards else ""}
            yield Finding("rework.no-such-choice", Severity.STOP, where, {"name": layout.person.name, "choice": one.name.value})


def _on_no_card(layout: PersonLayout, chosen: Sequence[Choice]) -> Iterable[Finding]:
    """Doses of days that no card has are in none of the choices card by card: only a way for all of them together makes a card for
    those."""
    spans = [(one.card.card.first, one.card.card.last) for one in layout.differences]
    spans += [(laid.card.first, laid.card.last) for choice in chosen for laid in choice.laid]
    days = sorted({one.when[0] for one in layout.unplaced if not any(first <= one.when[0] <= last for first, last in spans)})
    if days:
        where: dict[str, Fact] = {"person": layout.person.id, "date": days[0]}
        yield Finding("rework.days-without-card", Severity.STOP, where, {"name": layout.person.name, "days": len(days)})


def _not_once(layout: PersonLayout, picks: Iterable[Pick]) -> Iterable[Finding]:
    picked = [number for one in picks for number in one.cards]
    for number in touched_cards(layout):
        if picked.count(number) != 1:
            where = {"person": layout.person.id, "card": number}
            yield Finding("rework.not-chosen-once", Severity.STOP, where, {"name": layout.person.name, "times": picked.count(number)})
