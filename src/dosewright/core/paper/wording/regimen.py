"""Sentences for what core.regimen finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {}
