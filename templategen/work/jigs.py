"""Making the jigs: which of them the set-ups of this plan need, and which serve another way of working."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from templategen.jigs.run import jigs_that_go
from templategen.shop.cautions import DEFER, DUST
from templategen.shop.set_ups.set_up import SetUp
from templategen.table.assembly import Table
from templategen.work.operation import Operation

IN_PLACE: Mapping[str, tuple[str, str]] = {
    "PIVOT": ("saw round", "pivot"),
    "TRAMMEL": ("saw round", "trammel"),
    "MORTISE": ("mortise", "template"),
    "SLOT": ("spline slot", "template"),
    "GROOVE": ("groove", "template"),
    "ROUND": ("round corner", "template"),
}
"""Jigs that one way of an operation alone needs: the operation, and the word by which its set-up names the jig."""


def jigs_made(table: Table, set_ups: Sequence[SetUp]) -> Iterable[Operation]:
    """Making the jigs before anything else; none where there are none."""
    codes = [jig.code for jig in jigs_that_go(table)[0]]
    if not codes:
        return
    needed = [code for code in codes if _is_needed(code, set_ups)]
    others = [code for code in codes if code not in needed]
    tells = [
        f"make {', '.join(needed)}: the sheet of each (jigs/) has its pieces, its lines and its proof",
        "each before the first set-up of a part that it serves; what glues the ring by the dry fit",
    ]
    if others:
        tells.append(f"{', '.join(others)} only where you work by them in place of the machine that a set-up tells")
    rates = table.profile.rates
    yield Operation(
        "make the jigs", "router or saw, drill, knife", "boards", f"{len(needed)} jigs, once for all tables",
        tuple(tells), "each by the proof on its own sheet", (DUST, DEFER), minutes=rates.set_up * len(needed),
    )  # fmt: skip


def _is_needed(code: str, set_ups: Iterable[SetUp]) -> bool:
    """Whether a set-up works by a jig, or it serves whatever the way."""
    operation, word = IN_PLACE.get(code.partition("-")[0], ("", ""))
    return not operation or any(one.operation == operation and word in one.machine for one in set_ups)
