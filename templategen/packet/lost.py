"""Drawings that fail: each costs itself and a stop in the findings, not the packet or its neighbours."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from logging import getLogger
from typing import TypeVar

from templategen.checks.finding import Finding
from templategen.errors import Fault, GeometryError, StockError, TemplategenError, arose_at
from templategen.kept.keep import keeper

T = TypeVar("T")
D = TypeVar("D")

_LOST: ContextVar[list[Finding] | None] = ContextVar("lost", default=None)

log = getLogger(__name__)


@contextmanager
def gathered_in(lost: list[Finding]) -> Iterator[None]:
    """While this lasts drawings that fail are gathered in `lost`; elsewhere they raise."""
    before = _LOST.set(lost)
    try:
        yield
    finally:
        _LOST.reset(before)


def or_lost(what: str, work: Callable[[], T], without: D) -> T | D:
    """What `work` makes; where it fails by a mistake of ours, `without`, and a stop that names `what`.

    Raises:
        TemplategenError: what the maker's profile can't have, such as paper too small.
    """
    lost = _LOST.get()
    if lost is None:
        return work()
    try:
        return work()
    except (OSError, MemoryError):
        raise
    except Exception as trouble:
        if isinstance(trouble, TemplategenError) and not isinstance(trouble, GeometryError):
            raise
        log.info("%s failed", what, exc_info=trouble)
        _spoil()
        lost.append(Finding("not-made", "stop", what, 1.0, (None, 0.0), {"trouble": _in_short(trouble)}))
        return without


def or_stop(what: str, work: Callable[[], T], without: D) -> T | D:
    """What `work` makes; where the stock doesn't let it, `without`, and a stop that says what would do."""
    lost = _LOST.get()
    if lost is None:
        return work()
    try:
        return work()
    except StockError as refusal:
        _spoil()
        lost += (
            Finding("not-written", "stop", one.where, 1.0, (None, 0.0), _fields(what, one)) for one in refusal.faults
        )
        return without


def _spoil() -> None:
    """What holds a drawing that failed isn't kept."""
    if who := keeper():
        who.spoil()


def _fields(what: str, fault: Fault) -> dict[str, str]:
    return {"what": what, "found": fault.found, "remedy": fault.remedy}


def _in_short(trouble: Exception) -> str:
    """The exception and where it arose, in a few words."""
    return f"{type(trouble).__name__}{arose_at(trouble)}"
