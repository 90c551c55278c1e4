"""The shelf: values by key in one file of the maker's cache folder, the least lately used thrown out.

Whatever goes wrong with it (no room, no leave to write, a damaged file, another program at it) costs the keeping and
nothing else: the value is made anew.
"""

import io
import os
import pickle
import sqlite3
from hashlib import blake2b
from logging import getLogger
from pathlib import Path
from time import time
from typing import Any

MOST = 400_000_000
"""The most that is kept, bytes."""

LONGEST_WAIT = 0.5
"""For another program that writes on the shelf, s."""

COLUMNS = "key blob primary key, value blob, sum blob, size int, used real"

log = getLogger(__name__)

MISSING: Any = object()
"""What `Shelf.take` gives for a key that isn't there."""


class Shelf:
    """Values by key in the file at `path`, at most about so many bytes of them."""

    def __init__(self, path: Path, most: int = MOST) -> None:
        self.path, self.most = path, most
        self._open: dict[int, sqlite3.Connection] = {}

    def take(self, key: bytes) -> Any:
        """The value, or MISSING."""
        try:
            row = self._base().execute("select value, sum from kept where key = ?", (key,)).fetchone()
            if row is None or _sum(row[0]) != row[1]:
                return MISSING
            self._base().execute("update kept set used = ? where key = ? and used < ?", (time(), key, time() - 3600))
            return _Ours(io.BytesIO(row[0])).load()
        except (sqlite3.Error, OSError, pickle.UnpicklingError, EOFError, AttributeError, ImportError) as trouble:
            log.debug("not taken from the shelf: %s", trouble)
            return MISSING

    def put(self, key: bytes, value: object) -> None:
        """Keeps a value under its key."""
        try:
            data = pickle.dumps(value, protocol=5)
            row = key, data, _sum(data), len(data), time()
            self._base().execute("insert or replace into kept values (?, ?, ?, ?, ?)", row)
        except (sqlite3.Error, OSError, pickle.PicklingError, TypeError, AttributeError) as trouble:
            log.debug("not put on the shelf: %s", trouble)

    def tidy(self) -> None:
        """Throws out what was least lately used until a half of the room is free, where there is no more of it."""
        try:
            base = self._base()
            if _whole(base) > self.most:
                base.execute(
                    "delete from kept where key in (select key from (select key, sum(size) over (order by used desc, "
                    "key) as upto from kept) where upto > ?)", (self.most // 2,),
                )  # fmt: skip
                base.execute("vacuum")
        except (sqlite3.Error, OSError) as trouble:
            log.debug("shelf not tidied: %s", trouble)

    def _base(self) -> sqlite3.Connection:
        """This process's own connection; that of a process which this is a copy of is never touched."""
        found = self._open.get(os.getpid())
        if found is None:
            self.path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
            found = sqlite3.connect(self.path, timeout=LONGEST_WAIT, isolation_level=None, check_same_thread=False)
            found.execute("pragma journal_mode = wal")
            found.execute("pragma synchronous = off")
            found.execute(f"create table if not exists kept ({COLUMNS})")
            found.execute("create index if not exists by_use on kept (used, key, size)")
            self._open[os.getpid()] = found
        return found


def _whole(base: sqlite3.Connection) -> int:
    found: int = base.execute("select coalesce(sum(size), 0) from kept").fetchone()[0]
    return found


def _sum(data: bytes) -> bytes:
    return blake2b(data, digest_size=16).digest()


class _Ours(pickle.Unpickler):
    """Reads values of our own kinds and no others: a file from elsewhere can't have anything done."""

    def find_class(self, module: str, name: str) -> Any:
        """The class, where it is one of ours or harmless.

        Raises:
            pickle.UnpicklingError: anything else.
        """
        known = module.split(".")[0] == "templategen" or f"{module}.{name}" in HARMLESS
        found = super().find_class(module, name) if known else None
        home = f"{getattr(found, '__module__', '')}.".split(".")[0]
        if not isinstance(found, type) or (home != "templategen" and f"{module}.{name}" not in HARMLESS):
            raise pickle.UnpicklingError(f"{module}.{name} isn't kept")
        return found


HARMLESS = frozenset(
    ("fractions.Fraction", "collections.Counter", "collections.defaultdict", "builtins.set", "builtins.frozenset")
)
"""Plain kinds of the standard library that values of ours hold."""
