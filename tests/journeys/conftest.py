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
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright
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


@pytest.fixture(scope="session")
def first_store(tmp_path_factory: pytest.TempPathFactory, environment: dict[str, str]) -> Path:
    """A folder with the small pharmacy in it, built once and copied for each journey."""
    home = tmp_path_factory.mktemp("first")
    build = [sys.executable, "-m", "tests.journeys.small_pharmacy"]
    subprocess.run(build, cwd=ROOT, env={**environment, "DOSEWRIGHT_HOME": str(home)}, check=True, timeout=120)
    return home


@pytest.fixture
def address(first_store: Path, environment: dict[str, str], tmp_path: Path) -> Iterator[str]:
    """Where this journey's own server answers."""
    home = tmp_path / "home"
    shutil.copytree(first_store, home)
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
        "dosewright.config.wsgi:application",
    ]
    with (tmp_path / "server.log").open("w") as log:
        server = subprocess.Popen(command, cwd=ROOT, env={**environment, "DOSEWRIGHT_HOME": str(home)}, stdout=log, stderr=log)
        try:
            _wait_until_it_answers(f"http://127.0.0.1:{port}/sign-in", server)
            yield f"http://127.0.0.1:{port}"
        finally:
            server.terminate()
            server.wait(20)
    complaints = (tmp_path / "server.log").read_text()
    assert "Traceback" not in complaints, complaints


def _wait_until_it_answers(place: str, server: "subprocess.Popen[bytes]") -> None:
    until = time.monotonic() + STARTS_WITHIN
    while time.monotonic() < until and server.poll() is None:
        try:
            urllib.request.urlopen(place, timeout=5).close()  # noqa: S310
        except OSError:
            time.sleep(0.1)
        else:
            return
    pytest.fail("the server did not start; its words are in server.log")


@pytest.fixture
def station(browser: Browser, address: str) -> Iterator[Callable[[str], Station]]:
    """`station("bench 1")`: a screen of its own at that place, with nobody signed in."""
    contexts = []

    def open_station(name: str) -> Station:
        context = browser.new_context(viewport={"width": 1280, "height": 800}, base_url=address, locale="en-GB")
        context.set_default_timeout(15_000)
        contexts.append(context)
        return Station(context.new_page(), name)

    yield open_station
    for context in contexts:
        context.close()
