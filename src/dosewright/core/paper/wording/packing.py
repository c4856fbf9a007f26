"""Sentences for what core.packing finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {}
