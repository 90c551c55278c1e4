"""The rounding template: the nose that rounds the ends of base rails and feet, led along its outside."""

from collections.abc import Iterator
from dataclasses import dataclass

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.errors import Fault
from templategen.geometry.edge import Line
from templategen.geometry.guide import BUSH_WALL
from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.point import Point, Vertex
from templategen.geometry.rounded import QUARTER_BULGE
from templategen.jigs.bush import CLAMPED, faults_of, fitted, guide_of, projection, refuse, refused
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.mortise_template import FENCE, FENCE_PLAY
from templategen.jigs.piece import distance, line, piece, shown
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.units import length_by_rule

RUN_IN = 20.0
"""Length of nose behind the rounding, so that the bit is on its path before it meets the wood, mm."""

BODY = 130.0
"""Template behind the nose, which the fences and clamps hold, mm."""

LEAVE = 2.0
"""Allowance that the saw leaves for the router, mm."""

CARRIED = 75.0
"""Least length of a part behind the nose that carries the template by itself, mm."""


def rounding_templates(table: Table) -> Iterator[Jig]:
    """The template for base rails, and for pads where there are any; none for square ends.

    Raises:
        DesignError: the bush is too thick for the radius, or too thin for the bit.
    """
    base = table.profile.base
    if base.end_round <= 0:
        return
    refuse(_faults(table.profile))
    job = _Job(table.profile)
    serves = tuple(part.code for part in table.parts if part.kind in ("base-rail", "foot"))
    yield Jig(
        "ROUND",
        "template for rounded rail ends",
        serves,
        tuple(_pieces(job)),
        tuple(_scribes(job)),
        tuple(_figures(job)),
        tuple(_use(job, [part for part in table.parts if part.code in serves])),
        (
            said("Rout one corner of STRIP-BASE: the round runs out {far} from the end and from the "
                 "side, with no step in either.", far=shown(base.end_round, table.profile)),
            "Lay the finished end on the paper template of the part.",
        ),
        (
            *CLAMPED,
            "Start it clear of the wood at its full depth for that pass, and bring it in from the side.",
            ("Half the router's base hangs over: hold it down on the side of the template, a block as high as work "
            "and template beyond the nose."),
            ("Go round the outside against the bit's turn, left to right as you face the edge; the last of the "
            "end grain breaks out, so start from both sides or back it with a scrap."),
        ),
    )  # fmt: skip


def _faults(profile: Profile) -> Iterator[Fault]:
    """A bush that rolls round a sharp corner still leaves the offset as a radius: nothing smaller can be made."""
    guide, radius = guide_of(profile), profile.base.end_round
    yield from faults_of(profile, profile.base.rail_width)
    if guide.fits and guide.offset > radius:
        kind = "no-bush-for-round" if radius < BUSH_WALL else "bush-over-round"
        sizes = {"bit": guide.bit, "bush": guide.bush, "least": guide.offset, "size": radius}
        yield refused("shop.guide_bush", kind, profile, **sizes, most=guide.bit + 2 * radius)


@dataclass(frozen=True)
class _Job:
    """Frame: the finished end of the rail at x = 0, the rail towards negative x, its middle along y = 0."""

    profile: Profile

    @property
    def half(self) -> float:
        """Half the rail."""
        return self.profile.base.rail_width / 2

    @property
    def nose(self) -> float:
        """From the rail's end to the back of the nose, whose shoulders lie on the line that is squared across it."""
        return self.profile.base.end_round + guide_of(self.profile).bush / 2 + RUN_IN

    @property
    def radius(self) -> float:
        """Of the template's corners: the finished ones less the offset."""
        return self.profile.base.end_round - guide_of(self.profile).offset

    @property
    def plate(self) -> Outline:
        """A body wide enough for two fences and in front of it the nose, the offset inside the finished end."""
        o, back = guide_of(self.profile).offset, -self.nose - BODY
        b, r, wide = self.half - o, self.radius, self.half + FENCE + 5
        bulge = QUARTER_BULGE if r > 0 else 0.0
        ring = (
            Vertex(back, -wide), Vertex(-self.nose, -wide), Vertex(-self.nose, -b), Vertex(-o - r, -b, bulge),
            Vertex(-o, -b + r), Vertex(-o, b - r, bulge), Vertex(-o - r, b), Vertex(-self.nose, b),
            Vertex(-self.nose, wide), Vertex(back, wide),
        )  # fmt: skip
        return Outline(_distinct(ring))


