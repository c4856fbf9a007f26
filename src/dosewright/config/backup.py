"""`dosewright backup FILE`: the whole store in one file, for SQLite and PostgreSQL alike. It holds people's data: keep it safe."""

import argparse
import gzip
import os
import tempfile
from pathlib import Path

from dosewright.cli.files import Unreadable
from dosewright.config.running import set_up_django

__all__ = ["add_arguments", "run", "write_backup"]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """One file."""
    parser.epilog = "example:\n  dosewright backup /media/safe/2026-03-02.dosewright\n"
    parser.add_argument("file", metavar="FILE", help="file to write; whole or not at all; an existing one is replaced")


def run(args: argparse.Namespace) -> int:
    """0: written. Raises Unreadable where it cannot be."""
    set_up_django()
    try:
        rows = write_backup(Path(args.file))
    except OSError as error:
        raise Unreadable(f"{args.file} cannot be written: {error.strerror}.") from error
    print(f"{rows} rows written to {args.file}.")
    return 0


def write_backup(place: Path) -> int:
    """Write beside its place, then move it in; readable by its owner only. The number of rows."""
    from dosewright.store.dump import dump_store  # noqa: PLC0415  Django must be set up first

    place.parent.mkdir(parents=True, exist_ok=True)
    handle, beside = tempfile.mkstemp(prefix=".dosewright-", dir=place.parent)
    try:
        with os.fdopen(handle, "wb") as raw:
            with gzip.GzipFile(fileobj=raw, mode="wb", mtime=0, filename="") as packed:
                lines = sum(packed.write(line) > 0 for line in dump_store())
            raw.flush()
            os.fsync(raw.fileno())
        os.replace(beside, place)
    finally:
        Path(beside).unlink(missing_ok=True)
    return lines - 2
