"""The build fails on a known fault of a requirement, and where nobody tells, it says that it does not know."""

import http.server
import json
import threading
from collections.abc import Callable, Iterator

import pytest
from tools import known_faults

Serve = Callable[[Callable[[str, str], object]], list[str]]
FAULT = {"id": "PYSEC-0000-1", "fixed_in": ["99.1"], "withdrawn": None}


@pytest.fixture
def serve(monkeypatch: pytest.MonkeyPatch) -> Iterator[Serve]:
    """An index of this test's own: `serve(what)` answers each question by `what(name, version)`, None with 404; the questions."""
    running: list[http.server.ThreadingHTTPServer] = []

    def start(what: Callable[[str, str], object]) -> list[str]:
        asked: list[str] = []

        class Index(http.server.BaseHTTPRequestHandler):
            def do_GET(self) -> None:
                asked.append(self.path)
                said = what(*self.path.split("/")[2:4])
                self.send_response(404 if said is None else 200)
                self.end_headers()
                self.wfile.write(b"" if said is None else json.dumps(said).encode())

            def log_message(self, *_: object) -> None:
                """Nothing."""

        server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Index)
        running.append(server)
        threading.Thread(target=server.serve_forever, daemon=True).start()
        monkeypatch.setenv("PIP_INDEX_URL", f"http://127.0.0.1:{server.server_address[1]}/simple")
        return asked

    yield start
    for server in running:
        server.shutdown()
        server.server_close()


def about(version: str, *faults: object) -> dict[str, object]:
    return {"info": {"version": version}, "vulnerabilities": list(faults)}


def test_every_pinned_version_is_asked_about_and_a_known_fault_fails_the_build(serve: Serve, capsys: pytest.CaptureFixture[str]) -> None:
    asked = serve(lambda name, version: about(version, FAULT) if name == "django" else about(version))
    assert known_faults.main([]) == 1
    assert len(asked) == len(known_faults.pins()) > 50
    said = capsys.readouterr()
    assert "django" in said.err
    assert "PYSEC-0000-1, mended in 99.1" in said.err


def test_what_was_taken_back_is_no_fault_and_none_known_is_said(serve: Serve, capsys: pytest.CaptureFixture[str]) -> None:
    serve(lambda _, version: about(version, {**FAULT, "withdrawn": "2026-01-01T00:00:00Z"}))
    assert known_faults.main(["--must-answer"]) == 0
    count = len(known_faults.pins())
    assert capsys.readouterr().out == f"known faults of requirements: 0 in {count} of {count} pinned versions.\n"


@pytest.mark.parametrize(
    "what",
    [lambda *_: None, lambda *_: about("0.0.1"), lambda _, version: {"info": {"version": version}}, lambda *_: ["something else"]],
    ids=["not found", "of another version", "without a word of faults", "of another shape"],
)
def test_no_answer_is_said_after_one_question_and_is_no_pass(
    serve: Serve, capsys: pytest.CaptureFixture[str], what: Callable[[str, str], object]
) -> None:
    asked = serve(what)
    assert known_faults.main([]) == 0
    assert len(asked) == 1
    assert "NOT KNOWN" in capsys.readouterr().out
    assert known_faults.main(["--must-answer"]) == 2


def test_a_version_of_which_nothing_is_said_is_named(serve: Serve, capsys: pytest.CaptureFixture[str]) -> None:
    serve(lambda name, version: None if name == "django" else about(version))
    assert known_faults.main(["--must-answer"]) == 2
    assert "NOT KNOWN of django." in capsys.readouterr().out
