"""Questions that every step at the bench asks, whose SQL Django writes once in a process instead of each time.

Comes in: how Django's own query is made of its values. Goes out: its rows as tuples, converted as Django converts them. To write the SQL
takes Django several times as long as the database takes to answer, and with many stations that is what they wait for.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from django.db import connection
from django.db.models import QuerySet
from django.db.transaction import TransactionManagementError

__all__ = ["Question"]

Value = str | int
Row = tuple[Any, ...]
_Ask = Callable[..., "QuerySet[Any, Any]"]


class Question:
    """`Question(lambda code: MedicineRow.objects.filter(code=code).values_list("value"))`, then `question.rows("paracetamol-500")`.

    The query is one of `values_list`. It compares its values as they are and does nothing else with them, so that other values give the
    same SQL; as many of them may come as the caller likes.
    """

    def __init__(self, ask: _Ask) -> None:
        self._ask = ask
        self._written: dict[tuple[str, tuple[type, ...]], _Written] = {}

    def rows(self, *values: Value) -> list[Row]:
        """All rows of the answer. Raises TypeError for a value that is neither text nor a whole number, and TransactionManagementError
        where rows are to be locked and no transaction has begun."""
        kinds = tuple(type(value) for value in values)
        if not set(kinds) <= {str, int}:
            raise TypeError(f"a question takes text and whole numbers, not {values!r}")
        written = self._written.get((connection.vendor, kinds))
        if written is None:  # two threads may write it at once, and write the same
            written = self._written[connection.vendor, kinds] = _write(self._ask, kinds)
        return written.answered(values)

    def one(self, *values: Value) -> Row | None:
        """The first row, or None where there is none."""
        return next(iter(self.rows(*values)), None)


@dataclass(frozen=True, slots=True)
class _Written:
    """`parameters`: which value stands there, or what stands there always. `converters`: by column."""

    sql: str
    parameters: tuple[tuple[int | None, Any], ...]
    converters: dict[int, tuple[list[Callable[..., Any]], Any]]
    locks: bool

    def answered(self, values: tuple[Value, ...]) -> list[Row]:
        if self.locks and not connection.in_atomic_block:
            raise TransactionManagementError("rows are locked within a transaction only")
        with connection.cursor() as cursor:
            cursor.execute(self.sql, tuple(fixed if place is None else values[place] for place, fixed in self.parameters))
            rows = cursor.fetchall()
        return [self._converted(row) for row in rows] if self.converters else rows

    def _converted(self, row: Iterable[Any]) -> Row:
        held = list(row)
        for column, (converters, expression) in self.converters.items():
            for convert in converters:
                held[column] = convert(held[column], expression, connection)
        return tuple(held)


def _write(ask: _Ask, kinds: tuple[type, ...]) -> _Written:
    """The query is made once with values that nobody else uses, and where they stand in its parameters later values will stand."""
    marks: list[Value] = [f"value {number} of a question" if kind is str else 1_987_654_000 + number for number, kind in enumerate(kinds)]
    query = ask(*marks).query
    compiler = query.get_compiler(connection=connection)
    sql, parameters = compiler.as_sql()
    if missing := [mark for mark in marks if mark not in parameters]:
        raise TypeError(f"the query does more with its values than to compare them: {missing}")
    places = tuple((marks.index(one), None) if one in marks else (None, one) for one in parameters)
    converters = compiler.get_converters([column for column, _, _ in compiler.select])
    return _Written(sql, places, converters, query.select_for_update)
