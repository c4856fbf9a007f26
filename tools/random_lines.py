"""Random lines through the reader, in every language: nothing may raise, and the work for a line stays bounded.

`python -m tools.random_lines [LINES] [SEED] [--state FILE]`. Two kinds of lines in turn, 1 to 60 tokens long: rows of the language's own
words, numbers, marks and nonsense; and phrases made by the grammar's own rules, which reach deeper. Line number N of a seed is always the
same line, so a run can be cut into parts: with `--state` it goes on where FILE says the last part ended, and adds up. Prints how many were
read, asked and refused, and the slowest line with its time.
"""

import argparse
import json
import random
import sys
import time
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from lark.grammar import NonTerminal, Rule

from dosewright.core.regimen.reading.compile_grammar import rules_of
from dosewright.core.regimen.reading.languages import LANGUAGES, find_language, grammar_of
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Reading, ReadingStatus, Setting

__all__ = ["COUNTRIES", "fault_of", "random_line", "setting_of"]

COUNTRIES = {"en": ("GB", "US", "AU", ""), "fr": ("FR", "CA", ""), "es": ("ES", "MX", ""), "de": ("DE", "")}
_NUMBERS = (
    *("1", "2", "½", "1/2", "1½", "0.5", "1,5", "10", "500", "5/7", "1-0-1", "1-2", "8am", "08:00", "20h", "q8h", "3x", ".5"),
    *("1.0", "11/2", "3-weekly", "8:30", "0800", "12.12.26", "1/24", "i-ii", "5mg", "28", "2026"),
)  # fmt: skip
_MARKS = (",", ".", "(", ")", "-", "+", "/", ";", ":", "&", "\n", "<", "@", "x", "%", "™")
_NONSENSE = ("blorp", "zwindel", "m", "½½", "1//2", "--", "…", "٣", "\u0301", "🙂")
# Terminals that no table holds: the reader makes them of digits and marks.
_MADE = {
    "NUM": ("1", "2", "3", "½", "1/2", "1½", "0.5", "1.5", "5", "7", "10", "14", "21", "28", "500", "20", "0", "2026"),
    "CLOCK": ("08:00", "8:30", "20:00", "0800", "22:00"),
    "DATE": ("2026-03-01", "01/03/2026", "31.12.2026", "12/12/26"),
    "PATTERN": ("1-0-1", "1-1-1-1", "½-0-1", "1+0+1", "0-0-0-1"),
    "SPAN": ("5/7", "2/52", "1/12"), "AND_HALF": ("and a half", "et demi", "y medio"), "CROSS": ("x",), "TIMES": ("times", "x"),
    "X": ("x",), "DAYHOURS": ("/24",), "OFSIZE": ("of", "de"),
}  # fmt: skip
_DEEPEST = 8
_SLOW = 0.05  # seconds; counted, not failed: machines differ

Pools = Mapping[str, tuple[str, ...]]


@cache
def _language(lang: str, country: str) -> tuple[tuple[str, ...], Pools, Mapping[str, list[Rule]]]:
    """Its words, its spellings by terminal, its rules by what they make."""
    language = find_language(lang, country)
    if language is None:
        raise LookupError(lang)
    pools: dict[str, list[str]] = {}
    for words, senses in sorted(language.lexicon.spelled()):
        for sense in senses:
            pools.setdefault(sense.terminal, []).append(words)
    rules: dict[str, list[Rule]] = {}
    for rule in rules_of(grammar_of(lang)):
        rules.setdefault(rule.origin.name, []).append(rule)
    return tuple(sorted(language.lexicon.words)), {name: tuple(spelled) for name, spelled in pools.items()} | _MADE, rules


def setting_of(seed: int, number: int) -> Setting:
    """In which language and country line `number` is written."""
    chance = random.Random(f"{seed}/{number}/where")  # noqa: S311 — no secret: the same seed, the same lines
    lang = chance.choice(sorted(LANGUAGES))
    return Setting(lang, chance.choice(COUNTRIES[lang]))


def random_line(seed: int, number: int, setting: Setting) -> str:
    """Line `number`: words in any order where it is odd, the grammar's own phrases where it is even."""
    chance = random.Random(f"{seed}/{number}")  # noqa: S311
    words, pools, rules = _language(setting.lang, setting.country)
    return _words(chance, words) if number % 2 else _phrases(chance, pools, rules)


def _words(chance: random.Random, words: Sequence[str]) -> str:
    """Mostly words that the language knows: they reach deeper than nonsense does."""
    pools = (words, words, words, words, _NUMBERS, _NUMBERS, _MARKS)
    tokens = [chance.choice(chance.choice(pools)) for _ in range(chance.randint(1, chance.choice((4, 10, 25, 60))))]
    if chance.random() < 0.1:
        tokens.insert(chance.randrange(len(tokens) + 1), chance.choice(_NONSENSE))
    return " ".join(tokens)


