"""The whole store as one stream of lines and back: the same for SQLite and PostgreSQL.

First line: what this is, and the ledger's head. Then a line for each row, model by model. Last line: how many rows, and the SHA-256 of
every byte before it. Nothing is believed before that last line has been checked.
"""

import base64
import hashlib
import json
from collections.abc import Callable, Iterable, Iterator
from datetime import date, datetime, time
from typing import Any

from django.apps import apps
from django.db import connection, models, transaction
from django.db.models import Model

from dosewright.core.custody.chain import Head
from dosewright.store import models as store_models
from dosewright.store.ledger import check_ledger, load_head

__all__ = ["MODELS", "Damaged", "Occupied", "dump_store", "restore_store", "verify_dump"]

_FORMAT = "dosewright backup"
_VERSION = 1

# Sessions and sign-in attempts are not part of the record. Foreign keys are checked at the commit, so the order is free.
MODELS: tuple[type[Model], ...] = (
    store_models.RuleBook,
    store_models.TimetableRow,
    store_models.Pharmacy,
    store_models.HomeRow,
    store_models.Account,
    store_models.ApiToken,
    store_models.PersonRow,
    store_models.MedicineRow,
    store_models.MedicineCodeRow,
    store_models.OrderFile,
    store_models.WordingRow,
    store_models.OrderRow,
    store_models.UnusedOrderRow,
    store_models.OrderAnswer,
    store_models.CardSet,
    store_models.CardRow,
    store_models.ChangeRow,
    store_models.ReworkRates,
    store_models.PrintedPaper,
    store_models.MadePaper,
    store_models.VoidedLabel,
    store_models.PrinterRow,
    store_models.StockLot,
    store_models.StockMovement,
    store_models.OwingRow,
    store_models.TaughtCodeRow,
    store_models.NearMiss,
    store_models.ChartNote,
    store_models.Attempt,
    store_models.RequestKey,
    store_models.LedgerEntry,
    store_models.LedgerHead,
)


class Damaged(ValueError):
    """The file is no backup, or not all of one. The message is one sentence without the file's name."""


class Occupied(RuntimeError):
    """The store that a backup is to be put into holds something already."""


def dump_store() -> Iterator[bytes]:
    """The store's lines, from one moment: nobody writes between the first and the last."""
    digest, rows = hashlib.sha256(), 0
    outermost = not connection.in_atomic_block
    with transaction.atomic():
        if outermost:
            _hold_still()
        for line in _lines():
            digest.update(line)
            rows += 1
            yield line
    yield _line({"rows": rows - 1, "sha256": digest.hexdigest()})


def _hold_still() -> None:
    """On PostgreSQL every query of the dump must see one moment, which must be said first; on SQLite the transaction does so by itself."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")


def _lines() -> Iterator[bytes]:
    head = load_head()
    yield _line({"format": _FORMAT, "version": _VERSION, "head": {"sequence": head.sequence, "hash": head.hash}})
    for model in MODELS:
        for row in model._default_manager.order_by("pk").iterator(chunk_size=500):
            yield _line({"model": model.__name__, "row": _plain(row)})


def _plain(row: Model) -> dict[str, Any]:
    return {field.attname: _written(getattr(row, field.attname)) for field in row._meta.concrete_fields}


def _written(value: Any) -> Any:
    if isinstance(value, bytes | memoryview):
        return {"bytes": base64.b64encode(bytes(value)).decode()}
    if isinstance(value, datetime):
        return {"moment": value.isoformat()}
    if isinstance(value, time):
        return {"time": value.isoformat()}
    return {"date": value.isoformat()} if isinstance(value, date) else value


def _read(value: Any) -> Any:
    if not isinstance(value, dict):
        return value
    ((kind, text),) = value.items()
    return _READERS[kind](text)


_READERS: dict[str, Callable[[str], Any]] = {
    "bytes": base64.b64decode,
    "moment": datetime.fromisoformat,
    "date": date.fromisoformat,
    "time": time.fromisoformat,
}


def _line(said: dict[str, Any]) -> bytes:
    return json.dumps(said, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"


def verify_dump(lines: Iterable[bytes]) -> Head:
    """The ledger's head that the dump names. Raises Damaged unless every line is there, unchanged, and of a kind known here."""
    digest, rows, first, last = hashlib.sha256(), -1, None, None
    for line in lines:
        if last is not None:
            raise Damaged("it goes on after its last line.")
        said = _parse(line)
        if "sha256" in said:
            last = said
            continue
        digest.update(line)
        first, rows = first or said, rows + 1
    if first is None or first.get("format") != _FORMAT:
        raise Damaged("it is not a backup of this program.")
    if first.get("version") != _VERSION:
        raise Damaged(f"it is a backup of version {first.get('version')}; this program reads version {_VERSION}.")
    if last is None:
        raise Damaged("its end is missing.")
    if (last.get("rows"), last["sha256"]) != (rows, digest.hexdigest()):
        raise Damaged("it was changed after it was written.")
    return Head(first["head"]["sequence"], first["head"]["hash"])


def _parse(line: bytes) -> dict[str, Any]:
    try:
        said = json.loads(line)
    except ValueError as error:
        raise Damaged("a line of it cannot be read.") from error
    if not isinstance(said, dict):
        raise Damaged("a line of it cannot be read.")
    return said


def restore_store(lines: Iterable[bytes], head: Head) -> int:
    """Put a verified dump into an empty store, all of it or nothing. The number of rows.

    Raises Occupied for a store that holds anything, Damaged where the restored ledger does not end at `head` or does not hold.
    """
    with transaction.atomic():
        if any(model._default_manager.exists() for model in MODELS):
            raise Occupied("the store holds something already")
        rows = sum(_put_back(_parse(line)) for line in lines)
        _reset_sequences()
        if load_head() != head or any(finding.severity == "stop" for finding in check_ledger(head)):
            raise Damaged("its ledger does not hold.")
    return rows


def _put_back(said: dict[str, Any]) -> int:
    if "model" not in said:
        return 0
    model = apps.get_model("store", said["model"])
    models.QuerySet(model).bulk_create([model(**{name: _read(value) for name, value in said["row"].items()})])
    return 1


def _reset_sequences() -> None:
    """PostgreSQL counts ids apart from the rows: after rows were put in with theirs, it must go on behind the last one."""
    from django.core.management.color import no_style  # noqa: PLC0415

    statements = connection.ops.sequence_reset_sql(no_style(), list(MODELS))
    with connection.cursor() as cursor:
        for statement in statements:
            cursor.execute(statement)
