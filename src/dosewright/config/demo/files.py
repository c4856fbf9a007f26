"""All files of the demonstration, by name. The same bytes every time."""

from collections.abc import Mapping

from dosewright.config.demo.medicines_file import medicines_csv
from dosewright.config.demo.order_files import bundle, table
from dosewright.config.demo.orders import orders
from dosewright.config.demo.sources import people

__all__ = ["ORDER_FILES", "demo_files"]

# What the pharmacy receives, in the order in which it comes.
ORDER_FILES = ("saltmarsh-house.json", "the-lindens.csv", "at-home.json", "at-home.csv")


def demo_files() -> Mapping[str, bytes]:
    """File name → bytes: the catalogue, then the orders of each home and of the people at home."""
    saltmarsh = [person for person in people() if person.home == "Saltmarsh House"]
    lindens = [person for person in people() if person.home == "The Lindens"]
    at_home = [person for person in people() if not person.home]
    texts = {
        "medicines.csv": medicines_csv(),
        "saltmarsh-house.json": bundle(saltmarsh, orders()),
        "the-lindens.csv": table(lindens, orders()),
        "at-home.json": bundle([person for person in at_home if person.bundled], orders()),
        "at-home.csv": table([person for person in at_home if not person.bundled], orders()),
    }
    return {name: text.encode() for name, text in texts.items()}
