"""The tags of a PDF: what a screen reader reads, in which order, and what it passes over. ISO 32000-1, 14.7 and 14.8.

Comes in: page by page the marked stretches, in reading order. Goes out: a structure tree in the document. Text that shares a box is one
paragraph; a code is a figure that says its number; lines, frames and dials are no content: what a dial shows stands beside it in words.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFObject, PDFString
from reportlab.pdfgen.canvas import Canvas

__all__ = ["Marks", "Tags"]

_YES = "true"  # as ReportLab writes a boolean


@dataclass(frozen=True, slots=True)
class _Element:
    """One element of the tree: its role, the numbers of its marked stretches on the page, and what stands for it where it is no text."""

    role: str
    numbers: tuple[int, ...]
    alternative: str


class _Leaf(PDFObject):
    """An element as the document writes it. Written in one go: a label sheet has thirty of them, and dictionaries took half of its time."""

    def __init__(self, one: _Element, section: Any, page: Any) -> None:
        self.one, self.section, self.page = one, section, page

    def format(self, document: Any) -> bytes:
        """The bytes, with the numbers that its section and its page have by then."""
        said = b"/Alt " + PDFString(self.one.alternative).format(document) + b" " if self.one.alternative else b""
        numbers = " ".join(map(str, self.one.numbers)).encode()
        parent, page = self.section.format(document), self.page.format(document)
        return b"<< %s/K [ %s ] /P %s /Pg %s /S /%s /Type /StructElem >>" % (said, numbers, parent, page, self.one.role.encode())


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
        """An element, next in reading order."""
        self.elements.append(_Element(role, tuple(numbers), alternative))


@dataclass(slots=True)
class Tags:
    """The tree while the document grows: a section for each page."""

    canvas: Canvas
    sections: list[Any] = field(default_factory=list)
    parents: list[Any] = field(default_factory=list)
    whole: Any = field(init=False)
    tree: Any = field(init=False)

    def __post_init__(self) -> None:
        self.tree = PDFDictionary({"Type": PDFName("StructTreeRoot")})
        self.whole = PDFDictionary({"Type": PDFName("StructElem"), "S": PDFName("Document"), "P": self._object(self.tree)})

    def close_page(self, marks: Marks) -> None:
        """Tag the page that was shown last."""
        page = self._document.Pages.pages[-1]
        page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]  # ReportLab writes the entries that it knows by name
        page.StructParents, page.Tabs = len(self.sections), PDFName("S")
        section = PDFDictionary({"Type": PDFName("StructElem"), "S": PDFName("Sect"), "P": self._object(self.whole)})
        owners: list[Any] = [None] * marks.count
        section.dict["K"] = PDFArray([self._element(one, section, page, owners) for one in marks.elements])
        self.parents += [len(self.sections), PDFArray(owners)]
        self.sections.append(self._object(section))

    def close(self) -> None:
        """Hang the tree into the document, and let its window show the title."""
        self.whole.dict["K"] = PDFArray(self.sections)
        self.tree.dict["K"] = self._object(self.whole)
        self.tree.dict["ParentTree"] = self._object(PDFDictionary({"Nums": PDFArray(self.parents)}))
        catalog = self._document.Catalog
        catalog.StructTreeRoot = self.tree
        catalog.MarkInfo = PDFDictionary({"Marked": _YES})
        catalog.ViewerPreferences = PDFDictionary({"DisplayDocTitle": _YES})

    def _element(self, one: _Element, section: Any, page: Any, owners: list[Any]) -> Any:
        made = self._object(_Leaf(one, self._object(section), self._object(page)))
        for number in one.numbers:
            owners[number] = made
        return made

    @property
    def _document(self) -> Any:
        return self.canvas._doc  # type: ignore[attr-defined]  # ReportLab has no public way to a structure tree

    def _object(self, value: Any) -> Any:
        """The value as an object of its own, the same reference each time."""
        return self._document.Reference(value)
