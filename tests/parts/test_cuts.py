"""Work on a part by kind, and what a side cut takes in plan, on a part without any symmetry."""

from __future__ import annotations

from math import pi, sqrt
from typing import get_args

import pytest

from templategen.geometry.edge import Line
from templategen.geometry.outline import polygon, rectangle
from templategen.geometry.point import Point
from templategen.parts.face import flat_faces, side_face, side_faces
from templategen.parts.feature import Feature
from templategen.parts.kinds import KINDS, FeatureKind
from templategen.parts.part import Part
from templategen.parts.volume import mass, volume
from templategen.parts.work import works

RING = ((0.0, 0.0), (211.0, 0.0), (173.0, 61.0), (17.0, 47.0))
THICK = 23.0


def lopsided(*features: Feature, turned: bool = False) -> Part:
    """A piece with four different corners; `turned` is its other hand, mirrored in y."""
    ring = [(x, -y) for x, y in reversed(RING)] if turned else list(RING)
    outline = polygon(ring)
    points = [Point(x, y) for x, y in ring]
    sides = [(f"edge-{i + 1}", points[i], points[(i + 1) % 4]) for i in range(4)]
    faces = (*flat_faces(outline, THICK), *side_faces(sides, THICK))
    return Part("X", "piece", "rail", 1, "oak", THICK, outline, outline, features, faces=faces)


def test_a_side_cut_lies_inside_the_wood_on_either_hand() -> None:
    """Along the leaning edge from 31 to 55, 9 deep and 2 out, by the edge's own direction and normal."""
    cut = Feature("groove", "edge-2", rectangle(31, 5, 55, 12), 9, "groove")
    for turned in (False, True):
        part = lopsided(cut, turned=turned)
        face = part.face("edge-2")
        (x, y), along = face.origin[:2], face.along
        inward = (-along.y, along.x)
        wanted = [
            (x + u * along.x + d * inward[0], y + u * along.y + d * inward[1])
            for u, d in ((31, -2), (55, -2), (55, 9), (31, 9))
        ]
        found = part.side_cut(cut, 2.0).points
        assert [tuple(point) for point in found] == [pytest.approx(point) for point in wanted]
        deep = part.side_cut(cut).points[2:]
        assert all(part.outline.contains(point) for point in deep)


def test_cuts_are_those_of_the_kinds_asked_in_their_order() -> None:
    """Of three kinds on four faces two are asked for; order is the part's."""
    first = Feature("groove", "edge-4", rectangle(3, 5, 19, 12), 9, "groove")
    lap = Feature("lap", "bottom", rectangle(-83, 2, -41, 29), 11, "saw")
    last = Feature("spline-slot", "edge-1", rectangle(50, 8, 90, 13), 7, "slot")
    other = Feature("groove", "edge-1", rectangle(110, 4, 140, 9), 5, "groove")
    part = lopsided(last, first, lap, other)
    assert part.cuts("groove", "spline-slot") == (last, first, other)
    assert part.cuts("lap") == (lap,)
    assert part.cuts("mortise") == ()
    assert [feature.is_flat for feature in part.features] == [False, False, True, False]


def test_mass_is_volume_by_density() -> None:
    """A pocket under the piece makes it lighter by just its prism; densities are per cubic metre."""
    whole = lopsided()
    pocket = Feature("relief", "bottom", rectangle(-83, 5, -41, 29), 11, "rebate")
    area = (211 * 61 + 173 * 47 - 17 * 61) / 2
    assert volume(whole) == pytest.approx(area * THICK)
    assert mass(whole, 730) - mass(lopsided(pocket), 730) == pytest.approx(42 * 24 * 11 * 730e-9)


def test_every_kind_takes_its_share_of_the_prism() -> None:
    """Arrises take a corner, worked out anew here; all others their whole prism, save holes that the part has."""
    shares = {"round-over": 1 - pi / 4, "chamfer": 0.5, "bead": 3 * 0.16 * (1 - pi / 4) + 0.16}
    for kind in get_args(FeatureKind):
        took = volume(lopsided()) - volume(lopsided(Feature(kind, "top", rectangle(60, 5, 71, 12), 3, "cut")))
        assert took == pytest.approx(0 if kind == "hole" else 11 * 7 * 3 * shares.get(kind, 1.0)), kind
    assert KINDS["round-over"].saves == pytest.approx(2 - pi / 2)
    assert KINDS["chamfer"].saves == pytest.approx(2 - sqrt(2))
    assert KINDS["bead"].saves == pytest.approx(2 - 0.6 * pi - 1.2)
    assert KINDS["lap"].saves == 0


def test_work_on_both_faces_counts_once_where_it_is_one_tongue() -> None:
    """Tongues, tenons and round-overs are cut from both faces; laps and mortises of two faces are two."""
    zone = rectangle(60, 5, 71, 12)
    for kind in get_args(FeatureKind):
        both = [Feature(kind, face, zone, 3, "cut") for face in ("top", "bottom")]
        counted = {"tongue": 1, "tenon": 1, "round-over": 1, "bead": 1}.get(kind, 2)
        assert [(work.kind, work.count) for work in works(lopsided(*both))] == [(kind, counted)]


def test_a_side_face_runs_along_its_edge_whichever_hand() -> None:
    """u starts at the edge's first point; the normal points out of the wood."""
    face = side_face("edge-2", Line(Point(211, 0), Point(173, 61)), THICK)
    assert face.point(10, 4)[2] == 4
    assert face.normal.x > 0 and face.normal.y > 0
