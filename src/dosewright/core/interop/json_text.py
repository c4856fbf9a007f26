"""JSON text ⇄ values, strictly. Comes in: text. Goes out: None, bool, int, exact Decimal, str, list, dict; or one sentence with its place.

Never a float. Refused beyond the grammar: a key that stands twice in one object, NaN and Infinity, numbers too long to be a measure,
half of a surrogate pair, nesting deeper than any prescription. Source: RFC 8259, and its section 4 for names that are not unique.
"""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import TypeAlias

__all__ = ["DEEPEST", "JsonError", "JsonValue", "Writable", "format_json", "parse_json"]

JsonValue: TypeAlias = bool | int | Decimal | str | list["JsonValue"] | dict[str, "JsonValue"] | None
Writable: TypeAlias = bool | int | Decimal | str | Sequence["Writable"] | Mapping[str, "Writable"] | None

DEEPEST = 64  # levels; a bundle of orders with nested extensions needs fewer than 20
_LONGEST_NUMBER = 40  # characters; FHIR decimals have at most 18 digits
_LARGEST_EXPONENT = 40

_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|-?[0-9][-+.0-9eE]*|[\[\]{}:,]|-?[A-Za-z]+', re.DOTALL)
_COLON = re.compile(r"\s*:")
_SURROGATE = re.compile(r"\\u[dD][89a-fA-F]")


class JsonError(ValueError):
    """Text that is not strict JSON. `line` and `column` count from 1; `reason` is a sentence without its place."""

    def __init__(self, text: str, place: int, reason: str) -> None:
        self.line = text.count("\n", 0, place) + 1
        self.column = place - text.rfind("\n", 0, place)
        self.reason = reason
        super().__init__(f"line {self.line}, column {self.column}: {reason}")


class _Suspect(Exception):
    """Something the decoder may not pass; where it stands is found afterwards."""


def parse_json(text: str) -> JsonValue:
    """The one value that the text is. Whole numbers come as int, all others as Decimal with their digits kept. Raises JsonError."""
    _require_shallow(text)
    try:
        value: JsonValue = _DECODER.decode(text)
    except json.JSONDecodeError as error:
        raise JsonError(text, error.pos, _reason(error)) from error
    except _Suspect as error:
        raise _located(text) from error
    if _SURROGATE.search(text):
        _require_whole_characters(text)
    return value


def format_json(value: Writable) -> str:
    """One line of JSON, keys in their given order, Decimals written digit by digit. Raises TypeError for a float."""
    match value:
        case None | bool() | str():
            return json.dumps(value, ensure_ascii=False)
        case int():
            return str(value)
        case Decimal():
            return format(value, "f")
        case Mapping():
            return "{" + ", ".join(f"{json.dumps(key, ensure_ascii=False)}: {format_json(held)}" for key, held in value.items()) + "}"
        case list() | tuple():
            return "[" + ", ".join(format_json(held) for held in value) + "]"
    raise TypeError(f"not a JSON value: {value!r}")


def _object(pairs: list[tuple[str, JsonValue]]) -> dict[str, JsonValue]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise _Suspect
    return found


def _whole(digits: str) -> int:
    if len(digits) > _LONGEST_NUMBER:
        raise _Suspect
    return int(digits)


def _exact(digits: str) -> Decimal:
    if not _is_measure(digits):
        raise _Suspect
    return Decimal(digits)


def _is_measure(digits: str) -> bool:
    return len(digits) <= _LONGEST_NUMBER and abs(Decimal(digits).adjusted()) <= _LARGEST_EXPONENT


def _not_a_number(word: str) -> JsonValue:
    raise _Suspect(word)


_DECODER = json.JSONDecoder(object_pairs_hook=_object, parse_int=_whole, parse_float=_exact, parse_constant=_not_a_number)


def _require_shallow(text: str) -> None:
    depth = 0
    for token in _TOKEN.finditer(text):
        sign = text[token.start()]
        if sign in "[{":
            depth += 1
            if depth > DEEPEST:
                raise JsonError(text, token.start(), f"nested more than {DEEPEST} levels deep.")
        elif sign in "]}":
            depth -= 1


def _reason(error: json.JSONDecodeError) -> str:
    if error.pos >= len(error.doc.rstrip()):
        return "the text ends before the JSON value is complete."
    return f"not JSON here ({error.msg[0].lower()}{error.msg[1:]})."


def _located(text: str) -> JsonError:
    """The first thing that strict JSON forbids and the grammar allows. The text is grammatical up to there."""
    return next(_faults(text), JsonError(text, 0, "not strict JSON."))


def _faults(text: str) -> Iterator[JsonError]:
    open_objects: list[set[str]] = []
    for token in _TOKEN.finditer(text):
        word, place = token[0], token.start()
        match word[0]:
            case "{" | "[":
                open_objects.append(set())
            case "}" | "]":
                open_objects.pop()
            case '"' if _COLON.match(text, token.end()):
                key = json.loads(word)
                if key in open_objects[-1]:
                    yield JsonError(text, place, f'the key "{key}" stands twice in one object.')
                open_objects[-1].add(key)
            case "-" | "N" | "I" if word.lstrip("-") in {"NaN", "Infinity"}:
                yield JsonError(text, place, f"{word} is not a number in JSON.")
            case sign if sign in "-0123456789" and not _is_measure(word):
                yield JsonError(text, place, "this number has more digits than any measure needs.")


def _require_whole_characters(text: str) -> None:
    for token in _TOKEN.finditer(text):
        if token[0].startswith('"') and any("\ud800" <= letter <= "\udfff" for letter in json.loads(token[0])):
            raise JsonError(text, token.start(), "this text holds half of a character (a lone surrogate).")
