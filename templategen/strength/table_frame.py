"""The table as a frame: what is taken for a bar, where bars meet and how.

Rails are bars on their middle line, weaker over the lap; the rails of a cross share their sinking at the axis and
nothing else there. The ring is a chain of bars through its middle, stiff at its glued mitres; a rail's tenon carries
no bending into it. Legs stand stiff in both crosses, as glued tenons with four shoulders do; under a top that comes
off they turn as far as bolt or peg gives way (`held`). Feet rest on the floor at their middles, or
on their glides. Slats and their tongues carry nothing.
"""

from itertools import pairwise
from math import cos, sin

from templategen.strength.frame import Bar, Frame, Section, Spring, Tie
from templategen.strength.held import turning
from templategen.table.assembly import Table
from templategen.table.glides import glides_at
from templategen.wood.species import figures_of

WET = 0.8
"""Wet wood keeps about this share of its stiffness at 12 % moisture."""

MPA_PER_GPA = 1000.0

SHEAR_SHARE = 16.0
"""Stiffness along the grain over that in shear, as EN 338 has it."""


def rectangular(width: float, height: float) -> Section:
    """A bar `width` across and `height` up: torsion by Saint-Venant's series, its usual short form."""
    long, short = max(width, height), min(width, height)
    torsion = long * short**3 * (1 / 3 - 0.21 * short / long * (1 - short**4 / (12 * long**4)))
    return Section(width * height, width * height**3 / 12, height * width**3 / 12, torsion)


def table_frame(table: Table) -> Frame:
    """Nodes: `rail.R.PLACE` and `base.R.PLACE` along each rail, `ring.I` in the middle of segments, `mitre.I`."""
    frame = Frame()
    profile, sizes = table.profile, table.sizes
    stiff = WET * MPA_PER_GPA * figures_of(profile.wood, profile.woods).stiffness
    top, base = profile.top, profile.base
    at_rim = (sizes.inner_apothem + sizes.radius) / 2
    rail = rectangular(top.rail_width - 2 * profile.joints.groove_depth, top.thickness)
    under = rectangular(base.rail_width, base.thickness)
    stands = glides_at(sizes) or ((base.length - base.foot_length) / 2,)
    foot = sum(stands) / len(stands)
    level, low = profile.top.height - top.thickness / 2, sizes.foot_height + base.thickness / 2
    _cross(frame, table, "rail", level, at_rim, profile.legs.centre_distance, rail, stiff)
    _cross(frame, table, "base", low, foot, profile.legs.base_centre_distance, under, stiff)
    _ring(frame, table, at_rim, level, stiff)
    leg = rectangular(profile.legs.section, profile.legs.section)
    for arm in range(sizes.arms):
        number, side = arm % sizes.rails, "near" if arm < sizes.rails else "far"
        way = (cos(arm * sizes.field_angle), sin(arm * sizes.field_angle), 0.0)
        head = _head(frame, table, arm, f"rail.{number}.leg.{side}")
        frame.bars[f"leg.{arm}"] = Bar(f"base.{number}.leg.{side}", head, leg, stiff, stiff / SHEAR_SHARE, way)
        frame.ties.append(Tie(f"rail.{number}.end.{side}", f"ring.{arm * sizes.segments_per_field}", ("x", "y", "z")))
        frame.supports[f"base.{number}.end.{side}"] = ("z",)
    frame.supports["base.0.end.near"] = ("x", "y", "z")
    frame.supports["base.0.end.far"] = ("y", "z")
    return frame


def _head(frame: Frame, table: Table, arm: int, rail: str) -> str:
    """The node in which a leg ends: the rail's own where it is glued, else one that turns against it."""
    spring = turning(table)
    if spring is None:
        return rail
    head = f"leg.{arm}.head"
    frame.nodes[head] = frame.nodes[rail]
    frame.ties.append(Tie(head, rail, ("x", "y", "z", "rz")))
    frame.springs.append(Spring(head, rail, ("rx", "ry"), spring))
    return head


def lap_half(table: Table, width: float) -> float:
    """How far from the axis the lap weakens a rail, along it: half its mean length."""
    return width / 2 / sin(table.sizes.field_angle)


def lap_section(table: Table, kind: str) -> Section:
    """What a rail keeps at its lap: an equal share of the height, less the pole's hole."""
    width, height = _size(table, kind)
    return rectangular(width - table.profile.top.pole_hole, height / table.sizes.rails)


def _size(table: Table, kind: str) -> tuple[float, float]:
    top, base = table.profile.top, table.profile.base
    if kind == "rail":
        return top.rail_width, top.thickness
    return base.rail_width, base.thickness - (base.foot_thickness if base.feet == "relieved" else 0.0)


def _cross(
    frame: Frame, table: Table, kind: str, z: float, end: float, leg: float, whole: Section, stiff: float
) -> None:
    """Each rail from its far end to its near one; laps are weak, and all rails sink alike at the axis."""
    half, weak = min(lap_half(table, _size(table, kind)[0]), 0.9 * leg), lap_section(table, kind)
    places = {"end.far": -end, "leg.far": -leg, "lap.far": -half, "axis": 0.0, "lap.near": half, "leg.near": leg}
    places["end.near"] = end
    for number in range(table.sizes.rails):
        turn = number * table.sizes.field_angle
        names = list(places)
        for name, along in places.items():
            frame.nodes[f"{kind}.{number}.{name}"] = (along * cos(turn), along * sin(turn), z)
        for one, other in pairwise(names):
            section = weak if "axis" in (one, other) else whole
            start, stop = f"{kind}.{number}.{one}", f"{kind}.{number}.{other}"
            frame.bars[f"{kind}.{number}.{one}-{other}"] = Bar(start, stop, section, stiff, stiff / SHEAR_SHARE)
        if number:
            frame.ties.append(Tie(f"{kind}.0.axis", f"{kind}.{number}.axis", ("x", "y", "z")))


def _ring(frame: Frame, table: Table, radius: float, z: float, stiff: float) -> None:
    """The rim through the middles of its segments and mitres."""
    sizes, top = table.sizes, table.profile.top
    wall = rectangular(sizes.wall_at_joint - table.profile.joints.groove_depth, top.thickness)
    places = [(f"{kind}.{index}", kind == "mitre") for index in range(sizes.segments) for kind in ("ring", "mitre")]
    for number, (name, at_mitre) in enumerate(places):
        out, angle = radius / cos(sizes.mitre) if at_mitre else radius, number * sizes.mitre
        frame.nodes[name] = (out * cos(angle), out * sin(angle), z)
    for (one, _), (other, _) in zip(places, [*places[1:], places[0]], strict=True):
        frame.bars[f"{one}-{other}"] = Bar(one, other, wall, stiff, stiff / SHEAR_SHARE)


def straight_down(force: float) -> tuple[float, ...]:
    """A load of `force` N on a node."""
    return (0.0, 0.0, -force, 0.0, 0.0, 0.0)
