"""Every address of the bench and the ability that it takes: one table, walked by the tests (R14). Roles are `custody.rights`' matter."""

from collections.abc import Mapping
from dataclasses import dataclass

from dosewright.core.custody.event import Role
from dosewright.core.custody.rights import RIGHTS, Ability

__all__ = ["ADDRESSES", "SCREENS", "Address", "address_named"]


_OF_A_HOME = frozenset({Ability.LOOK_AT_HOME, Ability.RECEIVE_CARD, Ability.OWN_BADGE})


@dataclass(frozen=True, slots=True)
class Address:
    """One address: its name, its path, what it takes (None: only to be signed in; `open`: not even that), whether it takes POST only;
    `also` is another ability that is enough; `reads` one that is enough to look, and no more;
    `page` names the address that shows what one of POST only belongs to; `quiet`: asked for
    by a page, not by a person, so that it is no touch."""

    name: str
    path: str
    ability: Ability | None
    changes: bool = False
    open: bool = False
    also: Ability | None = None
    reads: Ability | None = None
    page: str = ""
    quiet: bool = False

    @property
    def roles(self) -> frozenset[Role]:
        """Who may go there."""
        if self.ability is None:
            return frozenset(Role)
        return RIGHTS[self.ability] | (RIGHTS[self.also] if self.also else frozenset())

    @property
    def of_a_home(self) -> bool:
        """Whether it shows a home's own people their own matters, so that somebody bound to a home may come here; all else is the whole
        pharmacy's."""
        return self.ability is None or self.ability in _OF_A_HOME or self.also in _OF_A_HOME

    @property
    def readers(self) -> frozenset[Role]:
        """Who may look there; whoever sends something must be one of `roles`."""
        return self.roles | (RIGHTS[self.reads] if self.reads else frozenset())


def _change(name: str, path: str, ability: Ability | None, page: str = "") -> Address:
    return Address(name, path, ability, changes=True, page=page)


