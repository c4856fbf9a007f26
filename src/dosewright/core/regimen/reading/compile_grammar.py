"""A grammar in the lark library's notation becomes a `ParseTable`. Needed only where no table is kept for it: see `languages`."""

from collections.abc import Mapping
from typing import Any

from lark import Lark
from lark.grammar import Rule as LarkRule
from lark.lexer import Lexer
from lark.parsers.lalr_analysis import Shift

from dosewright.core.regimen.reading.parse_table import ParseTable, Rule

__all__ = ["compile_grammar", "rules_of"]


class _Given(Lexer):
    """The tokens are already made: lark needs to know of none."""

    def __init__(self, _conf: object) -> None:
        pass

    def lex(self, data: Any) -> Any:  # type: ignore[override]
        yield from data


def rules_of(grammar: str) -> tuple[LarkRule, ...]:
    """The grammar's rules as the library has them, for whoever makes phrases by them."""
    return tuple(Lark(grammar, parser="lalr", lexer=_Given).rules)


def compile_grammar(grammar: str) -> ParseTable:
    """The table of an LALR(1) grammar. Raises lark's GrammarError for one that has conflicts or names what it does not define."""
    start = Lark(grammar, parser="lalr", lexer=_Given).parse_interactive([]).parser_state
    states: Mapping[int, Mapping[str, tuple[object, Any]]] = start.parse_conf.states
    order = _in_order(states, int(start.position))
    rules = sorted({_rule(target) for state in order for action, target in states[state].values() if action is not Shift})
    place = {state: at for at, state in enumerate(order)}
    ends = {rule: -1 - at for at, rule in enumerate(rules)}
    rows = [
        {name: place[target] if action is Shift else ends[_rule(target)] for name, (action, target) in states[state].items()}
        for state in order
    ]
    return ParseTable(tuple(rules), tuple(rows), 0)


def _in_order(states: Mapping[int, Mapping[str, tuple[object, Any]]], first: int) -> list[int]:
    """The states as they are reached by name, the first first: the library's own numbers differ from run to run."""
    found = [first]
    for state in found:
        reached = [target for _, (action, target) in sorted(states[state].items(), key=_name) if action is Shift]
        found += [target for target in dict.fromkeys(reached) if target not in found]
    return found


def _name(row: tuple[str, object]) -> str:
    return row[0]


def _rule(rule: LarkRule) -> Rule:
    opened = tuple(place for place, symbol in enumerate(rule.expansion) if not symbol.is_term and symbol.name.startswith("_"))
    return Rule(str(rule.origin.name), len(rule.expansion), _method(rule), opened)


def _method(rule: LarkRule) -> str:
    if rule.alias:
        return str(rule.alias)
    if rule.options.expand1 and len(rule.expansion) == 1:
        return "?"
    return "" if rule.origin.name.startswith("_") else str(rule.origin.name)
