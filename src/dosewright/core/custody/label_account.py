"""Every printed label is accounted for: in use, voided with a reason, or not accounted for.

Comes in: the label sheets that were printed, in order; what was voided; where each card stands in its life. Goes out: each label with its
standing. Source: reconciliation of labels issued, used and returned, 21 CFR 211.125(c) (from memory); its use for cards is our proposal.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from dosewright.core.custody.stage import OVER, Stage
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import CardNumber

__all__ = ["Accounted", "CardLife", "LabelSheet", "Standing", "Why", "account_for", "check_voiding"]


_HEADER = "h"  # the first letter of a header's name


class Standing(StrEnum):
    """What is known of a printed label."""

    IN_USE = "in use"
    VOIDED = "voided"
    UNACCOUNTED = "not accounted for"


class Why(StrEnum):
    """Why a label is not accounted for, or what voided it; NOTHING for one in use."""

    NOTHING = ""
    REASON = "reason"  # somebody voided it, and said why
    DESTROYED = "destroyed"  # with its card
    REPLACED = "replaced"  # destroyed when new labels went on the card, as the bench said
    LATER_COPY = "later copy"
    CARD_CHANGED = "card changed"
    CARD_OVER = "card over"


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """The labels of one card on one printed document. `id` names the document; `voided` holds each voided label's reason. `went_on`: the
    bench has said that these are on the card, and that those which they replace are destroyed."""

    id: str
    card: CardNumber
    labels: tuple[str, ...]
    voided: Mapping[str, str] = field(default_factory=dict)
    went_on: bool = False

    def replaces(self, label: str) -> bool:
        """Whether it has a label for the same place that is not voided; new headers replace all headers, however many there were."""
        if label in self.labels:
            return label not in self.voided
        return label.startswith(_HEADER) and any(one.startswith(_HEADER) and one not in self.voided for one in self.labels)


@dataclass(frozen=True, slots=True)
class CardLife:
    """Where a card stands, and whether its orders have changed without a decision yet."""

    stage: Stage
    out_of_date: bool = False


@dataclass(frozen=True, slots=True)
class Accounted:
    """One label and its standing. `reason`: the words of who voided it."""

    sheet: str
    card: CardNumber
    label: str
    standing: Standing
    why: Why = Why.NOTHING
    reason: str = ""


def account_for(sheets: Iterable[LabelSheet], cards: Mapping[CardNumber, CardLife]) -> tuple[Accounted, ...]:
    """Each label of the sheets, in order. Of the labels for one place of a card that are not voided, the one printed last is the card's.

    Raises KeyError for a card that is not among `cards`.
    """
    every = tuple(sheets)
    after = {id(sheet): [one for one in every[n + 1 :] if one.card == sheet.card] for n, sheet in enumerate(every)}
    return tuple(_label(sheet, label, cards[sheet.card], after[id(sheet)]) for sheet in every for label in sheet.labels)


def _label(sheet: LabelSheet, label: str, card: CardLife, after: Iterable[LabelSheet]) -> Accounted:
    """`after`: the sheets of the same card that were printed later."""
    if label in sheet.voided:
        return Accounted(sheet.id, sheet.card, label, Standing.VOIDED, Why.REASON, sheet.voided[label])
    replacing = [one for one in after if one.replaces(label)]
    if any(one.went_on for one in replacing):
        return Accounted(sheet.id, sheet.card, label, Standing.VOIDED, Why.REPLACED)
    return Accounted(sheet.id, sheet.card, label, *_standing(card, last=not replacing))


def _standing(card: CardLife, *, last: bool) -> tuple[Standing, Why]:
    if not last:
        return Standing.UNACCOUNTED, Why.LATER_COPY
    if card.stage is Stage.DESTROYED:
        return Standing.VOIDED, Why.DESTROYED
    if card.stage in OVER:
        return Standing.UNACCOUNTED, Why.CARD_OVER
    if card.out_of_date:
        return Standing.UNACCOUNTED, Why.CARD_CHANGED
    return Standing.IN_USE, Why.NOTHING


def check_voiding(
    sheet: str, labels: Iterable[str], sheets: Iterable[LabelSheet], cards: Mapping[CardNumber, CardLife]
) -> tuple[Finding, ...]:
    """Why these labels of a card on a sheet cannot be voided: none is named, one is not there or voided already, or it is the only one left
    for its place on a card that is still open. `sheets` are all of that one card."""
    every, wanted = tuple(sheets), tuple(labels)
    mine = next((one for one in every if one.id == sheet), None)
    if mine is None or not wanted:
        return (Finding("custody.no-label-named", Severity.STOP),)
    return tuple(_check(mine, wanted, every, cards))


def _check(
    mine: LabelSheet, wanted: tuple[str, ...], every: tuple[LabelSheet, ...], cards: Mapping[CardNumber, CardLife]
) -> Iterator[Finding]:
    where = {"card": mine.card}
    gone = [label for label in wanted if label not in mine.labels or label in mine.voided]
    if gone:
        yield Finding("custody.label-not-there", Severity.STOP, where, {"many": len(gone)})
    kept = [one for one in account_for(every, cards) if one.standing is not Standing.VOIDED]
    others = {one.label for one in kept if one.sheet != mine.id}
    needed = [label for label in wanted if label not in gone and label not in others]
    if needed and cards[mine.card].stage not in OVER:
        yield Finding("custody.label-needed", Severity.STOP, where, {"many": len(needed)})
