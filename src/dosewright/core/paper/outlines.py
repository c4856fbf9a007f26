"""Where each glyph of a TrueType font has ink: the rectangle that its outline fills. Read from the font file, not from what drew with it.

Source: OpenType specification, tables head, loca and glyf. Lengths are thousandths of the type size.
"""

import struct
from itertools import pairwise

__all__ = ["Ink", "read_outlines"]

Ink = tuple[float, float, float, float]  # left, bottom, right, top, from the glyph's origin


def read_outlines(data: bytes) -> tuple[Ink | None, ...]:
    """By glyph number; None for a glyph that draws nothing. Raises struct.error or KeyError for what is no TrueType font."""
    tables = _tables(data)
    head, glyf = tables["head"], tables["glyf"]
    per_em, long_offsets = struct.unpack_from(">H", head, 18)[0], struct.unpack_from(">h", head, 50)[0]
    offsets = _offsets(tables["loca"], long_offsets=bool(long_offsets))
    return tuple(None if start == end else _scaled(struct.unpack_from(">4h", glyf, start + 2), per_em) for start, end in pairwise(offsets))


def _tables(data: bytes) -> dict[str, bytes]:
    count = struct.unpack_from(">H", data, 4)[0]
    entries = (struct.unpack_from(">4s3L", data, 12 + 16 * n) for n in range(count))
    return {tag.decode("latin-1"): data[offset : offset + length] for tag, _, offset, length in entries}


def _offsets(loca: bytes, *, long_offsets: bool) -> list[int]:
    if long_offsets:
        return list(struct.unpack(f">{len(loca) // 4}L", loca))
    return [half * 2 for half in struct.unpack(f">{len(loca) // 2}H", loca)]


def _scaled(box: tuple[int, ...], per_em: int) -> Ink:
    left, bottom, right, top = (1000 * value / per_em for value in box)
    return left, bottom, right, top
