"""Sentences for what core.rounds finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {
    "rounds.more-returned-than-held": (
        "Card {card}, row {row}, column {column}, order {order}: {counted} came back, but only {held} went in. "
        "Count again, and say whose it is."
    ),
    "rounds.not-counted": (
        "Card {card}, row {row}, column {column}, order {order}: its day, {date}, is not over, and nobody counted what came back. "
        "Count it; write 0 where the cavity is empty."
    ),
    "rounds.taken-as-given": (
        "Card {card}, row {row}, column {column}, order {order}: nobody counted it, and {date} is past, so it is taken as given."
    ),
}
