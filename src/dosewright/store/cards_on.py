"""Cards whose life is not over by what they rest on: a medicine, a home's dosing times, the pharmacy's rules; locked in order of number."""

from collections.abc import Collection

from django.db.models import QuerySet

from dosewright.core.custody.stage import Stage
from dosewright.core.packing.plan_values import Card
from dosewright.core.units.ids import CardNumber, HomeId, MedicineCode
from dosewright.store.cards import StoredCard, lock_card
from dosewright.store.models import CardRow
from dosewright.store.value_json import parse_value

__all__ = ["count_cards_at", "lock_cards_at", "lock_cards_by_home_times", "lock_cards_holding"]


def lock_cards_at(stages: Collection[Stage]) -> tuple[StoredCard, ...]:
    """Every card at one of these stages."""
    return _locked(CardRow.objects.filter(stage__in=[stage.value for stage in stages]))


def count_cards_at(stages: Collection[Stage]) -> int:
    """How many those are."""
    return CardRow.objects.filter(stage__in=[stage.value for stage in stages]).count()


def lock_cards_holding(medicine: MedicineCode, stages: Collection[Stage]) -> tuple[StoredCard, ...]:
    """Every card at one of these stages into which the plan puts the medicine."""
    rows = CardRow.objects.filter(stage__in=[stage.value for stage in stages]).values_list("number", "value")
    numbers = [number for number, value in rows.iterator(chunk_size=500) if _holds(parse_value(Card, value), medicine)]
    return _locked(CardRow.objects.filter(number__in=numbers))


def _holds(card: Card, medicine: MedicineCode) -> bool:
    return any(content.medicine == medicine for cavity in card.cavities for content in cavity.contents)


def lock_cards_by_home_times(home: HomeId, stages: Collection[Stage]) -> tuple[StoredCard, ...]:
    """Every card of the home's people who have no dosing times of their own."""
    of_home = CardRow.objects.filter(card_set__person__home_id=home, card_set__person__timetable=None)
    return _locked(of_home.filter(stage__in=[stage.value for stage in stages]))


def _locked(rows: QuerySet[CardRow]) -> tuple[StoredCard, ...]:
    numbers = list(rows.order_by("number").values_list("number", flat=True))
    return tuple(lock_card(CardNumber(number)) for number in numbers)
