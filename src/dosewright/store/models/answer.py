"""What a pharmacist has answered about one order and one rule: where the medicine goes for this person, and why."""

from typing import ClassVar

from django.db import models

from dosewright.store.models.order import OrderRow

__all__ = ["OrderAnswer"]


class OrderAnswer(models.Model):
    """One for each order and rule: a later answer takes the place of the one before, which the ledger keeps.

    `dated` is the rule's date when it was given: the answer counts only while the rule reads so.
    """

    order = models.ForeignKey(OrderRow, on_delete=models.PROTECT, related_name="answers")
    about = models.CharField(max_length=120)
    dated = models.CharField(max_length=200)
    choice = models.CharField(max_length=10)
    reason = models.TextField()

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["order", "about"], name="one_answer_an_order_and_rule"),
            models.CheckConstraint(
                condition=models.Q(choice__in=["card", "alongside"]) & ~models.Q(reason=""), name="answer_has_its_reason"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.order_id} {self.about}: {self.choice}"
