"""Sentences for what core.checking finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {}
