"""People who wait to be planned, packed: a part of a request in, a few hundred bytes a person out, and back again where it is planned."""

import pickle
import zlib
from dataclasses import dataclass

from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.ids import OrderId

__all__ = ["Part", "Waiting", "pack", "unpack"]

_QUICK = 1  # zlib's level: half a per cent of the time, a seventh of the size


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

    parts: tuple[bytes, ...]
    people: tuple[int, ...]
    digest: str


def pack(part: Part) -> bytes:
    """For memory and for other processes of this run, never for disk."""
    return zlib.compress(pickle.dumps(part), _QUICK)


def unpack(packed: bytes) -> Part:
    """What `pack` packed in this program's own parent process."""
    part: Part = pickle.loads(zlib.decompress(packed))  # noqa: S301
    return part
