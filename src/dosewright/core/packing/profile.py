"""What one country or state asks of a card, as data with source and date on every line. Read from a TOML file the pharmacy edits."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from dosewright.core.units.amount_words import NumberStyle

__all__ = ["Profile", "Sourced"]


@dataclass(frozen=True, slots=True)
class Sourced:
    """One value of a profile with where it comes from: `source` names the publication, `dated` its edition, `standing` is "required",
    "recommended", "not stated" or "to verify" for fields, and "" for parameters. `evidence`: "retrieved", "memory" or "proposal"."""

    value: str | int | bool
    source: str
    dated: str
    standing: str = ""
    evidence: str = ""


@dataclass(frozen=True, slots=True)
class Profile:
    """`fields` maps a field id ("pack.serial", "line.directions", …) to its standing; `rules` a parameter to its value.

    Parameters: bud_max_days, number_style ("digits" | "words"), as_needed_in_card, controlled_in_card, hazardous_in_card,
    one_person_may_check, max_supply_days, default_cycle_days, weeks_a_card_max, micrograms_below_mg, record_retention_years. Each
    perhaps absent: smallest_cavity_pt, smallest_header_pt, short_form_in_cavity, continuation_headers, check_counted_percent.
    """

    name: str
    title: str
    country: str
    verified_by: str
    verified_on: date | None
    fields: Mapping[str, Sourced]
    rules: Mapping[str, Sourced]

    @property
    def number_style(self) -> NumberStyle:
        """How doses are written: digits, or capital words where the profile asks for them."""
        line = self.rules.get("number_style")
        return "words" if line is not None and line.value == "words" else "digits"

    def number(self, rule: str) -> int:
        """A whole-number parameter. Raises KeyError or TypeError."""
        value = self.rules[rule].value
        if isinstance(value, bool) or not isinstance(value, int):
            raise TypeError(f"profile {self.name}: {rule} must be a whole number, not {value!r}")
        return value

    def allows(self, rule: str) -> bool:
        """A yes-or-no parameter. Raises KeyError or TypeError."""
        value = self.rules[rule].value
        if not isinstance(value, bool):
            raise TypeError(f"profile {self.name}: {rule} must be true or false, not {value!r}")
        return value

    def smallest_points(self, rule: str, otherwise: int) -> int:
        """A smallest size of type, in points; `otherwise` where the profile has none. Raises TypeError."""
        return self.number(rule) if rule in self.rules else otherwise

    def permits(self, rule: str) -> bool:
        """A yes-or-no parameter that older profiles lack: they permit it. Raises TypeError."""
        return rule not in self.rules or self.allows(rule)

    @property
    def counted_percent(self) -> int:
        """Of the cavities that nothing singles out, how many in a hundred a checker must count: all, where the profile does not say."""
        return self.number("check_counted_percent") if "check_counted_percent" in self.rules else 100

    def required(self) -> tuple[str, ...]:
        """Field ids without which nothing may be printed, in the file's order."""
        return tuple(name for name, line in self.fields.items() if line.standing == "required")
