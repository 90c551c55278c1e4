"""Tracing patterns: what a pencil and a knife draw round them is the part."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
import shapely

from templategen.geometry.outline import Outline
from templategen.jigs.jig import Jig
from templategen.jigs.tracing import tracing_patterns
from templategen.packet.shipped import shipped_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text

PENCIL = 1.3


@cache
def traced_table(name: str) -> Table:
    """A shipped table whose maker asks for patterns and has a pencil of so much."""
    profile = profile_from_text(shipped_text(name), name)
    return build_table(
        replace(
            profile,
            jigs=replace(profile.jigs, patterns="all"),
            paper=replace(profile.paper, trace_offset=PENCIL),
        )
    )


@cache
def patterns(name: str) -> tuple[Jig, ...]:
    """Its patterns."""
    return tuple(tracing_patterns(traced_table(name)))


def flat(outline: Outline) -> shapely.Polygon:
    """A fine polygon."""
    return shapely.Polygon([edge.point_at(step / 40) for edge in outline.edges for step in range(40)])


@pytest.mark.wide
def test_every_shape_has_one_pattern() -> None:
    """Each part is served by one pattern, both hands of a slat by the same."""
    table = traced_table("towpath-inch")
    served = [code for jig in patterns("towpath-inch") for code in jig.serves]
    assert sorted(served) == sorted(part.code for part in table.parts)
    for jig in patterns("towpath-inch"):
        if jig.serves[0] == "SLAT-07L":
            assert jig.serves == ("SLAT-07L", "SLAT-07R")


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-inch"])
def test_a_pencil_round_the_pattern_draws_what_is_sawn_first(name: str) -> None:
    """The pencil's middle, held off the edge, runs on the part's line; of a rim segment on its blank's."""
    table = traced_table(name)
    for jig in patterns(name):
        part, drawn = table.part(jig.serves[0]), flat(jig.parts[0].outline).buffer(PENCIL, join_style="mitre")
        wanted = flat(part.blank if part.kind in ("rim-segment", "spline") else part.outline)
        assert drawn.symmetric_difference(wanted).area < 0.02 * wanted.length, jig.code
        assert drawn.hausdorff_distance(wanted) < 0.2 or part.outline.circle is None


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-inch"])
def test_one_side_of_each_slot_is_the_line_of_a_joint(name: str) -> None:
    """Every slot that is no finger hole has a long side on the edge of a pocket, and sheet all round it."""
    table, slots = traced_table(name), 0
    for jig in patterns(name):
        part, (sheet,) = table.part(jig.serves[0]), jig.parts
        edges = [
            (-p.x if feature.face == "bottom" else p.x, p.y, -q.x if feature.face == "bottom" else q.x, q.y)
            for feature in part.features
            if feature.is_flat
            for p, q in ((edge.start, edge.end) for edge in feature.outline.edges)
        ]
        lines = [shapely.LineString([(a, b), (c, d)]) for a, b, c, d in edges]
        for one in sheet.holes:
            assert flat(sheet.outline).buffer(-5.9).contains(flat(one)), jig.code
            if one.circle:
                continue
            slots += 1
            sides = [edge for edge in one.edges if edge.length == max(e.length for e in one.edges)]
            assert any(
                all(line.distance(shapely.Point(*side.point_at(s))) < 1e-6 for s in (0, 0.5, 1))
                for side in one.edges
                for line in lines
                if side.length > 0.9 * sides[0].length
            ), jig.code
    assert slots > 8
