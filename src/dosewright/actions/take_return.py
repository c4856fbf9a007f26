"""A card comes back: what is left in it is counted, cavity by cavity."""

from collections.abc import Mapping
from fractions import Fraction

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.cells import format_cells
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.returning import returning_movements
from dosewright.core.custody.rights import Ability
from dosewright.core.rounds.left import check_counted_return
from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import lock_card, save_event
from dosewright.store.stock import lock_lots, save_movements

__all__ = ["take_return"]


@doing(Ability.TAKE_RETURN, "card")
def take_return(number: CardNumber, on: Occasion, counted: Mapping[Cell, Fraction]) -> Outcome:
    """What came back waits to be destroyed; what did not was given. Neither is ever stock again (R10, R11)."""
    card = lock_card(number)
    findings = check_follows(card.state, Deed.RETURNED) + check_counted_return(card.state.placed, counted)
    if blocks(findings):
        return not_done(findings)
    movements = returning_movements(card.state, counted)
    lock_lots(movements)
    _, entry = save_event(card, Deed.RETURNED, on, {"cells": format_cells(counted)})
    save_movements(movements, entry)
    return done(findings)
