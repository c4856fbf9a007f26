"""Only the keyboard, at 200 %: each role's main work, and at every stop a ring that can be seen and is not under the strip.

The technician's, filling a card, is in test_filling.py.
"""

from collections.abc import Callable

from tests.journeys.conftest import Bench
from tests.journeys.station import PASSWORD, Station

BenchAt = Callable[[str], Bench]
TWICE = {"width": 640, "height": 400}  # 1280×800 at 200 %
_MOST_STOPS = 120


class Keys:
    """A screen with a keyboard and nothing else."""

    def __init__(self, station: Station) -> None:
        self.station, self.page = station, station.page

    def to(self, words: str) -> "Keys":
        """Tab on until what begins with these words has the focus."""
        for _ in range(_MOST_STOPS):
            stop = self.page.evaluate(_STOP)
            if stop["words"].startswith(words):
                assert stop["ring"], f"{self.page.url}: no ring to be seen around {stop}"
                assert stop["seen"], f"{self.page.url}: out of sight or under the strip: {stop}"
                return self
            self.page.keyboard.press("Tab")
        raise AssertionError(f"{self.page.url}: the keyboard does not come to {words}")

    def press(self, words: str) -> "Keys":
        """Go there, and Enter."""
        self.to(words)
        self.page.wait_for_timeout(100)  # a hand, not a scanner
        with self.page.expect_navigation():
            self.page.keyboard.press("Enter")
        return self

    def write(self, label: str, text: str) -> "Keys":
        """Go to the field, and type."""
        self.to(label).page.keyboard.type(text)
        return self

    def sees(self, words: str) -> "Keys":
        """As the station."""
        self.station.sees(words)
        return self


def keys(bench: Bench, who: str, where: str = "bench 1") -> Keys:
    """Signed in without a mouse."""
    hands = Keys(bench.station(where, viewport=TWICE).go("/sign-in"))
    hands.write("Name you sign in with", who).write("Password", PASSWORD).write("Where you stand", where).press("Sign me in here")
    return hands


def test_checker_technician_and_pharmacist_bring_a_card_to_release(bench_at: BenchAt) -> None:
    bench = bench_at("filled")
    checker = keys(bench, "lindqvist", "bench 2").press("Check card").press("I have read all 2")
    checker.sees("Write your own count")
    for label in checker.page.eval_on_selector_all("input[inputmode=decimal]", "all => all.map(one => one.ariaLabel)"):
        checker.write(label, "1" if "morning" in label else "1/2")
    checker.press("These are my counts").sees("This card is checked")
    keys(bench, "tamm").press("Seal card").press("The card is sealed").sees("This card is sealed")
    pharmacist = keys(bench, "moreau", "office").press("Release card").write("Your password, again", PASSWORD)
    pharmacist.press("The card may leave").sees("This card is released")


def test_driver_and_carer_take_a_card_home_a_manager_opens_an_account_an_inspector_reads_it_all(bench_at: BenchAt) -> None:
    bench = bench_at("released_for_a_home")
    driver = keys(bench, "penrose", "the van").write("Scan the card you are holding", bench.card).press("Show this card")
    driver.write("Received by", "A. Brook").press("The card is handed over").sees("0 cards may leave, 1 is on the way.")
    carer = keys(bench, "brook", "the home").write("Scan the card you are holding", bench.card).press("Show this card")
    carer.press("It has come").press("The card has come").sees("0 cards on their way to The Lindens.")

    manager = keys(bench, "whitlock", "office").press("Who signs in").press("Somebody new")
    manager.write("Name they sign in with", "quirke").write("Name as it is printed", "S. Quirke").write("What they do", "driver")
    manager.write("Their password", "harbour-lights-4").write("Your password, again", PASSWORD).press("They may sign in now")
    manager.sees("S. Quirke")

    inspector = keys(bench, "vane", "office").press("History").write("Scan", bench.card).press("Show")
    inspector.sees("Handed over").press("Ledger").sees("entries in the ledger").to("Somebody’s name").to("Entries of the ledger")


_STOP = """() => {
  const one = document.activeElement, style = getComputedStyle(one), box = one.getBoundingClientRect();
  const words = (one.labels && one.labels[0] ? one.labels[0].innerText : one.ariaLabel || one.innerText || "").trim();
  const at = document.elementFromPoint(box.left + Math.min(box.width / 2, 20), Math.max(box.top + Math.min(box.height / 2, 20), 0));
  return {
    words: words.slice(0, 120),
    ring: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 3,
    seen: at !== null && (one.contains(at) || at.contains(one)) && box.top >= 0 && box.top < innerHeight,
  };
}"""
