"""Small faults put into the reader's word tables and its grammar, one at a time.

Tables (rows `TERMINAL value flags : spelling | spelling`): a row or one of its spellings left out, its value exchanged for that of the next
row of its kind, a flag left out. Grammar (rules `name: words -> alias | words -> alias`): an alternative left out, two neighbours' aliases
exchanged. Nothing is said here about which of them a test must notice.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

__all__ = ["TableMutant", "grammar_mutants", "table_mutants"]


@dataclass(frozen=True, slots=True)
class TableMutant:
    """The text with its fault. `spellings` are those whose meaning changes; none: any line may be touched (grammar)."""

    kind: str
    line: int
    said: str
    text: str
    spellings: tuple[str, ...] = ()


def table_mutants(table: str) -> Iterator[TableMutant]:
    """Every fault of a word table."""
    lines = table.splitlines()
    rows = [(at, line) for at, line in enumerate(lines) if line.strip() and not line.lstrip().startswith("#")]
    for at, line in rows:
        head, _, spelled = line.partition(" : ")
        spellings = _cut(spelled)
        yield _with(lines, at, None, "row left out", spellings)
        if len(spellings) > 1:
            for place, spelling in enumerate(spellings):
                rest = " | ".join(spellings[:place] + spellings[place + 1 :])
                yield _with(lines, at, f"{head} : {rest}", "spelling left out", [spelling])
        words = head.split()
        for flag in [word for word in words if "=" in word]:
            yield _with(lines, at, f"{' '.join(word for word in words if word != flag)} : {spelled}", "flag left out", spellings)
        other = _other_value(head, [text.partition(" : ")[0] for _, text in rows])
        if other is not None:
            yield _with(lines, at, f"{other} : {spelled}", "value of another row", spellings)


def _other_value(head: str, heads: list[str]) -> str | None:
    """The head with the value of the next row of the same terminal that has another one."""
    terminal, *rest = head.split()
    flags = [word for word in rest if "=" in word]
    value = [word for word in rest if "=" not in word]
    same = [one.split() for one in heads if one.split()[0] == terminal]
    values = [[word for word in one[1:] if "=" not in word] for one in same]
    later = [*values[values.index(value) + 1 :], *values]
    other = next((one for one in later if one != value and bool(one) == bool(value)), None)
    return None if other is None else " ".join([terminal, *other, *flags])


def _cut(spelled: str) -> list[str]:
    """The spellings of a row; a bar within brackets belongs to one spelling."""
    found, depth, last = [], 0, 0
    for at, letter in enumerate(spelled):
        depth += (letter in "([") - (letter in ")]")
        if letter == "|" and depth == 0:
            found.append(spelled[last:at].strip())
            last = at + 1
    return [*found, spelled[last:].strip()]


def _with(lines: list[str], at: int, changed: str | None, kind: str, spellings: list[str]) -> TableMutant:
    text = "\n".join([*lines[:at], *([] if changed is None else [changed]), *lines[at + 1 :]]) + "\n"
    return TableMutant(kind, at + 1, f"{lines[at].strip()[:90]} → {(changed or 'nothing').strip()[:90]}", text, tuple(spellings))


_RULE = re.compile(r"^(%extend )?[?!]?[a-z_]+ *:")


def grammar_mutants(grammar: str) -> Iterator[TableMutant]:
    """Every fault of a grammar: each alternative stands in a line of its own, the first behind the rule's name."""
    lines = grammar.splitlines()
    for at, line in enumerate(lines):
        if not line.strip() or line.lstrip().startswith(("//", "%declare", "%ignore")):
            continue
        following = lines[at + 1].strip() if at + 1 < len(lines) else ""
        if line.lstrip().startswith("|"):
            yield _with(lines, at, None, "alternative left out", [])
        elif _RULE.match(line) and following.startswith("|"):
            merged = [*lines[: at + 1], lines[at + 1].replace("|", " ", 1), *lines[at + 2 :]]
            name, _, _ = line.partition(":")
            yield _with(merged, at, f"{name}:", "alternative left out", [])
        if "->" in line and "->" in following and _alias(line) != _alias(following):
            exchanged = [*lines[: at + 1], _with_alias(lines[at + 1], _alias(line)), *lines[at + 2 :]]
            yield _with(exchanged, at, _with_alias(line, _alias(following)), "aliases exchanged", [])


def _alias(line: str) -> str:
    return line.rpartition("->")[2].strip()


def _with_alias(line: str, alias: str) -> str:
    return f"{line.rpartition('->')[0]}-> {alias}"
