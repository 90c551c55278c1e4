"""Set-up blocks: bridges that give a cutter its height, and blocks that stand between a blade and its stop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, sin

from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.point import Point
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, line, piece, shown
from templategen.table.assembly import Table
from templategen.table.pedestal import base_lap
from templategen.table.profile.model import Profile
from templategen.table.rails import lap_of, leg_joint

ARCH = 40.0
"""Width of the opening that spans a cutter, mm."""

FOOT = 26.0
"""Width of a foot between two openings, mm."""

ROOF = 32.0
"""Wood over the highest opening, mm."""

MOST_ARCHES = 6
"""On one bridge."""

SAME = 1e-4
"""Heights that agree to this share an opening, mm."""


@dataclass(frozen=True, slots=True)
class Height:
    """How far a cutter stands out of a table, and what it is set for."""

    value: float
    jobs: tuple[str, ...]
    serves: tuple[str, ...]

    @property
    def words(self) -> str:
        """The jobs in words, the first few."""
        return "; ".join(self.jobs[:2]) + (" ..." if len(self.jobs) > 2 else "")


def heights(table: Table) -> tuple[Height, ...]:
    """Every depth that a blade or cutter is set to, lowest first."""
    found: dict[int, Height] = {}
    for part in table.parts:
        for feature in part.features:
            if not feature.traits.height:
                continue
            flat = feature.face if feature.is_flat else ""
            whose = part.kind.replace("-", " ")
            job = f"{feature.traits.height} of {whose}" + (f", {flat}" if flat else "")
            key = round(feature.depth / SAME)
            before = found.get(key, Height(feature.depth, (), ()))
            jobs, serves = dict.fromkeys((*before.jobs, job)), dict.fromkeys((*before.serves, part.code))
            found[key] = Height(before.value, tuple(jobs), tuple(serves))
    return tuple(found[key] for key in sorted(found))


def height_bridges(table: Table) -> Iterator[Jig]:
    """Bridges with an opening for each height."""
    profile, all_heights = table.profile, heights(table)
    count = ceil(len(all_heights) / MOST_ARCHES)
    size = ceil(len(all_heights) / count)
    groups = [all_heights[i : i + size] for i in range(0, len(all_heights), size)]
    codes = [f"HEIGHTS-{number}" if count > 1 else "HEIGHTS" for number in range(1, count + 1)]
    pairs = list(zip(codes, groups, strict=True))
    yield Jig(
        "HEIGHTS",
        "bridges for cutter heights",
        tuple(dict.fromkeys(code for height in all_heights for code in height.serves)),
        tuple(
            piece(profile, code, "bridge over the cutter", bridge(group), "gauge", notes=_notes(group, profile))
            for code, group in pairs
        ),
        tuple(mark for code, group in pairs for mark in _bridge_scribes(code, group, profile)),
        tuple(figure for code, group in pairs for figure in _bridge_figures(code, group)),
        (
            (
                "Stand the bridge on the table over the cutter, machine unplugged; raise the cutter until its "
                "highest tooth just brushes the opening's roof as you turn it by hand."
            ),
            "Move the bridge to and fro across the cutter: the highest point counts.",
            "Cut the test piece, measure, then the parts; all parts of one job without a change of setting.",
        ),
        (
            (
                "Stand the bridge on the saw's table and measure each opening with a depth gauge against its "
                f"figure, within {shown(0.1, profile)}."
            ),
            "Every test cut is measured before a part is cut: sheet swells and wears.",
        ),
        (
            "Unplugged, not only switched off, while a hand is near the cutter.",
            "Guards that came off for setting go on again before the first cut.",
        ),
    )


def bridge(group: tuple[Height, ...]) -> Outline:
    """The bridge on edge: feet on y = 0, an opening for each height, lowest first."""
    ring = [(0.0, 0.0)]
    for number, height in enumerate(group):
        left = _left(number)
        ring += [(left, 0.0), (left, height.value), (left + ARCH, height.value), (left + ARCH, 0.0)]
    right, top = _left(len(group)), group[-1].value + ROOF
    return polygon([*ring, (right, 0.0), (right, top), (0.0, top)])


def _left(number: int) -> float:
    return FOOT + number * (ARCH + FOOT)


def _notes(group: tuple[Height, ...], profile: Profile) -> tuple[str, ...]:
    return tuple(f"{shown(height.value, profile)}: {'; '.join(height.jobs)}" for height in group)


def _bridge_scribes(code: str, group: tuple[Height, ...], profile: Profile) -> Iterator[Scribe]:
    top = group[-1].value + ROOF
    for number, height in enumerate(group):
        x = _left(number) + ARCH / 2
        yield line(code, Point(x, height.value), Point(x, top), shown(height.value, profile), "witness")


def _bridge_figures(code: str, group: tuple[Height, ...]) -> Iterator[Critical]:
    for number, height in enumerate(group):
        x = _left(number) + ARCH / 2
        yield distance(f"height for {height.words}", code, Point(x, 0), Point(x, height.value), "depth of the work")


def stop_blocks(table: Table) -> Iterator[Jig]:
    """Blocks between blade and stop for tenons, and between two cuts of a lap."""
    profile, wanted = table.profile, [job for job in _stop_jobs(table) if job.length > 1.0]
    if not wanted:
        return
    yield Jig(
        "STOPS",
        "blocks for stops",
        tuple(dict.fromkeys(code for job in wanted for code in job.serves)),
        tuple(
            piece(profile, job.code, job.name, job.outline(profile), "gauge", notes=(job.note,))
            for job in wanted
        ),
        tuple(
            line(job.code, Point(0, profile.jigs.strip / 2), Point(job.length, profile.jigs.strip / 2), job.name)
            for job in wanted
            if job.length > LONG_ENOUGH
        ),
        tuple(
            distance(job.name, job.code, Point(0, 0), Point(job.length, 0), job.how) for job in wanted
        ),
        (
            ("Tenons: lay the block between the stop and the side of the blade that faces it, teeth set that way; "
            "take it away before sawing. The shoulder is then the far side of the cut."),
            ("Laps: saw the first shoulder against a stop, lay the block between stop and rail, saw the second. "
            "Saw the waste between in passes, then pare to the floor."),
            ("The rail goes the same way round for both shoulders; the saw is turned for slanting laps, the block "
            "not."),
        ),
        (
            (f"Saw a tenon on the test piece: its length must be right within {shown(0.1, profile)}; pack the stop "
            "with card until it is."),
            "Saw a lap in scrap and try the rail in it: it goes in by hand pressure and needs no mallet.",
        ),
        (
            "The stop must not trap what is sawn off: take the block away, or keep the stop on the side of the work.",
            "Crosscut with crown guard on and both hands clear of the line of the cut.",
        ),
    )  # fmt: skip


LONG_ENOUGH = 60.0
"""A block longer than this has its name on it, mm."""


@dataclass(frozen=True, slots=True)
class StopJob:
    """One block."""

    code: str
    name: str
    length: float
    how: str
    note: str
    serves: tuple[str, ...]

    def outline(self, profile: Profile) -> Outline:
        """The block, its length along x."""
        return rectangle(0, 0, self.length, profile.jigs.strip)


def _stop_jobs(table: Table) -> Iterator[StopJob]:
    profile, sizes = table.profile, table.sizes
    kerf = profile.shop.saw_kerf
    rails = tuple(part.code for part in table.parts if part.kind == "rail")
    slats = tuple(part.code for part in table.parts if part.kind == "slat")
    bases = tuple(part.code for part in table.parts if part.kind == "base-rail")
    how, note = "tenon length - kerf", "between blade and stop"
    yield StopJob("STOPS-LEG", "leg tenon", leg_joint(sizes).length - kerf, how, note, ("LEG",))
    yield StopJob("STOPS-RAIL", "rail tenon and slat tongue", sizes.tongue_length - kerf, how, note, (*rails, *slats))
    for code, lap, serves in (("STOPS-LAP", lap_of(sizes), rails), ("STOPS-BASE", base_lap(sizes), bases)):
        width = (2 * lap.half_width + lap.clearance - kerf) / sin(sizes.field_angle)
        how, note = "(rail width + clearance - kerf) / sin(angle of the crossing)", "between the two cuts of a lap"
        yield StopJob(code, "rail lap" if code == "STOPS-LAP" else "base lap", width, how, note, serves)
