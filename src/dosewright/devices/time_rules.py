"""What is known about medicines' times of day, as it ships; read once."""

from functools import cache

from dosewright.core.interop.time_rules_toml import parse_time_rules
from dosewright.core.medicines.time_of_day import TimeRules
from dosewright.devices.shipped import read_shipped

__all__ = ["load_time_rules"]


@cache
def load_time_rules() -> TimeRules:
    """The rules of `shipped/suitability/times.toml`. Raises FileNotFoundError where the installation is broken."""
    return parse_time_rules(read_shipped("suitability", "times.toml"))
