"""The application together with its task runner: what `dosewright serve` starts in each of its processes.

Apart from `config.wsgi`, so that whoever asks the application only (a test, a tool) starts no thread. The runner begins with the first
request, when the process that serves is certainly the one that stays.
"""

import threading
from collections.abc import Callable, Iterable
from typing import Any

from dosewright.config.wsgi import application as bench

__all__ = ["application"]

_DOOR = threading.Lock()
_RUNNER: list[threading.Thread] = []


def application(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
    """WSGI: the bench, with its task runner at work from the first request on."""
    if not _RUNNER:
        _begin_once()
    answer: Iterable[bytes] = bench(environ, start_response)
    return answer


def _begin_once() -> None:
    from dosewright.config.worker import start_worker  # noqa: PLC0415  the models exist only once the application is set up

    with _DOOR:
        if not _RUNNER:
            _RUNNER.append(start_worker())
