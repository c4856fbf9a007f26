"""Every module: says what it is, names its front door truly, stays small, and is named for what it holds."""

import ast
import importlib

import pytest
from tests.house.source_tree import modules, tree

NAMELESS = {"utils", "util", "helpers", "helper", "common", "base", "misc", "tools"}
NO_FRONT_DOOR = {"migrations", "settings", "urls", "templatetags", "apps", "models"}  # the framework reads these whole


@pytest.mark.parametrize("name", modules())
def test_a_module_is_small_and_says_what_it_is(name: str) -> None:
    lines = modules()[name].read_text("utf-8").count("\n")
    assert lines <= 600, f"{name} has {lines} lines: split it where the ideas part"
    assert "migrations" in name or ast.get_docstring(tree(name)), f"{name} has no docstring"


@pytest.mark.parametrize("name", modules())
def test_a_module_is_named_for_what_it_holds(name: str) -> None:
    assert not set(name.split(".")) & NAMELESS


@pytest.mark.parametrize("name", [name for name in modules() if not set(name.split(".")) & NO_FRONT_DOOR])
def test_the_front_door_is_true(name: str) -> None:
    """`__all__` is sorted, names what is there, and leaves out nothing public that the module itself defines."""
    module = importlib.import_module(name)
    public = {node.name for node in tree(name).body if isinstance(node, ast.ClassDef | ast.FunctionDef) and not node.name.startswith("_")}
    declared = getattr(module, "__all__", None)
    if declared is None:
        assert not public, f"{name} defines {sorted(public)} and has no __all__"
        return
    assert list(declared) == sorted(declared, key=_isort_like)
    assert all(hasattr(module, each) for each in declared)
    assert public <= set(declared), f"{name}: public and not in __all__: {sorted(public - set(declared))}"


def _isort_like(name: str) -> tuple[int, str]:
    """CONSTANTS, then Classes, then functions, as ruff sorts them."""
    return (0 if name.isupper() else 1 if name[0].isupper() else 2, name)
