"""Medicines with which a mistake does grave harm, as the list ships; read once."""

from functools import cache

from dosewright.core.interop.high_risk_toml import parse_high_risk
from dosewright.core.medicines.high_risk import HighRisk
from dosewright.devices.shipped import read_shipped

__all__ = ["load_high_risk"]


@cache
def load_high_risk() -> tuple[HighRisk, ...]:
    """The lines of `shipped/checking/high_risk.toml`. Raises FileNotFoundError where the installation is broken."""
    return parse_high_risk(read_shipped("checking", "high_risk.toml"))
