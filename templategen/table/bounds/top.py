"""What rails, slats and edges of the top must keep to."""

from collections.abc import Iterator
from math import cos, sin, tan

from templategen.table.bounds.bound import Bound
from templategen.table.edge_room import room_for_edges
from templategen.table.rails import leg_joint
from templategen.table.sizes import Sizes


def top_bounds(sizes: Sizes) -> Iterator[Bound]:
    """Every bound of `[top]` and `[slats]` but the rim's width."""
    yield from _rail_width(sizes)
    yield from _pole_hole(sizes)
    yield from _edge_round(sizes)
    yield from _eased_beside_grooves(sizes)
    yield from _height(sizes)
    if sizes.profile.top.drip_groove[2] > 0:
        yield from _drip_groove(sizes)
    yield from _slats(sizes)


def _rail_width(sizes: Sizes) -> Iterator[Bound]:
    where, width = "top.rail_width", sizes.profile.top.rail_width
    depth = sizes.profile.joints.groove_depth
    inner = 2 * sizes.inner_apothem * tan(sizes.mitre)
    kind = "rail-over-segment" if sizes.segments > 6 else "rail-over-least-segment"
    yield Bound(where, width, kind, below=inner, fields={"edge": inner})
    fills = 2 * sizes.field_end * sin(sizes.field_angle / 2)
    yield Bound(where, width, "rails-fill-top", below=fills, spare=0.2 * fills)
    yield Bound(where, width, "grooves-meet", above=2 * depth, spare=10, fields={"depth": depth})
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
    yield Bound(where, hole, "hole-cuts-rail", below=narrow, spare=min(40, narrow / 2), fields={"rail": narrow})


def _edge_round(sizes: Sizes) -> Iterator[Bound]:
    where, size, thickness = "top.edge_round", sizes.profile.top.edge_round, sizes.profile.top.thickness
    fields = {"thick": thickness}
    yield Bound(where, size, "rounds-over-thickness", below=thickness / 2, closed=True, fields=fields)
    wall = min(sizes.wall_at_joint, sizes.wall_at_middle)
    yield Bound(where, size, "round-over-rim", below=wall, spare=wall * 3 / 4)


def _eased_beside_grooves(sizes: Sizes) -> Iterator[Bound]:
    """What is taken off an arris comes off the cheek between it and the groove."""
    edges, room = sizes.profile.edges, room_for_edges(sizes)
    for path, size in (("edges.rim", edges.rim), ("edges.rail", edges.rail)):
        cheek = room[path]
        if cheek > 0:  # else the groove breaks out, which is told as that
            yield Bound(path, size, "arris-over-cheek", below=cheek, spare=cheek / 2, fields={"cheek": cheek})


def _drip_groove(sizes: Sizes) -> Iterator[Bound]:
    """Between the rounded edge and the eased inner one, and under the splines and the slats' groove."""
    top, joints, where = sizes.profile.top, sizes.profile.joints, "top.drip_groove"
    inwards, width, depth = top.drip_groove
    fields = {"round": top.edge_round}
    yield Bound(
        where, inwards, "drip-in-round-over", above=top.edge_round, spare=3, aspect="from_edge", fields=fields
    )
    wall = sizes.wall_at_joint if sizes.is_sawn else top.rim_width
    room = wall - inwards - sizes.profile.edges.rim
    yield Bound(
        where, width, "drip-past-rim", below=room, spare=10, aspect="width", fields={"inwards": inwards, "wall": wall}
    )
    under = min(
        sizes.groove.bottom,
        (top.thickness - joints.spline_thickness) / 2 if joints.spline != "none" else top.thickness,
    )
    if under > 0:  # else groove or spline break out, which is told as that
        yield Bound(where, depth, "drip-into-slots", below=under, spare=5, aspect="depth", fields={"under": under})


def _height(sizes: Sizes) -> Iterator[Bound]:
    height = sizes.profile.top.height
    least = height - sizes.leg_height
    fields = {"least": least, "over": -sizes.leg_height}
    yield Bound("top.height", height, "no-height-for-legs", above=least, spare=100, fields=fields)


def _slats(sizes: Sizes) -> Iterator[Bound]:
    slats, tongue = sizes.profile.slats, sizes.groove.tongue_thickness
    thick = sizes.profile.top.thickness
    fields = {"rim": thick}
    yield Bound("slats.thickness", slats.thickness, "slat-over-rim", below=thick, closed=True, fields=fields)
    yield Bound("slats.thickness", slats.thickness, above=tongue)
    if slats.face == "flush":
        yield Bound("slats.thickness", slats.thickness, below=2 * thick - sizes.groove.width)
    half = slats.thickness / 2
    yield Bound("slats.chamfer", slats.chamfer, "chamfer-over-half", below=half, spare=min(half, tongue / 2))
    lower = sizes.profile.edges.slat
    yield Bound("edges.slat", lower, "chamfer-over-half", below=half, spare=half / 2)
    yield Bound("edges.slat", lower, "arrises-meet-under-slat", below=slats.width / 2, spare=half / 2)
    yield Bound("slats.chamfer", slats.chamfer, "chamfers-meet", below=slats.width / 2, spare=slats.width / 3)


WHERE = "top.rim_width"


def rim_bounds(sizes: Sizes) -> Iterator[Bound]:
    """What the rim's width must keep to."""
    width, radius = sizes.profile.top.rim_width, sizes.outer_apothem
    yield Bound(WHERE, width, "rim-over-radius", below=radius, fields={"radius": radius})
    if sizes.is_sawn:
        least = sizes.outer_apothem - sizes.radius * cos(sizes.mitre)
        fields = {"by": -sizes.wall_at_joint}
        yield Bound(WHERE, width, "rim-inside-circle", above=least, spare=_wanted_wall(sizes), fields=fields)
    yield Bound(WHERE, width, below=radius - _least_apothem(sizes))


def _wanted_wall(sizes: Sizes) -> float:
    """Rim that a groove, a spline and a rounded edge ask for beyond the bare joint."""
    joints, top = sizes.profile.joints, sizes.profile.top
    spline = 0.0 if joints.spline == "none" else 2 * joints.spline_thickness + 20
    return joints.groove_depth + top.edge_round + 10 + spline


def _least_apothem(sizes: Sizes) -> float:
    """What the rails and legs as they are need inside the ring."""
    legs, half = sizes.profile.legs, sizes.field_angle / 2
    return max(
        sizes.half_rail / tan(sizes.mitre),
        sizes.half_rail / sin(half),
        legs.centre_distance + leg_joint(sizes).mortise_width / 2,
    )
