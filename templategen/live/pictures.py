"""What the page shows of a table: one of a few pictures, each made by what draws the packet's."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from templategen.catalogue import fault_of
from templategen.errors import OutputError
from templategen.fit.plan import Plan
from templategen.live.spans import Span, plan_spans, section_spans
from templategen.table.assembly import Table

Shown = dict[str, Any]
"""Which `view` it is; `svg`, several of them, or a `scene` to be turned; `spans` can be drawn on the first."""


WIDE, NARROW = 54.0, 30.0
"""So many capital heights are a table wide, on a desk and on a phone."""


def shown(table: Table, view: str, part: str = "", narrow: bool = False) -> Shown:
    """The picture called `view`, of `part` where it shows one; lettered for a phone where it is `narrow`.

    Raises:
        OutputError: no such picture or part.
    """
    if view == "part":
        return {"view": view, **_part(table, part)}
    if view in ("round", "apart"):
        return {"view": view, **_turned(table)}
    if view not in VIEWS:
        raise OutputError(
            fault_of(
                "view", '"{view}" is no picture', "try {names}", view=view[:20], names=", ".join((*VIEWS, "part"))
            )
        )
    return {"view": view, **VIEWS[view](table, NARROW if narrow else WIDE)}


def _above(table: Table, letters: float) -> Shown:
    from templategen.drawing.toned_plan import toned_plan

    return _one(toned_plan(table, letters), plan_spans(table))


def _section(table: Table, letters: float) -> Shown:
    from templategen.drawing.elevation import elevation_drawing
    from templategen.drawing.layers import TEXT

    drawn = elevation_drawing(table, letters)
    marks = tuple(mark for mark in drawn.marks if mark.layer is not TEXT)
    return _one(replace(drawn, marks=marks), section_spans(table))


def _one(drawing: Any, spans: tuple[Span, ...]) -> Shown:
    from templategen.output.svg_inline import inline_svg

    return {"svg": [inline_svg(drawing, "shown")], "spans": [span.plain for span in spans if span.value > 0]}


def _turned(table: Table) -> Shown:
    """Solids to be turned. Apart, slats and ring go straight outwards: an order of assembly takes longer to find than
    a picture may take."""
    from templategen.drawing.scene import scene

    return {"scene": scene(table, Plan((), "locked")), "spans": []}


def _part(table: Table, code: str) -> Shown:
    from templategen.drawing.part_sheet import face_views
    from templategen.output.svg_inline import inline_svg

    part = next((one for one in table.parts if one.code == code), table.parts[0])
    profile = table.profile
    views = face_views(part, units=profile.units, layers=profile.dxf.units)
    return {
        "svg": [inline_svg(one.drawing, f"face-{number}") for number, one in enumerate(views)],
        "titles": [one.title for one in views], "notes": [list(one.notes) for one in views],
        "part": part.code, "name": part.name, "kind": part.kind, "count": part.count, "spans": [],
    }  # fmt: skip


VIEWS: Mapping[str, Callable[[Table, float], Shown]] = {"above": _above, "section": _section}
"""Flat pictures of the whole table."""