def _distinct(ring: tuple[Vertex, ...]) -> tuple[Vertex, ...]:
    ends = ring[1:] + ring[:1]
    return tuple(v for v, end in zip(ring, ends, strict=True) if v.point.distance(end.point) > 1e-9)


def _pieces(job: _Job) -> Iterator[Part]:
    profile = job.profile
    yield piece(profile, "ROUND-PLATE", "plate with the nose", job.plate, "template")
    yield piece(profile, "ROUND-FENCE", "fence, below the plate", rectangle(0, 0, BODY, FENCE), "template", 2)


def _scribes(job: _Job) -> Iterator[Scribe]:
    half, back = job.half + FENCE_PLAY / 2, -job.nose - BODY
    for side in (1, -1):
        ends = Point(back, side * half), Point(-job.nose, side * half)
        yield line("ROUND-PLATE", *ends, "fence outside this line")
    yield line("ROUND-PLATE", Point(back, 0), Point(-job.nose, 0), "middle of the rail", "witness")


def _figures(job: _Job) -> Iterator[Critical]:
    guide = guide_of(job.profile)
    o, half = guide.offset, job.half - guide.offset
    yield Critical("edge of the cut to edge of the template", o, "mm", how="(guide bush - router bit) / 2")
    front = Point(-job.nose, 0), Point(-o, 0)
    yield distance("shoulders to the nose's front", "ROUND-PLATE", *front, "their distance from the end - offset")
    x = -job.nose + RUN_IN / 2
    yield distance("width of the nose", "ROUND-PLATE", Point(x, -half), Point(x, half), "rail width - 2 offset")
    if job.radius > 0:
        arc = next(edge for edge in job.plate.edges if not isinstance(edge, Line))
        ends = arc.centre, arc.end if arc.end.x > arc.start.x else arc.start
        yield distance("radius of the nose's corners", "ROUND-PLATE", *ends, "base.end_round - offset")


def _down(profile: Profile, parts: list[Part]) -> Iterator[str]:
    """How far the bit goes down, at the last right through whatever it is long enough for."""
    deep = shown(profile.jigs.pass_depth, profile)
    through = [part for part in parts if part.thickness <= profile.shop.bit_length]
    if not through:
        yield said("Go down by {deep} a pass at most.", deep=deep)
    for thick in sorted({part.thickness for part in through}):
        yield said(
            "Go down by {deep} a pass at most; through {codes:all} the bit stands {out} below the base.",
            deep=deep,
            codes=[part.code for part in through if part.thickness == thick],
            out=shown(projection(profile, thick), profile),
        )


def _use(job: _Job, parts: list[Part]) -> Iterator[str]:
    profile = job.profile
    yield (
        "Saw the ends square to length first. The fences, screwed under the plate outside their lines, hold it on"
        " both edges of the rail."
    )
    yield said(
        "Square a line across the part {far} from its end: the template's shoulders lie on it, seen beside the nose.",
        far=shown(job.nose, profile),
    )
    leave = figured(length_by_rule(LEAVE, profile.units))
    short = [part.code for part in parts if part.size[0] < job.nose + CARRIED]
    if short:
        yield said(
            "{codes:all}: pare the corners straight down on waste to within {leave} of the round; tape one to"
            " the square end of STRIP-BASE, end and edges level, the others behind it to carry the plate: the fences"
            " hold the pads, clamps over the second press plate, pads and strip.",
            codes=short,
            leave=leave,
        )
    if not short:
        yield said("Saw the corners off to within {leave} of the round.", leave=leave)
    elif long := [part.code for part in parts if part.code not in short]:
        yield said("{codes:all}: saw the corners off to within {leave} of the round.", codes=long, leave=leave)
    yield fitted(profile)
    yield from _down(profile, parts)
    over = max(part.thickness for part in parts) - profile.shop.bit_length
    if over > 0:
        yield said(
            "What is thicker than that bit is long: cut {long} deep, take the template off, turn the piece over, and "
            "take the last {over} with a second bit, a flush bit whose bearing at its tip runs on what is cut.",
            long=shown(profile.shop.bit_length, profile),
            over=shown(over, profile),
        )
