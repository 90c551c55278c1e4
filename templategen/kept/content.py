"""The digest of a value: alike values have the same one, in every run and on every machine."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from functools import cache, partial
from hashlib import blake2b
from operator import attrgetter
from pathlib import PurePath
from types import FunctionType
from typing import Any

SIZE = 20
"""Bytes of a digest: two values with the same one don't turn up."""

PLAIN = (str, int, float, bool, type(None), Fraction, PurePath, complex)


class UnknownContentError(Exception):
    """A value that isn't told by what it holds, such as an open file or a function made on the way."""


class Contents:
    """Digests of values, each worked out once while this lives; values are taken to stay as they are."""

    def __init__(self) -> None:
        self._known: dict[int, tuple[object, bytes]] = {}

    def digest(self, value: object) -> bytes:
        """The digest of a value: its type, and what it holds in its order.

        Raises:
            UnknownContentError: something in it isn't told by what it holds.
        """
        if isinstance(value, PLAIN):
            return f"{type(value).__name__} {value!r}".encode()
        known = self._known.get(id(value))
        if known is None:
            known = self._known[id(value)] = value, self._digest(value)
        return known[1]

    def _digest(self, value: object) -> bytes:
        if isinstance(value, (bytes, bytearray)):
            return _hashed("bytes", bytes(value))
        if isinstance(value, Enum):
            return _hashed(_name_of(type(value)), value.name.encode())
        if is_dataclass(value) and not isinstance(value, type):
            return self._all(_name_of(type(value)), _held(type(value))(value))
        if isinstance(value, (tuple, list)):
            return self._all(_name_of(type(value)), value)
        if isinstance(value, Mapping):
            return self._all("mapping", [one for pair in value.items() for one in pair])
        if isinstance(value, (set, frozenset)):
            return _hashed("set", *sorted(map(self.digest, value)))
        if isinstance(value, partial):
            return self._all("partial", (value.func, value.args, value.keywords))
        if isinstance(value, FunctionType) and value.__closure__ is None and "<" not in value.__qualname__:
            return _hashed("function", _name_of(value).encode())
        raise UnknownContentError(_name_of(type(value)))

    def _all(self, name: str, values: Sequence[object]) -> bytes:
        return _hashed(name, *map(self.digest, values))


def _hashed(name: str, *parts: bytes) -> bytes:
    """A digest over parts of whatever length, none of which runs into the next."""
    made = blake2b(name.encode(), digest_size=SIZE)
    for part in parts:
        made.update(b"%d:" % len(part))
        made.update(part)
    return made.digest()


def _name_of(one: Any) -> str:
    return f"{one.__module__}.{one.__qualname__}"


@cache
def _held(kind: type) -> Callable[[Any], tuple[object, ...]]:
    """What reads all fields of a dataclass."""
    names = [one.name for one in fields(kind)]
    if len(names) == 1:
        return lambda value: (getattr(value, names[0]),)
    read: Callable[[Any], tuple[object, ...]] = attrgetter(*names) if names else lambda _value: ()
    return read
