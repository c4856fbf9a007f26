"""What the tests of the command line share: a small home's folder."""

from tests.cli.home_makers import folder

__all__ = ["folder"]
