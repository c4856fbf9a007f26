"""A PDF file being written, object after object: numbers, streams, the table of where each object begins. ISO 32000-1, 7.3 to 7.5.

Comes in: the bodies of objects as bytes, in any order. Goes out: to a binary file, at once; only a number a page stays in memory. The same
objects give the same bytes, the file's own name (`/ID`) included.
"""

import zlib
from array import array
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any, BinaryIO

__all__ = ["PdfFile", "literal", "reference", "text_string"]

_HEAD = b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n"  # four bytes above 127 say that the file is binary (7.5.2)

# Measured on label sheets: level 1 takes half the time of level 6, for a sixth more bytes.
_LEVEL = 1
_AT_A_TIME = 256  # objects
_ESCAPED = str.maketrans({"\\": "\\\\", "(": "\\(", ")": "\\)", "\r": "\\r", "\n": "\\n"})


@dataclass(slots=True)
class PdfFile:
    """The file so far. `places`: where each object begins, by its number; 0 for one that is promised and not written yet."""

    out: BinaryIO
    length: int = 0
    places: "array[int]" = field(default_factory=lambda: array("Q", [0]))
    digest: Any = field(default_factory=sha256)
    waiting: list[bytes] = field(default_factory=list)  # many objects are small: they go out some hundred at a time

    def __post_init__(self) -> None:
        self._write(_HEAD)

    def promise(self) -> int:
        """The number of an object that will be written later, so that others can speak of it now."""
        self.places.append(0)
        return len(self.places) - 1

    def put(self, body: bytes, number: int = 0) -> int:
        """Write an object, under the number that it was promised or the next one. Gives the number."""
        if number:
            self.places[number] = self.length
        else:
            number = len(self.places)
            self.places.append(self.length)
        self._write(b"%d 0 obj\n%s\nendobj\n" % (number, body))
        return number

    def put_stream(self, data: bytes, entries: bytes = b"", *, packed: bool = False) -> int:
        """Write a stream, compressed here unless it is `packed` already; `entries` of its dictionary besides length and filter."""
        held = data if packed else zlib.compress(data, _LEVEL)
        return self.put(b"<< %s/Filter /FlateDecode /Length %d >>\nstream\n%s\nendstream" % (entries, len(held), held))

    def close(self, catalog: int, info: int) -> None:
        """Write the table and the trailer. Raises ValueError where a promised object was not written."""
        if 0 in self.places[1:]:
            raise ValueError(f"object {self.places.index(0, 1)} was promised and not written")
        self._send()
        name, start, count = self.digest.hexdigest()[:32].encode(), self.length, len(self.places)
        self._write(b"xref\n0 %d\n0000000000 65535 f \n" % count)
        for first in range(1, count, 1024):
            self._write(b"".join(b"%010d 00000 n \n" % place for place in self.places[first : first + 1024]))
        said = (count, reference(catalog), reference(info), name, name, start)
        self._write(b"trailer\n<< /Size %d /Root %s /Info %s /ID [ <%s> <%s> ] >>\nstartxref\n%d\n%%%%EOF\n" % said)
        self._send()

    def _write(self, data: bytes) -> None:
        self.waiting.append(data)
        self.length += len(data)
        if len(self.waiting) >= _AT_A_TIME:
            self._send()

    def _send(self) -> None:
        together = b"".join(self.waiting)
        self.waiting.clear()
        self.digest.update(together)
        self.out.write(together)


def reference(number: int) -> bytes:
    """How another object speaks of this one."""
    return b"%d 0 R" % number


def literal(text: str) -> str:
    """A string in round brackets, of characters up to U+00FF, each standing for one byte (7.3.4.2)."""
    return f"({text.translate(_ESCAPED)})"


def text_string(text: str) -> bytes:
    """Words for a reader, as in a title: ASCII as it is, anything else in UTF-16 (7.9.2.2)."""
    return literal(text).encode() if text.isascii() else b"<feff%s>" % text.encode("utf-16-be").hex().encode()
