"""What a pharmacist has answered about a person's orders ⇄ rows, so that the same question is not asked every cycle."""

from collections.abc import Iterable

from dosewright.core.packing.request import Answer
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.store.models import OrderAnswer

__all__ = ["load_answers", "save_answers"]


def load_answers(person: PersonId) -> tuple[Answer, ...]:
    """All of the person's, by order and rule. Whether one still counts is the planner's to say: it compares the rule's date."""
    rows = OrderAnswer.objects.filter(order__person_id=person).order_by("order_id", "about")
    return tuple(Answer(OrderId(row.order_id), row.about, row.dated, row.choice, row.reason) for row in rows)  # type: ignore[arg-type]


def save_answers(answers: Iterable[Answer]) -> None:
    """Keep each; it takes the place of an earlier one about the same order and rule."""
    for answer in answers:
        said = {"dated": answer.dated, "choice": answer.choice, "reason": answer.reason}
        OrderAnswer.objects.update_or_create(order_id=answer.order, about=answer.about, defaults=said)
