"""The fonts of one PDF: texts become strings of them, and in the end each font is embedded once, cut down to the letters that were used.

A font of this kind has a byte for a letter. So a font file is used as several: one for the letters of Windows code page 1252, and one for
each 128 characters of Unicode that others come from. A letter has the same code in every document. HarfBuzz cuts the file. Source: ISO
32000-1, 9.6.3, 9.6.6, 9.8, 9.10.3.
"""

import struct
import zlib
from dataclasses import dataclass, field
from functools import lru_cache
from hashlib import sha256
from itertools import groupby
from operator import itemgetter
from sys import intern
from typing import Any, NamedTuple

import uharfbuzz

from dosewright.core.paper.fonts import Font
from dosewright.core.paper.operators import number
from dosewright.core.paper.pdf_file import PdfFile, literal, reference

__all__ = ["FontsInUse", "Shown"]

# Code page 1252 without what it has no character for, and without the two that readers take for others: hard space and soft hyphen.
_NARROW = frozenset(bytes(n for n in range(32, 256) if n not in (0x7F, 0x81, 0x8D, 0x8F, 0x90, 0x9D, 0xA0, 0xAD)).decode("cp1252"))
_NEEDLESS = ("name", "OS/2", "gasp", "GSUB", "GPOS", "GDEF", "kern", "DSIG", "STAT")  # tables that no reader of a PDF looks at

_BLOCK = 128  # how many characters a font of other letters is for; their codes are the upper half of a byte's, and the blank is 32

_READING = """/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<00> <ff>
endcodespacerange
{maps}
endcmap
CMapName currentdict /CMap defineresource pop
end
end"""
_MAPPINGS = 100  # in one block of such a map, at most


class Shown(NamedTuple):
    """A text as operators: the one that chooses the font before them, and the one that had chosen the font that stays after them."""

    font: str
    ops: str
    last: str


@dataclass(frozen=True, slots=True)
class FontsInUse:
    """The fonts of the document so far, each block of them (0: code page 1252) with its name and the letters that were shown."""

    file: PdfFile
    used: dict[tuple[Font, int], set[str]] = field(default_factory=dict)
    names: dict[tuple[Font, int], str] = field(default_factory=dict)

    def show(self, text: str, font: Font, size: float) -> Shown:
        """The text's operators. Raises KeyError for a character that the font has not."""
        if _NARROW.issuperset(text):
            choose = self._choose(font, 0, text, size)
            return Shown(choose, f"{literal(_coded(text, 0))} Tj", choose)
        parts = _parts(text)
        chosen = [self._choose(font, block, part, size) for block, part in parts]
        shown = [f"{literal(_coded(part, block))} Tj" for block, part in parts]
        rest = (f"{choose}\n{ops}" for choose, ops in zip(chosen[1:], shown[1:], strict=True))
        return Shown(chosen[0], "\n".join((shown[0], *rest)), chosen[-1])

    def _choose(self, font: Font, block: int, letters: str, size: float) -> str:
        if not font.has(letters):
            raise KeyError(letters)
        self.used.setdefault((font, block), set()).update(letters)
        name = self.names.setdefault((font, block), f"F{len(self.names) + 1}")
        return intern(f"/{name} {number(size)} Tf")

    def close(self) -> bytes:
        """Embed the fonts; gives the resources' dictionary of them."""
        files = {font: self._embed(font) for font in dict.fromkeys(font for font, _ in self.used)}
        entries = (f"/{name} {self._font(font, block, *files[font])} 0 R" for (font, block), name in self.names.items())
        return f"<< {' '.join(entries)} >>".encode("ascii")

    def _embed(self, font: Font) -> tuple[bytes, int]:
        """The font's name in this document, and its descriptor."""
        letters = frozenset[str]().union(*(some for (one, _), some in self.used.items() if one is font))
        name, (length, packed) = _name(font, letters), _cut(font, letters)
        data = self.file.put_stream(packed, b"/Length1 %d " % length, packed=True)
        said = (name, _measures(font), reference(data))
        return name, self.file.put(b"<< /Type /FontDescriptor /FontName /%s /Flags 32 /ItalicAngle 0 /StemV 80 %s /FontFile2 %s >>" % said)

    def _font(self, font: Font, block: int, name: bytes, descriptor: int) -> int:
        codes = {ord(_coded(letter, block)): letter for letter in self.used[font, block]}
        first, last = min(codes), max(codes)
        widths = " ".join(number(font.widths[codes[code]]) if code in codes else "0" for code in range(first, last + 1))
        encoding = self._encoding(codes) if block else b"/WinAnsiEncoding"
        return self.file.put(
            b"<< /Type /Font /Subtype /TrueType /BaseFont /%s /Encoding %s /FirstChar %d /LastChar %d /Widths [ %s ] "
            b"/FontDescriptor %d 0 R >>" % (name, encoding, first, last, widths.encode(), descriptor)
        )

    def _encoding(self, codes: dict[int, str]) -> bytes:
        """Glyphs by the names that stand for their characters, and the map by which readers know them."""
        names = " ".join(
            f"{code} /space" if letter == " " else f"{code} /uni{ord(letter):04X}" for code, letter in sorted(codes.items())
        ).encode()
        reading = self.file.put_stream(_reading(codes))
        return b"<< /Type /Encoding /BaseEncoding /WinAnsiEncoding /Differences [ %s ] >> /ToUnicode %s" % (names, reference(reading))


