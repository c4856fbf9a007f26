"""Sentences for what core.supply finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {}
