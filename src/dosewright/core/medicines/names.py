"""Whether a text names a substance or a form: whole words, any case, in order. "Calcium" is not in "Calcipotriol"."""

import re
from functools import lru_cache

__all__ = ["mentions", "words_of"]


@lru_cache(maxsize=4096)
def words_of(text: str) -> tuple[str, ...]:
    """The words of a text in small letters, without what stands between them."""
    return tuple(re.findall(r"[^\W_]+", text.casefold()))


@lru_cache(maxsize=65536)
def mentions(text: str, name: str) -> bool:
    """Whether the words of `name` stand in `text`, whole and one after the other. An empty name is in nothing."""
    wanted, held = words_of(name), words_of(text)
    return bool(wanted) and any(held[at : at + len(wanted)] == wanted for at in range(len(held) - len(wanted) + 1))
