"""The whole table: every part in place and the joints between them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import pi

from templategen.catalogue import worded
from templategen.errors import DesignError, Fault
from templategen.geometry.point import polar
from templategen.geometry.tolerance import ON_EDGE
from templategen.joinery.joint import JOINTS, Joint, JointKind
from templategen.parts.face import Point3
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.bounds.refuse import refuse_impossible
from templategen.table.pedestal import base_lap, foot_placement, leg_axis, leg_origin, make_base, make_leg
from templategen.table.placed import Placed, lying, standing
from templategen.table.profile.change import changed
from templategen.table.profile.choices import TopJoint
from templategen.table.profile.model import Profile
from templategen.table.profile.suggest import did_you_mean
from templategen.table.rails import (
    ArmRuns,
    TenonSpan,
    lap_of,
    leg_joint,
    make_rails,
    rail_placement,
    tenon_span,
    top_leg_joint,
    top_peg,
)
from templategen.table.rim import Ring, joint_placement, make_ring, mitre_contact, segment_placement
from templategen.table.runs import Run, eased, joined, run_on_arm, run_on_rim, tongue_on
from templategen.table.sizes import Sizes
from templategen.table.slat_parts import LaidSlat, make_slats
from templategen.table.spacing import Spacing, spacing_of

ON_TOP: Mapping[TopJoint, JointKind] = {
    "glued": "leg-tenon", "bolted": "bolted-tenon", "draw-bored": "draw-bored-tenon",
}  # fmt: skip
"""How each leg meets its rail in the top."""


@dataclass(frozen=True, slots=True)
class Table:
    """A table that can be built: its parts (each kind once, with a count), where every copy stands, and the joints
    between copies."""

    profile: Profile
    sizes: Sizes
    spacing: Spacing
    parts: tuple[Part, ...]
    placed: tuple[Placed, ...]
    joints: tuple[Joint, ...]

    def part(self, code: str) -> Part:
        """The part called `code`.

        Raises:
            DesignError: the table has no such part.
        """
        for part in self.parts:
            if part.code == code:
                return part
        remedy = did_you_mean(code, [part.code for part in self.parts])
        raise DesignError(Fault("part", worded('"{code}" is no part of this table', code=code), remedy))

    def with_(self, changes: Mapping[str, object] | None = None, /, **named: object) -> Table:
        """The table with other values for some keys of its profile: `table.with_(diameter=1400, slats_gap="8 mm")`.

        Keys are named as in `changed`; a mapping takes those with a full stop (`{"slats.gap": 8}`).

        Raises:
            ProfileError: a key that isn't known, a value out of its range.
            DesignError: the table can't be built.
        """
        return build_table(changed(self.profile, {**(changes or {}), **named}))

    @property
    def slats_per_field(self) -> int:
        """Slats in the fullest field."""
        return self.spacing.count


def build_table(profile: Profile) -> Table:
    """The table that `profile` describes.

    Raises:
        DesignError: it can't be built; every reason found is told, with what would do.
    """
    sizes = Sizes(profile)
    refuse_impossible(sizes)
    spacing = spacing_of(sizes)
    slat_parts, laid = make_slats(sizes, spacing)
    arm_runs = _arm_runs(sizes, laid)
    rails = make_rails(sizes, arm_runs)
    ring = make_ring(sizes, _rim_runs(sizes, laid, arm_runs))
    parts = (*ring.parts, *rails, *slat_parts, make_leg(sizes), *make_base(sizes))
    layout = _Layout(sizes, ring, laid)
    placed = tuple(layout.placed())
    joints = tuple(layout.joints(arm_runs))
    return Table(profile, sizes, spacing, with_mates(parts, joints), placed, joints)


def _arm_runs(sizes: Sizes, laid: Iterable[LaidSlat]) -> ArmRuns:
    """The groove owed on each arm edge: from its first tongue out through the shoulder."""
    starts: dict[tuple[int, int], float] = {}
    for slat in laid:
        for border in slat.fitted.ends:
            run = run_on_arm(slat.fitted, border, sizes) if border.kind == "arm" else None
            if run is not None:
                place = (slat.border_part(border)[1], border.side)
                starts[place] = min(run.start, starts.get(place, run.start))
    ease = sizes.profile.joints.end_clearance
    corner = sizes.apex_along_arm
    return {place: (Run(max(start - ease, corner), sizes.inner_apothem),) for place, start in starts.items()}


def _rim_runs(sizes: Sizes, laid: Iterable[LaidSlat], arm_runs: ArmRuns) -> dict[int, tuple[Run, ...]]:
    """The grooves owed on each segment: for the slats that end there and the rail's tenon."""
    owed: dict[int, list[Run]] = defaultdict(list)
    for slat in laid:
        for border in slat.fitted.ends:
            run = run_on_rim(slat.fitted, border, sizes) if border.kind == "rim" else None
            if run is not None:
                owed[slat.border_part(border)[1]].append(run)
    for arm in range(sizes.arms):
        span = tenon_span(sizes, arm_runs, arm)
        owed[arm * sizes.segments_per_field].append(Run(span.low, span.high))
    ease, half = sizes.profile.joints.end_clearance, sizes.inner_length / 2
    near = 3 * sizes.profile.slats.gap + 2 * sizes.tongue_length
    return {index: joined((eased(run, ease, half) for run in runs), near) for index, runs in sorted(owed.items())}


