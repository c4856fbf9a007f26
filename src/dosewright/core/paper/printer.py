"""A printer: how many dots it prints to an inch, and how far what it prints lies from where it should.

Comes in: what somebody measured with a ruler on the printed measuring sheet. Goes out: the correction that puts everything in its place,
or the findings why those measures cannot be right. Lengths are millimetres on the paper, from its upper left corner.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from dosewright.core.units.finding import Finding, Severity

__all__ = ["AS_DRAWN", "COARSEST", "MARK", "Correction", "Measures", "Printer", "correction_of", "module_at", "nominal_measures"]

COARSEST = 203  # dots per inch of the coarsest label printers in use; what reads there reads everywhere
_SMALLEST_MODULE = Fraction(3 * 254, 203 * 10)  # three dots at 203 dpi: 0.375 mm
_INCH = Fraction(254, 10)

MARK = Fraction(20)  # mm: from the paper's edges to the marks of the measuring sheet
_FARTHEST = Fraction(10)  # mm beyond which a shift is a slip of the ruler or a sheet of another size (our own limit)
_MOST_STRETCH = Fraction(3, 100)  # likewise for a stretch: drivers that "fit to page" shrink by 3 to 6 %


@dataclass(frozen=True, slots=True)
class Correction:
    """Where a point must be drawn so that the printer puts it right: `across * x + right`, `along * y + down`."""

    across: Fraction = Fraction(1)
    along: Fraction = Fraction(1)
    right: Fraction = Fraction(0)
    down: Fraction = Fraction(0)

    def place(self, x: float, y: float) -> tuple[float, float]:
        """Where a point of the page is drawn."""
        return float(self.across) * x + float(self.right), float(self.along) * y + float(self.down)


AS_DRAWN = Correction()


@dataclass(frozen=True, slots=True)
class Printer:
    """A printer by the name it has in the pharmacy. The nameless one is any printer: the coarsest dots, nothing corrected."""

    name: str = ""
    dpi: int = COARSEST
    correction: Correction = AS_DRAWN


@dataclass(frozen=True, slots=True)
class Measures:
    """What was measured: the first mark's distance from the paper's left and upper edge; from there to the second mark across and down."""

    left: Fraction
    top: Fraction
    across: Fraction
    down: Fraction


def nominal_measures(width: Fraction, height: Fraction) -> Measures:
    """What a printer without any fault gives on paper of that size."""
    return Measures(MARK, MARK, width - 2 * MARK, height - 2 * MARK)


def correction_of(measured: Measures, width: Fraction, height: Fraction) -> tuple[Correction, tuple[Finding, ...]]:
    """The correction, exact; `AS_DRAWN` with findings where the measures are beyond belief, all of them at once."""
    meant = nominal_measures(width, height)
    findings = tuple(_check(measured, meant))
    if findings:
        return AS_DRAWN, findings
    across, along = meant.across / measured.across, meant.down / measured.down
    right = MARK - across * measured.left
    down = MARK - along * measured.top
    return Correction(across, along, right, down), ()


def _check(measured: Measures, meant: Measures) -> Iterator[Finding]:
    for name in ("left", "top"):
        found, right = getattr(measured, name), getattr(meant, name)
        if abs(found - right) > _FARTHEST:
            yield _beyond(name, found, right)
    for name in ("across", "down"):
        found, right = getattr(measured, name), getattr(meant, name)
        if abs(found - right) > right * _MOST_STRETCH:
            yield _beyond(name, found, right)


def _beyond(name: str, found: Fraction, right: Fraction) -> Finding:
    return Finding("printer.beyond-belief", Severity.STOP, {"field": name}, {"found": found, "meant": right})


def module_at(dpi: int) -> float:
    """Millimetres of a code's module on that printer: the smallest whole number of dots that is no smaller than three at 203 dpi.

    Uneven modules are what keeps a printed code from being read. ISO/IEC 16022 leaves the size to the use.
    """
    dots = -(-_SMALLEST_MODULE * dpi // _INCH)
    return float(dots * _INCH / dpi)
