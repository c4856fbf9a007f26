"""The rules that ship, as a pharmacy begins with them. From then on its own copy counts."""

from dosewright.devices.shipped import read_shipped
from dosewright.store.pharmacy import RuleTexts

__all__ = ["load_shipped_rules"]


def load_shipped_rules(profile: str, card_format: str = "seven-by-four") -> RuleTexts:
    """The texts of one profile ("uk", "us", …) and one card format. Raises FileNotFoundError for a name that does not ship."""
    return RuleTexts(
        profile=read_shipped("profiles", f"{profile}.toml"),
        card_format=read_shipped("formats", f"{card_format}.toml"),
        forms=read_shipped("suitability", "forms.toml"),
        products=read_shipped("suitability", "products.toml"),
        pairs=read_shipped("suitability", "pairs.toml"),
    )
