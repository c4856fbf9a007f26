"""What may turn a resource's meaning round: `modifierExtension` and `implicitRules`. Comes in: a resource. Goes out: their paths.

A reader that does not know a modifier must not use what it stands on. Source: HL7 FHIR R4 (4.0.1), Extensibility; Resource.implicitRules.
"""

from collections.abc import Iterator, Mapping
from typing import Any

__all__ = ["find_modifiers"]

_MODIFIERS = {
    "modifierExtension": "resource.modifier-extension",
    "implicitRules": "resource.implicit-rules",
    "_implicitRules": "resource.implicit-rules",
}
_OTHERS = ("contained", "resource")  # looked at when they are used


def find_modifiers(resource: Mapping[str, Any], root: str) -> Iterator[tuple[str, str]]:
    """Each as a finding's code and its path, at any depth, leaving out contained resources."""
    for name, child in resource.items():
        path = f"{root}.{name}"
        if name in _MODIFIERS:
            yield _MODIFIERS[name], path
        elif name not in _OTHERS:
            yield from _find_in(child, path)


def _find_in(node: Any, path: str) -> Iterator[tuple[str, str]]:
    if isinstance(node, Mapping):
        yield from find_modifiers(node, path)
    elif isinstance(node, list):
        for number, child in enumerate(node):
            yield from _find_in(child, f"{path}[{number}]")
