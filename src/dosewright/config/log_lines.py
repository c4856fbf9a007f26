"""Lines of the log: what went wrong and where in the code, and nothing of a person.

Comes in: log records. Goes out: a line each, and for a fault its way through the code. Left out are what can hold a name, an order or a
number: the address that was asked for, and the words of exceptions. Control characters are shown, so that nobody writes lines of their own.
"""

import logging
import traceback
from collections.abc import Iterator

from dosewright.core.interop.characters import shown

__all__ = ["PlainLines"]

_LONGEST = 500  # characters of a line


class PlainLines(logging.Formatter):
    """Named in the settings as the formatter of every handler."""

    def format(self, record: logging.LogRecord) -> str:
        """The record's line, and the lines of its fault."""
        first = f"{self.formatTime(record)} {record.levelname} {record.name}: {shown(_what(record), _LONGEST)}"
        error = record.exc_info[1] if record.exc_info else None
        return "\n".join((first, *_where(error))) if error else first


def _what(record: logging.LogRecord) -> str:
    """A request is told by its status and its address's own name, never by the address."""
    status, request = getattr(record, "status_code", None), getattr(record, "request", None)
    if status is None:
        return record.getMessage()
    match = getattr(request, "resolver_match", None)
    return f"{status} {getattr(request, 'method', '')} {match.view_name or 'unnamed' if match else 'no such address'}"


def _where(error: BaseException) -> Iterator[str]:
    """Kinds of errors and the places that they came through, causes first; without their words."""
    cause = error.__cause__ or (None if error.__suppress_context__ else error.__context__)
    if cause is not None:
        yield from _where(cause)
    for frame in traceback.extract_tb(error.__traceback__):
        yield f"  {frame.filename}:{frame.lineno} in {frame.name}"
    yield f"  {type(error).__module__}.{type(error).__qualname__}"
