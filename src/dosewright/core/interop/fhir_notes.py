"""Findings about one FHIR resource: each names file, resource and path, and the person and order as far as they are known."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from dosewright.core.interop.characters import find_forbidden
from dosewright.core.interop.fhir_definitions import FhirFault
from dosewright.core.interop.fhir_walk import find_modifiers
from dosewright.core.units.finding import Fact, Finding, Severity, blocks
from dosewright.core.units.ids import OrderId, PersonId

__all__ = ["ResourceNotes"]

_LONGEST_TEXT = 10_000


@dataclass(slots=True)
class ResourceNotes:
    """Collects what is found while one resource is read. `usable` until a `stop` is added."""

    file: str
    resource: str
    person: PersonId | None = None
    order: OrderId | None = None
    findings: list[Finding] = field(default_factory=list)

    @property
    def usable(self) -> bool:
        """Whether nothing was found that stops the resource's use."""
        return not blocks(self.findings)

    def stop(self, code: str, path: str, **facts: Fact) -> None:
        """Something that cannot be used as it is."""
        self.add(Severity.STOP, code, path, **facts)

    def add(self, severity: Severity, code: str, path: str, **facts: Fact) -> None:
        """One more finding."""
        self.findings.append(Finding(code, severity, {**self.where(), "path": path}, facts))

    def take(self, findings: Iterable[Finding], path: str = "") -> None:
        """Findings of another reader, brought to this resource. Their own path stands where they have one."""
        self.findings += [replace(found, where={**self.where(), "path": path, **found.where}) for found in findings]

    def faults(self, faults: Iterable[FhirFault]) -> None:
        """Breaches of the definitions."""
        for fault in faults:
            self.stop(fault.code, fault.path, **fault.facts)

    def modifiers(self, resource: Mapping[str, object], root: str) -> None:
        """Everything that may turn the resource's meaning round."""
        for code, path in find_modifiers(resource, root):
            self.stop(code, path)

    def text(self, value: str, path: str, *, breaks: bool = True) -> str:
        """The text without blanks around it; "" and a finding where it holds a character that may not be shown."""
        if forbidden := find_forbidden(value, breaks=breaks):
            self.stop("resource.forbidden-character", path, character=forbidden)
            return ""
        if len(value) > _LONGEST_TEXT:
            self.stop("resource.text-too-long", path, length=len(value), longest=_LONGEST_TEXT)
            return ""
        return value.strip()

    def where(self) -> dict[str, Fact]:
        """File and resource; person and order as far as they are known."""
        where: dict[str, Fact] = {"file": self.file, "resource": self.resource}
        if self.person is not None:
            where["person"] = self.person
        if self.order is not None:
            where["order"] = self.order
        return where
