"""Names of things, each with a type of its own so that one cannot stand where another belongs."""

from typing import NewType

__all__ = ["CardNumber", "Gtin", "HomeId", "Lot", "MedicineCode", "OrderId", "PersonId", "SlotName", "StationId"]

PersonId = NewType("PersonId", str)  # who lives with the card
OrderId = NewType("OrderId", str)  # the resource's id or the CSV's `order`
MedicineCode = NewType("MedicineCode", str)  # the medicines file's `code`
HomeId = NewType("HomeId", str)
CardNumber = NewType("CardNumber", str)  # opaque: says nothing about a person
SlotName = NewType("SlotName", str)  # a dosing time's name: "morning"
Lot = NewType("Lot", str)  # GS1 AI (10), as on the stock bottle
Gtin = NewType("Gtin", str)  # GS1 AI (01), always as 14 digits; a scanned pack without one: its national code, "DIN 02241234"
StationId = NewType("StationId", str)
