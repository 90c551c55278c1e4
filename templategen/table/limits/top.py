"""What rails, slats and edges of the top must keep to."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, sin, tan

from templategen.table.limits.bound import Bound, mm
from templategen.table.rails import leg_joint
from templategen.table.sizes import Sizes


def top_bounds(sizes: Sizes) -> Iterator[Bound]:
    """Every bound of `[top]` and `[slats]` but the rim's width."""
    yield from _rail_width(sizes)
    yield from _pole_hole(sizes)
    yield from _edge_round(sizes)
    yield from _eased_beside_grooves(sizes)
    yield from _height(sizes)
    yield from _slats(sizes)


def _rail_width(sizes: Sizes) -> Iterator[Bound]:
    where, width = "top.rail_width", sizes.profile.top.rail_width
    depth = sizes.profile.joints.groove_depth
    inner = 2 * sizes.inner_apothem * tan(sizes.mitre)
    found = f"{mm(width)} is wider than the inner edge of a segment, {mm(inner)}"
    yield Bound(where, width, found, below=inner, other="fewer segments" if sizes.segments > 6 else "")
    found = f"the rails of {mm(width)} fill the whole top; no field is left for slats"
    fills = 2 * sizes.field_end * sin(sizes.field_angle / 2)
    yield Bound(where, width, found, below=fills, spare=0.2 * fills, other="a narrower rim or a larger diameter")
    found = f"{mm(width)}: the grooves of both sides, {mm(depth)} each, meet"
    yield Bound(where, width, found, above=2 * depth, spare=10, other="shallower grooves")
    yield Bound(where, width, above=sizes.profile.top.pole_hole)
    yield from _room_for_legs(sizes)


def _room_for_legs(sizes: Sizes) -> Iterator[Bound]:
    """What the mortises as they are ask of the rails' width: wood beside them, and a lap that ends before them."""
    where, width, tenon = "top.rail_width", sizes.profile.top.rail_width, leg_joint(sizes)
    beside = sizes.groove.depth if tenon.depth > sizes.groove.bottom else 0.0
    yield Bound(where, width, above=tenon.mortise_thickness + 2 * beside)
    free = sizes.profile.legs.centre_distance - tenon.mortise_width / 2
    angle, play = sizes.field_angle, sizes.clearances.lap
    yield Bound(where, width, below=(2 * free * sin(angle) - play) / (1 + cos(angle)))


def _pole_hole(sizes: Sizes) -> Iterator[Bound]:
    where, hole = "top.pole_hole", sizes.profile.top.pole_hole
    narrow = min(sizes.profile.top.rail_width, sizes.profile.base.rail_width)
    found = f"a hole of {mm(hole)} cuts a lapped rail of {mm(narrow)} in two"
    yield Bound(where, hole, found, below=narrow, spare=min(40, narrow / 2))


def _edge_round(sizes: Sizes) -> Iterator[Bound]:
    where, size, thickness = "top.edge_round", sizes.profile.top.edge_round, sizes.profile.top.thickness
    found = f"rounds of {mm(size)} from both faces are more than the thickness of {mm(thickness)}"
    yield Bound(where, size, found, below=thickness / 2, closed=True)
    wall = min(sizes.wall_at_joint, sizes.wall_at_middle)
    yield Bound(where, size, f"{mm(size)} is wider than the rim", below=wall, spare=wall * 3 / 4)


def _eased_beside_grooves(sizes: Sizes) -> Iterator[Bound]:
    """What is taken off an arris comes off the cheek between it and the groove."""
    edges, groove = sizes.profile.edges, sizes.groove
    cheek = min(groove.bottom, sizes.profile.top.thickness - groove.top)
    for where, size in (("edges.rim", edges.rim), ("edges.rail", edges.rail)):
        found = f"{mm(size)} takes the whole cheek of {mm(cheek)} beside the groove"
        yield Bound(where, size, found, below=cheek, spare=cheek / 2, other="a thinner tongue")


def _height(sizes: Sizes) -> Iterator[Bound]:
    height = sizes.profile.top.height
    found = f"{mm(height)} leaves {mm(sizes.leg_height)} for the legs above base and feet"
    least = height - sizes.leg_height
    yield Bound("top.height", height, found, above=least, spare=100, other="thinner base and feet")


def _slats(sizes: Sizes) -> Iterator[Bound]:
    slats, tongue = sizes.profile.slats, sizes.groove.tongue_thickness
    thick = sizes.profile.top.thickness
    found = f"{mm(slats.thickness)} is thicker than the rim of {mm(thick)}"
    yield Bound("slats.thickness", slats.thickness, found, below=thick, closed=True)
    yield Bound("slats.thickness", slats.thickness, above=tongue)
    if slats.face == "flush":
        yield Bound("slats.thickness", slats.thickness, below=2 * thick - sizes.groove.width)
    found, half = f"{mm(slats.chamfer)} is half the slat's thickness", slats.thickness / 2
    yield Bound("slats.chamfer", slats.chamfer, found, below=half, spare=min(half, tongue / 2))
    lower = sizes.profile.edges.slat
    yield Bound("edges.slat", lower, f"{mm(lower)} is half the slat's thickness", below=half, spare=half / 2)
    yield Bound("edges.slat", lower, "the eased edges meet under the slat", below=slats.width / 2, spare=half / 2)
    found = "the chamfers meet across the slat"
    yield Bound("slats.chamfer", slats.chamfer, found, below=slats.width / 2, spare=slats.width / 3)
