"""Sets and their cards, and the paper printed for them."""

from typing import ClassVar

from django.db import models

from dosewright.core.custody.stage import Stage
from dosewright.store.models.person import PersonRow
from dosewright.store.models.pharmacy import RuleBook

__all__ = ["CardRow", "CardSet", "MadePaper", "PrintedPaper", "VoidedLabel"]


class CardSet(models.Model):
    """All cards of one person for one cycle. `request` is what the planner was asked, `plan` what it answered: canonical JSON."""

    person = models.ForeignKey(PersonRow, on_delete=models.PROTECT, related_name="sets")
    first = models.DateField(db_index=True)
    days = models.PositiveIntegerField()
    basis = models.CharField(max_length=64, db_index=True)  # the plan's fingerprint
    rules = models.ForeignKey(RuleBook, on_delete=models.PROTECT)
    request = models.TextField()  # without the rules
    plan = models.TextField()
    planned_at = models.DateTimeField()
    planned_by = models.CharField(max_length=120)
    withdrawn = models.BooleanField(default=False)
    claimed_by = models.ForeignKey("store.Account", null=True, on_delete=models.PROTECT)  # who has it in hand; holds nobody off
    claimed_at = models.DateTimeField(null=True)

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=models.Q(claimed_by__isnull=True, claimed_at__isnull=True)
                | models.Q(claimed_by__isnull=False, claimed_at__isnull=False),
                name="set_claim_has_its_time",
            )
        ]

    def __str__(self) -> str:
        return f"{self.person_id} {self.first}"


class CardRow(models.Model):
    """`stage` and `out_of_date` repeat what the card's events say, so that lists need not read them all."""

    number = models.CharField(max_length=40, primary_key=True)
    card_set = models.ForeignKey(CardSet, on_delete=models.PROTECT, related_name="cards")
    position = models.PositiveIntegerField()
    value = models.TextField()  # the plan's Card as canonical JSON
    stage = models.CharField(max_length=20, default=Stage.PLANNED.value, db_index=True)
    out_of_date = models.BooleanField(default=False, db_index=True)
    first = models.DateField()
    last = models.DateField(db_index=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["card_set", "position"], name="card_position_once"),
            models.CheckConstraint(condition=models.Q(stage__in=[stage.value for stage in Stage]), name="card_stage_known"),
        ]

    def __str__(self) -> str:
        return self.number


class PrintedPaper(models.Model):
    """What was printed, byte for byte. `kind`: labels, fill or record. `copy` counts reprints, `reason` says why one was made.
    `labels`: the names of each card's labels on it, as canonical JSON."""

    card_set = models.ForeignKey(CardSet, on_delete=models.PROTECT, related_name="papers")
    kind = models.CharField(max_length=20)
    copy = models.PositiveIntegerField(default=1)
    content = models.BinaryField()
    sha256 = models.CharField(max_length=64)
    basis = models.CharField(max_length=64)
    made_at = models.DateTimeField()
    made_by = models.CharField(max_length=120, default="")
    reason = models.CharField(max_length=200, default="")
    labels = models.TextField(default="{}")

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["card_set", "kind", "copy"], name="paper_copy_once")]

    def __str__(self) -> str:
        return f"{self.kind} {self.copy}"


class MadePaper(models.Model):
    """A sheet made on demand, byte for byte: a round list, a month's records, a manifest, a recall. `subject`: "set 12", "home lindens"."""

    kind = models.CharField(max_length=20)
    subject = models.CharField(max_length=120, db_index=True)
    title = models.CharField(max_length=200)
    content = models.BinaryField()
    sha256 = models.CharField(max_length=64)
    basis = models.CharField(max_length=64)
    notes = models.TextField(default="[]")  # what was found while it was made, and holds nothing up
    made_at = models.DateTimeField(db_index=True)
    made_by = models.CharField(max_length=120)
    copy = models.PositiveIntegerField(default=1)  # of sheets of labels, as PrintedPaper's
    reason = models.CharField(max_length=200, default="")
    labels = models.TextField(default="{}")

    def __str__(self) -> str:
        return f"{self.kind} {self.subject}"


class VoidedLabel(models.Model):
    """A printed label that was made unusable, with who, when and why. It is of a set's own labels, or of a sheet made on demand."""

    paper = models.ForeignKey(PrintedPaper, on_delete=models.PROTECT, null=True, related_name="voided")
    made = models.ForeignKey(MadePaper, on_delete=models.PROTECT, null=True, related_name="voided")
    card = models.CharField(max_length=40)
    label = models.CharField(max_length=20)
    reason = models.CharField(max_length=200)
    voided_at = models.DateTimeField()
    voided_by = models.CharField(max_length=120)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["paper", "card", "label"], name="label_of_set_voided_once"),
            models.UniqueConstraint(fields=["made", "card", "label"], name="label_made_voided_once"),
            models.CheckConstraint(condition=models.Q(paper__isnull=True) ^ models.Q(made__isnull=True), name="label_of_one_document"),
        ]

    def __str__(self) -> str:
        return f"{self.card} {self.label}"
