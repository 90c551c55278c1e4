"""What the ground cross and its feet must keep to."""

from collections.abc import Iterator

from templategen.table.bounds.bound import Bound
from templategen.table.edge_room import room_for_edges
from templategen.table.glides import sole
from templategen.table.pedestal import base_lap
from templategen.table.rails import leg_joint
from templategen.table.sizes import Sizes

LEAST_IN_LAP = 5.0
"""What a relief must leave of the lowest rail in the lap, mm."""


def base_bounds(sizes: Sizes) -> Iterator[Bound]:
    """Every bound of `[base]` but those of the legs on it."""
    yield from _length(sizes)
    yield from _feet(sizes)
    yield from _eased(sizes)
    if sizes.profile.base.glides != "none":
        yield from _glides(sizes)
    if sizes.profile.base.feet == "relieved":
        yield from _relief(sizes)


def _length(sizes: Sizes) -> Iterator[Bound]:
    base, reach = sizes.profile.base, base_lap(sizes).reach
    fields = {"rail": base.rail_width}
    yield Bound("base.length", base.length, "base-all-lap", above=2 * reach, spare=200, fields=fields)
    yield Bound("base.length", base.length, above=2 * (reach + base.foot_length))


def _feet(sizes: Sizes) -> Iterator[Bound]:
    base = sizes.profile.base
    foot, end, half = base.foot_length, base.end_round, base.rail_width / 2
    free = base.length / 2 - base_lap(sizes).reach
    if free > 0:
        yield Bound("base.foot_length", foot, "feet-into-lap", below=free, spare=5)
        yield Bound("base.foot_length", foot, above=end, closed=True)
    yield Bound("base.end_round", end, "end-over-half", below=half, closed=True)
    yield Bound("base.end_round", end, "end-over-foot", below=foot, closed=True)


def _eased(sizes: Sizes) -> Iterator[Bound]:
    most = room_for_edges(sizes)["edges.base"]
    fields = {"least": 2 * most}
    size = sizes.profile.edges.base
    if most > 0:  # else the relief takes all, which is told as that
        yield Bound("edges.base", size, "arrises-leave-nothing", below=most, spare=most / 2, fields=fields)


def _glides(sizes: Sizes) -> Iterator[Bound]:
    """A glide lies under its foot, beside the drain hole; its screw stays under a mortise's floor."""
    base, legs = sizes.profile.base, sizes.profile.legs
    across, _, deep = base.glide
    (inner, outer), half, hole = sole(sizes), base.drain_hole / 2, legs.base_centre_distance
    room = min(base.rail_width - 2 * sizes.profile.edges.base, (outer - inner) / base.glides_each)
    yield _glide("glide-over-foot", across, room)
    if half > 0 and inner - half < hole < outer + half:
        beside = (outer - hole - half, hole - inner - half)
        yield _glide("glide-over-drain", across, min(beside) if base.glides_each > 1 else max(beside))
    wood = sizes.foot_height - sizes.glide_height + base.thickness - leg_joint(sizes).depth
    where, fields = "base.glide", {"wood": wood}
    if wood > 0:  # else the mortise goes right through, which is told as that
        yield Bound(where, deep, "glide-into-mortise", below=wood, spare=5, aspect="length", fields=fields)


def _glide(kind: str, across: float, room: float) -> Bound:
    fields = {"room": max(0.0, room)}
    return Bound("base.glide", across, kind, below=room, spare=2, closed=True, aspect="diameter", fields=fields)


def _relief(sizes: Sizes) -> Iterator[Bound]:
    base, tenon = sizes.profile.base, leg_joint(sizes)
    where, relief = "base.foot_thickness", base.foot_thickness
    most = base.thickness - LEAST_IN_LAP * sizes.rails
    spare, fields = 3.0 * sizes.rails, {"thick": base.thickness}
    yield Bound(where, relief, "relief-into-lap", below=most, spare=spare, closed=True, fields=fields)
    yield Bound(where, relief, below=base.thickness - tenon.depth)
