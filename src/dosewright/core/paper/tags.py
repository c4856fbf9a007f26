"""The tags of a PDF: what a screen reader reads, in which order, and what it passes over. ISO 32000-1, 14.7 and 14.8.

Comes in: page by page the marked stretches, in reading order. Goes out: a structure tree in the document. Text that shares a box is one
paragraph; a code is a figure that says its number; lines, frames and dials are no content: what a dial shows stands beside it in words.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from dosewright.core.paper.pdf_file import PdfFile, reference, text_string

__all__ = ["Marks", "Tags"]


@dataclass(frozen=True, slots=True)
class _Element:
    """One element of the tree: its role, the numbers of its marked stretches on the page, and what stands for it where it is no text."""

    role: str
    numbers: Sequence[int]
    alternative: str


@dataclass(slots=True)
class Marks:
    """The marked stretches of one page while it is drawn."""

    count: int = 0
    elements: list[_Element] = field(default_factory=list)

    def next(self) -> int:
        """The number of one more stretch of marked content."""
        self.count += 1
        return self.count - 1

    def add(self, role: str, numbers: Sequence[int], alternative: str = "") -> None:
        """An element, next in reading order; its stretches may still be added to `numbers`."""
        self.elements.append(_Element(role, numbers, alternative))


@dataclass(slots=True)
class Tags:
    """The tree while the document grows: a section for each page, written with it. Only the sections' numbers are kept."""

    file: PdfFile
    sections: list[int] = field(default_factory=list)
    owners: list[int] = field(default_factory=list)
    whole: int = field(init=False)
    tree: int = field(init=False)

    def __post_init__(self) -> None:
        self.tree, self.whole = self.file.promise(), self.file.promise()

    def add_page(self, marks: Marks, page: int) -> None:
        """Tag a page, which will be the object of that number; pages come in order."""
        section = self.file.promise()
        owners: list[int] = [0] * marks.count
        elements = [self._element(one, section, page) for one in marks.elements]
        for element, one in zip(elements, marks.elements, strict=True):
            for number in one.numbers:
                owners[number] = element
        self.file.put(b"<< /Type /StructElem /S /Sect /P %s /K %s >>" % (reference(self.whole), _array(elements)), section)
        self.sections.append(section)
        self.owners.append(self.file.put(_array(owners)))

    def _element(self, one: _Element, section: int, page: int) -> int:
        said = b"/Alt %s " % text_string(one.alternative) if one.alternative else b""
        numbers = b" ".join([b"%d" % number for number in one.numbers])
        return self.file.put(
            b"<< %s/K [ %s ] /P %d 0 R /Pg %d 0 R /S /%s /Type /StructElem >>" % (said, numbers, section, page, one.role.encode())
        )

    def close(self) -> bytes:
        """Write the tree; gives the catalog's entries for it, and for a window that shows the title."""
        self.file.put(b"<< /Type /StructElem /S /Document /P %s /K %s >>" % (reference(self.tree), _array(self.sections)), self.whole)
        parents = self.file.put(b"<< /Nums [ %s ] >>" % b" ".join(self._parents()))
        self.file.put(b"<< /Type /StructTreeRoot /K %s /ParentTree %s >>" % (reference(self.whole), reference(parents)), self.tree)
        return b"/StructTreeRoot %s /MarkInfo << /Marked true >> /ViewerPreferences << /DisplayDocTitle true >>" % reference(self.tree)

    def _parents(self) -> Iterator[bytes]:
        """Page by page the owners of its stretches, as an object."""
        return (b"%d %d 0 R" % pair for pair in enumerate(self.owners))


def _array(numbers: Sequence[int]) -> bytes:
    return b"[ %s ]" % b" ".join(map(reference, numbers))
