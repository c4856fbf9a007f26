"""The recount of a person's cards by what their events say: cards, states and orders come in, faults go out.

What is counted is what lies in each card, not what any plan or task says. Cards that wait with a reason may hold what was asked before.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from dosewright.core.custody.stage import LEFT_THE_PHARMACY
from dosewright.core.custody.state import CardState
from dosewright.core.custody.whereabouts import as_open_card, is_filled
from dosewright.core.packing.plan_values import Alongside, Card, PackedCavity
from dosewright.core.rework.recount import Recounted, check_change
from dosewright.core.rework.situation import OpenCard, Situation, taken_early
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber
from dosewright.core.units.person import Person

__all__ = ["count_again"]


def count_again(
    person: Person, stored: Sequence[tuple[Card, CardState]], situation: Situation, alongside: Iterable[Alongside]
) -> tuple[Finding, ...]:
    """Every fault of the cards as they are. One that is out and replaced, or called back and not here, counts for nothing."""
    counted = [(card, state) for card, state in stored if not card.as_needed and not state.replaced and card.last >= situation.at.day]
    opened = [(as_open_card(card, state, person, situation.at, situation.after.medicines), state) for card, state in counted]
    right = tuple(_lying(one) for one, state in opened if state.decision != "wait")
    waiting = tuple(_lying(one) for one, state in opened if state.decision == "wait")
    earlier = {
        number: past
        for (card, state), (one, _) in zip(counted, opened, strict=True)
        for number, past in _earlier(card, state, one, situation.at)
    }
    given = taken_early([one for one, _ in opened], situation.at)
    forms = {one.number: one.form for one in situation.cards if one.form}
    recounted = Recounted(person, right, waiting, tuple(alongside), given, earlier, forms)
    return check_change(recounted, situation.after, situation.at)


def _lying(card: OpenCard) -> Card:
    return replace(card.card, cavities=card.left())


def _earlier(card: Card, state: CardState, opened: OpenCard, at: Moment) -> Iterable[tuple[CardNumber, tuple[PackedCavity, ...]]]:
    """What cavities before the moment should hold: in the pharmacy what the plan says, outside nothing is known."""
    if is_filled(state) and state.stage not in LEFT_THE_PHARMACY and not state.left:
        yield card.number, tuple(cavity for cavity in card.cavities if Moment(cavity.day, cavity.time) < at)
    elif is_filled(state):
        yield card.number, tuple(cavity for cavity in opened.left() if Moment(cavity.day, cavity.time) < at)
