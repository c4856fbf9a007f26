"""FHIR R4 `HumanName` → the one name that is printed. Comes in: the list of names. Goes out: the name in force and its place, or None.

The official one, else the usual one, else one without a use; never an old or maiden name, a nickname, or one that has ended.
Source: HL7 FHIR R4 (4.0.1), HumanName.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

__all__ = ["name_in_force"]

_USES = ("official", "usual", "")


def name_in_force(names: Sequence[Mapping[str, Any]]) -> tuple[int, str] | None:
    """The place in the list and the name: its text as given, else given names, family name and suffix in that order."""
    current = [(place, name) for place, name in enumerate(names) if "end" not in name.get("period", {})]
    for use in _USES:
        for place, name in current:
            if name.get("use", "") == use and (written := _written(name)):
                return place, written
    return None


def _written(name: Mapping[str, Any]) -> str:
    text: str = name.get("text", "")
    return text.strip() or " ".join(_parts(name))


def _parts(name: Mapping[str, Any]) -> Iterator[str]:
    if name.get("given") or name.get("family"):
        for part in (*name.get("given", ()), name.get("family"), *name.get("suffix", ())):
            if part:
                yield part.strip()
