"""R12: the ledger has every event, in order; a changed, removed, inserted or moved entry is detected, and so is a cut-off tail."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest
from django.db import DatabaseError, connection, transaction
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase
from tests.bench_fixtures import MONDAY, on

from dosewright.core.custody.chain import Entry, Head, entry_hash
from dosewright.store.guards import unguard_ledger
from dosewright.store.ledger import append_entry, check_ledger, load_entries, load_head
from dosewright.store.models import LedgerEntry, LedgerHead


def write(entries: int) -> Head:
    """A ledger of so many entries; its head."""
    for number in range(1, entries + 1):
        append_entry(on(minutes=number), "noted", ("card", f"C{number % 3}"), {"number": number, "of": ("a", "b")})
    return load_head()


def codes(exported: Head | None = None) -> set[str]:
    return {finding.code for finding in check_ledger(exported)}


def test_an_untouched_ledger_verifies_against_itself_and_against_every_head_it_ever_had(guarded: None) -> None:
    heads = [write(1) for _ in range(6)]
    assert [codes(head) for head in heads] == [set()] * 6
    assert [entry.sequence for entry in load_entries()] == [1, 2, 3, 4, 5, 6]


@pytest.mark.parametrize("verb", ["UPDATE store_ledgerentry SET who_name = 'X' WHERE sequence = 2", "DELETE FROM store_ledgerentry"])
def test_the_database_itself_refuses_to_change_or_delete_an_entry(guarded: None, verb: str) -> None:
    write(3)
    with pytest.raises(DatabaseError, match="only ever added to"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(verb)
    assert codes() == set()


@pytest.mark.parametrize(
    "field", ["who_id", "who_name", "who_role", "station", "event", "subject_kind", "subject_id", "body", "previous", "hash"]
)
def test_a_change_of_any_field_of_any_entry_is_found(guarded: None, field: str) -> None:
    write(4)
    unguard_ledger(connection)
    for sequence in (1, 2, 4):
        kept = LedgerEntry.objects.values_list(field, flat=True).get(sequence=sequence)
        LedgerEntry.objects.filter(sequence=sequence).update(**{field: kept[:-1] + ("0" if kept[-1] != "0" else "1")})
        assert codes() & {"custody.ledger-changed", "custody.ledger-link", "custody.ledger-tail"}, sequence
        LedgerEntry.objects.filter(sequence=sequence).update(**{field: kept})
    assert codes() == set()


def test_a_changed_moment_is_found(guarded: None) -> None:
    write(3)
    unguard_ledger(connection)
    LedgerEntry.objects.filter(sequence=2).update(at=MONDAY + timedelta(minutes=2, microseconds=1))
    assert codes() == {"custody.ledger-changed"}


def test_an_entry_that_was_taken_out_is_found(guarded: None) -> None:
    write(5)
    unguard_ledger(connection)
    LedgerEntry.objects.filter(sequence=3).delete()
    assert codes() == {"custody.ledger-gap", "custody.ledger-link"}


def test_a_tail_that_was_cut_off_is_found_by_the_kept_head(guarded: None) -> None:
    write(5)
    unguard_ledger(connection)
    LedgerEntry.objects.filter(sequence__gt=3).delete()
    assert codes() == {"custody.ledger-tail"}


def test_a_tail_cut_off_together_with_the_kept_head_is_found_by_an_exported_one(guarded: None) -> None:
    exported = write(5)
    unguard_ledger(connection)
    LedgerEntry.objects.filter(sequence__gt=3).delete()
    LedgerHead.objects.filter(id=1).update(sequence=3, hash=LedgerEntry.objects.get(sequence=3).hash)
    assert codes() == set()
    assert codes(exported) == {"custody.ledger-cut-off"}


def test_a_ledger_rewritten_with_right_hashes_is_found_by_an_exported_head(guarded: None) -> None:
    exported = write(4)
    unguard_ledger(connection)
    rewrite(lambda entry: replace(entry, who_name="somebody else") if entry.sequence == 2 else entry)
    assert codes() == set()
    assert codes(exported) == {"custody.ledger-head-differs"}


def test_two_entries_that_changed_places_are_found(guarded: None) -> None:
    write(4)
    unguard_ledger(connection)
    second, third = (LedgerEntry.objects.get(sequence=number) for number in (2, 3))
    LedgerEntry.objects.filter(sequence__in=[2, 3]).delete()
    second.sequence, third.sequence = 3, 2
    LedgerEntry.objects.bulk_create([second, third])
    assert {"custody.ledger-link", "custody.ledger-changed"} <= codes()


def test_an_entry_put_in_is_found(guarded: None) -> None:
    write(3)
    unguard_ledger(connection)
    third = LedgerEntry.objects.get(sequence=3)
    LedgerEntry.objects.filter(sequence=3).delete()
    forged = LedgerEntry(**{name: getattr(third, name) for name in Entry.__slots__})
    forged.event, forged.hash = "released", "0" * 64
    forged.previous = LedgerEntry.objects.get(sequence=2).hash
    third.sequence, third.previous = 4, "f" * 64
    LedgerEntry.objects.bulk_create([forged, third])
    assert {"custody.ledger-changed", "custody.ledger-link", "custody.ledger-tail"} <= codes()


def test_no_two_entries_can_follow_the_same_one(guarded: None) -> None:
    write(2)
    twin = LedgerEntry.objects.get(sequence=2)
    twin.sequence, twin.hash = 3, "0" * 64
    with pytest.raises(DatabaseError), transaction.atomic():
        twin.save(force_insert=True)


def test_a_clock_that_was_set_back_is_noted_and_nothing_is_broken_by_it(guarded: None) -> None:
    append_entry(on(minutes=5), "noted", ("card", "C1"), {})
    append_entry(on(minutes=3), "noted", ("card", "C1"), {})
    assert codes() == {"custody.clock-back"}


def test_a_clock_set_back_bit_by_bit_is_noted_as_well(guarded: None) -> None:
    for seconds in range(300, 100, -50):
        append_entry(replace(on(), at=MONDAY + timedelta(seconds=seconds)), "noted", ("card", "C1"), {})
    assert codes() == {"custody.clock-back"}


def test_a_station_that_waited_its_turn_is_no_clock_set_back(guarded: None) -> None:
    append_entry(replace(on(), at=MONDAY + timedelta(seconds=20)), "noted", ("card", "C1"), {})
    append_entry(on(), "noted", ("card", "C1"), {})
    assert codes() == set()


def test_an_entry_and_what_it_records_are_kept_or_lost_together(guarded: None) -> None:
    write(2)
    with pytest.raises(RuntimeError):
        append_and_fail()
    assert load_head().sequence == 2
    assert codes() == set()


@transaction.atomic
def append_and_fail() -> None:
    append_entry(on(), "noted", ("card", "C1"), {})
    raise RuntimeError("the power fails here")


def test_a_name_that_changes_later_changes_nothing_in_the_ledger(guarded: None) -> None:
    write(1)
    (entry,) = load_entries()
    assert (entry.who_id, entry.who_name, entry.who_role, entry.station) == ("technician one", "technician one", "technician", "bench 1")


def rewrite(change: Callable[[Entry], Entry]) -> None:
    """Forge the whole ledger with right hashes: what only a head kept elsewhere can show."""
    entries, last = [], "0" * 64
    for entry in list(load_entries()):
        forged = replace(change(entry), previous=last)
        forged = replace(forged, hash=entry_hash(forged))
        last = forged.hash
        entries.append(LedgerEntry(**{name: getattr(forged, name) for name in Entry.__slots__}))
    LedgerEntry.objects.all().delete()
    LedgerEntry.objects.bulk_create(entries)
    LedgerHead.objects.filter(id=1).update(hash=last)


class TestTampering(TestCase):
    """Whatever is done to one entry, wherever it stands: it is found."""

    @given(size=st.integers(2, 9), place=st.integers(0, 8), way=st.sampled_from(["alter", "remove", "insert", "reorder", "truncate"]))
    def test_tampering_anywhere_is_found(self, size: int, place: int, way: str) -> None:
        exported = write(size)
        unguard_ledger(connection)
        rows = list(LedgerEntry.objects.order_by("sequence"))
        tampered = tamper(rows, place % size, way)
        LedgerEntry.objects.all().delete()
        LedgerEntry.objects.bulk_create(tampered)
        assert codes(exported)


def tamper(rows: list[LedgerEntry], place: int, way: str) -> list[LedgerEntry]:
    """The rows with one thing done to them; numbers made to run without a gap, as a careful forger would."""
    if way == "alter":
        rows[place].body = '{"number":999}'
    elif way == "remove":
        del rows[place]
    elif way == "insert":
        extra = LedgerEntry(**{name: getattr(rows[place], name) for name in Entry.__slots__})
        extra.hash, extra.previous = "a" * 64, "b" * 64
        rows.insert(place, extra)
    elif way == "reorder":
        rows.insert(0 if place else 1, rows.pop(place))
    else:
        rows = rows[:place]
    for number, row in enumerate(rows, start=1):
        row.sequence = number
    return rows
