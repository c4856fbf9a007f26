"""All files of the demonstration, by name. The same bytes every time."""

from collections.abc import Mapping

from dosewright.config.demo.medicines_file import medicines_csv
from dosewright.config.demo.order_files import bundle, table
from dosewright.config.demo.orders import changes, orders
from dosewright.config.demo.sources import DemoPerson, people
from dosewright.config.demo.stock import bottles_csv

__all__ = ["ORDER_FILES", "demo_files"]

# What the pharmacy receives, in the order in which it comes.
ORDER_FILES = ("saltmarsh-house.csv", "the-lindens.csv", "at-home.json")


def demo_files() -> Mapping[str, bytes]:
    """File name → bytes: the catalogue, a table of orders from each home, a FHIR bundle for the people at home; a table of changes that the
    visitor may bring in while cards are on the bench, and what a scanner would type for each bottle."""
    texts = {
        "medicines.csv": medicines_csv(),
        "saltmarsh-house.csv": table(_living_in("Saltmarsh House"), orders()),
        "the-lindens.csv": table(_living_in("The Lindens"), orders()),
        "at-home.json": bundle(_living_in(""), orders()),
        "changes.csv": table(people(), changes()),
        "bottles.csv": bottles_csv(),
    }
    return {name: text.encode() for name, text in texts.items()}


def _living_in(home: str) -> tuple[DemoPerson, ...]:
    return tuple(person for person in people() if person.home == home)
