"""The sets of which a card is put right: their plans are others from then on, and every sheet made of them bears the new fingerprint
(R6)."""

from collections.abc import Iterable

from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.set_after import request_after, set_after
from dosewright.core.rework.situation import Situation
from dosewright.core.rework.tasks import CardTask
from dosewright.store.cards import StoredCard, load_request, load_set, rewrite_set
from dosewright.store.pharmacy import load_pharmacy

__all__ = ["rewrite_sets"]


def rewrite_sets(layout: PersonLayout, tasks: Iterable[CardTask], situation: Situation, cards: Iterable[StoredCard]) -> None:
    """Every set with an open card of the person, as it is once the tasks are decided."""
    decided = tuple(tasks)
    for set_id in sorted({card.set_id for card in cards}):
        stored, was = load_set(set_id), load_request(set_id)
        request = request_after(was, situation.after)
        rules = load_pharmacy().rules if was.format.name == situation.after.format.name else stored.rules
        rewrite_set(set_id, set_after(stored.plan, request, layout, decided), request, rules)
