"""A name that others gave (a lot's, a person's, an order's) as a part of an address: any signs, a slash too, and still one part.

Source: GS1 General Specifications, AI (10): a lot may hold 82 signs, "/" among them. An orders file names people and orders as it likes.
"""

import re

__all__ = ["NameInAddress"]

_WRITTEN = re.compile(r"~([0-9A-F]{1,6});")


class NameInAddress:
    """A slash stands as "~2F;", and so do "~" itself and the dots of a name that would be a way up. All else stands as Django writes it."""

    regex = "[^/]+"

    def to_python(self, value: str) -> str:
        """The name. Raises ValueError, by which nothing is found there, for the number of no sign."""
        name = _WRITTEN.sub(lambda found: chr(int(found[1], 16)), value)
        name.encode()  # half a sign cannot be written
        return name

    def to_url(self, value: str) -> str:
        """The name as it is written there."""
        special = "/~." if not value.strip(".") else "/~"
        return "".join(f"~{ord(sign):X};" if sign in special else sign for sign in value)
