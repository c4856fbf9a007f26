"""The addresses of the table with their views, each behind its door."""

from collections.abc import Mapping

from django.urls import path

from dosewright.web import (
    card_deeds,
    card_screen,
    check,
    fill,
    out_of_date,
    paper,
    people,
    person,
    place,
    planning,
    printers,
    readings,
    release,
    rule_change,
    rules,
    set_screen,
    signin,
    stock,
    undoing,
    unused,
    uploads,
    wordings,
    work_list,
)
from dosewright.web.guard import View, guarded
from dosewright.web.rights import SCREENS

__all__ = ["VIEWS", "urlpatterns"]

VIEWS: Mapping[str, View] = {
    "sign-in": signin.sign_in,
    "sign-out": signin.sign_out,
    "work-list": work_list.work_list,
    "find": work_list.find,
    "orders-in": uploads.orders_in,
    "medicines-in": uploads.medicines_in,
    "readings": readings.readings,
    "reading": readings.reading,
    "confirm-reading": readings.confirm,
    "reject-order": readings.reject,
    "remember-wording": wordings.remember,
    "wordings": wordings.wordings,
    "revoke-wording": wordings.revoke,
    "settle-unused": unused.settle,
    "people": people.people,
    "person": person.person,
    "stop-order": person.stop,
    "place-order": place.place_order,
    "plan": planning.plan,
    "plan-person": planning.plan_person,
    "set": set_screen.show_set,
    "paper": paper.paper,
    "paper-file": paper.paper_file,
    "paper-page": paper.paper_page,
    "printers": printers.printers,
    "measuring-sheet": printers.measuring_sheet,
    "fill": fill.fill,
    "fill-scan": fill.fill_scan,
    "place": fill.place,
    "take-out": undoing.take_out,
    "filled": fill.filled,
    "check": check.check,
    "check-counts": check.check_counts,
    "send-back": card_deeds.send_back,
    "seal": card_deeds.seal,
    "release": release.release,
    "out-of-date": out_of_date.out_of_date,
    "hand-over": card_deeds.hand_over,
    "return-card": undoing.return_card,
    "withdraw": card_deeds.withdraw,
    "destroy": undoing.destroy,
    "card": card_screen.card,
    "rules": rules.rules,
    "add-rule": rule_change.add,
    "rule": rules.show_rule,
    "change-rule": rule_change.change,
    "drop-rule": rule_change.drop,
    "stock": stock.stock,
    "waste": stock.waste,
}

urlpatterns = [path(address.path, guarded(address, VIEWS[address.name]), name=address.name) for address in SCREENS]
