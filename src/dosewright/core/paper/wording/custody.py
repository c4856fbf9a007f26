"""Sentences for what core.custody finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {}
