"""`dosewright serve`: the bench on screen. Address, port and database come from the environment (see `dosewright.config.table`).

On SQLite one process serves and its writers queue fairly inside it: several processes would fight over SQLite's lock, which is not fair.
"""

import argparse
import sys

from dosewright.cli.files import Unreadable
from dosewright.config.running import set_up_store
from dosewright.config.table import CONFIG, read_setting

__all__ = ["add_arguments", "process_count", "run", "serve_application"]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Nothing on the command line; the help shows the table."""
    lines = "\n".join(f"  {setting.name}={setting.default}\n      {setting.meaning}" for setting in CONFIG)
    parser.epilog = f"environment, with its defaults:\n{lines}\n\nexample:\n  DOSEWRIGHT_PORT=8080 dosewright serve\n"


def run(args: argparse.Namespace) -> int:
    """Bring the tables up to date, then serve until stopped. Raises Unreadable for settings that cannot be."""
    port = _whole("DOSEWRIGHT_PORT")
    set_up_store()
    serve_application("dosewright.config.served:application", port)
    return 0


def process_count(engine: str) -> int:
    """How many processes may serve. Raises Unreadable for more than one on SQLite."""
    processes = _whole("DOSEWRIGHT_PROCESSES")
    if processes > 1 and engine.endswith("sqlite3"):
        raise Unreadable("DOSEWRIGHT_PROCESSES: SQLite is served by one process; set DATABASE_URL to a PostgreSQL database for more.")
    return processes


def serve_application(target: str, port: int) -> None:
    """Serve `module:name` until stopped, with the threads and processes of the settings. Django must be set up before.

    Raises Unreadable for settings that cannot be.
    """
    from django.conf import settings  # noqa: PLC0415  Django must be set up first
    from granian import Granian  # noqa: PLC0415  loaded only where it serves
    from granian.constants import Interfaces  # noqa: PLC0415

    address, threads = read_setting("DOSEWRIGHT_ADDRESS"), _whole("DOSEWRIGHT_THREADS")
    processes = process_count(settings.DATABASES["default"]["ENGINE"])
    print(f"Serving at http://{address}:{port} (stop with Ctrl-C).", file=sys.stderr, flush=True)
    server = Granian(
        target,
        address=address,
        port=port,
        interface=Interfaces.WSGI,
        workers=processes,
        blocking_threads=threads,
        log_access=False,
    )
    server.serve()


def _whole(name: str) -> int:
    text = read_setting(name)
    if not text.isdigit() or int(text) < 1 or int(text) > 65535:
        raise Unreadable(f"{name}: a whole number from 1 to 65535 is wanted, not {text!r}.")
    return int(text)
