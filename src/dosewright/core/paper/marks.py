"""What every sheet carries besides its matter: the strip (whose it is), the plan's fingerprint, the caution, the page's number."""

from dosewright.core.paper.dates import year_day
from dosewright.core.paper.material import Material
from dosewright.core.units.person import Person

__all__ = ["CAUTION", "CHILDREN", "fingerprint", "fingerprint_words", "second_identifiers"]

# DESIGN: on every print-out. The wording about children: Royal Pharmaceutical Society, dispensing labels.
CAUTION = "Supports trained staff. Does not replace professional judgement, the product's own information, local law or licensed practice."
CHILDREN = "Keep out of the sight and reach of children."

FINGERPRINT_LETTERS = 16  # 64 bits of the plan's sha256: two plans that meet in one pharmacy are never alike by chance


def fingerprint(material: Material) -> str:
    """ "plan 7f3a 91c2 0b1d 44e0": the first letters of the plan's fingerprint; the PDF's subject holds all of it."""
    return fingerprint_words(material.plan.basis)


def fingerprint_words(basis: str) -> str:
    """The same for the fingerprint of any plan, or of several plans together (`finish.basis_of`)."""
    first = basis[:FINGERPRINT_LETTERS]
    return "plan " + " ".join(first[n : n + 4] for n in range(0, len(first), 4))


def second_identifiers(person: Person, material: Material) -> str:
    """ "born 4 February 1939, The Lindens, room 12": whatever is known besides the name; "" where nothing is."""
    home = material.homes.get(person.home, person.home) if person.home else ""
    room = f"room {person.room}" if person.room else ""
    born = f"born {year_day(person.born)}" if person.born else ""
    return ", ".join(part for part in (born, home, room, person.address if not home else "") if part)
