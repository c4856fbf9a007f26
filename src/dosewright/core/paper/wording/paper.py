"""Sentences for what core.paper finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {}