@dataclass(frozen=True, slots=True)
class _Layout:
    """Every copy in a fixed order: segments, splines, rails, slats, legs, base rails, pads."""

    sizes: Sizes
    ring: Ring
    laid: tuple[LaidSlat, ...]

    @property
    def first_spline(self) -> int:
        return self.sizes.segments

    @property
    def first_rail(self) -> int:
        return self.first_spline + len(self.ring.spline_codes)

    @property
    def first_slat(self) -> int:
        return self.first_rail + self.sizes.rails

    @property
    def first_leg(self) -> int:
        return self.first_slat + len(self.laid)

    @property
    def first_base(self) -> int:
        return self.first_leg + self.sizes.arms

    @property
    def first_foot(self) -> int:
        return self.first_base + self.sizes.rails

    def placed(self) -> Iterator[Placed]:
        sizes, profile = self.sizes, self.sizes.profile
        under, thick = sizes.top_underside, profile.top.thickness
        for index, code in enumerate(self.ring.segment_codes):
            yield lying(code, segment_placement(sizes, index), under, thick)
        for index, code in enumerate(self.ring.spline_codes):
            spline = self.ring.splines[index]
            z = under + spline.level - spline.spline_thickness / 2
            yield lying(code, joint_placement(sizes, index, spline.spline_start), z, spline.spline_thickness)
        for number, code in enumerate(lap_of(sizes).codes):
            yield lying(code, rail_placement(sizes, number), under, thick)
        slat_z = under + sizes.slat_underside
        for slat in self.laid:
            yield lying(slat.code, slat.placement, slat_z, profile.slats.thickness)
        yield from self._pedestal()

    def _pedestal(self) -> Iterator[Placed]:
        sizes, base = self.sizes, self.sizes.profile.base
        origin, rake = leg_origin(sizes), leg_axis(sizes).rake
        half = sizes.profile.legs.section / 2
        for arm in range(sizes.arms):
            direction = arm * sizes.field_angle
            spot = standing("LEG", Point3(0, 0, 0), direction, rake)
            side, out = spot.axes[2], polar(origin.x, direction)
            at = Point3(out.x - half * side.x, out.y - half * side.y, sizes.base_top + origin.y)
            yield replace(spot, at=at)
        for number, code in enumerate(base_lap(sizes).codes):
            yield lying(code, rail_placement(sizes, number), sizes.foot_height, base.thickness)
        if base.feet == "pads":
            for arm in range(sizes.arms):
                yield lying("FOOT", foot_placement(sizes, arm), sizes.glide_height, base.foot_thickness)

    def joints(self, arm_runs: ArmRuns) -> Iterator[Joint]:
        yield from self._ring_joints()
        yield from self._lap_joints()
        yield from self._tongue_joints()
        yield from self._rail_tenons(arm_runs)
        yield from self._pedestal_joints()

    def _ring_joints(self) -> Iterator[Joint]:
        sizes, ring = self.sizes, self.ring
        clearance = sizes.profile.joints.glue_clearance
        for index in range(sizes.segments):
            pair = (index, (index + 1) % sizes.segments)
            codes = (ring.segment_codes[pair[0]], ring.segment_codes[pair[1]])
            spline = ring.splines[index] if ring.splines else None
            yield Joint("mitre", codes, pair, mitre_contact(sizes, spline, ring.is_grooved(index)), 0.0)
            if spline is not None:
                code, place = ring.spline_codes[index], self.first_spline + index
                part = next(part for part in ring.parts if part.code == code)
                for side, segment in zip(codes, pair, strict=True):
                    yield Joint("spline", (side, code), (segment, place), part.outline.area, clearance)

    def _lap_joints(self) -> Iterator[Joint]:
        hole = pi * self.sizes.profile.top.pole_hole**2 / 4
        for lap, first in ((lap_of(self.sizes), self.first_rail), (base_lap(self.sizes), self.first_base)):
            rails = len(lap.codes)
            for low in range(rails):
                for high in range(low + 1, rails):
                    area = lap.contact(low, high) - (hole if high - low == 1 else 0.0)
                    codes = (lap.codes[low], lap.codes[high])
                    kind: JointKind = "half-lap" if rails == 2 else "three-way-lap"
                    yield Joint(kind, codes, (first + low, first + high), area, lap.clearance)

    def _tongue_joints(self) -> Iterator[Joint]:
        sizes = self.sizes
        rails, clearance = lap_of(sizes).codes, sizes.clearances.slide
        for number, slat in enumerate(self.laid):
            for border in slat.fitted.ends:
                kind, index = slat.border_part(border)
                rail = index % sizes.rails
                mate = (rails[rail], self.first_rail + rail)
                if kind == "rim":
                    mate = (self.ring.segment_codes[index], index)
                area = tongue_on(slat.fitted, border, sizes)
                area -= tongue_on(slat.fitted, border, sizes, slat.slot) if slat.slot else 0.0
                if area <= ON_EDGE:
                    continue
                places = (mate[1], self.first_slat + number)
                yield Joint("tongue-and-groove", (mate[0], slat.code), places, 2 * area, clearance)

    def _rail_tenons(self, arm_runs: ArmRuns) -> Iterator[Joint]:
        sizes, rails = self.sizes, lap_of(self.sizes).codes
        for arm in range(sizes.arms):
            segment, rail = arm * sizes.segments_per_field, arm % sizes.rails
            span: TenonSpan = tenon_span(sizes, arm_runs, arm)
            area = 2 * (span.high - span.low) * sizes.tongue_length
            codes = (self.ring.segment_codes[segment], rails[rail])
            clearance = sizes.profile.joints.glue_clearance
            yield Joint("rail-tenon", codes, (segment, self.first_rail + rail), area, clearance)

    def _pedestal_joints(self) -> Iterator[Joint]:
        sizes, base = self.sizes, self.sizes.profile.base
        tenon = leg_joint(sizes)
        crosses = ((lap_of(sizes).codes, self.first_rail), (base_lap(sizes).codes, self.first_base))
        for arm in range(sizes.arms):
            rail, leg = arm % sizes.rails, self.first_leg + arm
            for codes, first in crosses:
                places, above = (first + rail, leg), first == self.first_rail
                kind = ON_TOP[sizes.profile.legs.top_joint] if above else "leg-tenon"
                own = top_leg_joint(sizes) if above else tenon
                bored = 2 * peg.taken if above and (peg := top_peg(sizes)) else 0.0
                yield Joint(kind, (codes[rail], "LEG"), places, own.contact - bored, own.clearance)
            if base.feet == "pads":
                codes = (base_lap(sizes).codes[rail], "FOOT")
                places = (self.first_base + rail, self.first_foot + arm)
                area = base.foot_length * base.rail_width - (2 - pi / 2) * base.end_round**2
                yield Joint("foot", codes, places, area, 0.0)


def with_mates(parts: Iterable[Part], joints: Iterable[Joint]) -> tuple[Part, ...]:
    """The parts with each feature's mates named; a groove that tenons and tongues share tells the tightest play."""
    partners: dict[tuple[str, str], dict[str, float]] = defaultdict(dict)
    for joint in joints:
        one, other = joint.parts
        partners[one, joint.kind][other] = partners[other, joint.kind][one] = joint.clearance

    def mated(part: Part, feature: Feature) -> Feature:
        kinds = [kind for kind, joint in JOINTS.items() if joint.cuts.get(part.kind) == feature.kind]
        mates = {code: play for kind in kinds for code, play in partners[part.code, kind].items()}
        if not mates or feature.mates:
            return feature
        play = min(mates.values()) if feature.kind == "groove" else feature.clearance
        return replace(feature, mates=tuple(sorted(mates)), clearance=play)

    return tuple(replace(part, features=tuple(mated(part, f) for f in part.features)) for part in parts)
