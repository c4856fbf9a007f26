"""Printed labels are made unusable, and the record says which and why."""

from dataclasses import dataclass

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.label_account import check_voiding
from dosewright.core.custody.reason import check_reason
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import Fact, blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import lock_set
from dosewright.store.label_sheets import load_card_lives, load_label_sheets, save_voided
from dosewright.store.ledger import append_entry

__all__ = ["Voiding", "void_labels"]


@dataclass(frozen=True, slots=True)
class Voiding:
    """Which labels of which card on which document, and why."""

    sheet: str
    card: CardNumber
    labels: tuple[str, ...]
    reason: str


@doing(Ability.VOID_LABELS, "set")
def void_labels(set_id: int, on: Occasion, what: Voiding) -> Outcome:
    """They count as voided from now on; refused for the only labels that an open card has."""
    lock_set(set_id)
    stored = load_label_sheets((set_id,)).get(set_id, ())
    mine = [one.sheet for one in stored if one.sheet.card == what.card]
    findings = check_voiding(what.sheet, what.labels, mine, load_card_lives((set_id,))) + check_reason(what.reason)
    if blocks(findings):
        return not_done(findings)
    sheet = next(one for one in mine if one.id == what.sheet)
    save_voided(sheet, what.labels, what.reason, on)
    copy = next(one.copy for one in stored if one.sheet is sheet)
    facts: dict[str, Fact] = {"card": what.card, "sheet": what.sheet, "copy": copy, "labels": what.labels, "reason": what.reason}
    append_entry(on, "labels voided", ("set", str(set_id)), facts)
    return done()
