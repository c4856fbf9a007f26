"""Which functions of `core/regimen` a test calls, and which directions it reads: a fault is tried only by tests that come near it."""

import importlib
import json
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from types import FrameType
from typing import Any, Self

from tools.faults import LANGUAGE_OF, REGIMEN, SOURCE, Fault, clear_caches, users_of
from tools.mutants import Mutant

__all__ = ["Traced", "trace", "trace_building"]

_ROOM = str(REGIMEN)
_HOUSE = len(str(SOURCE / "dosewright")) + 1
_READ = ("core/regimen/reading/read.py", "read")


@dataclass(slots=True)
class Traced:
    """What one test did. `called` are (file, function); `words` are the words of each line of directions, by language."""

    called: set[tuple[str, str]] = field(default_factory=set)
    words: set[tuple[str, frozenset[str]]] = field(default_factory=set)
    seconds: float = 0.0
    passed: bool = True

    def dumped(self) -> str:
        """As text, for a pipe."""
        words = [(lang, sorted(said)) for lang, said in self.words]
        return json.dumps([sorted(self.called), words, self.seconds, self.passed])

    @classmethod
    def loaded(cls, text: str) -> Self:
        """What `dumped` wrote."""
        called, words, seconds, passed = json.loads(text)
        return cls({(file, name) for file, name in called}, {(lang, frozenset(said)) for lang, said in words}, seconds, passed)

    def runs(self, fault: Fault) -> bool:
        """Whether its function is called; of a constant, whether a function is that mentions it."""
        change = fault.change
        if not isinstance(change, Mutant):
            return False
        if change.name:
            return not users_of(change.name).isdisjoint(self.called)
        return (fault.file, change.function) in self.called

    def is_near(self, fault: Fault, *, built: bool) -> bool:
        """Whether it could notice the fault. `built`: the fault lies in what makes the languages' tables."""
        if isinstance(fault.change, Mutant):
            return self.runs(fault) or (built and (bool(self.words) or _SPELLED in self.called))
        if _SPELLED in self.called:
            return True
        lang = LANGUAGE_OF.get(fault.module.rpartition(".")[2], "")
        spoken = [words for said, words in self.words if lang in ("", said)]
        wanted = _wanted(fault.change.spellings)
        return any(not wanted or any(choice <= words for choice in wanted) for words in spoken)


_SPELLED = ("core/regimen/reading/lexicon.py", "Lexicon.spelled")  # goes through all words, whatever they are


def _wanted(spellings: tuple[str, ...]) -> list[frozenset[str]]:
    lexicon = importlib.import_module("dosewright.core.regimen.reading.lexicon")
    return [
        frozenset(_bare(word) for word in lexicon._words(choice) if word != "-") for one in spellings for choice in lexicon._spelled(one)
    ]


def _bare(word: str) -> str:
    lexicon = importlib.import_module("dosewright.core.regimen.reading.lexicon")
    return str(lexicon.without_accents(word))


def trace(work: Callable[[], bool]) -> Traced:
    """Run it and see."""
    found = Traced()
    texts: set[tuple[str, str]] = set()

    def at_call(frame: FrameType, _event: str, _arg: Any) -> None:
        path = frame.f_code.co_filename
        if path.startswith(_ROOM):
            called = (path[_HOUSE:], frame.f_code.co_qualname.partition(".<locals>")[0])
            found.called.add(called)
            if called == _READ:
                texts.add((frame.f_locals["setting"].lang.partition("-")[0].lower(), frame.f_locals["text"]))

    began = time.monotonic()
    sys.settrace(at_call)
    try:
        found.passed = work()
    finally:
        sys.settrace(None)
    found.seconds = time.monotonic() - began
    scanning = importlib.import_module("dosewright.core.regimen.reading.scanning")
    found.words = {(lang, frozenset(_bare(piece.norm) for piece in scanning.scan(text))) for lang, text in texts}
    return found


def trace_building() -> Traced:
    """The making of every language's tables."""
    languages = importlib.import_module("dosewright.core.regimen.reading.languages")
    clear_caches(languages=True)
    return trace(lambda: all(languages.find_language(lang, country) for lang in languages.LANGUAGES for country in ("", "GB", "US")))
