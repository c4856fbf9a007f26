"""What tests read in finished documents, by another road than the program: the text that PDFium gives, and sizes of letters."""

import re
from collections.abc import Callable, Iterator
from typing import Any

import pypdfium2

from dosewright.core.paper.finish import Offered
from dosewright.core.units.finding import Severity

__all__ = ["codes_of", "pages_of", "stops_of", "text_of", "twice_as_much"]


def pages_of(offered: Offered) -> list[str]:
    """Each page's text as a reader of PDFs copies it, blanks as one."""
    document = pypdfium2.PdfDocument(offered.pdf)
    try:
        return [" ".join(re.sub(r"\s+", " ", page.get_textpage().get_text_range()).split()) for page in document]
    finally:
        document.close()


def text_of(offered: Offered) -> str:
    """All of it."""
    return " ".join(pages_of(offered))


def stops_of(offered: Offered) -> set[str]:
    """Codes of what keeps it from being printed."""
    return {finding.code for finding in offered.findings if finding.severity is Severity.STOP}


def codes_of(offered: Offered) -> set[str]:
    """Codes of everything found."""
    return {finding.code for finding in offered.findings}


def twice_as_much(words: Callable[..., Any]) -> Callable[..., Any]:
    """A renderer broken on purpose: it says every amount of one tablet as two."""

    def wrong(*args: Any, **named: Any) -> Any:
        said = words(*args, **named)
        return said.replace("1 tablet", "2 tablets") if isinstance(said, str) else said

    return wrong


def runs_of(pages: Any) -> Iterator[Any]:
    """Every run of some pages."""
    return (run for page in pages for run in page.runs)
