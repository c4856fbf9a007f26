"""The documents are true: links lead somewhere, names exist, words are used, decisions are short."""

import importlib
import re
from functools import cache
from pathlib import Path

import pytest
from tests.house.source_tree import ROOT, documents, modules, tracked, tracked_text

LINK = re.compile(r"\]\((?!https?:|#)([^)#\s]+)")
DECISIONS = sorted((ROOT / "docs" / "decisions").glob("*.md"))


@pytest.mark.parametrize("path", documents(), ids=str)
def test_links_lead_somewhere(path: Path) -> None:
    targets = LINK.findall(tracked_text()[path])
    assert not [target for target in targets if not (ROOT / path.parent / target).exists()]


def test_the_first_screen_is_the_job_and_two_commands() -> None:
    first_screen = (ROOT / "README.md").read_text("utf-8").splitlines()[:20]
    commands = [line.split("#")[0].strip() for line in first_screen if line.startswith("    ")]
    assert commands == ["make demo", "make test"]


def dotted_names() -> list[str]:
    text = (ROOT / "docs" / "journey.md").read_text("utf-8")
    return sorted(set(re.findall(r"`((?:core|store|actions|web|cli|config|devices)(?:\.\w+)+)`", text)))


def test_the_journey_names_its_way() -> None:
    assert len(dotted_names()) >= 25


@pytest.mark.parametrize("name", dotted_names())
def test_every_name_on_the_journey_exists(name: str) -> None:
    full = f"dosewright.{name}"
    if full in modules():
        return
    module, _, attribute = full.rpartition(".")
    assert module in modules(), f"no module {module}"
    assert hasattr(importlib.import_module(module), attribute)


def test_every_room_is_on_the_map() -> None:
    text = (ROOT / "docs" / "rooms.md").read_text("utf-8")
    rooms = {name.split(".")[1] for name in modules() if name.count(".") >= 1} - {"py"}
    rooms |= {name.split(".")[2] for name in modules() if name.startswith("dosewright.core.")}
    assert not [room for room in sorted(rooms) if f"`{room}`" not in text and f"`{room}/`" not in text]


def glossary() -> list[str]:
    rows = (ROOT / "docs" / "glossary.md").read_text("utf-8").splitlines()
    return [row.split("|")[1].strip() for row in rows if row.startswith("| ") and not row.startswith(("| word", "| ---"))]


def test_the_glossary_is_in_order() -> None:
    assert len(glossary()) > 30
    assert glossary() == sorted(glossary(), key=str.casefold)


@pytest.mark.parametrize("entry", glossary())
def test_every_word_of_the_glossary_is_used(entry: str) -> None:
    words = [word.strip() for word in re.sub(r"\(.*\)", "", entry).split(",")]
    assert all(folded(word) in everything_folded() for word in words)


def folded(text: str) -> str:
    return re.sub(r"[\s_-]+", " ", text.casefold())


@cache
def everything_folded() -> str:
    read = (text for path, text in tracked_text().items() if path.suffix in {".py", ".html", ".md"} and path.name != "glossary.md")
    return folded("\n".join(read))


@pytest.mark.parametrize("path", DECISIONS, ids=lambda path: path.stem)
def test_a_decision_is_short_and_complete(path: Path) -> None:
    lines = path.read_text("utf-8").splitlines()
    assert re.fullmatch(r"\d{3}-[a-z0-9-]+\.md", path.name)
    assert lines[0].startswith(f"# {path.name[:3]} ")
    assert len(lines) <= 60
    assert all(f"**{part}.**" in "\n".join(lines) for part in ("Context", "Decision", "Consequences"))


def test_decisions_have_numbers_of_their_own() -> None:
    numbers = [path.name[:3] for path in DECISIONS]
    assert len(set(numbers)) == len(numbers)


def test_every_document_can_be_found_from_the_readme() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    pages = [path for path in tracked() if path.suffix == ".md" and path.parent == Path("docs")]
    missing = [str(page) for page in pages if str(page) not in readme]
    assert not missing


def test_every_licence_that_is_carried_is_in_the_notice() -> None:
    notice = (ROOT / "NOTICE").read_text("utf-8")
    named = re.findall(r"^  (\S+)$", notice, re.MULTILINE)
    assert named
    assert not [path for path in named if not (ROOT / path).is_file()]
    licences = {path for path in tracked() if re.search(r"(?:LICENSE|OFL)[^/]*\.txt$", path.name) and "3RD-PARTY" not in path.name}
    assert {str(path) for path in licences} == set(named)
