"""The rules that ship, read once for all tests that hold them against published examples."""

from functools import cache

from dosewright.core.interop.suitability_toml import parse_pairs, parse_rules
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.medicines.spacing import SpacingRule
from dosewright.core.medicines.suitability import Rules
from dosewright.devices.shipped import read_shipped


@cache
def rules() -> Rules:
    return parse_rules(read_shipped("suitability", "forms.toml"), read_shipped("suitability", "products.toml"))


@cache
def pairs() -> tuple[PairRule, ...]:
    return parse_pairs(read_shipped("suitability", "pairs.toml"))[0]


@cache
def spacings() -> tuple[SpacingRule, ...]:
    return parse_pairs(read_shipped("suitability", "pairs.toml"))[1]
