"""Sentences for what core.rework finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {}
