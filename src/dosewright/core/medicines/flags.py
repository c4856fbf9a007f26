"""What a product can be marked with in the medicines file. A flag that is not known is a fault, since a slip in it would lose a rule."""

from collections.abc import Mapping

__all__ = ["FLAGS"]

FLAGS: Mapping[str, str] = {
    "alone": "has its cavity to itself",
    "cold-chain": "kept in a refrigerator",
    "controlled": "a controlled medicine under the profile's law",
    "halves-no": "may not be divided",
    "hazardous": "hazardous to those who handle it",
    "high-risk": "a mistake with it does grave harm: its cavities are counted at every check",
    "light": "must be kept from light",
    "moisture": "must be kept from moisture",
    "original-pack": "stays in the maker's pack",
    "time-critical": "given at its time, to the minute that the home keeps",
}
