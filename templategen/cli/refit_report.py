"""What `refit` prints of the ring and of what is still to cut."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from templategen.checks.wording import format_size

if TYPE_CHECKING:
    from templategen.shop.refit.refit import Refit


def refit_lines(found: Refit) -> Iterator[str]:
    """The re-fit in a few lines."""
    profile, rebuilt, closed = found.drawn.profile, found.rebuilt, found.seated.closed
    yield click.style(f"{profile.title}, re-fitted", bold=True)
    cut, wanted = len(found.settled.cut), sum(rebuilt.to_cut.values())
    yield f"{cut} parts cut, {wanted} to cut"
    new = [f"{rebuilt.to_cut[code]} x {code}" for code in rebuilt.new]
    yield f"drawn anew: {', '.join(new)}" if new else "nothing drawn anew"
    if cut:
        gap, step = (format_size(size, "mm", profile.units) for size in (closed.widest, closed.step))
        yield f"widest gap in the ring {gap}, largest step {step}"
