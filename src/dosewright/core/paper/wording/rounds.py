"""Sentences for what core.rounds finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {}
