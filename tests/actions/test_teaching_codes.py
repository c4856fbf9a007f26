"""A code is taught by two people who say the same; what the first said is not shown to the second."""

import pytest
from tests import small_bench
from tests.bench_fixtures import on

from dosewright.actions.teach_code import drop_code, teach_code
from dosewright.core.custody.event import Role
from dosewright.core.units.ids import Gtin
from dosewright.store.catalogue import find_by_gtin
from dosewright.store.ledger import load_entries
from dosewright.store.models import TaughtCodeRow

pytestmark = pytest.mark.usefixtures("guarded")
CODE = Gtin("04150048778004")
B, M = small_bench.BISOPROLOL, small_bench.METFORMIN


def test_r7_a_code_counts_only_when_a_second_person_says_the_same() -> None:
    small_bench.opened()
    small_bench.must(teach_code(CODE, on(name="one"), B))
    assert find_by_gtin(CODE) is None
    assert small_bench.refused(teach_code(CODE, on(name="one"), B)) == {"supply.code-same-person"}
    assert find_by_gtin(CODE) is None
    assert small_bench.must(teach_code(CODE, on(Role.CHECKER, name="two"), B)).made == (CODE,)
    assert find_by_gtin(CODE) == B
    said = [entry.event for entry in load_entries("code")]
    assert said == ["code taught", "refused", "code confirmed"]


def test_two_who_read_different_medicines_teach_nothing_until_it_is_said_anew() -> None:
    small_bench.opened()
    small_bench.must(teach_code(CODE, on(name="one"), B))
    assert small_bench.refused(teach_code(CODE, on(name="two"), M)) == {"supply.code-disagreed"}
    assert find_by_gtin(CODE) is None
    small_bench.must(drop_code(CODE, on(name="two")))
    small_bench.must(teach_code(CODE, on(name="two"), B))
    small_bench.must(teach_code(CODE, on(name="one"), B))
    assert find_by_gtin(CODE) == B
    assert sorted(TaughtCodeRow.objects.values_list("standing", flat=True)) == ["confirmed", "dropped"]


def test_a_code_that_has_a_medicine_is_not_taught_another() -> None:
    small_bench.opened()
    assert small_bench.refused(teach_code(small_bench.GTINS[M], on(), B)) == {"supply.code-known"}
    assert small_bench.refused(drop_code(small_bench.GTINS[M], on())) == {"supply.code-nobody-waits"}
