"""A stop on day 10 of 28 while week 2 is in use and weeks 3 and 4 are on the shelf: a technician, a checker and a pharmacist bring it to
the end. Nobody outside the pharmacy is ever asked to open a card."""

from collections.abc import Callable

from tests.journeys.conftest import Bench
from tests.journeys.station import PASSWORD, Station

BenchAt = Callable[[str], Bench]
CARDS = "table.lines.work tbody tr"


def put_right(bench: Bench, technician: Station, checker: Station, pharmacist: Station, *, look: bool = False) -> None:
    """The first card of the list that can be gone on with."""
    technician.go("/changes/1").press("Go on with it").sees("Take out").sees("bisoprolol 5 mg tablet")
    number = technician.page.url.rsplit("/", 1)[1]
    if look:
        technician.require_sound_screen()
        # a bottle is no place for what comes out of a card
        technician.scan("0106291041500213172706301" + "0LOT42A").sees("What comes out of a card goes to waste")
    technician.scan("WASTE-1").sees("Nothing more is to be taken out of this card.")
    if look:
        technician.require_sound_screen()
    technician.press("Old labels destroyed, new ones on").sees("The old labels are void")
    technician.press("See that all is in").press("The card is filled").sees("This card is filled")
    # the checker counts what was opened medicine by medicine, the stopped one too
    checker.go(f"/cards/{number}").press("Check card").sees("were opened: count each medicine there")
    for field in checker.page.locator("input[inputmode=decimal]").all():
        label = field.get_attribute("aria-label") or ""
        field.fill("0" if "bisoprolol" in label else "1")
    if look:
        checker.require_sound_screen()
        checker.require_readable_at_twice_the_size()
        checker.require_sound_on_a_tablet()
    checker.press("These are my counts").sees("All cavities hold what the orders ask.")
    technician.go(f"/cards/{number}").press("Seal card").press("The card is sealed").sees("This card is sealed")
    pharmacist.go(f"/cards/{number}").press("Release card")
    pharmacist.page.get_by_label("Your password, again").fill(PASSWORD)
    pharmacist.press("The card may leave").sees("may leave. Signed by")


def take_back(technician: Station) -> None:
    """The card that was out is counted beside the record of doses."""
    technician.go("/changes").press("It is here: count it").sees("Count the card, beside the record of doses.")
    for row in technician.page.locator("table.lines tbody tr").all():
        words = row.inner_text()
        due = "9 Mar" in words or ("10 Mar" in words and "08:00" in words)
        for field in row.locator("input[inputmode=decimal]").all():
            field.fill("0" if due else "1")
        if due:
            row.locator("input[type=checkbox]").check()
    technician.require_sound_screen()
    technician.press("This is what came back").sees("is back and reconciled")


def test_a_stop_on_day_10_is_brought_to_the_end(bench_at: BenchAt) -> None:
    bench = bench_at("stopped_on_day_10")
    pharmacist = bench.station("office").sign_in("moreau")
    technician = bench.station("bench 1").sign_in("tamm")
    checker = bench.station("bench 2").sign_in("lindqvist")

    # given a change that waits, most urgent first
    pharmacist.go("/changes").sees("1 change waits for a decision.").sees("Wilhelmina Okonedo-Hart").sees("Stopped")
    pharmacist.require_sound_screen()
    pharmacist.require_readable_at_twice_the_size()

    # when the pharmacist looks at it
    pharmacist.press("Decide about Wilhelmina").sees("What is to be done about this change?").sees("1 tablet → none")
    pharmacist.sees(", with the person, from Mon 9 Mar: call it back and put it right").sees(
        ", on the shelf, sealed, from Mon 16 Mar: open"
    )
    pharmacist.sees("with the person").sees("on the shelf, sealed").sees("5 cavities differ").sees("7 cavities differ")
    # and what can be done with one card is to be marked only where that is what counts
    wait = pharmacist.page.get_by_text("It may wait: the card runs out as it is")
    assert not wait.first.is_visible()
    pharmacist.page.get_by_role("radio", name="Card by card").check()
    assert wait.first.is_visible()
    pharmacist.require_sound_screen()
    pharmacist.require_readable_at_twice_the_size()
    pharmacist.require_sound_on_a_tablet()

    # then it can be withdrawn, and cannot be decided without a signature
    pharmacist.go("/changes/1/withdraw").require_sound_screen()
    pharmacist.go("/changes/1")
    pharmacist.page.get_by_label("Why, and with whom").fill("heart rate 48; agreed with Dr Example by telephone")
    pharmacist.page.get_by_label("Your password, again").fill("not it")
    pharmacist.press("I decide this and sign").sees("The password does not fit")
    pharmacist.page.get_by_label("Why, and with whom").fill("heart rate 48; agreed with Dr Example by telephone")
    pharmacist.page.get_by_label("Your password, again").fill(PASSWORD)
    pharmacist.press("I decide this and sign").sees("Decided and signed by C. Moreau")
    pharmacist.sees("called back").sees("must be here before 08:00, Wed 11 Mar").sees("not begun: to be put right")
    pharmacist.require_sound_screen()

    # and the sheets are made: what to give until the card is back, and the note for the person
    for words in ("Until the card is right", "What changes", "New labels", "Work list"):
        pharmacist.go("/changes/1").press(words)
        pharmacist.page.wait_for_url("**/sheets/*")
    pharmacist.require_sound_screen()
    pharmacist.go("/changes/1/anew").require_sound_screen()
    pharmacist.go("/changes").sees("Call back")

    # when the two cards on the shelf are put right
    put_right(bench, technician, checker, pharmacist, look=True)
    put_right(bench, technician, checker, pharmacist)
    pharmacist.go("/changes/1").sees("not here yet")
    assert pharmacist.page.get_by_role("button", name="The change is done").count() == 0

    # and the card that was with the person comes back and is reconciled with the record
    take_back(technician)
    pharmacist.go("/changes/1").page.get_by_label("Why are the labels needed once more?").fill("the card that was out is here")
    pharmacist.press("Make anew: New labels")
    pharmacist.page.wait_for_url("**/sheets/*")
    put_right(bench, technician, checker, pharmacist)

    # then the recount agrees, and the change is done
    pharmacist.go("/changes/1").sees("Every open card holds exactly what the orders in force ask.")
    pharmacist.require_sound_screen()
    pharmacist.press("The change is done").sees("This change is done.")
    pharmacist.require_sound_screen()
    pharmacist.go("/changes").sees("No change waits for a decision.").sees("every card is right")
