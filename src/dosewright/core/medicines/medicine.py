"""What a medicine is: one product as it lies in the hand, with the facts that packing, paper and checking need of it."""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from dosewright.core.units.ids import Gtin, MedicineCode
from dosewright.core.units.quantity import Quantity, Unit

__all__ = ["Medicine", "Shape", "Size"]


class Shape(StrEnum):
    """The outlines whose volume has a formula."""

    ROUND = "round"  # flat disc
    BICONVEX = "biconvex"
    CAPLET = "caplet"  # stadium prism
    OVAL = "oval"  # ellipsoid
    CAPSULE = "capsule"  # spherocylinder


@dataclass(frozen=True, slots=True)
class Size:
    """A unit's length, width and overall thickness in millimetres, exact; each above zero, length ≥ width. Raises ValueError.

    `cup` is the depth of one domed face of a biconvex unit, where it was measured.
    """

    length: Fraction
    width: Fraction
    thickness: Fraction
    cup: Fraction | None = None

    def __post_init__(self) -> None:
        if min(self.length, self.width, self.thickness) <= 0:
            raise ValueError("a unit's length, width and thickness must be above zero")
        if self.width > self.length:
            raise ValueError("a unit's width cannot exceed its length")
        if self.cup is not None and not 0 <= 2 * self.cup <= self.thickness:
            raise ValueError("both cups of a unit must fit in its overall thickness")


@dataclass(frozen=True, slots=True)
class Medicine:
    """One product. `name` is the generic name in sentence case without the strength; `strength` as the safe-text rules print it.

    `strength_amount` is what one unit holds, where that is a single exact quantity ("5 mg"), else None ("50 mg/12.5 mg").
    `form` is lower case, singular, as data/forms.toml spells it ("tablet", "orodispersible tablet", "oral liquid"); `unit` is the
    countable word ("tablet", "capsule", "mL"). `flags` are codes documented in docs/medicines.md ("alone", "hazardous", "halves-no").
    `shape` and `size` are None where the unit is not packed.
    """

    code: MedicineCode
    name: str
    strength: str
    form: str
    unit: Unit
    strength_amount: Quantity | None = None
    shape: Shape | None = None
    size: Size | None = None
    colour: str = ""
    mark: str = ""
    maker: str = ""
    gtin: Gtin | None = None
    pack_size: Fraction | None = None
    flags: frozenset[str] = frozenset()
    cautions: tuple[str, ...] = ()

    def __hash__(self) -> int:
        """By code alone, which is enough and quick: what is known of a medicine is looked up many times."""
        return hash(self.code)

    @property
    def label(self) -> str:
        """Name, strength and form as staff and labels name it: "bisoprolol 5 mg tablet"."""
        return " ".join(filter(None, (self.name, self.strength, self.form)))
