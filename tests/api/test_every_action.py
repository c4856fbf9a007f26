"""Every action of the house is done by some operation for programs, or stands in one list with the reason why it stays at the bench.

Followed in the source: from each view that is put up, through this room's helpers and the actions' own, to all that is called on the way.
"""

import ast
from pathlib import Path

from tests.api.test_page import PAGE

SOURCE = Path(__file__).resolve().parents[2] / "src" / "dosewright"

# What no operation does, and the words of the page about the API that say why.
AT_THE_BENCH = {
    "issue_badge": "a badge and PIN of one's own",
    "record_sign_in": "signing in and out",
    "record_sign_out": "signing in and out",
    "record_lock": "signing in and out",
    "record_taken": "signing in and out",
    "set_up_pharmacy": "setting up a pharmacy",
}


def functions(room: str) -> dict[tuple[str, str], ast.FunctionDef]:
    """Each function of a room by module and name."""
    found: dict[tuple[str, str], ast.FunctionDef] = {}
    for path in sorted((SOURCE / room).glob("*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        found |= {(path.stem, node.name): node for node in tree.body if isinstance(node, ast.FunctionDef)}
    return found


def imported(room: str) -> dict[tuple[str, str], tuple[str, str]]:
    """Which name of which module stands for which function of an action's module."""
    found: dict[tuple[str, str], tuple[str, str]] = {}
    for path in sorted((SOURCE / room).glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("dosewright.actions."):
                found |= {(path.stem, one.asname or one.name): ((node.module or "").rpartition(".")[2], one.name) for one in node.names}
    return found


def names(node: ast.AST) -> set[str]:
    return {one.id for one in ast.walk(node) if isinstance(one, ast.Name)}


def reached() -> set[tuple[str, str]]:
    """Functions of actions/ by module and name, from every view that `offer` puts up."""
    own, deeds, here, there = functions("api"), functions("actions"), imported("api"), imported("actions")
    to_do = [("api", key) for key, node in own.items() if any("offer" in names(one) for one in node.decorator_list)]
    seen = set(to_do)
    while to_do:
        room, (module, name) = to_do.pop()
        calls = names((own if room == "api" else deeds)[module, name])
        local, known = (own, here) if room == "api" else (deeds, there)
        steps = {(room, (module, one)) for one in calls if (module, one) in local}
        steps |= {("actions", known[module, one]) for one in calls if (module, one) in known and known[module, one] in deeds}
        to_do += steps - seen
        seen |= steps
    return {key for room, key in seen if room == "actions"}


def acts() -> set[tuple[str, str]]:
    """Every public function of actions/ that is told who does it, when and where."""
    told = {key: node for key, node in functions("actions").items() if any(one.arg == "on" and one.annotation for one in node.args.args)}
    return {key for key in told if not key[1].startswith("_")}


def test_every_action_is_done_by_an_operation_or_stands_in_the_list_with_its_reason() -> None:
    assert len(acts()) > 70
    assert {name for _, name in acts() - reached()} == set(AT_THE_BENCH)


def test_the_page_says_what_stays_at_the_bench_and_why() -> None:
    _, _, said = PAGE.partition("## What stays at the bench")
    for name, words in AT_THE_BENCH.items():
        assert words in " ".join(said.split()), name
