"""Tern Street Pharmacy as drawn: forty invented people whose regimens have the published shape, and everything a visitor should meet."""

import csv
import subprocess
import sys
from collections import Counter
from statistics import mean, stdev

import pytest
from tests.house.source_tree import ROOT

from dosewright.config.demo.files import ORDER_FILES, demo_files
from dosewright.config.demo.medicines_file import gtin_of
from dosewright.config.demo.orders import orders
from dosewright.config.demo.regimen import Line
from dosewright.config.demo.regimens import draw
from dosewright.config.demo.sources import catalogue, people
from dosewright.config.demo.stock import lots
from dosewright.core.interop.gs1 import parse_element_string
from dosewright.core.interop.medicine_csv import parse_medicines

PERSON = {person.id: person for person in people()}


def regular() -> list[Line]:
    return [line for lines in draw().values() for line in lines if not line.as_needed]


def takers(test: object) -> set[str]:
    assert callable(test)
    return {person for person, lines in draw().items() if any(test(line) for line in lines)}


def test_forty_people_in_two_homes_and_at_home() -> None:
    assert Counter(person.home for person in people()) == {"Saltmarsh House": 14, "The Lindens": 12, "": 14}
    assert len({person.name for person in people()}) == 40


def test_regimens_have_the_published_size() -> None:
    """JAMDA 2024, residents after 24 months: 8.9 regular medicines ± 4.1; drawn from it, cut at 1 and 22."""
    sizes = [sum(not line.as_needed for line in lines) for lines in draw().values()]
    assert len(sizes) == 40
    assert 7.9 <= mean(sizes) <= 9.9
    assert 3.3 <= stdev(sizes) <= 4.9
    assert min(sizes) >= 1
    assert max(sizes) == 19  # one person with nineteen medicines


def test_dosing_times_have_the_published_shares() -> None:
    taken = Counter(time for line in regular() for time in line.times)
    shares = [taken[time] / taken.total() for time in range(4)]
    assert shares == [pytest.approx(wanted, abs=0.03) for wanted in (0.50, 0.12, 0.20, 0.18)]


def test_five_to_eight_lines_in_a_hundred_are_halves() -> None:
    assert 0.05 <= sum(line.halves for line in regular()) / len(regular()) <= 0.08


@pytest.mark.parametrize(
    ("what", "test"),
    [
        ("alternate days", lambda line: line.every == "2-days"),
        ("weekly", lambda line: line.every.endswith("day") and line.every != "day"),
        ("a taper", lambda line: "then stop" in line.words),
        ("a course inside the cycle", lambda line: line.days is not None and line.starts is not None and line.starts + line.days < 28),
        ("a course that begins inside the cycle", lambda line: line.starts is not None and line.starts > 0),
        ("as needed", lambda line: line.as_needed),
        ("a liquid", lambda line: line.product.form == "oral solution"),
        ("an inhaler", lambda line: line.product.form == "inhaler"),
        ("a patch", lambda line: line.product.form == "transdermal patch"),
        ("cold-chain", lambda line: line.product.flags == "cold-chain"),
        (
            "a form that does not keep",
            lambda line: line.product.form in {"effervescent tablet", "dispersible tablet", "orodispersible tablet"},
        ),
        ("a range", lambda line: "ONE or TWO" in line.words),
        ("no directions to schedule from", lambda line: "as directed" in line.words),
    ],
)
def test_somebody_has(what: str, test: object) -> None:
    assert takers(test), what


def test_somebody_takes_levothyroxine_with_calcium() -> None:
    assert takers(lambda line: line.product.name == "Levothyroxine") & takers(lambda line: line.product.kind == "calcium")


def test_two_people_of_one_home_share_a_surname() -> None:
    names = Counter((person.home, person.name.split()[-1]) for person in people() if person.home)
    assert {home for (home, _), count in names.items() if count == 2} == {"Saltmarsh House", "The Lindens"}


