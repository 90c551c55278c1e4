"""The error family: every message reads *where: what was found; what would do*."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong, in the maker's words.

    `where` is the profile key (`slats.gap`) or the thing at fault, `found` what stands there,
    `remedy` what would do. `file` and `line` say where to look; line 0 means unknown. `kind` tells apart what a table
    can't be built for, whatever the words.
    """

    where: str
    found: str
    remedy: str = ""
    file: str = ""
    line: int = 0
    kind: str = ""

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}: " if self.line else f"{self.file}: " if self.file else ""
        where = f"{self.where}: " if self.where else ""
        remedy = f"; {self.remedy}" if self.remedy else ""
        return f"{place}{where}{self.found}{remedy}"

    def at(self, file: str, line: int) -> Fault:
        """The same fault with its place in the maker's file."""
        return replace(self, file=file, line=line)


class TemplategenError(Exception):
    """Whatever templategen refuses to do; `faults` holds each reason on its own, told in `language`."""

    language: Literal["", "english", "german"] = ""

    def __init__(self, faults: Fault | Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = (faults,) if isinstance(faults, Fault) else tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))

    def __reduce__(self) -> tuple[type[TemplategenError], tuple[tuple[Fault, ...]]]:
        return type(self), (self.faults,)


class UnitError(TemplategenError, ValueError):
    """A length, angle or piece of arithmetic that can't be read."""


class ProfileError(TemplategenError, ValueError):
    """A profile that can't be read or holds values out of range."""


class GeometryError(TemplategenError, ValueError):
    """A shape that can't exist: a ring without area, a fillet that doesn't fit."""


class DesignError(TemplategenError, ValueError):
    """A table that can't be built from the sizes given."""


class StockError(TemplategenError, ValueError):
    """Parts that the stock can't yield."""


class OutputError(TemplategenError, OSError):
    """A file or folder that can't be written or read."""


def arose_at(trouble: BaseException) -> str:
    """The file and line where an exception arose, as ` at clip.py:31`; nothing where that isn't known."""
    where = trouble.__traceback__
    while where is not None and where.tb_next is not None:
        where = where.tb_next
    if where is None:
        return ""
    file = where.tb_frame.f_code.co_filename.replace("\\", "/").rpartition("/")[2]
    return f" at {file}:{where.tb_lineno}"
