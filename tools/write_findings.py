"""Write docs/findings.md: every finding's code, how grave it is, and the sentence shown for it. `python -m tools.write_findings`."""

from pathlib import Path

from tools.finding_codes import severities

from dosewright.core.paper.say import sentences

__all__ = ["page"]

PAGE = Path(__file__).resolve().parent.parent / "docs" / "findings.md"
HEAD = """# Findings

Everything a rule can find that a person can mend. `stop`: cannot go on. `decide`: a person with the right must choose, with a reason.
`note`: worth knowing. "varies": the rule that finds it says how grave it is. `{name}` stands for a fact or a place.
Made from the source by `python -m tools.write_findings`.

| code | severity | sentence |
| --- | --- | --- |
"""


def page() -> str:
    """The whole page, codes in order."""
    return HEAD + "".join(f"| `{code}` | {severities(code)} | {_cell(text)} |\n" for code, text in sorted(sentences().items()))


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
