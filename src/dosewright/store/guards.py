"""Triggers by which the database itself refuses to change or delete a ledger entry, on SQLite and on PostgreSQL (R12).

Whoever owns the database can take them away; the hash chain and an exported head show that too.
"""

from django.db.backends.base.base import BaseDatabaseWrapper

__all__ = ["guard_ledger", "unguard_ledger"]

_TABLE = "store_ledgerentry"

_SQLITE = tuple(
    f"CREATE TRIGGER IF NOT EXISTS ledger_no_{verb} BEFORE {verb} ON {_TABLE} "
    "BEGIN SELECT RAISE(ABORT, 'the ledger is only ever added to'); END"
    for verb in ("update", "delete")
)
_SQLITE_OFF = tuple(f"DROP TRIGGER IF EXISTS ledger_no_{verb}" for verb in ("update", "delete"))
_POSTGRES = (
    (
        "CREATE OR REPLACE FUNCTION ledger_refuse() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION 'the ledger is only ever added to'; END $$"
    ),
    f"CREATE OR REPLACE TRIGGER ledger_no_change BEFORE UPDATE OR DELETE ON {_TABLE} FOR EACH ROW EXECUTE FUNCTION ledger_refuse()",
    f"CREATE OR REPLACE TRIGGER ledger_no_truncate BEFORE TRUNCATE ON {_TABLE} FOR EACH STATEMENT EXECUTE FUNCTION ledger_refuse()",
)
_POSTGRES_OFF = (f"DROP TRIGGER IF EXISTS ledger_no_change ON {_TABLE}", f"DROP TRIGGER IF EXISTS ledger_no_truncate ON {_TABLE}")

_ON = {"sqlite": _SQLITE, "postgresql": _POSTGRES}
_OFF = {"sqlite": _SQLITE_OFF, "postgresql": _POSTGRES_OFF}


def guard_ledger(connection: BaseDatabaseWrapper) -> None:
    """Put the triggers up; where they stand already, nothing changes. Raises KeyError for another kind of database."""
    _run(connection, _ON[connection.vendor])


def unguard_ledger(connection: BaseDatabaseWrapper) -> None:
    """Take them down: to undo the migration, and in the tests that tamper."""
    _run(connection, _OFF[connection.vendor])


def _run(connection: BaseDatabaseWrapper, statements: tuple[str, ...]) -> None:
    with connection.cursor() as cursor:
        for statement in statements:
            cursor.execute(statement)