def _phrases(chance: random.Random, pools: Pools, rules: Mapping[str, list[Rule]]) -> str:
    """An amount first, most times: a line without one ends early."""
    parts = [_made("amount", chance, pools, rules, 0)] if chance.random() < 0.8 else []
    for _ in range(chance.randint(1, chance.choice((2, 3, 5, 9)))):
        if chance.random() < 0.3:
            parts.append(_made("joint", chance, pools, rules, 0))
        parts.append(_made("phrase", chance, pools, rules, 0))
    return " ".join(part for part in parts if part)


def _made(name: str, chance: random.Random, pools: Pools, rules: Mapping[str, list[Rule]], depth: int) -> str:
    """What one of its rules makes. Deep down, the shortest rule."""
    choices = rules[name]
    rule = chance.choice(choices) if depth < _DEEPEST else min(choices, key=lambda rule: len(rule.expansion))
    made = [
        _made(part.name, chance, pools, rules, depth + 1) if isinstance(part, NonTerminal) else chance.choice(pools.get(part.name, ("",)))
        for part in rule.expansion
    ]
    return " ".join(part for part in made if part)


def fault_of(reading: Reading, line: str) -> str:
    """What is wrong with any reading of any line; "" where nothing is."""
    read_it = reading.status is ReadingStatus.READ
    if bool(reading.dosages) != read_it or bool(reading.questions) == read_it:
        return f"{reading.status} with {len(reading.dosages)} dosages and {len(reading.questions)} questions"
    if not all(0 <= start <= end <= len(line) for question in reading.questions for start, end in [question.span]):
        return "a question about letters that are not in the line"
    return ""


@dataclass(slots=True)
class _Tally:
    """What a run has found so far; kept in the state file."""

    seed: int
    lines: int = 0
    seconds: float = 0.0
    outcomes: Counter[str] = field(default_factory=Counter)
    slow: int = 0
    worst: float = 0.0
    slowest: str = ""

    def take(self, number: int) -> None:
        setting = setting_of(self.seed, number)
        line = random_line(self.seed, number, setting)
        start = time.perf_counter()
        reading = read(line, setting)
        took = time.perf_counter() - start
        if fault := fault_of(reading, line):
            sys.exit(f"line {number} of seed {self.seed}, {setting.lang} {setting.country}: {fault}: {line!r}")
        self.lines, self.seconds = number + 1, self.seconds + took
        self.outcomes[str(reading.status)] += 1
        self.slow += took > _SLOW
        if took > self.worst:
            self.worst, self.slowest = took, f"{setting.lang} {line}"


def _begin(path: Path | None, seed: int) -> _Tally:
    if path is None or not path.exists():
        return _Tally(seed)
    kept = json.loads(path.read_text(encoding="utf-8"))
    if kept["seed"] != seed:
        sys.exit(f"{path} belongs to seed {kept['seed']}, not to {seed}.")
    return _Tally(**{**kept, "outcomes": Counter(kept["outcomes"])})


def _keep(path: Path | None, tally: _Tally) -> None:
    if path is not None:
        path.write_text(json.dumps({name: getattr(tally, name) for name in _Tally.__dataclass_fields__}), encoding="utf-8")


def main() -> None:
    """Run and print."""
    parser = argparse.ArgumentParser(description="Random lines through the reader of directions.")
    parser.add_argument("lines", nargs="?", type=int, default=100_000, help="how many to add (default 100000)")
    parser.add_argument("seed", nargs="?", type=int, default=1)
    parser.add_argument("--state", type=Path, help="go on from this file, and keep the sums in it")
    args = parser.parse_args()
    for lang, countries in COUNTRIES.items():
        for country in countries:
            _language(lang, country)  # built once, outside the timing
    tally = _begin(args.state, args.seed)
    for number in range(tally.lines, tally.lines + args.lines):
        tally.take(number)
        if number % 5000 == 0:
            _keep(args.state, tally)
    _keep(args.state, tally)
    print(f"seed {tally.seed}: {tally.lines} lines in {tally.seconds:.1f} s of reading, {tally.lines / tally.seconds:.0f} a second")
    print(f"{dict(sorted(tally.outcomes.items()))}; {tally.slow} took longer than {_SLOW * 1000:.0f} ms")
    print(f"slowest {tally.worst * 1000:.1f} ms: {tally.slowest!r}")


if __name__ == "__main__":
    main()
