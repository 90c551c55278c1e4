"""What `refit` prints of the ring and of what is still to cut."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from templategen.catalogue import translated
from templategen.checks.describe import said

if TYPE_CHECKING:
    from templategen.shop.refit.refit import Refit


def refit_lines(found: Refit) -> Iterator[str]:
    """The re-fit in a few lines."""
    profile, rebuilt, closed = found.drawn.profile, found.rebuilt, found.seated.closed
    yield click.style(said("{title}, re-fitted", title=profile.title), bold=True)
    cut, wanted = len(found.settled.cut), sum(rebuilt.to_cut.values())
    yield said("{cut} parts cut, {wanted} to cut", cut=cut, wanted=wanted)
    new = [f"{rebuilt.to_cut[code]} x {code}" for code in rebuilt.new]
    yield said("drawn anew: {new:all}", new=new) if new else translated("nothing drawn anew")
    if cut:
        yield said(
            "widest gap in the ring {gap:size}, largest step {step:size}",
            profile.units, gap=closed.widest, step=closed.step,
        )  # fmt: skip
