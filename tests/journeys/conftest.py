"""A bench of its own for every journey: a store built afresh, a server process, and a browser at 1280×800.

The browser talks to nothing but that server. Each page that a journey stands on can be examined by axe-core, which is kept beside
the journeys.
"""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, sync_playwright
from tests.journeys.station import Station
from tools.find_chromium import MISSING, find

ROOT = Path(__file__).resolve().parents[2]
QUIET = (
    "--no-sandbox",  # the tests may run as root
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
STARTS_WITHIN = 60  # seconds
BENCH = {"width": 1280, "height": 800}


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    path = find()
    if path is None:
        pytest.fail(MISSING)
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=path, args=[*QUIET], headless=True)
        yield running
        running.close()


@pytest.fixture(scope="session")
def environment() -> dict[str, str]:
    """The server's environment: settings of the journeys, and nothing of whoever runs the tests."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "LANG", "TMPDIR") if name in os.environ}
    return {**kept, "DJANGO_SETTINGS_MODULE": "tests.journeys.bench_settings", "PYTHONPATH": f"{ROOT}:{ROOT / 'src'}"}


@dataclass(frozen=True, slots=True)
class Built:
    """A folder with a small pharmacy in it, and the number of its card."""

    home: Path
    card: str


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory, environment: dict[str, str]) -> Callable[[str], Built]:
    """A small pharmacy at some stage: built once, copied for each journey."""

    @cache
    def build(stage: str) -> Built:
        home = tmp_path_factory.mktemp(stage)
        command = [sys.executable, "-m", "tests.journeys.small_pharmacy", stage]
        said = subprocess.run(
            command, cwd=ROOT, env={**environment, "DOSEWRIGHT_HOME": str(home)}, check=True, capture_output=True, timeout=300
        )
        return Built(home, said.stdout.decode().strip())

    return build


class Bench:
    """A pharmacy with a server of its own; `station("bench 1")` is a screen there with nobody signed in."""

    def __init__(self, browser: Browser, address: str, card: str) -> None:
        self._browser, self._address, self.card = browser, address, card
        self._contexts: list[BrowserContext] = []

    def station(self, name: str = "bench 1", **settings: Any) -> Station:
        """Another screen, as another machine would be."""
        context = self._browser.new_context(**{"viewport": BENCH, "base_url": self._address, "locale": "en-GB"} | settings)
        context.set_default_timeout(15_000)
        self._contexts.append(context)
        return Station(context.new_page(), name)

    def close(self) -> None:
        """Switch off every screen."""
        for context in self._contexts:
            context.close()


@pytest.fixture
def bench_at(
    browser: Browser, built: Callable[[str], Built], environment: dict[str, str], tmp_path: Path
) -> Iterator[Callable[[str], Bench]]:
    """`bench_at("ready_to_fill")`: a pharmacy at that stage, with a server of its own that ends with the journey."""
    with ExitStack() as running:

        def open_bench(stage: str) -> Bench:
            made, home = built(stage), tmp_path / "home"
            shutil.copytree(made.home, home)
            bench = Bench(browser, running.enter_context(_served(home, environment, tmp_path / "server.log")), made.card)
            running.callback(bench.close)
            return bench

        yield open_bench


@contextmanager
def _served(home: Path, environment: dict[str, str], log: Path) -> Iterator[str]:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "granian", "--interface", "wsgi", "--host", "127.0.0.1", "--port", str(port)]
    command += [
        "--workers",
        "1",
        "--blocking-threads",
        "4",
        "--no-access-log",
        "--log-level",
        "error",
        "dosewright.config.served:application",
    ]
    with log.open("w") as said:
        server = subprocess.Popen(command, cwd=ROOT, env={**environment, "DOSEWRIGHT_HOME": str(home)}, stdout=said, stderr=said)
        try:
            _wait_until_it_answers(f"http://127.0.0.1:{port}/sign-in", server, log)
            yield f"http://127.0.0.1:{port}"
        finally:
            server.terminate()
            server.wait(20)
    complaints = log.read_text()
    assert "Traceback" not in complaints, complaints


def _wait_until_it_answers(place: str, server: "subprocess.Popen[bytes]", log: Path) -> None:
    until = time.monotonic() + STARTS_WITHIN
    while time.monotonic() < until and server.poll() is None:
        try:
            urllib.request.urlopen(place, timeout=5).close()  # noqa: S310
        except OSError:
            time.sleep(0.1)
        else:
            return
    pytest.fail(f"the server did not start: {log.read_text()[-2000:]}")
