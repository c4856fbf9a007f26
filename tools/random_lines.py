"""Random lines of tokens through the reader: nothing may raise, and the work for a line stays bounded.

`python -m tools.random_lines [LINES] [SEED]`: lines from every language's own words, numbers, marks and nonsense, 1 to 60 tokens long.
Prints how many were read, asked and refused, the slowest line and its time. The same seed gives the same lines.
"""

import random
import sys
import time
from collections import Counter

from dosewright.core.regimen.reading.languages import LANGUAGES, find_language
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting

COUNTRIES = {"en": ("GB", "US", "AU", ""), "fr": ("FR", "CA", ""), "es": ("ES", "MX", ""), "de": ("DE", "")}
NUMBERS = (
    "1",
    "2",
    "½",
    "1/2",
    "1½",
    "0.5",
    "1,5",
    "10",
    "500",
    "5/7",
    "1-0-1",
    "1-2",
    "8am",
    "08:00",
    "20h",
    "q8h",
    "3x",
    ".5",
    "1.0",
    "11/2",
)
MARKS = (",", ".", "(", ")", "-", "+", "/", ";", ":", "&", "\n", "<", "@", "x", "%", "™")
NONSENSE = ("blorp", "zwindel", "m", "½½", "1//2", "--", "…", "٣", "\u0301", "🙂")


def random_line(chance: random.Random, words: tuple[str, ...]) -> str:
    """Mostly words that the language knows: they reach deeper than nonsense does."""
    pools = (words, words, words, words, NUMBERS, NUMBERS, MARKS)
    tokens = [chance.choice(chance.choice(pools)) for _ in range(chance.randint(1, chance.choice((4, 10, 25, 60))))]
    if chance.random() < 0.1:
        tokens.insert(chance.randrange(len(tokens) + 1), chance.choice(NONSENSE))
    return " ".join(tokens)


def main() -> None:
    """Run and print."""
    lines = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    chance = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else 1)  # noqa: S311 — no secret: the same seed, the same lines
    vocabulary: dict[str, tuple[str, ...]] = {}
    for lang in LANGUAGES:
        for country in COUNTRIES[lang]:  # built once, outside the timing
            language = find_language(lang, country)
            vocabulary[lang] = tuple(sorted(language.lexicon.words)) if language else ()
    outcomes: Counter[str] = Counter()
    worst, slowest = 0.0, ""
    began = time.perf_counter()
    for _ in range(lines):
        lang = chance.choice(sorted(LANGUAGES))
        line = random_line(chance, vocabulary[lang])
        start = time.perf_counter()
        reading = read(line, Setting(lang, chance.choice(COUNTRIES[lang])))
        took = time.perf_counter() - start
        outcomes[str(reading.status)] += 1
        if bool(reading.dosages) != (reading.status is ReadingStatus.READ):
            sys.exit(f"{reading.status} with {len(reading.dosages)} dosages: {line!r}")
        if took > worst:
            worst, slowest = took, line
    seconds = time.perf_counter() - began
    print(f"{lines} lines in {seconds:.1f} s, {lines / seconds:.0f} a second; {dict(outcomes)}")
    print(f"slowest {worst * 1000:.1f} ms: {slowest!r}")


if __name__ == "__main__":
    main()
