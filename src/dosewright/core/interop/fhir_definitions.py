"""The FHIR R4 definitions as a checker. Comes in: the shipped schema's text. Goes out: what is wrong with a resource, each with its path.

Each resource is checked by its own definition, through the jsonschema library; resources inside it (`contained`, `Bundle.entry.resource`)
are left to whoever uses them. Beside the definitions the JSON form's own rules hold: nothing empty, no null but to keep a place in a list.
Source: HL7 FHIR R4 (4.0.1), fhir.schema.json (trimmed, see shipped/fhir/ORIGIN.txt) and the page "JSON representation of resources".
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from itertools import islice
from typing import Any

from jsonschema import Draft6Validator
from jsonschema.exceptions import ValidationError
from jsonschema.protocols import Validator
from jsonschema.validators import extend

from dosewright.core.interop.json_text import JsonValue, parse_json
from dosewright.core.units.finding import Fact

__all__ = ["FhirDefinitions", "FhirFault", "parse_definitions"]

_MOST_FAULTS = 20  # of one resource; more would bury the rest of the file
_SHOWN = 60  # characters of a wrong value
_INSIDE = ("contained", "resource")


@dataclass(frozen=True, slots=True)
class FhirFault:
    """One breach of the definitions. `code` is a finding's code, `path` as FHIRPath writes it: "MedicationRequest.dosageInstruction[0]"."""

    code: str
    path: str
    facts: Mapping[str, Fact]


class FhirDefinitions:
    """Checks resources. Compiled once; holds no state between resources."""

    def __init__(self, definitions: Mapping[str, Any]) -> None:
        ways = {"$ref": _referrer(definitions), "pattern": _check_pattern, "present": _check_present, "choices": _check_choices}
        checker: type[Validator] = extend(Draft6Validator, ways)  # type: ignore[no-untyped-call]  # the stubs leave it untyped
        self._checkers: dict[str, Validator] = {name: checker(schema) for name, schema in definitions.items()}

    def check(self, resource: dict[str, Any], resource_type: str) -> tuple[FhirFault, ...]:
        """What is wrong, in no more than twenty faults; empty when the resource keeps its definition. Raises KeyError for another type."""
        errors = self._checkers[resource_type].iter_errors(resource)
        in_order = sorted(errors, key=lambda error: (list(map(str, error.absolute_path)), error.message))
        by_definition = (_fault(error, resource_type) for error in in_order if not _keeps_a_place(error, resource))
        by_form = (FhirFault("resource.empty", path, {}) for path in _empties(resource, resource_type))
        return tuple(islice((*by_definition, *by_form), _MOST_FAULTS))


def parse_definitions(schema: str) -> FhirDefinitions:
    """The checker from the shipped schema's text. Raises JsonError, KeyError for another file."""
    parsed: Any = parse_json(schema)
    return FhirDefinitions(parsed["definitions"])


Check = Callable[[Any, Any, Any, Any], Iterator[ValidationError]]


def _referrer(definitions: Mapping[str, Any]) -> Check:
    """Every reference in the schema is to a definition beside it; looking it up here is twice as fast as the library's general way."""

    def check(validator: Any, reference: str, instance: Any, schema: Any) -> Iterator[ValidationError]:
        yield from validator.descend(instance, definitions[reference.removeprefix("#/definitions/")])

    return check


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern)


def _check_pattern(validator: Any, pattern: str, instance: Any, schema: Any) -> Iterator[ValidationError]:
    """The whole text must match: in Python alone "$" would let a line break through at the end."""
    if isinstance(instance, str) and not _compiled(pattern).fullmatch(instance):
        yield ValidationError("pattern")


def _check_present(validator: Any, names: list[str], instance: Any, schema: Any) -> Iterator[ValidationError]:
    if isinstance(instance, dict):
        for name in names:
            if name not in instance and f"_{name}" not in instance:
                yield ValidationError(name)


