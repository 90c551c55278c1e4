"""Closing a half-cut ring: against linear programmes, against polygons, and within the maker's limits."""

from __future__ import annotations

from dataclasses import replace
from math import degrees, fsum, hypot, pi, radians, tan
from random import Random

import pytest

from templategen.shop.refit.close import Closed, close
from templategen.shop.refit.piece import RingPiece, lay, missing_angle, opening, regular
from templategen.shop.refit.ring import designed, to_recut, within
from tests.shop.rings import REACH, half_cut, least_gap
from tests.table.made import table_of

NEAR = 1e-5
"""How near the programmes' answer must be, mm: they solve to 1e-7 with straightened gaps."""


def agree_with_reference(seeds: range) -> tuple[int, int]:
    """Closes random rings both ways; how many there were, and how many of them stay open."""
    pytest.importorskip("scipy")
    still_open = 0
    for seed in seeds:
        pieces = half_cut(Random(seed))
        closed = close(pieces, REACH, 0.5)
        assert closed.widest == pytest.approx(least_gap(pieces, REACH), abs=NEAR), seed
        still_open += closed.widest > NEAR
    return len(seeds), still_open


@pytest.mark.wide
def test_random_rings_close_to_the_least_gap() -> None:
    """No positions and no shapes within reach leave a smaller widest gap than the re-fit does."""
    count, still_open = agree_with_reference(range(50))
    assert 0 < still_open < count


@pytest.mark.slow
def test_a_thousand_random_rings_close_to_the_least_gap() -> None:
    """The same for 1,000 rings, in all sizes and states of cutting."""
    count, still_open = agree_with_reference(range(1000, 2000))
    assert 0 < still_open < count


def polygons_meet(closed: Closed) -> None:
    """Every joint of the ring as laid touches, gapes as told and overlaps nowhere."""
    count = len(closed.pieces)
    for index, gap in enumerate(closed.gaps):
        inner, outer = opening(closed.laid[index], closed.laid[(index + 1) % count])
        assert min(inner, outer) == pytest.approx(0.0, abs=1e-8)
        assert max(inner, outer) == pytest.approx(gap, abs=1e-8)
        assert (outer > inner) == (closed.joints[index].wedge > 0) or gap < 1e-8


@pytest.mark.parametrize("seed", range(60))
def test_closed_rings_are_closed(seed: int) -> None:
    """Laid piece by piece the ring comes back to its beginning, faces touch, and what is cut keeps its shape."""
    pieces = half_cut(Random(seed))
    closed = close(pieces, REACH, 0.5)
    _, again = lay(closed.pieces, closed.joints, closed.laid[0])
    first = closed.laid[0]
    assert hypot(again.corner.x - first.corner.x, again.corner.y - first.corner.y) < 1e-9
    assert again.heading - first.heading == pytest.approx(2 * pi, abs=1e-12)
    polygons_meet(closed)
    mitre = pi / len(pieces)
    for before, after in zip(pieces, closed.pieces, strict=True):
        if before.cut:
            assert before == after
            continue
        assert abs(after.left - mitre) <= REACH.angle + 1e-12 and abs(after.right - mitre) <= REACH.angle + 1e-12
        assert abs(after.length - before.length) <= REACH.length + 1e-12
    if closed.alike:
        assert len({piece for piece in closed.pieces if not piece.cut}) <= 1
        assert closed.step <= 0.5 or all(piece.cut for piece in pieces)


def test_an_uncut_ring_stays_as_drawn() -> None:
    """With nothing cut, or all cut as drawn, nothing changes to the last digit."""
    for count in (6, 8, 12, 24):
        drawn = regular(count, 2 * 549 * tan(pi / count), 126.0)
        for pieces in (drawn, tuple(replace(piece, cut=index % 2 == 0) for index, piece in enumerate(drawn))):
            closed = close(pieces, REACH, 0.5)
            assert closed.pieces == pieces and closed.widest == closed.step == 0.0


def test_one_template_serves_all_the_rest() -> None:
    """Ordinary errors on half a ring leave one shape for all that is still to cut, and the ring keeps its size."""
    drawn = regular(12, 294.208, 126.0)
    rng = Random(3)
    pieces = [
        replace(p, length=p.length + rng.gauss(0, 0.3), left=p.left + rng.gauss(0, radians(0.1)), cut=True)
        if i % 2
        else p
        for i, p in enumerate(drawn)
    ]
    closed = close(pieces, REACH, 0.5)
    assert closed.alike and closed.widest == 0.0
    assert fsum(p.length for p in closed.pieces) == pytest.approx(fsum(p.length for p in drawn))
    assert missing_angle(closed.pieces) == pytest.approx(0.0, abs=1e-12)


def test_slides_are_of_least_squares() -> None:
    """No other slides close the ring with smaller squares: each is one pull seen along its joint."""
    pieces = half_cut(Random(2))
    closed = close(pieces, REACH, 100.0)
    slides = [joint.slide for joint in closed.joints]
    ways = [laid.left_way for laid in closed.laid]
    xx, yy, xy = (fsum(a[i] * a[j] for a in ways) for i, j in ((0, 0), (1, 1), (0, 1)))
    bx, by = (fsum(s * w[i] for s, w in zip(slides, ways, strict=True)) for i in (0, 1))
    a, b = (yy * bx - xy * by) / (xx * yy - xy**2), (xx * by - xy * bx) / (xx * yy - xy**2)
    for slide, way in zip(slides, ways, strict=True):
        assert slide == pytest.approx(a * way.x + b * way.y, abs=2e-3)


def test_the_culprit_is_named() -> None:
    """Of a ring all cut that can't close, the one segment far off is the one to recut, wherever it stands."""
    table = table_of()
    limits, drawn = table.profile.limits, designed(table.sizes)
    rng = Random(8)
    for place in range(12):
        pieces = [
            replace(drawn, left=drawn.left + rng.gauss(0, radians(0.01)), length=drawn.length + rng.gauss(0, 0.05),
                    cut=True)
            for _ in range(12)
        ]  # fmt: skip
        way = rng.choice((-1, 1))
        pieces[place] = replace(pieces[place], right=drawn.right + way * radians(1.5))
        assert to_recut(pieces, limits, drawn) == (place,)
        anew = [drawn if index == place else piece for index, piece in enumerate(pieces)]
        assert within(close(anew, REACH, 0.5), limits)


def test_two_culprits_are_named() -> None:
    """Where one piece anew is not enough, two are named, and then the ring closes."""
    table = table_of()
    limits, drawn = table.profile.limits, designed(table.sizes)
    pieces = [replace(drawn, cut=True)] * 12
    pieces[2] = replace(pieces[2], left=drawn.left + radians(2.5))
    pieces[7] = replace(pieces[7], left=drawn.left + radians(2.5))
    assert sorted(to_recut(pieces, limits, drawn)) == [2, 7]


def test_reach_keeps_corrections_small() -> None:
    """What the ends still to cut may not take up stays open, shared by all joints."""
    drawn = regular(12, 294.208, 126.0)
    pieces = [RingPiece(294.208, p.left + radians(1), p.right, 126.0, True) if i else p for i, p in enumerate(drawn)]
    closed = close(pieces, REACH, 0.5)
    assert degrees(missing_angle(closed.pieces)) == pytest.approx(-11 + 2)
    assert max(closed.gaps) == pytest.approx(min(closed.gaps), rel=1e-3)
    assert {joint.wedge < 0 for joint in closed.joints} == {True}
