"""Profile file → `Profile`. In: TOML text. Out: standings and rules, each with its source; or one sentence that names line and field."""

from dosewright.core.interop.toml_text import TomlTable, parse_toml
from dosewright.core.packing.profile import Profile, Sourced

__all__ = ["PROFILE_RULES", "parse_profile"]

_STANDINGS = ("required", "recommended", "not stated", "to verify")
_EVIDENCE = ("retrieved", "memory", "proposal")

# Every rule that a profile must settle, and the kind of its value.
PROFILE_RULES: dict[str, str] = {
    "bud_max_days": "days",
    "max_supply_days": "days",
    "default_cycle_days": "days",
    "weeks_a_card_max": "days",
    "record_retention_years": "days",
    "number_style": "style",
    "micrograms_below_mg": "flag",
    "as_needed_in_card": "flag",
    "controlled_in_card": "flag",
    "hazardous_in_card": "flag",
    "one_person_may_check": "flag",
    "smallest_cavity_pt": "points",
    "smallest_header_pt": "points",
    "short_form_in_cavity": "flag",
    "continuation_headers": "flag",
    "check_counted_percent": "percent",
}

# Rules that came later: a profile which a pharmacy wrote before then has none of them, and keeps what held until then.
_LATER = ("smallest_cavity_pt", "smallest_header_pt", "short_form_in_cavity", "continuation_headers", "check_counted_percent")
_ALL = 100  # percent
_SMALLEST, _LARGEST = 5, 24  # points between which a smallest size can be meant


def parse_profile(text: str) -> Profile:
    """The profile that the text describes. Raises TomlError: unknown or missing key, wrong kind, a line without its source."""
    file = parse_toml(text)
    made = Profile(
        name=file.text("name"),
        title=file.text("title"),
        country=file.text("country"),
        verified_by=file.text("verified_by"),
        verified_on=file.day("verified_on") if file.has("verified_on") else None,
        fields=_fields(file.table("fields")),
        rules=_rules(file.table("rules")),
    )
    file.require_all_known()
    return made


def _fields(table: TomlTable) -> dict[str, Sourced]:
    found = {}
    for key in table.names():
        line = table.table(key)
        standing = line.choice("standing", *_STANDINGS)
        found[key] = _sourced(line, standing, standing)
    return found


def _rules(table: TomlTable) -> dict[str, Sourced]:
    lines = {rule: table.table(rule) for rule in PROFILE_RULES if rule not in _LATER or table.has(rule)}
    table.require_all_known()
    return {rule: _sourced(line, _rule_value(line, PROFILE_RULES[rule]), "") for rule, line in lines.items()}


def _rule_value(line: TomlTable, kind: str) -> int | bool | str:
    if kind == "flag":
        return line.flag("value")
    if kind == "style":
        return line.choice("value", "digits", "words")
    value = line.whole("value")
    if value < 1:
        raise line.fault("value", "must be at least 1")
    if kind == "points" and not _SMALLEST <= value <= _LARGEST:
        raise line.fault("value", f"must be a size in points, from {_SMALLEST} to {_LARGEST}")
    if kind == "percent" and value > _ALL:
        raise line.fault("value", f"must be a share in percent, from 1 to {_ALL}; {_ALL} means every cavity")
    return value


def _sourced(line: TomlTable, value: str | int | bool, standing: str) -> Sourced:  # noqa: FBT001 - a value of any kind, not a switch
    made = Sourced(value, line.text("source"), line.text("dated"), standing, line.choice("evidence", *_EVIDENCE))
    line.require_all_known()
    return made
