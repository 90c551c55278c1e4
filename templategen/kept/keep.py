"""Work whose value is kept: asked for the same again, it is taken from the shelf."""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache, wraps
from hashlib import blake2b
from importlib.metadata import distributions
from logging import getLogger
from pathlib import Path
from sys import version_info
from time import perf_counter
from typing import ParamSpec, TypeVar

from templategen.english import speech
from templategen.kept.content import Contents, UnknownContentError
from templategen.kept.shelf import MISSING, Shelf

P = ParamSpec("P")
T = TypeVar("T")

WHERE = "TEMPLATEGEN_CACHE"
"""Names the folder in the surroundings; "none" keeps nothing."""

WORTH = 0.02
"""What takes less is made anew each time, s."""

log = getLogger(__name__)


class Keeper:
    """A shelf and the state of the program: what another state of it made isn't found."""

    def __init__(self, shelf: Shelf, state: bytes) -> None:
        self.shelf, self._state, self._contents = shelf, state, Contents()
        self._spoilt = 0

    def value(self, name: str, given: object, work: Callable[[], T]) -> T:
        """What `work` makes of what is `given`, from the shelf where it was made before; kept where it came out
        whole."""
        try:
            key = self._key(name, given)
        except UnknownContentError as unknown:
            log.debug("%-24s isn't kept: %s", name, unknown)
            return work()
        found: T = self.shelf.take(key)
        if found is not MISSING:
            log.debug("%-24s from the shelf", name)
            return found
        begun, before = perf_counter(), self._spoilt
        made = work()
        if perf_counter() - begun >= WORTH and self._spoilt == before:
            self.shelf.put(key, made)
        return made

    def spoil(self) -> None:
        """Has nothing kept of what is being made: something of it failed."""
        self._spoilt += 1

    def _key(self, name: str, given: object) -> bytes:
        words = f"{name}\0{speech()}".encode()
        return blake2b(self._state + words + self._contents.digest(given), digest_size=20).digest()


_KEEPER: ContextVar[Keeper | None] = ContextVar("keeper", default=None)


def keeper() -> Keeper | None:
    """Who keeps what is made now; None where nothing is kept."""
    return _KEEPER.get()


@contextmanager
def keeping(folder: Path | None = None) -> Iterator[None]:
    """While this lasts what is made is kept in the folder, without one in the cache folder."""
    folder = folder or cache_folder()
    if folder is None:
        yield
        return
    shelf = Shelf(folder / "made.sqlite")
    before = _KEEPER.set(Keeper(shelf, _state()))
    try:
        yield
        shelf.tidy()
    finally:
        _KEEPER.reset(before)


def cache_folder() -> Path | None:
    """Where made things are kept: what the surroundings say, else the platform's own folder; None for nowhere."""
    named = os.environ.get(WHERE, "")
    if named == "none":
        return None
    if named:
        return Path(named)
    from platformdirs import user_cache_path

    return user_cache_path("templategen", appauthor=False)


@cache
def _state() -> bytes:
    """A digest of the program: every file of it, its Python and the libraries it is installed with."""
    made = blake2b(repr(version_info[:3]).encode(), digest_size=20)
    root = Path(__file__).parent.parent
    for path in sorted(one for one in root.rglob("*") if one.is_file() and one.parent.name != "__pycache__"):
        made.update(path.relative_to(root).as_posix().encode() + b"\0" + path.read_bytes())
    made.update(repr(sorted({(one.name, one.version) for one in distributions()})).encode())
    return made.digest()


def kept(work: Callable[P, T]) -> Callable[P, T]:
    """A function of values alone, which makes the same of the same: what it makes is kept."""

    @wraps(work)
    def taken(*args: P.args, **named: P.kwargs) -> T:
        who = _KEEPER.get()
        if who is None:
            return work(*args, **named)
        return who.value(f"{work.__module__}.{work.__qualname__}", (args, named), lambda: work(*args, **named))

    return taken
