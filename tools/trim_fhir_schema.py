"""Make the shipped FHIR R4 schema from the published definitions: only what a bundle of orders reaches, in one stable form.

    python tools/trim_fhir_schema.py FOLDER > src/dosewright/shipped/fhir/r4.schema.json

Comes in: a folder with `fhir.schema.json`, `profiles-types.json` and `profiles-resources.json` of FHIR R4 (4.0.1), as HL7 publishes them.
Goes out: the definitions that the resources under ROOTS reach, sorted, without prose. A resource inside another one is checked by its own
definition, so the list of all resources is left out.

What the published schema does not say is added from the same definitions, as two keywords of our own:
- `present`: elements that must be there, as themselves or (a primitive) as their extension `_name`;
- `choices`: groups of which at most one may be there (`value[x]`), and whether one must.
And amended: whatever has elements is an object, which the published schema leaves out, so that `false` would pass for a concept;
and because JSON Schema applies a `pattern` to text only and the published file writes whole numbers as patterned numbers:
integer, positiveInt and unsignedInt take the limits of the standard's own page of datatypes. And base64Binary: the published pattern
knows no "/" and needs time without bound on hostile text.
"""

import json
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

ROOTS = ("Bundle", "Medication", "MedicationDispense", "MedicationRequest", "Patient", "Practitioner", "PractitionerRole")
LARGEST = 2**31 - 1  # FHIR R4 datatypes: integer is a signed 32-bit number
AMENDED: Mapping[str, Mapping[str, Any]] = {
    "base64Binary": {"type": "string", "pattern": r"^[0-9A-Za-z+/=\s]+$"},
    "integer": {"type": "integer", "minimum": -LARGEST - 1, "maximum": LARGEST},
    "positiveInt": {"type": "integer", "minimum": 1, "maximum": LARGEST},
    "unsignedInt": {"type": "integer", "minimum": 0, "maximum": LARGEST},
}


def trim(published: Mapping[str, Any], elements: Mapping[str, Any]) -> dict[str, Any]:
    """The trimmed schema; `elements` as `elements_of` gives them. Raises KeyError where a file is not what it should be."""
    definitions = published["definitions"] | AMENDED | {"ResourceList": _any_resource(published["definitions"])}
    kept = {name: _stated_type(_without_prose(definitions[name])) for name in sorted(_reached(definitions))}
    for path, element in elements.items():
        parent, _, name = path.rpartition(".")
        if definition := kept.get(_definition_name(parent)):
            _add_rule(definition, name, required=element["min"] > 0)
    return {"$schema": published["$schema"], "id": published["id"], "definitions": kept}


def _any_resource(definitions: Mapping[str, Any]) -> dict[str, Any]:
    """An object that says which of the standard's resources it is."""
    names = sorted(choice["$ref"].removeprefix("#/definitions/") for choice in definitions["ResourceList"]["oneOf"])
    return {"type": "object", "required": ["resourceType"], "properties": {"resourceType": {"enum": names}}}


def elements_of(*profiles: Mapping[str, Any]) -> dict[str, Any]:
    """Every element of the standard's own datatypes and resources, by its path."""
    structures = [entry["resource"] for profile in profiles for entry in profile["entry"]]
    return {
        element["path"]: element
        for structure in structures
        if structure["resourceType"] == "StructureDefinition" and structure.get("derivation") != "constraint"
        for element in structure["snapshot"]["element"]
    }


def _add_rule(definition: dict[str, Any], name: str, *, required: bool) -> None:
    properties = definition.get("properties", {})
    if name.endswith("[x]"):
        stem = name.removesuffix("[x]")
        group = sorted(key for key in properties if key.startswith(stem) and key[len(stem) :][:1].isupper())
        definition.setdefault("choices", []).append({"of": group, "required": required})
    elif required and name in properties:
        definition.setdefault("present", []).append(name)


def _definition_name(path: str) -> str:
    """ "Timing.repeat" is called "Timing_Repeat"."""
    return "_".join(part[:1].upper() + part[1:] for part in path.split("."))


def _reached(definitions: Mapping[str, Any]) -> set[str]:
    reached: set[str] = set()
    waiting = list(ROOTS)
    while waiting:
        name = waiting.pop()
        if name not in reached:
            reached.add(name)
            waiting.extend(_names_in(definitions[name]))
    return reached


def _names_in(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        if isinstance(node.get("$ref"), str):
            yield node["$ref"].removeprefix("#/definitions/")
        for child in node.values():
            yield from _names_in(child)
    elif isinstance(node, list):
        for child in node:
            yield from _names_in(child)


def _stated_type(definition: dict[str, Any]) -> dict[str, Any]:
    return {"type": "object"} | definition if "properties" in definition else definition


def _without_prose(node: Any) -> Any:
    """A `description` that is text is prose; one that is a schema is a property of that name."""
    if isinstance(node, dict):
        return {key: _without_prose(child) for key, child in sorted(node.items()) if not (key == "description" and isinstance(child, str))}
    if isinstance(node, list):
        return [_without_prose(child) for child in node]
    return node


def main() -> None:
    folder = Path(sys.argv[1])
    schema, types, resources = (
        json.loads((folder / name).read_text(encoding="utf-8"))
        for name in ("fhir.schema.json", "profiles-types.json", "profiles-resources.json")
    )
    sys.stdout.write(json.dumps(trim(schema, elements_of(types, resources)), ensure_ascii=False, indent=1) + "\n")


if __name__ == "__main__":
    main()
