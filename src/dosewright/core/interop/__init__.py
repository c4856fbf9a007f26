"""FHIR, CSV, JSON, GS1 text to values and back. Whoever calls does the reading and writing of files."""
