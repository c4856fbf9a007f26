"""A card comes back: what is left in it is counted, cavity by cavity."""

from collections.abc import Mapping
from datetime import date
from fractions import Fraction

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.cells import format_cells
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.returning import returning_movements
from dosewright.core.custody.rights import Ability
from dosewright.core.rounds.left import check_counted_return, check_uncounted
from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.calendar import wall_day
from dosewright.store.cards import StoredCard, lock_card, save_event
from dosewright.store.stock import lock_lots, save_movements

__all__ = ["take_return"]


@doing(Ability.TAKE_RETURN, "card")
def take_return(number: CardNumber, on: Occasion, counted: Mapping[Cell, Fraction]) -> Outcome:
    """What came back waits to be destroyed; what did not was given. Neither is ever stock again (R10, R11).

    An empty cavity is counted as 0. Only a day that is past by the clock may go uncounted, and is then taken as given.
    """
    card = lock_card(number)
    findings = check_follows(card.state, Deed.RETURNED) + check_counted_return(card.state.placed, counted)
    findings += check_uncounted(card.state.placed, counted, _days(card), wall_day(on.at))
    if blocks(findings):
        return not_done(findings)
    movements = returning_movements(card.state, counted)
    lock_lots(movements)
    _, entry = save_event(card, Deed.RETURNED, on, {"cells": format_cells(counted)})
    save_movements(movements, entry)
    return done(findings)


def _days(card: StoredCard) -> dict[Cell, date]:
    """On which day each cell that holds something is due."""
    due = {(cavity.row, cavity.column): cavity.day for cavity in card.card.cavities}
    return {units.cell: due[units.cell.row, units.cell.column] for units in card.state.placed}
