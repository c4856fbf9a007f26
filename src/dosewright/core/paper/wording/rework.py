"""Sentences for what core.rework finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {
    "rework.card-touched": "Card {card} no longer holds what the orders ask from {date} on. A pharmacist must decide about it.",
}
