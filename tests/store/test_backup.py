"""A backup restores to the same ledger head, or not at all."""

import gzip
import json
from datetime import UTC, date, datetime, time
from pathlib import Path

import pytest
from django.db import connection, transaction
from tests import small_bench as bench
from tests.actions.test_wordings import EVENING, RX10, confirmed, remembered

from dosewright.config.backup import write_backup
from dosewright.config.restore import read_backup
from dosewright.core.custody.stage import Stage
from dosewright.core.units.finding import blocks
from dosewright.store.dump import MODELS, Damaged, Occupied, _read, _written, dump_store, restore_store, verify_dump
from dosewright.store.guards import unguard_ledger
from dosewright.store.ledger import check_ledger, load_head
from dosewright.store.models import LedgerEntry, LedgerHead, OrderRow, StockLot
from dosewright.store.orders import load_order
from dosewright.store.papers import load_papers
from dosewright.store.wordings import find_wording, load_wordings

pytestmark = pytest.mark.usefixtures("guarded")


def everything() -> list[bytes]:
    return list(dump_store())


def empty_the_store() -> None:
    """As on a new machine: the tables are there, nothing is in them."""
    unguard_ledger(connection)
    from dosewright.store.dump import MODELS  # noqa: PLC0415

    OrderRow.objects.update(replaced_by=None)
    for model in reversed(MODELS):
        model._default_manager.all().delete()


@pytest.fixture
def backup(tmp_path: Path) -> Path:
    """A backup of a pharmacy with a released card, and an empty store."""
    bench.released()
    write_backup(tmp_path / "safe" / "monday.dosewright")
    empty_the_store()
    return tmp_path / "safe" / "monday.dosewright"


# A value of each kind of column that the store has, by Django's own name for the kind.
VALUES: dict[str, object] = dict.fromkeys(("CharField", "TextField"), "Ünsay “½”\n") | dict.fromkeys(
    ("IntegerField", "PositiveIntegerField", "PositiveSmallIntegerField", "BigIntegerField", "BigAutoField", "AutoField", "ForeignKey"), 7
)
VALUES |= {"OneToOneField": "p1", "BooleanField": True, "BinaryField": b"\x00\xff", "DateField": date(2026, 3, 2), "TimeField": time(8, 30)}
VALUES |= {"DateTimeField": datetime(2026, 3, 2, 11, 30, 0, 7, tzinfo=UTC)}


def test_every_kind_of_column_is_written_and_read_back() -> None:
    kinds = {field.get_internal_type() for model in MODELS for field in model._meta.concrete_fields}
    assert "TimeField" in kinds
    for kind in kinds:
        assert _read(json.loads(json.dumps(_written(VALUES[kind])))) == VALUES[kind], kind


def test_a_backup_restores_to_the_same_ledger_head_and_the_same_everything(tmp_path: Path) -> None:
    card = bench.released()
    before, head = everything(), load_head()
    papers = load_papers(bench.now(card).set_id)
    rows = write_backup(tmp_path / "monday.dosewright")
    empty_the_store()
    assert read_backup(tmp_path / "monday.dosewright") == (rows, head.hash)
    assert load_head() == head
    assert check_ledger(head) == ()
    assert everything() == before
    assert load_papers(bench.now(card).set_id) == papers
    assert bench.now(card).state.stage is Stage.RELEASED


def test_work_goes_on_in_a_restored_store(backup: Path) -> None:
    read_backup(backup)
    head = load_head()
    bench.must(bench.stocked(bench.BISOPROLOL, "NEW"))
    assert load_head().sequence == head.sequence + 1
    assert not blocks(check_ledger(head))


def test_the_same_store_gives_the_same_bytes(tmp_path: Path) -> None:
    bench.opened()
    write_backup(tmp_path / "one")
    write_backup(tmp_path / "two")
    assert (tmp_path / "one").read_bytes() == (tmp_path / "two").read_bytes()


def test_a_store_that_holds_anything_is_not_restored_into(backup: Path) -> None:
    bench.opened()
    before = everything()
    with pytest.raises(Occupied):
        read_backup(backup)
    assert everything() == before


def spoiled(data: bytes, way: str) -> bytes:
    lines = gzip.decompress(data).splitlines(keepends=True)
    match way:
        case "the file cut short":
            return data[: len(data) // 2]
        case "a byte of the file changed":
            return data[:100] + bytes([data[100] ^ 1]) + data[101:]
        case "not a backup":
            return b"hello"
        case "the last line gone":
            del lines[-1]
        case "a row gone":
            del lines[5]
        case "a row changed":
            lines[5] = lines[5].replace(b"e", b"f", 1)
        case "two rows exchanged":
            lines[5], lines[6] = lines[6], lines[5]
        case "a row twice":
            lines.insert(5, lines[5])
        case "more after the end":
            lines.append(lines[1])
        case "a line that is no JSON":
            lines[5] = b"{\n"
    return gzip.compress(b"".join(lines))


WAYS = (
    "the file cut short",
    "a byte of the file changed",
    "not a backup",
    "the last line gone",
    "a row gone",
    "a row changed",
    "two rows exchanged",
    "a row twice",
    "more after the end",
    "a line that is no JSON",
)


@pytest.mark.parametrize("way", WAYS)
def test_a_damaged_backup_restores_nothing(backup: Path, way: str) -> None:
    backup.write_bytes(spoiled(backup.read_bytes(), way))
    with pytest.raises(Damaged):
        read_backup(backup)
    assert not StockLot.objects.exists()
    assert not LedgerEntry.objects.exists()


def test_a_backup_whose_ledger_does_not_hold_restores_nothing(guarded: None) -> None:
    bench.opened()
    unguard_ledger(connection)
    LedgerEntry.objects.filter(sequence=1).update(who_name="somebody else")
    lines = everything()
    empty_the_store()
    with pytest.raises(Damaged, match="ledger"), transaction.atomic():
        restore_store(lines, verify_dump(lines))
    assert not LedgerHead.objects.exists()


def test_remembered_wordings_and_the_orders_confirmed_by_them_come_back(tmp_path: Path) -> None:
    number = remembered()
    bench.must(confirmed(RX10, choice=EVENING, wording=number))
    before = load_wordings()
    write_backup(tmp_path / "monday.dosewright")
    empty_the_store()
    read_backup(tmp_path / "monday.dosewright")
    assert load_wordings() == before
    assert [(one.id, one.used) for one in before] == [(number, 1)]
    assert load_order(RX10).wording == number
    assert find_wording(before[0].wording.key) == before[0]
