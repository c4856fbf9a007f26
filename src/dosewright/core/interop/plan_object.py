"""One object of a plan file, read name by name: every name known, every value of its kind. Raises `PlanError` with the place."""

import re
from datetime import date, time
from fractions import Fraction

from dosewright.core.interop.json_text import JsonValue
from dosewright.core.units.quantity import parse_amount

__all__ = ["PlanError", "PlanObject"]

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_CLOCK = re.compile(r"\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?")
_LARGEST = 10**9


class PlanError(ValueError):
    """JSON that is no plan. The message is one sentence that begins with the place: "plan.people[0].cards: must be a list."."""


class PlanObject:
    """Reads one JSON object; `finish` refuses names that nobody asked for."""

    def __init__(self, value: JsonValue, path: str) -> None:
        if not isinstance(value, dict):
            raise PlanError(f"{path}: must be an object.")
        self._value, self._path = value, path
        self._asked: set[str] = set()

    def text(self, name: str) -> str:
        """Text that is not empty."""
        found = self._get(name)
        if not isinstance(found, str) or not found:
            raise self._fault(name, "must be text, not empty")
        return found

    def whole(self, name: str) -> int:
        """A whole number, not below zero."""
        found = self._get(name)
        if isinstance(found, bool) or not isinstance(found, int) or not 0 <= found <= _LARGEST:
            raise self._fault(name, f"must be a whole number from 0 to {_LARGEST}")
        return found

    def truth(self, name: str) -> bool:
        """True or false."""
        found = self._get(name)
        if not isinstance(found, bool):
            raise self._fault(name, "must be true or false")
        return found

    def day(self, name: str) -> date:
        """A day as 2026-03-02."""
        found = self.text(name)
        try:
            if _DAY.fullmatch(found):
                return date.fromisoformat(found)
        except ValueError:
            pass
        raise self._fault(name, f'"{found[:40]}" is not a day such as 2026-03-02')

    def clock(self, name: str) -> time:
        """A clock time as 08:00."""
        found = self.text(name)
        try:
            if _CLOCK.fullmatch(found):
                return time.fromisoformat(found)
        except ValueError:
            pass
        raise self._fault(name, f'"{found[:40]}" is not a clock time such as 08:00')

    def amount(self, name: str) -> Fraction:
        """An exact amount as text: "1", "0.5", "1/3"."""
        found = self.text(name)
        try:
            return parse_amount(found)
        except ValueError as error:
            raise self._fault(name, f'"{found[:40]}" is not an amount such as "1", "0.5" or "1/3"') from error

    def object(self, name: str) -> "PlanObject":
        """The object of that name."""
        return PlanObject(self._get(name), f"{self._path}.{name}")

    def objects(self, name: str) -> "tuple[PlanObject, ...]":
        """The objects of a list; it may be empty."""
        found = self._get(name)
        if not isinstance(found, list):
            raise self._fault(name, "must be a list")
        return tuple(PlanObject(value, f"{self._path}.{name}[{place}]") for place, value in enumerate(found))

    def has(self, name: str) -> bool:
        """Whether the name is there; it then has to be read."""
        return name in self._value

    def known(self, name: str) -> None:
        """A name that may stand there and is not read."""
        self._asked.add(name)

    def finish(self) -> None:
        """Refuse what was not asked for."""
        for name in self._value:
            if name not in self._asked:
                raise self._fault(name[:40], "is not known in a plan")

    def _get(self, name: str) -> JsonValue:
        self._asked.add(name)
        if name not in self._value:
            raise self._fault(name, "is missing")
        return self._value[name]

    def _fault(self, name: str, wrong: str) -> PlanError:
        return PlanError(f"{self._path}.{name}: {wrong}.")
