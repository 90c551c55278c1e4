"""All that a page can show: the table and whatever was made of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from templategen.checks.finding import Finding
from templategen.fit.plan import Plan
from templategen.jigs.jig import Jig
from templategen.packet.lay_out import LaidStock
from templategen.table.assembly import Table
from templategen.table.profile.model import Units
from templategen.units import show_length, trimmed

if TYPE_CHECKING:
    from collections.abc import Mapping as Map

    from templategen.explain.quantity import Quantity


@dataclass(frozen=True)
class Made:
    """`record` is what packet.json says, `files` are the paths beside the page; `laid` and `jigs` are empty where
    that share wasn't asked for. `revision` names the state of the profile."""

    table: Table
    plan: Plan
    findings: Sequence[Finding]
    laid: LaidStock | None
    jigs: Sequence[Jig]
    record: Mapping[str, Any]
    files: Iterable[str]
    revision: str

    @property
    def units(self) -> Units:
        """The unit of figures on the page."""
        return self.table.profile.units

    def size(self, mm: float) -> str:
        """A length as the page says it, to a hundredth of a millimetre or a 64th of an inch."""
        return f"{trimmed(mm, 2)} mm" if self.units == "mm" else show_length(mm, self.units)

    @cached_property
    def pages(self) -> Map[str, Quantity]:
        """Every figure that can be explained."""
        from templategen.shop.explained import explained

        return explained(self.table, self.plan)

    @cached_property
    def paths(self) -> frozenset[str]:
        """The files there are."""
        return frozenset(self.files)

    def links(self, *paths: str) -> tuple[tuple[str, str], ...]:
        """Those of the paths that are there, as links."""
        return tuple((path, path) for path in paths if path in self.paths)