def _parts(text: str) -> list[tuple[int, str]]:
    """Stretches of one block. A blank goes with the letter before it: one that is shown alone is lost to readers of the text."""
    blocks = list(map(_block_of, text))
    for at, letter in enumerate(text):
        if letter == " " and at:
            blocks[at] = blocks[at - 1]
    pairs = groupby(zip(blocks, text, strict=True), key=itemgetter(0))
    return [(block, "".join(letter for _, letter in held)) for block, held in pairs]


def _block_of(letter: str) -> int:
    return 0 if letter in _NARROW else 1 + ord(letter) // _BLOCK


def _coded(letters: str, block: int) -> str:
    """A character up to U+00FF for each byte."""
    if not block:
        return letters.encode("cp1252").decode("latin-1")
    return "".join(" " if letter == " " else chr(128 + ord(letter) % _BLOCK) for letter in letters)


def _reading(codes: dict[int, str]) -> bytes:
    maps = [f"<{code:02x}> <{ord(letter):04x}>" for code, letter in sorted(codes.items())]
    blocks = (maps[n : n + _MAPPINGS] for n in range(0, len(maps), _MAPPINGS))
    said = "\n".join("\n".join((f"{len(block)} beginbfchar", *block, "endbfchar")) for block in blocks)
    return _READING.format(maps=said).encode("ascii")


@lru_cache(maxsize=16)
def _reader(font: Font) -> Any:
    return uharfbuzz.Font(uharfbuzz.Face(font.data))


@lru_cache(maxsize=64)
def _cut(font: Font, letters: frozenset[str]) -> tuple[int, bytes]:
    """The font's file with these letters only, compressed, and its length before. Glyphs keep their numbers, and hinting goes."""
    wanted = uharfbuzz.SubsetInput()
    wanted.sets(uharfbuzz.SubsetInputSets.UNICODE).update(map(ord, letters))
    wanted.sets(uharfbuzz.SubsetInputSets.DROP_TABLE_TAG).update(int.from_bytes(tag.encode("ascii"), "big") for tag in _NEEDLESS)
    wanted.flags = uharfbuzz.SubsetFlags.NO_HINTING | uharfbuzz.SubsetFlags.RETAIN_GIDS | uharfbuzz.SubsetFlags.NO_LAYOUT_CLOSURE
    data = uharfbuzz.subset(_reader(font).face, wanted).blob.data
    return len(data), zlib.compress(data)


def _name(font: Font, letters: frozenset[str]) -> bytes:
    """Six capitals before the name say that it is a subset, and which (9.6.4)."""
    digest = sha256("".join(sorted(letters)).encode()).digest()
    return bytes(65 + byte % 26 for byte in digest[:6]) + b"+" + font.name.encode("ascii")


@lru_cache(maxsize=16)
def _measures(font: Font) -> bytes:
    """The font's box and heights in thousandths, as a reader that replaces it would want them."""
    reader = _reader(font)
    scale, head = 1000 / reader.face.upem, reader.face.reference_table("head").data
    box = " ".join(number(side * scale) for side in struct.unpack_from(">4h", head, 36))
    extents = reader.get_font_extents("ltr")
    above, below = number(extents.ascender * scale), number(extents.descender * scale)
    capital = number(font.inks["H"][3]) if font.inks.get("H") else above  # type: ignore[index]
    return f"/FontBBox [ {box} ] /Ascent {above} /Descent {below} /CapHeight {capital}".encode("ascii")
