"""The one command: `dosewright SUBCOMMAND …`.

Each subcommand is a file that adds its own arguments and runs; only the one asked for is loaded.
"""

import argparse
import importlib
import sys
from collections.abc import Sequence

from dosewright.cli.files import Unreadable

__all__ = ["COMMANDS", "main"]

# name → (module, one-line help). A module has `add_arguments(parser)` and `run(args) -> int` (the exit code).
COMMANDS: dict[str, tuple[str, str]] = {
    "read": ("dosewright.cli.read", "directions to structure, or a question, or a refusal"),
    "doses": ("dosewright.cli.doses", "structure to dated doses"),
    "plan": ("dosewright.cli.plan", "orders to cards and paper"),
    "why": ("dosewright.cli.why", "why a card or a cavity holds what it holds, and what would save a card"),
    "verify": ("dosewright.cli.verify", "recount a plan from its orders"),
    "pharmacy": ("dosewright.config.pharmacy", "set the pharmacy up, or change its particulars or rules"),
    "account": ("dosewright.config.account", "who may sign in"),
    "times": ("dosewright.cli.times", "fewer dosing times, proposed beside today's"),
    "change": ("dosewright.cli.change", "existing cards against new orders"),
    "serve": ("dosewright.config.serve", "run the bench"),
    "demo": ("dosewright.config.demo_command", "build the demonstration pharmacy"),
    "trace": ("dosewright.config.trace", "from a lot to every card and back"),
    "history": ("dosewright.config.history", "everything on record about one card"),
    "ledger": ("dosewright.config.ledger", "verify the record of everything done"),
    "backup": ("dosewright.config.backup", "write the whole store to one file"),
    "restore": ("dosewright.config.restore", "bring a backup back, to the same ledger head"),
}


def main(argv: Sequence[str] | None = None) -> int:
    """Exit code: 0 done, 1 done but something needs a person, 2 bad usage or unreadable input."""
    words = list(sys.argv[1:] if argv is None else argv)
    parser = _parser_for(words[0]) if words and words[0] in COMMANDS else _parser_for(None)
    args = parser.parse_args(words)
    try:
        return int(args.run(args))
    except Unreadable as error:
        print(f"dosewright {args.subcommand}: {error}", file=sys.stderr)
        return 2
    except BrokenPipeError:
        sys.stderr.close()
        return 0


def _parser_for(chosen: str | None) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="dosewright", description="Multi-dose medicine cards, from orders to released cards.")
    subparsers = parser.add_subparsers(dest="subcommand", required=True, metavar="SUBCOMMAND")
    for name, (module, summary) in COMMANDS.items():
        child = subparsers.add_parser(name, help=summary, description=summary, formatter_class=argparse.RawDescriptionHelpFormatter)
        if name == chosen:
            loaded = importlib.import_module(module)
            loaded.add_arguments(child)
            child.set_defaults(run=loaded.run)
    return parser


if __name__ == "__main__":
    sys.exit(main())
