"""Cards while they are filled: what the plan wants of each, and what it is now.

Read in few and short questions, for every hand at the bench asks them; whose card it is and its rules are `store.cards`' matter.
"""

from dataclasses import dataclass
from functools import lru_cache

from dosewright.core.checking.filled import FilledCard, lay_out
from dosewright.core.custody.stage import Stage
from dosewright.core.custody.state import CardState
from dosewright.core.packing.plan_values import Card
from dosewright.core.units.ids import CardNumber
from dosewright.store.card_states import load_states
from dosewright.store.missing import Missing
from dosewright.store.models import CardRow
from dosewright.store.questions import Question
from dosewright.store.value_json import parse_value

__all__ = ["CardAtHand", "load_card_at_hand", "load_cards_of", "lock_cards_of", "parse_card"]


@dataclass(frozen=True, slots=True)
class CardAtHand:
    """A card: what the plan wants of it, and what it is now."""

    card: Card
    state: CardState
    set_id: int

    @property
    def number(self) -> CardNumber:
        """The card's own number."""
        return self.card.number

    @property
    def on_bench(self) -> bool:
        """Whether it may be filled now, or is being filled."""
        return self.state.stage in {Stage.PRINTED, Stage.FILLING}

    @property
    def filled(self) -> FilledCard:
        """The plan and what lies in the card, cavity by cavity."""
        return lay_out(self.card, self.state.placed)


def load_card_at_hand(number: CardNumber) -> CardAtHand:
    """Raises Missing."""
    found = _at_hand(_ONE.rows(number))
    if not found:
        raise Missing("card", number)
    return found[0]


def load_cards_of(set_id: int) -> tuple[CardAtHand, ...]:
    """The cards of a set in order of position; none where there is no such set."""
    return tuple(_at_hand(sorted(_OF_SET.rows(set_id), key=lambda row: row[3])))


def lock_cards_of(set_id: int) -> tuple[CardAtHand, ...]:
    """The cards of a set in order of position, kept from the other stations until the transaction ends. Raises Missing."""
    rows = _LOCKED.rows(set_id)
    if not rows:
        raise Missing("set", str(set_id))
    return tuple(_at_hand(sorted(rows, key=lambda row: row[3])))


_FIELDS = ("number", "value", "card_set_id", "position")
_ONE = Question(lambda number: CardRow.objects.filter(number=number).values_list(*_FIELDS))
_OF_SET = Question(lambda set_id: CardRow.objects.filter(card_set_id=set_id).values_list(*_FIELDS))
# Locked in order of their numbers, like everywhere, so that two stations never wait for each other.
_LOCKED = Question(lambda set_id: CardRow.objects.select_for_update().filter(card_set_id=set_id).order_by("number").values_list(*_FIELDS))


def _at_hand(rows: list[tuple[str, str, int, int]]) -> list[CardAtHand]:
    states = load_states([CardNumber(number) for number, _, _, _ in rows])
    return [CardAtHand(parse_card(value), states[CardNumber(number)], set_id) for number, value, set_id, _ in rows]


@lru_cache(maxsize=500)
def parse_card(text: str) -> Card:
    """The same text is the same card, and a card is never changed: at the bench each is read again and again."""
    return parse_value(Card, text)
