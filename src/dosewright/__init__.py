"""Dosewright: multi-dose cards, from the order to the last unit accounted for. See docs/rooms.md for the map."""
