"""Requirements are pinned by version and hash, and tests run on what the product runs on."""

import re

import pytest
from tests.house.source_tree import ROOT

PINNED = re.compile(r"^(?P<name>[a-z0-9-]+)(?:\[[a-z,]+\])?==(?P<version>\S+)(?: ; .+)? \\$")


def pins(purpose: str) -> dict[str, str]:
    lines = (ROOT / "requirements" / f"{purpose}.txt").read_text("utf-8").splitlines()
    heads = [line for line in lines if line and not line.startswith((" ", "#"))]
    found = [PINNED.match(line) for line in heads]
    assert all(found), [line for line, pin in zip(heads, found, strict=True) if not pin]
    return {pin["name"]: pin["version"] for pin in found if pin}


@pytest.mark.parametrize("purpose", ["runtime", "test"])
def test_every_requirement_has_a_version_and_a_hash(purpose: str) -> None:
    text = (ROOT / "requirements" / f"{purpose}.txt").read_text("utf-8")
    blocks = re.split(r"\n(?=[a-z])", text)
    assert pins(purpose)
    assert all("--hash=sha256:" in block for block in blocks if "==" in block)


def test_tests_run_on_the_versions_that_the_product_runs_on() -> None:
    runtime, test = pins("runtime"), pins("test")
    assert {name: test.get(name) for name in runtime} == runtime
