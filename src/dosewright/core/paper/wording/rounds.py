"""Sentences for what core.rounds finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {
    "rounds.more-returned-than-held": (
        "Card {card}, row {row}, column {column}, order {order}: {counted} came back, but only {held} went in. "
        "Count again, and say whose it is."
    ),
}
