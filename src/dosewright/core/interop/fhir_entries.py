"""The entries of a bundle, and which one a reference means. Comes in: a parsed bundle. Goes out: entries by `Type/id` and by `fullUrl`.

A reference is resolved inside its own file only, never by a guess. Source: HL7 FHIR R4 (4.0.1), Bundle ("Resolving references in bundles"),
References, and "contained resources".
"""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

__all__ = ["Entries", "Entry", "Unresolved", "entries_of"]

_REST = re.compile(r"(?P<base>https?://.+/)(?P<local>[A-Z][A-Za-z]+/[A-Za-z0-9.-]{1,64})(?:/_history/[A-Za-z0-9.-]{1,64})?")
_LOCAL = re.compile(r"(?P<local>[A-Z][A-Za-z]+/[A-Za-z0-9.-]{1,64})(?:/_history/[A-Za-z0-9.-]{1,64})?")
_URN = re.compile(r"urn:(uuid|oid):.+")


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry's resource. `number` counts from 0, as the path `Bundle.entry[0]` does. `id` is "" where the resource has none."""

    number: int
    type: str
    id: str
    full_url: str
    resource: Mapping[str, Any]

    @property
    def name(self) -> str:
        """How findings name it: "MedicationRequest/o1", or by its place."""
        return f"{self.type}/{self.id}" if self.id else f"{self.type} (entry {self.number})"

    @property
    def local(self) -> str:
        return f"{self.type}/{self.id}" if self.id else ""

    @property
    def base(self) -> str:
        """The server's address where `fullUrl` is one of this resource: "https://a.example/fhir/"."""
        found = _REST.fullmatch(self.full_url)
        return found["base"] if found and found["local"] == self.local else ""


@dataclass(frozen=True, slots=True)
class Unresolved:
    """Why a reference means no one entry. `code` is a finding's code."""

    code: str


@dataclass(frozen=True, slots=True)
class Entries:
    """All entries that hold a resource, and which of them stand there twice."""

    all: tuple[Entry, ...]
    by_local: Mapping[str, Entry]
    by_url: Mapping[str, Entry]
    twice: frozenset[str]  # "Patient/p1", or a fullUrl

    def of_type(self, resource_type: str) -> Iterator[Entry]:
        """Entries of one resource type, in order."""
        return (entry for entry in self.all if entry.type == resource_type)

    def is_twice(self, entry: Entry) -> bool:
        """Whether another entry has the same type and id, or the same fullUrl."""
        return entry.local in self.twice or entry.full_url in self.twice

    def resolve(self, reference: str, source: Entry, resource_type: str) -> Entry | Unresolved:
        """The one entry of that type that `reference` means in a resource of `source`."""
        found = self._find(reference, source)
        if found is None:
            return Unresolved("resource.dangling-reference")
        if self.is_twice(found):
            return Unresolved("resource.reference-to-duplicate")
        return found if found.type == resource_type else Unresolved("resource.reference-of-other-type")

    def _find(self, reference: str, source: Entry) -> Entry | None:
        if address := _REST.fullmatch(reference):
            return self.by_url.get(address["base"] + address["local"])
        if _URN.fullmatch(reference):
            return self.by_url.get(reference)
        local = _LOCAL.fullmatch(reference)
        return self._near(local["local"], source) if local else None

    def _near(self, local: str, source: Entry) -> Entry | None:
        """A relative reference means the same server as the resource it stands in."""
        found = self.by_url.get(source.base + local) if source.base else None
        if found is None:
            found = self.by_local.get(local)
            if found and source.base and found.base and found.base != source.base:
                return None
        return found


def entries_of(bundle: Mapping[str, Any]) -> Entries:
    """Index the bundle's entries. Entries without a resource, or whose resource is no object with a type, are passed over."""
    listed = bundle.get("entry")
    entries = tuple(_entries(listed if isinstance(listed, list) else ()))
    return Entries(
        entries,
        {entry.local: entry for entry in reversed(entries) if entry.local},
        {entry.full_url: entry for entry in reversed(entries) if entry.full_url},
        frozenset(_twice(entries)),
    )


def _entries(listed: Sequence[Any]) -> Iterator[Entry]:
    for number, entry in enumerate(listed):
        resource = entry.get("resource") if isinstance(entry, dict) else None
        if isinstance(resource, dict) and isinstance(resource.get("resourceType"), str):
            yield Entry(number, resource["resourceType"], _text(resource.get("id")), _text(entry.get("fullUrl")), resource)


def _text(value: object) -> str:
    return value if isinstance(value, str) else ""


def _twice(entries: Sequence[Entry]) -> Iterator[str]:
    for names in ([entry.local for entry in entries], [entry.full_url for entry in entries]):
        yield from (name for name, times in Counter(names).items() if times > 1 and name)
