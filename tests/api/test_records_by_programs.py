"""Sheets, dosing times, rules and wordings by programs: the same actions as at the bench, and nothing widened in silence."""

from tests import small_bench as bench
from tests.api.conftest import Programs
from tests.api.test_a_card_by_programs import done, refused

from dosewright.core.custody.event import Role
from dosewright.core.units.ids import HomeId
from dosewright.store.ledger import load_entries
from dosewright.store.models import PersonRow
from dosewright.store.people import save_home


def test_dosing_times_are_changed_and_a_card_whose_doses_they_move_is_out_of_date(programs: Programs) -> None:
    _, card = bench.ready_to_fill()
    pharmacist = programs(Role.PHARMACIST)
    now = pharmacist.get("/people/p1/times")[1]
    assert (now["own"], [slot["time"] for slot in now["slots"]]) == (False, ["08:00", "12:00", "18:00", "22:00"])
    slots = [{**slot, "time": "09:30" if slot["name"] == "morning" else slot["time"]} for slot in now["slots"]]
    wrong = pharmacist.post("/people/p1/times", {"timetable": {"slots": [{"name": "morning", "time": "25:00"}]}, "reason": "x"})
    assert refused(wrong, 422) == {"custody.timetable-wrong"}
    assert not bench.now(card).state.out_of_date
    done(pharmacist.post("/people/p1/times", {"timetable": {"slots": slots}, "reason": "breakfast is later"}))
    assert bench.now(card).state.out_of_date
    assert pharmacist.get("/people/p1/times")[1]["own"] is True
    done(pharmacist.post("/people/p1/times", {"timetable": None, "reason": "as the others again"}))
    assert pharmacist.get("/people/p1/times")[1] == now


def test_dosing_times_of_a_home_and_of_the_pharmacy_move_the_cards_of_whoever_follows_them(programs: Programs) -> None:
    _, card = bench.ready_to_fill()
    save_home(HomeId("lindens"), "The Lindens")
    pharmacist = programs(Role.PHARMACIST)
    now = pharmacist.get("/times")[1]
    assert (now["own"], pharmacist.get("/homes/lindens/times")[1]) == (True, {**now, "own": False})
    later = {"timetable": {"slots": [{**slot, "time": "09:30" if slot["name"] == "morning" else slot["time"]} for slot in now["slots"]]}}
    done(pharmacist.post("/homes/lindens/times", {**later, "reason": "breakfast is later"}))
    assert pharmacist.get("/homes/lindens/times")[1]["own"]
    assert not bench.now(card).state.out_of_date  # she does not live there
    assert refused(pharmacist.post("/homes/nowhere/times", {**later, "reason": "x"}), 404) == {"custody.not-there"}
    assert refused(pharmacist.post("/times", {"timetable": None, "reason": "x"}), 422) == {"custody.timetable-not-here"}
    assert refused(programs(Role.PHARMACIST, home="lindens").post("/times", {**later, "reason": "x"}), 403) == {"custody.whole-pharmacy"}
    done(pharmacist.post("/times", {**later, "reason": "the pharmacy opens later"}))
    assert bench.now(card).state.out_of_date
    changed = [entry.subject_id for entry in load_entries("times") if entry.event == "dosing times changed"]
    assert changed == ["home The Lindens", "the pharmacy"]  # as the bench writes them


def test_a_rule_is_read_changed_and_taken_back(programs: Programs) -> None:
    bench.opened()
    pharmacist = programs(Role.PHARMACIST)
    shipped = next(rule for rule in pharmacist.get("/rules")[1] if rule["id"] == "product.omeprazole")
    assert (shipped["own"], shipped["standing"], shipped["limit_days"]) == (False, "unless_proved", 30)
    said = {"codes": ["T14"], "names": ["omeprazole"], "reason": "this maker's", "source": "the maker's letter", "dated": "March 2026"}
    done(pharmacist.post("/rules/product.omeprazole", {**said, "why": "we asked"}))
    own = next(rule for rule in pharmacist.get("/rules")[1] if rule["id"] == "product.omeprazole")
    assert (own["own"], own["standing"], own["limit_days"], own["evidence"]) == (True, "fits", 14, "pharmacy")
    assert refused(pharmacist.post("/rules/product.nothing", {**said, "why": "we asked"}), 404) == {"custody.not-there"}
    assert refused(pharmacist.post("/rules/product.omeprazole", {**said, "codes": ["Q"], "why": "x"}), 422) == {"rules.unknown-code"}
    done(pharmacist.post("/rules/product.omeprazole/take-back", {"reason": "the letter was withdrawn"}))
    assert next(rule for rule in pharmacist.get("/rules")[1] if rule["id"] == "product.omeprazole") == shipped


def test_a_new_rule_sent_twice_is_one_rule(programs: Programs) -> None:
    bench.opened()
    pharmacist = programs(Role.PHARMACIST)
    said = {"codes": ["X"], "names": ["metformin"], "reason": "crumbles here", "source": "seen", "dated": "March 2026", "why": "twice now"}
    for _ in range(2):
        assert done(pharmacist.post("/rules", said, key="one-rule-and-no-more")) == ["own.metformin"]
    assert done(pharmacist.post("/rules", said)) == ["own.metformin-2"]
    assert sorted(rule["id"] for rule in pharmacist.get("/rules")[1] if rule["own"]) == ["own.metformin", "own.metformin-2"]
    assert refused(pharmacist.post("/rules", {**said, "names": []}), 422) == {"custody.request-wrong"}
    assert refused(pharmacist.post("/rules", {**said, "source": ""}), 422) == {"rules.field-empty"}


