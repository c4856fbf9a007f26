"""Tern Street Pharmacy as built, by the actions of the bench: twice the same bytes, work on every screen, questions for the visitor."""

import json
import os
import sqlite3
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
from tests.house.source_tree import ROOT

from dosewright.config.demo.files import ORDER_FILES
from dosewright.config.demo.sources import people

BUILDS_WITHIN = 900  # seconds, two side by side on a slow machine


@dataclass(frozen=True, slots=True)
class Build:
    """A folder, and what was said while it was made."""

    folder: Path
    said: str

    def rows(self, question: str) -> list[tuple[object, ...]]:
        with sqlite3.connect(self.folder / "store" / "dosewright.sqlite3") as store:
            return store.execute(question).fetchall()

    def files(self, kind: str) -> dict[str, bytes]:
        return {path.name: path.read_bytes() for path in sorted((self.folder / kind).iterdir())}


def begin(folder: Path, hash_seed: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "dosewright.config.command", "demo", "--no-serve", "--out", str(folder)]
    environment = {**os.environ, "PYTHONHASHSEED": hash_seed, "PYTHONPATH": "src", "DATABASE_URL": "postgres://nobody@nowhere.example/none"}
    return subprocess.Popen(command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)


@pytest.fixture(scope="module")
def builds(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Build]:
    """Two, at one time, with another order of sets and dicts; the second over what an earlier demonstration left."""
    fresh, used = tmp_path_factory.mktemp("demo") / "fresh", tmp_path_factory.mktemp("demo") / "used"
    (used / "paper").mkdir(parents=True)
    (used / "paper" / "left-over.pdf").write_bytes(b"from another time")
    (used / ".tern-street").touch()
    running = [(fresh, begin(fresh, "1")), (used, begin(used, "2"))]
    built = [(folder, process.communicate(timeout=BUILDS_WITHIN)[0], process.returncode) for folder, process in running]
    assert [code for _, _, code in built] == [0, 0], "\n".join(said for _, said, _ in built)
    first, second = (Build(folder, said) for folder, said, _ in built)
    return first, second


@pytest.fixture
def build(builds: tuple[Build, Build]) -> Build:
    return builds[0]


@pytest.mark.parametrize("kind", ["received", "plans", "paper"])
def test_two_builds_give_the_same_bytes(builds: tuple[Build, Build], kind: str) -> None:
    """R18: the same input gives the same bytes: orders and medicines, plans, PDFs."""
    first, second = (build.files(kind) for build in builds)
    assert list(first) == list(second)
    assert [name for name in first if first[name] != second[name]] == []
    assert all(first.values())


def test_what_came_in_is_what_the_store_keeps(build: Build) -> None:
    kept = {str(name): content for name, content in build.rows("select name, content from store_orderfile order by id")}
    assert list(kept) == list(ORDER_FILES)
    assert all(kept[name] == content for name, content in build.files("received").items() if name in ORDER_FILES)


def test_all_forty_people_are_there_and_most_are_planned(build: Build) -> None:
    known = {name for (name,) in build.rows("select name from store_personrow")}
    assert known == {person.name for person in people()}
    planned = {name.removesuffix(".json") for name in build.files("plans")}
    assert planned <= {person.id for person in people()}
    assert 25 <= len(planned) < 40


def test_every_plan_is_whole_and_proved(build: Build) -> None:
    for name, text in build.files("plans").items():
        plan = json.loads(text)
        assert [person["proof"]["optimal"] for person in plan["people"]] == [True], name
        assert not [finding for finding in plan["findings"] if finding["severity"] == "stop"], name


def test_each_printed_set_has_its_three_sheets(build: Build) -> None:
    sheets = list(build.files("paper"))
    printed = {name.split("-")[0] for name in sheets}
    assert len(printed) >= 25
    assert sorted(sheets) == sorted(f"{person}-{kind}.pdf" for person in printed for kind in ("labels", "fill", "record"))


def test_every_stage_at_the_bench_has_a_card(build: Build) -> None:
    stages = {stage for (stage,) in build.rows("select distinct stage from store_cardrow")}
    assert {"printed", "filling", "filled", "checked", "sealed", "released", "handed over"} <= stages
    assert build.rows("select count(*) from store_cardrow where out_of_date") != [(0,)]
    assert build.rows("select count(*) from store_nearmiss") == [(1,)]


def test_some_directions_wait_for_the_visitor(build: Build) -> None:
    waiting = {text for (text,) in build.rows("select text from store_orderrow where standing = 'waiting'")}
    assert waiting >= {"Take ONE or TWO tablets FOUR times a day", "Take as directed by the clinic", "Take ONE tablet with dinner"}
    assert f"{len(waiting)} wait for you" in build.said


def test_some_orders_of_the_files_were_not_used_and_say_why(build: Build) -> None:
    found = " ".join(str(findings) for (findings,) in build.rows("select findings from store_orderfile"))
    assert all(code in found for code in ("dangling-reference", "strength-differs", "unknown-medicine"))


def test_the_orders_that_could_not_be_used_wait_for_the_visitor_and_nobody_is_planned_without_them(build: Build) -> None:
    waiting = {str(person) for (person,) in build.rows("select person from store_unusedorderrow where standing = 'waiting'")}
    assert waiting == {"hm03", "hm13", "li10"}
    assert "3 orders that could not be used wait for you" in build.said
    assert not waiting & {name.removesuffix(".json") for name in build.files("plans")}


def test_everybody_of_the_staff_can_sign_in_and_is_told_how(build: Build) -> None:
    accounts = [username for (username,) in build.rows("select username from store_account order by id")]
    assert len(accounts) >= 6
    assert all(f"  {username} " in build.said for username in accounts)


def test_a_folder_that_holds_something_else_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "thesis.txt").write_text("years of work", encoding="utf-8")
    process = begin(tmp_path, "0")
    said, _ = process.communicate(timeout=BUILDS_WITHIN)
    assert process.returncode == 2
    assert said == f"dosewright demo: {tmp_path} holds something that no demo made; name an empty folder with --out.\n"
    assert (tmp_path / "thesis.txt").read_text(encoding="utf-8") == "years of work"
