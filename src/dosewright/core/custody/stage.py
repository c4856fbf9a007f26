"""Where a card stands in its life."""

from enum import StrEnum

__all__ = ["LEFT_THE_PHARMACY", "OVER", "Stage"]


class Stage(StrEnum):
    """In the order of a card's life; the last two end it."""

    PLANNED = "planned"
    PRINTED = "printed"
    FILLING = "filling"
    FILLED = "filled"
    CHECKED = "checked"
    SEALED = "sealed"
    RELEASED = "released"
    HANDED_OVER = "handed over"
    RECEIVED = "received"
    IN_USE = "in use"
    RETURNED = "returned"
    WITHDRAWN = "withdrawn"
    DESTROYED = "destroyed"


# What has once been in other hands is never stock again (R10).
LEFT_THE_PHARMACY = frozenset({Stage.HANDED_OVER, Stage.RECEIVED, Stage.IN_USE, Stage.RETURNED})
OVER = frozenset({Stage.RETURNED, Stage.WITHDRAWN, Stage.DESTROYED})