def _check_choices(validator: Any, choices: list[dict[str, Any]], instance: Any, schema: Any) -> Iterator[ValidationError]:
    if isinstance(instance, dict):
        for choice in choices:
            found = [name for name in choice["of"] if name in instance or f"_{name}" in instance]
            if len(found) > 1 or (choice["required"] and not found):
                yield ValidationError(", ".join(found or choice["of"]))


def _keeps_a_place(error: ValidationError, resource: dict[str, Any]) -> bool:
    """A null in a list of primitives where the list beside it (`_given`) holds the extension: the JSON form's own way, and no fault."""
    steps = list(error.absolute_path)
    if error.instance is not None or len(steps) < 2 or not isinstance(steps[-1], int):
        return False
    node: Any = resource
    for step in steps[:-2]:
        node = node[step]
    name = str(steps[-2])
    twin = node.get(name.removeprefix("_") if name.startswith("_") else f"_{name}")
    return isinstance(twin, list) and len(twin) > steps[-1] and twin[steps[-1]] is not None


_CODES = {
    "additionalProperties": "resource.unknown-element",
    "required": "resource.missing-element",
    "present": "resource.missing-element",
    "choices": "resource.one-of",
    "type": "resource.wrong-type",
    "pattern": "resource.wrong-form",
}


def _fault(error: ValidationError, resource_type: str) -> FhirFault:
    code = _CODES.get(str(error.validator), "resource.wrong-value")
    return FhirFault(code, _path(resource_type, error.absolute_path), _facts(error))


def _facts(error: ValidationError) -> dict[str, Fact]:
    held: Any = error.instance
    schema: Any = error.schema
    match error.validator:
        case "additionalProperties":
            unknown = sorted(name for name in held if name not in schema["properties"])
            return {"element": ", ".join(map(_short, unknown))}
        case "required":
            return {"element": error.message.split("'")[1]}
        case "present" | "choices":
            return {"element": error.message}
        case "pattern":
            return {"value": _short(held)}
    return {"value": _short(held), "expected": _expected(held, error.validator_value)}


def _expected(held: object, wanted: object) -> str:
    """What may stand there; of a list too long to be shown, how many and the one that comes nearest."""
    if not isinstance(wanted, list):
        return _short(wanted)
    named = [str(one) for one in wanted]
    if len(text := ", ".join(named)) <= _SHOWN:
        return text
    near = get_close_matches(str(held), named, 1)
    return _short(f"one of {len(named)} values" + (f", such as {near[0]}" if near else ""))


def _path(root: str, steps: Any) -> str:
    return root + "".join(f"[{step}]" if isinstance(step, int) else f".{_short(step)}" for step in steps)


def _short(value: object) -> str:
    text = "".join(letter if letter.isprintable() else "\ufffd" for letter in str(value))
    return text if len(text) <= _SHOWN else f"{text[:_SHOWN]}…"


def _empties(node: JsonValue, path: str) -> Iterator[str]:
    """Places of objects and lists without content, of text of blanks only, and of nulls that keep no place."""
    if node is None or node in ({}, []) or (isinstance(node, str) and not node.strip()):
        yield path
    elif isinstance(node, dict):
        for name, child in node.items():
            if name not in _INSIDE:
                yield from _empties_under(node, name, child, f"{path}.{name}")
    elif isinstance(node, list):
        for number, child in enumerate(node):
            yield from _empties(child, f"{path}[{number}]")


def _empties_under(parent: Mapping[str, Any], name: str, child: JsonValue, path: str) -> Iterator[str]:
    """A list of primitives and the list of their extensions (`given`, `_given`) keep step by nulls."""
    twin = parent.get(name.removeprefix("_") if name.startswith("_") else f"_{name}")
    if isinstance(child, list) and isinstance(twin, list) and len(child) == len(twin):
        for number, (held, beside) in enumerate(zip(child, twin, strict=True)):
            if held is not None or beside is None:
                yield from _empties(held, f"{path}[{number}]")
    else:
        yield from _empties(child, path)
