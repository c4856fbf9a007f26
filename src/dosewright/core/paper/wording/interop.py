"""Sentences for what core.interop finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {}
