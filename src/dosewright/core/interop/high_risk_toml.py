"""The file of medicines with which a mistake does grave harm → values. In: TOML text. Out: its lines, or one sentence."""

from dosewright.core.interop.toml_text import TomlTable, parse_toml
from dosewright.core.medicines.high_risk import HighRisk

__all__ = ["parse_high_risk"]

_EVIDENCE = ("retrieved", "memory", "proposal")


def parse_high_risk(text: str) -> tuple[HighRisk, ...]:
    """All lines of the file, in its order. Raises TomlError, also for an id that comes twice."""
    file = parse_toml(text)
    tables = file.tables("medicine")
    made = tuple(_line(table) for table in tables)
    file.require_all_known()
    for at, (table, line) in enumerate(zip(tables, made, strict=True)):
        if line.id in {other.id for other in made[:at]}:
            raise table.fault("id", f"must be its own; {line.id} stands twice")
    return made


def _line(table: TomlTable) -> HighRisk:
    said = {key: table.text(key) for key in ("id", "reason", "source", "dated")}
    line = HighRisk(names=table.texts("names"), evidence=table.choice("evidence", *_EVIDENCE), **said)
    table.require_all_known()
    return line