def test_rules_about_two_medicines_are_read_changed_added_and_taken_back(programs: Programs) -> None:
    bench.opened()
    pharmacist = programs(Role.PHARMACIST)
    shipped = pharmacist.get("/pair-rules")[1]
    kinds = {(rule["kind"], rule["own"], rule["in_force"]) for rule in shipped}
    assert kinds == {("apart", False, True), ("spacing", False, True)}
    said = {"kind": "spacing", "one": ["levodopa"], "other": ["iron"], "after_minutes": 60, "reason": "an hour", "source": "the clinic"}
    said |= {"dated": "March 2026", "why": "they asked"}
    done(pharmacist.post("/pair-rules/spacing.levodopa", said))
    own = next(rule for rule in pharmacist.get("/pair-rules")[1] if rule["own"])
    assert (own["id"], own["before_minutes"], own["after_minutes"], own["evidence"]) == ("spacing.levodopa", 0, 60, "pharmacy")
    done(pharmacist.post("/pair-rules/spacing.levodopa", {**said, "in_force": False}))
    assert [rule["in_force"] for rule in pharmacist.get("/pair-rules")[1] if rule["own"]] == [False]
    for _ in range(2):
        assert done(pharmacist.post("/pair-rules", said, key="one-rule-and-no-more")) == ["own.levodopa-iron"]
    assert refused(pharmacist.post("/pair-rules", {**said, "after_minutes": 0}), 422) == {"rules.no-distance"}
    assert refused(pharmacist.post("/pair-rules", {**said, "one": []}), 422) == {"custody.request-wrong"}
    assert refused(pharmacist.post("/pair-rules", {**said, "in_force": False}), 422) == {"rules.own-out-of-force"}
    assert refused(pharmacist.post("/pair-rules/product.omeprazole", said), 404) == {"custody.not-there"}
    for rule in ("spacing.levodopa", "own.levodopa-iron"):
        done(pharmacist.post(f"/rules/{rule}/take-back", {"reason": "as it was"}))
    assert pharmacist.get("/pair-rules")[1] == shipped


def test_a_set_is_taken_in_hand_handed_on_and_put_back_and_what_is_not_wanting_is_not_owed(programs: Programs) -> None:
    set_id, card = bench.ready_to_fill()
    technician, checker = programs(Role.TECHNICIAN), programs(Role.CHECKER)
    done(technician.post(f"/sets/{set_id}/claim", {}))
    done(checker.post(f"/sets/{set_id}/claim", {"colleague": technician.account.username}))
    assert refused(technician.post(f"/sets/{set_id}/claim", {"colleague": "nobody"}), 422) == {"custody.nobody-to-hand-to"}
    done(technician.post(f"/sets/{set_id}/claim", {"back": True}))
    happened = [entry.event for entry in load_entries("set", str(set_id)) if entry.event != "refused"]
    assert happened[-3:] == ["set claimed", "set handed on", "set put back"]
    assert refused(technician.post(f"/sets/{set_id}/owing", {"medicine": "metformin-500"}), 422) == {"supply.nothing-wanting"}
    done(technician.post("/near-misses", {"kind": "missing", "noticed": "filling", "card": card}))
    assert refused(technician.post("/near-misses", {"kind": "missing", "noticed": "filling", "card": "1"}), 404) == {"custody.not-there"}
    assert refused(technician.post("/near-misses", {"kind": "missing", "noticed": "asleep"}), 422) == {"custody.request-wrong"}
    there = programs(Role.PHARMACIST).post("/orders/RX1/place", {"choice": "alongside", "reason": "as she wishes"})
    assert refused(there, 422) == {"rules.nothing-to-decide"}


def test_a_wording_is_remembered_for_the_home_or_for_everybody_as_it_was_said_and_revoked(programs: Programs) -> None:
    bench.asked()
    save_home(HomeId("lindens"), "The Lindens")
    pharmacist = programs(Role.PHARMACIST)
    (first,) = [one for one in pharmacist.get("/orders/waiting")[1] if one["id"] == "RX8"]
    done(pharmacist.post("/orders/RX8/confirm", {"choice": first["choices"] - 1}))
    alone = pharmacist.post("/orders/RX8/remember", {"scope": "home", "reason": "so it is here"})
    assert refused(alone, 422) == {"custody.request-wrong"}  # she lives in no home: nothing is widened to everybody's
    PersonRow.objects.filter(id="p1").update(home_id="lindens")
    bound = programs(Role.PHARMACIST, home="lindens")
    assert refused(bound.post("/orders/RX8/remember", {"scope": "pharmacy", "reason": "x"}), 403) == {"custody.whole-pharmacy"}
    assert [entry.event for entry in load_entries("address", "api remember-wording")] == ["refused"]
    (number,) = done(pharmacist.post("/orders/RX8/remember", {"scope": "pharmacy", "reason": "so it is here"}))
    (held,) = pharmacist.get("/wordings")[1]
    assert (held["id"], held["text"], held["home"], held["revoked_at"]) == (int(number), "take 1 tablet with dinner", "", None)
    done(pharmacist.post(f"/wordings/{number}/revoke", {"reason": "dinner is at noon at The Lindens"}))
    assert pharmacist.get("/wordings")[1][0]["revoked_because"] == "dinner is at noon at The Lindens"


def test_sheets_are_made_and_fetched_byte_for_byte(programs: Programs) -> None:
    set_id, _ = bench.ready_to_fill()
    technician = programs(Role.TECHNICIAN)
    (number,) = done(technician.post(f"/sets/{set_id}/sheets", {"kind": "check"}))
    assert technician.get(f"/sheets/{number}")[0] == 200
    assert refused(technician.post(f"/sets/{set_id}/sheets", {"kind": "rest"}), 422) == {"custody.request-wrong"}
    assert refused(technician.post("/homes/nowhere/sheets", {"kind": "round", "day": "2026-03-02"}), 404) == {"custody.not-there"}