def test_two_spouses_share_an_address_and_a_surname() -> None:
    pairs = Counter((person.address, person.name.split()[-1]) for person in people() if person.address)
    assert [pair for pair, count in pairs.items() if count > 1] == [("4 Quay Row", "Pell")]


def test_nobody_takes_two_of_a_kind() -> None:
    for person, lines in draw().items():
        kinds = [line.product.kind for line in lines]
        assert len(set(kinds)) == len(kinds), person


def test_nobody_has_a_condition_of_the_other_sex() -> None:
    men_only = takers(lambda line: line.product.kind in {"finasteride", "alpha blocker"})
    assert {PERSON[person].sex for person in men_only} == {"m"}


def test_every_product_is_taken_by_somebody() -> None:
    assert {line.medicine for lines in draw().values() for line in lines} == set(catalogue())


def test_about_sixty_generic_medicines_that_the_catalogue_parser_accepts() -> None:
    read = parse_medicines(demo_files()["medicines.csv"].decode(), "medicines.csv")
    assert not read.findings
    assert [medicine.code for medicine in read.medicines] == sorted(catalogue())
    assert 58 <= len({medicine.name for medicine in read.medicines}) <= 65


def test_trade_item_numbers_lie_where_gs1_keeps_numbers_for_demonstrations() -> None:
    assert all(gtin_of(code).startswith("0952") for code in catalogue())
    assert len({gtin_of(code) for code in catalogue()}) == len(catalogue())


def test_capsules_have_published_sizes() -> None:
    """Locked length and diameter of two-piece capsules, in millimetres: sizes 0 to 4."""
    published = {("21.4", "7.66"), ("19.3", "6.93"), ("17.8", "6.37"), ("15.8", "5.85"), ("14.4", "5.33")}
    capsules = [product for product in catalogue().values() if product.shape == "capsule"]
    assert {(product.length_mm, product.width_mm) for product in capsules} <= published
    assert all(product.width_mm == product.thickness_mm for product in capsules)


def test_tablets_lie_within_published_sizes() -> None:
    """309 tablets given to older inpatients measured 4.7 to 21.5 mm; an effervescent one is dissolved, not swallowed."""
    swallowed = [p for p in catalogue().values() if p.shape not in {"", "capsule"} and p.form != "effervescent tablet"]
    assert all(4.7 <= float(product.length_mm) <= 21.5 for product in swallowed)


def test_orders_have_numbers_of_their_own_and_come_in_both_kinds_of_file() -> None:
    assert len({order.id for order in orders()}) == len({order.rx_no for order in orders()}) == len(orders())
    assert {name.rpartition(".")[2] for name in ORDER_FILES} == {"csv", "json"}
    written = "".join(demo_files()[name].decode() for name in ORDER_FILES)
    assert all(written.count(order.rx_no) == 1 for order in orders())


@pytest.mark.parametrize("hash_seed", ["1", "2"])
def test_the_files_have_the_same_bytes_in_another_process(hash_seed: str) -> None:
    code = "import sys; from dosewright.config.demo.files import demo_files; sys.stdout.buffer.write(b''.join(demo_files().values()))"
    environment = {"PYTHONHASHSEED": hash_seed, "PYTHONPATH": "src"}
    written = subprocess.run([sys.executable, "-c", code], env=environment, cwd=ROOT, capture_output=True, check=True).stdout
    assert written == b"".join(demo_files().values())


def test_what_a_scanner_types_for_each_bottle_is_one_clear_scan() -> None:
    rows = list(csv.DictReader(demo_files()["bottles.csv"].decode().splitlines()))
    scans = [parse_element_string(row["scan"], 2026) for row in rows]
    assert len(rows) == len(lots())
    assert not [scan for scan in scans if scan.findings]
    said = [(scan.gtin, scan.lot, str(scan.expiry)) for scan in scans]
    assert said == [(gtin_of(row["medicine"]), row["lot"], row["expiry"]) for row in rows]
