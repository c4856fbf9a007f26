"""People who wait to be planned, packed: a part of a request in, a few hundred bytes a person out, and back again where it is planned."""

import pickle
import zlib
from array import array
from collections.abc import Sequence
from dataclasses import dataclass
from tempfile import SpooledTemporaryFile
from typing import overload
from weakref import finalize

from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.ids import OrderId

__all__ = ["Part", "Shelf", "Waiting", "pack", "unpack"]

_QUICK = 1  # zlib's level: half a per cent of the time, a seventh of the size
_IN_MEMORY = 1 << 20  # bytes of packed people: about 2,000; more wait in a file


@dataclass(frozen=True, slots=True)
class Part:
    """A request for some of the people, without what all share; and what the files' own findings said of their orders: those without
    directions, and pairs for one product."""

    request: PlanRequest
    unread: frozenset[OrderId]
    twice: frozenset[frozenset[OrderId]]


@dataclass(frozen=True, slots=True)
class Waiting:
    """Everyone's parts, packed, with how many people each has. `digest` (hex sha256) is of all that they hold."""

    parts: Sequence[bytes]
    people: Sequence[int]
    digest: str


class Shelf(Sequence[bytes]):
    """Packed parts, in order: few in memory, many in a file without a name, which nobody else can open and which ends with this process."""

    def __init__(self) -> None:
        self._file = SpooledTemporaryFile[bytes](_IN_MEMORY)
        finalize(self, self._file.close)
        self._ends = array("Q", [0])

    def add(self, packed: bytes) -> None:
        """One more, at the end."""
        self._file.seek(self._ends[-1])
        self._file.write(packed)
        self._ends.append(self._ends[-1] + len(packed))

    def __len__(self) -> int:
        return len(self._ends) - 1

    @overload
    def __getitem__(self, at: int) -> bytes: ...

    @overload
    def __getitem__(self, at: slice) -> list[bytes]: ...

    def __getitem__(self, at: int | slice) -> bytes | list[bytes]:
        if isinstance(at, slice):
            return [self[one] for one in range(*at.indices(len(self)))]
        if not -len(self) <= at < len(self):
            raise IndexError(at)
        at %= len(self)
        self._file.seek(self._ends[at])
        return self._file.read(self._ends[at + 1] - self._ends[at])


def pack(part: Part) -> bytes:
    """For this run and its processes alone: whoever unpacks trusts it."""
    return zlib.compress(pickle.dumps(part), _QUICK)


def unpack(packed: bytes) -> Part:
    """What `pack` packed in this program's own parent process."""
    part: Part = pickle.loads(zlib.decompress(packed))  # noqa: S301
    return part
