"""Whether a text names a substance or a form: whole words, any case, in order. "Calcium" is not in "Calcipotriol"."""

import re
from functools import lru_cache

__all__ = ["mentions"]


@lru_cache(maxsize=4096)
def _words(text: str) -> tuple[str, ...]:
    return tuple(re.findall(r"[^\W_]+", text.casefold()))


@lru_cache(maxsize=65536)
def mentions(text: str, name: str) -> bool:
    """Whether the words of `name` stand in `text`, whole and one after the other. An empty name is in nothing."""
    wanted, held = _words(name), _words(text)
    return bool(wanted) and any(held[at : at + len(wanted)] == wanted for at in range(len(held) - len(wanted) + 1))
