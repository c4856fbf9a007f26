"""Every address of the bench and who may go there: one table, walked by the tests (R14).

What a person may *do* to a card is `core.custody`'s; this says which screens a role sees at all. A refusal is put on record.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from dosewright.core.custody.event import Role

__all__ = ["SCREENS", "SIGNED_IN", "Address", "address_named"]

SIGNED_IN = frozenset(Role)
_TECHNICIAN, _CHECKER, _PHARMACIST, _MANAGER = Role.TECHNICIAN, Role.CHECKER, Role.PHARMACIST, Role.MANAGER
_STAFF = frozenset({_TECHNICIAN, _CHECKER, _PHARMACIST, _MANAGER})
_READERS = _STAFF | {Role.INSPECTOR}
_FILLERS = frozenset({_TECHNICIAN, _PHARMACIST})
_CHECKERS = frozenset({_CHECKER, _PHARMACIST})
_PHARMACISTS = frozenset({_PHARMACIST})
_KEEPERS = frozenset({_TECHNICIAN, _PHARMACIST, _MANAGER})


@dataclass(frozen=True, slots=True)
class Address:
    """One address: its name, its path, the roles that may use it (None: nobody need be signed in), and whether it only takes changes."""

    name: str
    path: str
    roles: frozenset[Role] | None
    changes: bool = False


SCREENS: tuple[Address, ...] = (
    Address("sign-in", "sign-in", None),
    Address("sign-out", "sign-out", SIGNED_IN, changes=True),
    Address("work-list", "", _READERS),
    Address("find", "find", _READERS),
    Address("orders-in", "orders/in", _FILLERS),
    Address("medicines-in", "medicines/in", frozenset({_PHARMACIST, _MANAGER})),
    Address("readings", "orders/readings", _PHARMACISTS),
    Address("reading", "orders/readings/<str:reading>", _PHARMACISTS),
    Address("confirm-reading", "orders/readings/<str:reading>/confirm", _PHARMACISTS, changes=True),
    Address("reject-reading", "orders/readings/<str:reading>/reject", _PHARMACISTS, changes=True),
    Address("people", "people", _READERS),
    Address("person", "people/<str:person>", _READERS),
    Address("plan", "plan", _FILLERS),
    Address("set", "sets/<int:set_id>", _READERS),
    Address("decide", "sets/<int:set_id>/decide", _PHARMACISTS, changes=True),
    Address("paper", "sets/<int:set_id>/paper", _FILLERS),
    Address("paper-file", "sets/<int:set_id>/paper/<str:digest>.pdf", _FILLERS),
    Address("paper-page", "sets/<int:set_id>/paper/<str:digest>/<int:page>.png", _FILLERS),
    Address("printed", "sets/<int:set_id>/printed", _FILLERS, changes=True),
    Address("fill", "cards/<str:number>/fill", _FILLERS),
    Address("fill-scan", "cards/<str:number>/fill/scan", _FILLERS, changes=True),
    Address("place", "cards/<str:number>/fill/place", _FILLERS, changes=True),
    Address("take-out", "cards/<str:number>/fill/take-out", _FILLERS, changes=True),
    Address("filled", "cards/<str:number>/filled", _FILLERS, changes=True),
    Address("check", "cards/<str:number>/check", _CHECKERS),
    Address("check-counts", "cards/<str:number>/check/counts", _CHECKERS, changes=True),
    Address("checked", "cards/<str:number>/checked", _CHECKERS, changes=True),
    Address("send-back", "cards/<str:number>/send-back", _CHECKERS, changes=True),
    Address("seal", "cards/<str:number>/seal", frozenset({_TECHNICIAN, _CHECKER, _PHARMACIST})),
    Address("release", "cards/<str:number>/release", _PHARMACISTS),
    Address("out-of-date", "cards/<str:number>/out-of-date", _PHARMACISTS),
    Address("hand-over", "cards/<str:number>/hand-over", _KEEPERS),
    Address("return-card", "cards/<str:number>/return", _KEEPERS),
    Address("card", "cards/<str:number>", _READERS),
    Address("stock", "stock", _KEEPERS | {Role.INSPECTOR}),
    Address("stock-in", "stock/in", _KEEPERS, changes=True),
)
_BY_NAME: Mapping[str, Address] = {address.name: address for address in SCREENS}


def address_named(name: str) -> Address:
    """The line of the table. Raises KeyError."""
    return _BY_NAME[name]
