"""A compiled grammar: what the parser does next, for each of its states and each terminal.

Comes in: the text that `tools/write_parse_tables.py` keeps, or the grammar compiled afresh (`compile_grammar`). Goes out: `ParseTable`,
which moves a stack of states on by one terminal, and makes a row of words into items. An LALR(1) table with lark's rules of shaping: a
rule named `_…` gives its parts to the rule around it, `?…` with one part is that part, and an alias names the method that makes the item.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from textwrap import fill
from typing import Any

__all__ = ["END", "ParseTable", "Rule", "Stack", "read_table", "write_table"]

END = "$END"
_START = "start"

Stack = tuple[int, ...]


@dataclass(frozen=True, slots=True, order=True)
class Rule:
    """`origin` becomes `parts`, of which `opened` give their own parts. `method` makes the item; "" where the parts themselves are given,
    "?" where the only part is."""

    origin: str
    size: int
    method: str
    opened: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class ParseTable:
    """`states[s][name]` is the next state; where it is below zero, the rule `-1 - n` ends first."""

    rules: tuple[Rule, ...]
    states: tuple[Mapping[str, int], ...]
    first: int = 0

    def advance(self, stack: Stack, terminal: str) -> Stack:
        """The states after one more terminal; empty where it is not accepted."""
        while True:
            action = self.states[stack[-1]].get(terminal)
            if action is None:
                return ()
            if action >= 0:
                return (*stack, action)
            rule = self.rules[-1 - action]
            stack = stack[: len(stack) - rule.size]
            following = self.states[stack[-1]].get(rule.origin)
            if following is None:
                return ()
            stack = (*stack, following)
            if terminal == END and rule.origin == _START:
                return stack

    def build(self, words: Iterable[tuple[str, Any]], builder: object) -> Any:
        """What the builder makes of a row of terminals and their values that the grammar accepts. Raises ValueError for any other."""
        stack, values = [self.first], [None]
        for terminal, value in (*words, (END, None)):
            while (action := self.states[stack[-1]].get(terminal, None)) is not None and action < 0:
                rule = self.rules[-1 - action]
                made = _make(rule, values[len(values) - rule.size :], builder)
                if rule.origin == _START and terminal == END:
                    return made
                del stack[len(stack) - rule.size :], values[len(values) - rule.size :]
                stack.append(self.states[stack[-1]][rule.origin])
                values.append(made)
            if action is None:
                break
            stack.append(action)
            values.append(value)
        raise ValueError("the row is not accepted")


def _make(rule: Rule, values: Sequence[Any], builder: object) -> Any:
    parts = list(values)
    for place in reversed(rule.opened):
        parts[place : place + 1] = parts[place]
    if not rule.method:
        return parts
    if rule.method == "?":
        return parts[0]
    method: Callable[[Sequence[Any]], Any] = getattr(builder, rule.method)
    return method(parts)


def write_table(table: ParseTable) -> str:
    """As text in three paragraphs, their rows parted by `;`: the rules; the sets of names; for each state its `action:set`, in order."""
    sets: dict[tuple[str, ...], int] = {}
    rows = []
    for state in table.states:
        names: dict[int, list[str]] = {}
        for name in sorted(state):
            names.setdefault(state[name], []).append(name)
        rows.append(" ".join(f"{action}:{sets.setdefault(tuple(found), len(sets))}" for action, found in sorted(names.items())) or "-")
    rules = [" ".join([one.origin, str(one.size), one.method or "-", *map(str, one.opened)]) for one in table.rules]
    return "\n\n".join(fill("; ".join(part), _WIDTH, break_on_hyphens=False) for part in (rules, map(" ".join, sets), rows))


_WIDTH = 136


def read_table(text: str) -> ParseTable:
    """What `write_table` wrote."""
    rules, sets, rows = ([row.split() for row in part.split(";")] for part in text.strip().split("\n\n"))
    states = []
    for row in rows:
        state: dict[str, int] = {}
        for action, _, place in (part.partition(":") for part in row if part != "-"):
            state.update(dict.fromkeys(sets[int(place)], int(action)))
        states.append(state)
    return ParseTable(tuple(map(_read_rule, rules)), tuple(states))


def _read_rule(row: Sequence[str]) -> Rule:
    origin, size, method, *opened = row
    return Rule(origin, int(size), "" if method == "-" else method, tuple(map(int, opened)))
