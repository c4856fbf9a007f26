"""The page about the API is true: its examples are run as they stand, and what it says of limits is what the code has."""

import json
import re
import shlex
from pathlib import Path
from string import Template
from typing import Any

from django.conf import settings
from django.test import Client
from tests import small_bench as bench
from tests.api.conftest import Programs

from dosewright.api.answer import REFUSALS
from dosewright.api.offer import ROUTES
from dosewright.core.custody.event import Role

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "api.md").read_text("utf-8")
EXAMPLES = [line.strip() for line in PAGE.splitlines() if line.startswith("    curl ")]


def curl(line: str) -> tuple[int, Any]:
    """What curl would send by this line, and the answer. Raises ValueError for a switch that no example uses."""
    words, method, headers, data = iter(shlex.split(line)[1:]), "", {}, b""
    address = ""
    for word in words:
        match word:
            case "-s":
                pass
            case "-X":
                method = next(words)
            case "-H":
                name, _, value = next(words).partition(": ")
                headers[name] = value
            case "-d":
                data = next(words).encode()
            case _ if word.startswith("-"):
                raise ValueError(f"no example uses {word}")
            case _:
                address = word
    kind = headers.pop("Content-Type", "application/json" if data else "")
    answer = Client().generic(method or "GET", address, data, content_type=kind, headers=headers)
    return answer.status_code, json.loads(answer.content)


def test_the_examples_run_as_they_stand(programs: Programs) -> None:
    set_id, card = bench.ready_to_fill()
    said = {"API": "/api", "TOKEN": programs(Role.PHARMACIST).token, "CARD": card, "SET": set_id}
    assert len(EXAMPLES) >= 12
    for line in EXAMPLES:
        status, body = curl(Template(line).substitute(said))
        assert status == 200, f"{line}: {body}"
        assert isinstance(body, list) or body.get("done", True), line


def test_every_status_is_on_the_page_and_no_other() -> None:
    assert {int(found) for found in re.findall(r"^\| (\d{3}) \|", PAGE, re.MULTILINE)} == {200, *REFUSALS}


def test_the_limits_are_those_of_the_code() -> None:
    assert settings.DATA_UPLOAD_MAX_MEMORY_SIZE == 2 * 1024 * 1024
    assert "more than 2 MiB" in PAGE


def test_most_addresses_are_shown_by_example() -> None:
    """An address that nobody shows is still described; the page must not shrink to two of them."""
    used = {re.sub(r"\?.*", "", line.split('"')[1]) for line in EXAMPLES}
    assert len(used) >= len(ROUTES) // 3
