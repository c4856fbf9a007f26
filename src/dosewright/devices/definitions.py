"""The HL7 FHIR R4 definitions that ship, read once: several megabytes."""

from functools import cache

from dosewright.core.interop.fhir_definitions import FhirDefinitions, parse_definitions
from dosewright.devices.shipped import read_shipped

__all__ = ["load_definitions"]


@cache
def load_definitions() -> FhirDefinitions:
    """The checker of resources. Raises FileNotFoundError where the installation is broken."""
    return parse_definitions(read_shipped("fhir", "r4.schema.json"))
