"""Core's values as canonical JSON text and back: what the store keeps of orders, plans, medicines and findings.

Comes in: frozen dataclasses of exact values. Goes out: JSON with sorted keys and no blanks, the same bytes for the same value. Exact
values that JSON lacks carry their kind: {"amount": "1/2"}, {"date": …}, {"time": …}, {"moment": …}. Reading is led by the declared
types, and refuses what does not fit them (ValueError).
"""

import json
import types
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime, time
from enum import Enum
from fractions import Fraction
from functools import cache
from typing import Any, Literal, TypeVar, Union, cast, get_args, get_origin, get_type_hints

from dosewright.core.units.quantity import format_amount

__all__ = ["JsonValue", "format_json", "format_value", "parse_value", "to_json"]

T = TypeVar("T")
JsonValue = Any  # what json.loads gives: dict, list, str, int, bool or None; never a float


def format_json(plain: JsonValue) -> str:
    """Canonical JSON text of plain values."""
    return json.dumps(plain, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def format_value(value: object) -> str:
    """Canonical JSON text of a value. Raises TypeError for a float or a kind that core does not use."""
    return format_json(to_json(value))


def to_json(value: object) -> JsonValue:
    """The value as plain JSON values."""
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, str | bool | int):
        return value
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: to_json(getattr(value, field.name)) for field in fields(value) if field.init}
    for kind, write in _WRITERS:
        if isinstance(value, kind):
            return write(value)
    raise TypeError(f"not a value that is kept: {value!r}")


# In this order: a datetime is a date too.
_WRITERS: tuple[tuple[type, Callable[[Any], JsonValue]], ...] = (
    (Fraction, lambda held: {"amount": format_amount(held)}),
    (datetime, lambda held: {"moment": held.isoformat()}),
    (date, lambda held: {"date": held.isoformat()}),
    (time, lambda held: {"time": held.isoformat()}),
    (Mapping, lambda held: _mapping(held)),  # noqa: PLW0108  defined below
    (frozenset, lambda held: sorted(to_json(item) for item in held)),
    (tuple, lambda held: [to_json(item) for item in held]),
)


def _mapping(held: Mapping[Any, Any]) -> JsonValue:
    """An object where the keys are text or numbers; else a list of pairs."""
    if all(isinstance(key, str | int) for key in held):
        return {str(key): to_json(item) for key, item in held.items()}
    return sorted(([to_json(key), to_json(item)] for key, item in held.items()), key=format_json)


def parse_value(kind: type[T], text: str) -> T:
    """The value that `format_value` wrote. Raises ValueError where the text does not fit the type."""
    try:
        return cast(T, _read(kind, json.loads(text, parse_float=_no_float)))
    except (KeyError, TypeError) as error:
        raise ValueError(f"not a {kind.__name__}: {error}") from error


def _no_float(text: str) -> JsonValue:
    raise ValueError(f"a float among kept values: {text}")


_TAGS: dict[str, tuple[type, Any]] = {
    "amount": (Fraction, Fraction),
    "moment": (datetime, datetime.fromisoformat),
    "date": (date, date.fromisoformat),
    "time": (time, time.fromisoformat),
}


def _read(kind: Any, plain: JsonValue) -> Any:
    kind = getattr(kind, "__supertype__", kind)  # NewType
    origin = get_origin(kind)
    if origin is Literal:
        return _read_literal(get_args(kind), plain)
    if origin in {Union, types.UnionType}:
        return _read_union(get_args(kind), plain)
    if origin is not None:
        return _read_container(origin, get_args(kind), plain)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return kind(plain)
    if is_dataclass(kind):
        return _read_dataclass(cast(type, kind), plain)
    return _read_scalar(kind, plain)


def _read_literal(allowed: tuple[Any, ...], plain: JsonValue) -> Any:
    if plain not in allowed:
        raise ValueError(f"{plain!r} is not one of {allowed}")
    return plain


def _read_scalar(kind: Any, plain: JsonValue) -> Any:
    if isinstance(plain, dict) and len(plain) == 1:
        (tag,) = plain
        made, parse = _TAGS.get(tag, (None, None))
        if made is kind and parse is not None:
            return parse(plain[tag])
    if type(plain) is kind or (kind is types.NoneType and plain is None):
        return plain
    raise ValueError(f"{plain!r} is not a {kind}")


def _read_union(kinds: tuple[Any, ...], plain: JsonValue) -> Any:
    for kind in kinds:
        try:
            return _read(kind, plain)
        except (ValueError, TypeError, KeyError):
            continue
    raise ValueError(f"{plain!r} fits none of {kinds}")


def _read_container(origin: Any, args: tuple[Any, ...], plain: JsonValue) -> Any:
    if origin is tuple:
        held = _items(plain)
        if args[-1] is Ellipsis:
            return tuple(_read(args[0], item) for item in held)
        if len(held) != len(args):
            raise ValueError(f"{len(args)} members expected, {len(held)} found")
        return tuple(_read(kind, item) for kind, item in zip(args, held, strict=True))
    if origin is frozenset:
        return frozenset(_read(args[0], item) for item in _items(plain))
    if origin in {dict, Mapping}:
        return _read_mapping(args, plain)
    raise ValueError(f"{plain!r} is not a {origin}")


def _read_mapping(args: tuple[Any, ...], plain: JsonValue) -> Any:
    if isinstance(plain, dict):
        return {_read_key(args[0], key): _read(args[1], item) for key, item in plain.items()}
    return {_read(args[0], key): _read(args[1], item) for key, item in _items(plain)}


def _items(plain: JsonValue) -> list[JsonValue]:
    if not isinstance(plain, list):
        raise ValueError(f"{plain!r} is not a list")
    return plain


def _read_key(kind: Any, key: str) -> Any:
    return int(key) if kind is int else _read(kind, key)


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)


def _read_dataclass(kind: type, plain: JsonValue) -> Any:
    if not isinstance(plain, dict):
        raise ValueError(f"{plain!r} is not a {kind.__name__}")
    hints = {field.name: _hints(kind)[field.name] for field in fields(kind) if field.init}
    if unknown := set(plain) - set(hints):
        raise ValueError(f"{kind.__name__} has no {sorted(unknown)}")
    return kind(**{name: _read(hints[name], held) for name, held in plain.items()})