SCREENS: tuple[Address, ...] = (
    Address("sign-in", "sign-in", None, open=True),
    Address("locked", "locked", None, open=True),
    _change("touch", "touch", None),
    Address("my-badge", "my-badge", Ability.OWN_BADGE),
    Address("accounts", "accounts", Ability.SET_UP, reads=Ability.INSPECT),
    Address("add-account", "accounts/new", Ability.SET_UP),
    Address("account-password", "accounts/<str:username>/password", Ability.SET_UP),
    Address("void-badge", "accounts/<str:username>/void-badge", Ability.SET_UP),
    Address("close-account", "accounts/<str:username>/close", Ability.SET_UP),
    Address("ledger", "ledger", Ability.LOOK_AT_LEDGER),
    _change("sign-out", "sign-out", None),
    Address("work-list", "", Ability.LOOK),
    Address("find", "find", Ability.LOOK, also=Ability.RECEIVE_CARD),
    Address("home", "residents", Ability.LOOK_AT_HOME),
    Address("home-person", "residents/<name:person>", Ability.LOOK_AT_HOME),
    Address("home-card", "residents/cards/<str:number>", Ability.LOOK_AT_HOME),
    Address("deliveries", "deliveries", Ability.HAND_OVER_CARD),
    Address("receive-card", "cards/<str:number>/receive", Ability.RECEIVE_CARD),
    Address("orders-in", "orders/in", Ability.RECEIVE_ORDERS),
    Address("medicines-in", "medicines/in", Ability.RECEIVE_MEDICINES),
    Address("readings", "orders/readings", Ability.CONFIRM_READING),
    Address("reading", "orders/readings/<name:order>", Ability.CONFIRM_READING),
    _change("confirm-reading", "orders/readings/<name:order>/confirm", Ability.CONFIRM_READING, "reading"),
    Address("reject-order", "orders/readings/<name:order>/reject", Ability.REJECT_ORDER),
    Address("remember-wording", "orders/readings/<name:order>/remember", Ability.REMEMBER_WORDING),
    Address("wordings", "orders/wordings", Ability.LOOK),
    Address("revoke-wording", "orders/wordings/<int:wording>/revoke", Ability.REVOKE_WORDING),
    Address("settle-unused", "orders/not-used/<int:unused>", Ability.REJECT_ORDER),
    Address("people", "people", Ability.LOOK),
    Address("person", "people/<name:person>", Ability.LOOK),
    Address("correct-person", "people/<name:person>/correct", Ability.CORRECT_PERSON),
    Address("times", "people/<name:person>/times", Ability.TAKE_UP_TIMES),
    Address("stop-order", "orders/<name:order>/stop", Ability.STOP_ORDER),
    Address("place-order", "orders/<name:order>/place", Ability.ANSWER_FINDING),
    Address("changes", "changes", Ability.LOOK),
    Address("rework-rates", "changes/figures", Ability.CHANGE_RATES),
    Address("change", "changes/<int:change>", Ability.LOOK),
    _change("decide-change", "changes/<int:change>/decide", Ability.DECIDE_CHANGE),
    _change("finish-change", "changes/<int:change>/done", Ability.FINISH_CHANGE),
    Address("withdraw-change", "changes/<int:change>/withdraw", Ability.WITHDRAW_CHANGE),
    Address("reopen-change", "changes/<int:change>/anew", Ability.DECIDE_CHANGE),
    _change("change-sheet", "changes/<int:change>/sheets/<str:kind>", Ability.MAKE_SHEET),
    Address("change-card", "changes/<int:change>/cards/<str:number>", Ability.REWORK_CARD),
    _change("remove-units", "changes/<int:change>/cards/<str:number>/out", Ability.REWORK_CARD),
    _change("relabel-card", "changes/<int:change>/cards/<str:number>/labels", Ability.REWORK_CARD),
    Address("change-check", "changes/<int:change>/cards/<str:number>/check", Ability.CHECK_CARD),
    Address("take-change", "people/<name:person>/change", Ability.TAKE_CHANGE),
    Address("take-back-card", "cards/<str:number>/back", Ability.TAKE_BACK_CARD),
    Address("look-for-card", "cards/<str:number>/look", Ability.LOOK_FOR_CARD),
    Address("plan", "plan", Ability.PLAN_SET),
    _change("plan-person", "plan/<name:person>", Ability.ANSWER_FINDING, "plan"),
    Address("long-work", "long-work/<int:work>", Ability.LOOK),
    Address("long-work-progress", "long-work/<int:work>/progress", Ability.LOOK, quiet=True),
    _change("cancel-work", "long-work/<int:work>/cancel", Ability.PLAN_SET, "long-work"),
    _change("print-sets", "long-work/print", Ability.PRINT_SET, "work-list"),
    Address("set", "sets/<int:set_id>", Ability.LOOK),
    Address("claim-set", "sets/<int:set_id>/claim", Ability.CLAIM_SET),
    Address("why-set", "sets/<int:set_id>/why", Ability.LOOK),
    Address("paper", "sets/<int:set_id>/paper", Ability.PRINT_SET),
    Address("paper-file", "sets/<int:set_id>/paper/<str:kind>.pdf", Ability.PRINT_SET, reads=Ability.INSPECT),
    Address("paper-page", "sets/<int:set_id>/paper/<str:kind>/<int:page>.png", Ability.PRINT_SET),
    Address("set-labels", "sets/<int:set_id>/labels", Ability.VOID_LABELS),
    Address("labels", "labels", Ability.VOID_LABELS),
    Address("sheets", "sheets", Ability.MAKE_SHEET),
    Address("sheet", "sheets/<int:sheet>", Ability.MAKE_SHEET, also=Ability.RECALL_LOT, reads=Ability.INSPECT),
    Address("sheet-file", "sheets/<int:sheet>.pdf", Ability.MAKE_SHEET, also=Ability.RECALL_LOT, reads=Ability.INSPECT),
    Address("sheet-page", "sheets/<int:sheet>/<int:page>.png", Ability.MAKE_SHEET, also=Ability.RECALL_LOT, reads=Ability.INSPECT),
    Address("recall", "stock/<name:medicine>/<name:lot>/recall", Ability.RECALL_LOT),
    Address("lift-recall", "stock/<name:medicine>/<name:lot>/recall/lift", Ability.RECALL_LOT),
    Address("printers", "printers", Ability.MEASURE_PRINTER),
    Address("measuring-sheet", "printers/measuring-sheet.pdf", Ability.MEASURE_PRINTER),
    Address("programs", "programs", Ability.MAKE_TOKEN),
    Address("revoke-token", "programs/<int:token>/revoke", Ability.MAKE_TOKEN),
    Address("batch", "batch", Ability.PLACE_MEDICINE),
    Address("owings", "owings", Ability.LOOK),
    _change("record-owing", "cards/<str:number>/owing", Ability.PLACE_MEDICINE, "fill"),
    Address("fill", "cards/<str:number>/fill", Ability.PLACE_MEDICINE),
    _change("fill-scan", "cards/<str:number>/fill/scan", Ability.PLACE_MEDICINE, "fill"),
    _change("place", "cards/<str:number>/fill/place", Ability.PLACE_MEDICINE, "fill"),
    Address("take-out", "cards/<str:number>/fill/take-out", Ability.TAKE_OUT_MEDICINE),
    _change("filled", "cards/<str:number>/filled", Ability.FINISH_FILLING, "fill"),
    Address("check", "cards/<str:number>/check", Ability.CHECK_CARD),
    Address("check-counts", "cards/<str:number>/check/counts", Ability.CHECK_CARD),
    Address("send-back", "cards/<str:number>/send-back", Ability.SEND_BACK_CARD),
    Address("seal", "cards/<str:number>/seal", Ability.SEAL_CARD),
    Address("release", "cards/<str:number>/release", Ability.RELEASE_CARD),
    Address("out-of-date", "cards/<str:number>/out-of-date", Ability.DECIDE_CARD),
    Address("hand-over", "cards/<str:number>/hand-over", Ability.HAND_OVER_CARD),
    Address("return-card", "cards/<str:number>/return", Ability.TAKE_RETURN),
    Address("withdraw", "cards/<str:number>/withdraw", Ability.WITHDRAW_CARD),
    Address("destroy", "cards/<str:number>/destroy", Ability.WASTE_UNITS),
    Address("why-cavity", "cards/<str:number>/why/<int:row>/<int:column>", Ability.LOOK),
    Address("card", "cards/<str:number>", Ability.LOOK),
    Address("history", "history", Ability.LOOK),
    Address("card-history", "cards/<str:number>/history", Ability.LOOK),
    Address("near-misses", "near-misses", Ability.LOOK),
    Address("note-near-miss", "near-misses/new", Ability.NOTE_NEAR_MISS),
    Address("say-what-changed", "near-misses/changes/new", Ability.SAY_WHAT_CHANGED),
    _change("take-back-change", "near-misses/changes/<int:note>/take-back", Ability.SAY_WHAT_CHANGED, "near-misses"),
    Address("records", "records", Ability.LOOK),
    Address("medicines", "medicines", Ability.LOOK),
    Address("medicine", "medicines/<name:medicine>", Ability.LOOK),
    Address("correct-medicine", "medicines/<name:medicine>/correct", Ability.CORRECT_MEDICINE),
    Address("timetables", "dosing-times", Ability.LOOK),
    Address("timetable", "dosing-times/<str:kind>/<name:whose>", Ability.CHANGE_TIMES, reads=Ability.LOOK),
    Address("settings", "settings/<str:which>", Ability.LOOK),
    Address("change-setting", "settings/<str:which>/<int:line>", Ability.CHANGE_FORMAT),
    Address("rules", "rules", Ability.LOOK),
    Address("add-rule", "rules/new", Ability.CHANGE_RULE),
    Address("add-apart", "rules/new/apart", Ability.CHANGE_RULE),
    Address("add-spacing", "rules/new/spacing", Ability.CHANGE_RULE),
    Address("rule", "rules/<name:rule>", Ability.LOOK),
    Address("change-rule", "rules/<name:rule>/change", Ability.CHANGE_RULE),
    Address("drop-rule", "rules/<name:rule>/take-back", Ability.CHANGE_RULE),
    Address("stock", "stock", Ability.RECEIVE_STOCK, reads=Ability.INSPECT),
    Address("codes", "stock/codes", Ability.TEACH_CODE),
    _change("drop-code", "stock/codes/<str:gtin>/drop", Ability.TEACH_CODE, "codes"),
    Address("waste", "stock/<name:medicine>/<name:lot>/waste", Ability.WASTE_UNITS),
)
ADDRESSES: Mapping[str, Address] = {address.name: address for address in SCREENS}


def address_named(name: str) -> Address:
    """The line of the table. Raises KeyError."""
    return ADDRESSES[name]
