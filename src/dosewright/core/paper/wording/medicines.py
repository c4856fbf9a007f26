"""Sentences for what core.medicines finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {}
