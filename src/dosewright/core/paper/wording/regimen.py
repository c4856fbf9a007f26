"""Sentences for what core.regimen finds."""

from dosewright.core.paper.wording import expansion, reading

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {**expansion.SENTENCES, **reading.SENTENCES}
