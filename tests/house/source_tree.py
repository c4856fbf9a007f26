"""What the tests of the house look at: tracked files, and the modules of the package as parsed."""

import ast
import shutil
import subprocess
from fnmatch import fnmatch
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "dosewright"


@cache
def tracked() -> tuple[Path, ...]:
    """Every file that git tracks and that is still there, from the root; where there is no git, every file it would not ignore."""
    return tuple(path for path in sorted(_listed() or _walked()) if (ROOT / path).is_file())


def _listed() -> list[Path]:
    if not (ROOT / ".git").exists() or not (git := shutil.which("git")):
        return []
    listed = subprocess.run([git, "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True, text=True).stdout
    return [Path(name) for name in listed.split("\0") if name]


def _walked() -> list[Path]:
    ignored = [".git"] + [pattern.strip("/") for pattern in (ROOT / ".gitignore").read_text("utf-8").split()]
    found = (path.relative_to(ROOT) for path in ROOT.rglob("*"))
    return [path for path in found if not any(fnmatch(part, pattern) for part in path.parts for pattern in ignored)]


@cache
def tracked_text() -> dict[Path, str]:
    """The text of every tracked file that is text."""
    found: dict[Path, str] = {}
    for path in tracked():
        data = (ROOT / path).read_bytes()
        if b"\0" not in data:
            found[path] = data.decode("utf-8")
    return found


@cache
def modules() -> dict[str, Path]:
    """Dotted name → file of every module in the package, in order."""
    return dict(sorted((_dotted(path), path) for path in PACKAGE.rglob("*.py")))


@cache
def tree(name: str) -> ast.Module:
    """A module as parsed."""
    return ast.parse(modules()[name].read_text("utf-8"))


def documents() -> tuple[Path, ...]:
    """Every tracked Markdown file, from the root."""
    return tuple(path for path in tracked() if path.suffix == ".md")


def _dotted(path: Path) -> str:
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
