"""A printer is measured at the bench; what is drawn for it from then on is put right."""

import json
from dataclasses import replace
from datetime import datetime
from fractions import Fraction
from typing import Any

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.make_sheet import Asked, Way, make_sheet
from dosewright.actions.measure_printer import measure_printer
from dosewright.actions.print_set import print_set
from dosewright.actions.sheets_wanted import check_of_set
from dosewright.core.custody.event import Role
from dosewright.core.paper.finish import Offered
from dosewright.core.paper.printer import Correction, Measures, Printer
from dosewright.store.ledger import load_entries
from dosewright.store.made_papers import load_made
from dosewright.store.missing import Missing
from dosewright.store.papers import load_papers
from dosewright.store.printers import StoredPrinter, load_printer, load_printers

pytestmark = pytest.mark.usefixtures("guarded")

HALF = Fraction(1, 2)
MEASURED = Measures(Fraction(20) + HALF, Fraction(19), Fraction("169.5"), Fraction(257))
PRINTER = StoredPrinter("label printer", 300, Fraction(210), Fraction(297), MEASURED)


def test_a_measured_printer_is_corrected_and_who_measured_it_is_known() -> None:
    bench.opened()
    bench.must(measure_printer("label printer", on(Role.TECHNICIAN), PRINTER))
    kept = load_printer("label printer")
    across = Fraction(170) / Fraction("169.5")
    assert kept.printer == Printer("label printer", 300, Correction(across, Fraction(1), 20 - across * Fraction("20.5"), Fraction(1)))
    assert (kept.measured_by, kept.measured_at) == (on(Role.TECHNICIAN).by.name, on(Role.TECHNICIAN).at)
    assert [entry.event for entry in load_entries("printer", "label printer")] == ["printer measured"]


def test_measured_again_the_new_measures_count() -> None:
    bench.opened()
    bench.must(measure_printer("label printer", on(), PRINTER))
    bench.must(measure_printer("label printer", on(minutes=5), replace(PRINTER, measures=replace(MEASURED, left=Fraction(20)))))
    assert [printer.measures.left for printer in load_printers()] == [Fraction(20)]


def test_measures_beyond_belief_change_nothing() -> None:
    bench.opened()
    wrong = replace(PRINTER, measures=replace(MEASURED, across=Fraction(160)))
    assert bench.refused(measure_printer("label printer", on(), wrong)) == {"printer.beyond-belief"}
    with pytest.raises(Missing):
        load_printer("label printer")


def test_a_driver_may_not_measure_printers() -> None:
    bench.opened()
    assert bench.refused(measure_printer("label printer", on(Role.DRIVER), PRINTER)) == {"custody.no-right"}


def test_a_set_drawn_for_a_printer_differs_from_one_for_any_and_the_ledger_says_which() -> None:
    bench.opened()
    bench.ordered()
    set_id = bench.planned()
    bench.must(measure_printer("label printer", on(), PRINTER))
    bench.must(print_set(set_id, on(minutes=1)))
    bench.must(print_set(set_id, on(minutes=2), "label printer", "for the other printer"))
    latest, first = (next(paper.pdf for paper in load_papers(set_id) if (paper.kind, paper.copy) == ("labels", copy)) for copy in (2, 1))
    assert latest != first
    said = [json.loads(entry.body) for entry in load_entries("set", str(set_id)) if entry.event == "set printed"]
    assert ["label printer" in json.dumps(body) for body in said] == [False, True]


def test_a_printer_that_nobody_measured_is_not_printed_for() -> None:
    bench.opened()
    bench.ordered()
    set_id = bench.planned()
    assert bench.refused(print_set(set_id, on(), "no such printer")) == {"custody.not-there"}
    assert load_papers(set_id) == ()


def test_a_sheet_on_demand_is_drawn_for_the_printer_that_is_asked_for_and_the_ledger_says_which() -> None:
    bench.opened()
    bench.ordered()
    set_id = bench.planned()
    bench.must(measure_printer("label printer", on(), PRINTER))
    wanted = check_of_set(set_id, datetime(2026, 3, 2, 10, 0))  # noqa: DTZ001 — the clock on the pharmacy's wall
    plain = bench.must(make_sheet(wanted.name.subject, on(minutes=1), wanted))
    moved = bench.must(make_sheet(wanted.name.subject, on(minutes=2), wanted, Asked(printer="label printer")))
    first, second = (load_made(int(outcome.made[0])).pdf for outcome in (plain, moved))
    assert first != second
    said = [json.loads(entry.body).get("printer") for entry in load_entries("paper") if entry.event == "sheet made"]
    assert said == [None, "label printer"]
    unknown = make_sheet(wanted.name.subject, on(minutes=3), wanted, Asked(printer="no such printer"))
    assert bench.refused(unknown) == {"custody.not-there"}


def test_r6_a_sheet_is_not_kept_where_its_printer_was_measured_anew_meanwhile() -> None:
    bench.opened()
    bench.ordered()
    wanted = check_of_set(bench.planned(), datetime(2026, 3, 2, 10, 0))  # noqa: DTZ001 — as above
    bench.must(measure_printer("label printer", on(), PRINTER))

    def meanwhile(sources: Any, way: Way) -> Offered:
        bench.must(measure_printer("label printer", on(minutes=5), replace(PRINTER, dpi=600)))
        return wanted.draw(sources, way)

    outcome = make_sheet(wanted.name.subject, on(minutes=2), replace(wanted, draw=meanwhile), Asked(printer="label printer"))
    assert bench.refused(outcome) == {"custody.sheet-changed-meanwhile"}
