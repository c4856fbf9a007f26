"""`dosewright restore FILE`: bring a backup back into an empty store, to the same ledger head, whole or not at all."""

import argparse
import gzip
import zlib
from collections.abc import Iterator
from pathlib import Path

from dosewright.cli.files import Unreadable
from dosewright.config.running import set_up_store

__all__ = ["add_arguments", "read_backup", "run"]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """One file."""
    parser.epilog = "example:\n  DOSEWRIGHT_HOME=/srv/new dosewright restore /media/safe/2026-03-02.dosewright\n"
    parser.add_argument("file", metavar="FILE", help="a file that `dosewright backup` wrote; the store must be empty")


def run(args: argparse.Namespace) -> int:
    """0: restored. Raises Unreadable for a damaged file or a store that is not empty; then nothing was changed."""
    set_up_store()
    from dosewright.store.dump import Damaged, Occupied  # noqa: PLC0415  Django must be set up first

    try:
        rows, head = read_backup(Path(args.file))
    except Damaged as error:
        raise Unreadable(f"{args.file} is damaged or no backup: {error} Nothing was restored.") from error
    except Occupied as error:
        raise Unreadable(
            f"{args.file} was not restored: the store is not empty. Name an empty one by DOSEWRIGHT_HOME or DATABASE_URL."
        ) from error
    except OSError as error:
        raise Unreadable(f"{args.file} cannot be read: {error.strerror or error}.") from error
    print(f"{rows} rows restored. The ledger holds and ends where it ended: {head}.")
    return 0


def read_backup(place: Path) -> tuple[int, str]:
    """Verify the file, then put it in. The number of rows and the head's hash. Raises Damaged, Occupied, OSError."""
    from dosewright.store.dump import restore_store, verify_dump  # noqa: PLC0415

    head = verify_dump(_unpacked(place))
    return restore_store(_unpacked(place), head), head.hash


def _unpacked(place: Path) -> Iterator[bytes]:
    from dosewright.store.dump import Damaged  # noqa: PLC0415

    try:
        with gzip.open(place, "rb") as packed:
            yield from packed
    except (gzip.BadGzipFile, EOFError, zlib.error) as error:
        raise Damaged("it cannot be unpacked.") from error
