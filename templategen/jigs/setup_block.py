"""Set-up blocks: bridges that give a cutter its height, and blocks that stand between a blade and its stop."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from math import ceil, sin

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.point import Point
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.lap_sled import BEARS
from templategen.jigs.piece import distance, figure, line, piece, shown, tidy
from templategen.table.assembly import Table
from templategen.table.pedestal import base_lap
from templategen.table.profile.model import Profile
from templategen.table.rails import lap_of

ARCH = 40.0
"""Width of the opening that spans a cutter, mm."""

FOOT = 26.0
"""Width of a foot between two openings, mm."""

ROOF = 32.0
"""Wood over the highest opening, mm."""

MOST_ARCHES = 6
"""On one bridge."""

SAME = 1e-4
"""Heights that agree within this share an opening, mm."""

PROVED = 0.1
"""How far an opening may be from its figure, mm: by those nearer than twice that one cutter is set."""

NEAR = 0.01
"""A cutter set to within this of a height is set by its opening, mm."""


HEIGHTS = {
    "": "{height:word} of {whose:word}",
    "top": "{height:word} of {whose:word}, top",
    "bottom": "{height:word} of {whose:word}, bottom",
}
"""What a height is for, by the face that it is cut into where that is a flat one."""


@dataclass(frozen=True, slots=True)
class Height:
    """How far a cutter projects from its table, and the jobs it is set for."""

    value: float
    jobs: tuple[str, ...]
    serves: tuple[str, ...]

    @property
    def words(self) -> str:
        """The jobs in words, the first few."""
        return "; ".join(self.jobs[:2]) + (" ..." if len(self.jobs) > 2 else "")


def heights(table: Table) -> tuple[Height, ...]:
    """Every depth that a blade or cutter is set to, lowest first; two that no opening tells apart have one, as high
    as the lower."""
    found: dict[int, Height] = {}
    for part in table.parts:
        for feature in part.features:
            if not feature.traits.height:
                continue
            flat = feature.face if feature.is_flat else ""
            whose = part.kind.replace("-", " ")
            job = said(HEIGHTS[flat], height=feature.traits.height, whose=whose)
            key = round(feature.depth / SAME)
            before = found.get(key, Height(feature.depth, (), ()))
            jobs, serves = dict.fromkeys((*before.jobs, job)), dict.fromkeys((*before.serves, part.code))
            found[key] = Height(before.value, tuple(jobs), tuple(serves))
    apart: list[Height] = []
    for one in (found[key] for key in sorted(found)):
        if apart and one.value - apart[-1].value < 2 * PROVED:
            near, own = apart.pop(), (f"{job} ({shown(one.value, table.profile)})" for job in one.jobs)
            every = tuple(dict.fromkeys((*near.serves, *one.serves)))
            one = Height(near.value, (*near.jobs, *own), every)
        apart.append(one)
    return tuple(apart)


def _serves(opening: Height, height: float) -> bool:
    return -NEAR < height - opening.value < 2 * PROVED


def over_its_opening(table: Table, height: float) -> tuple[float, float] | None:
    """The opening by which a cutter is set to a height that none has, and what it is then raised by, mm; None where
    an opening has that height."""
    own = max((one.value for one in heights(table) if _serves(one, height)), default=height)
    return (own, height - own) if height - own > NEAR else None


def height_bridges(table: Table, asked: Collection[float] | None = None) -> Iterator[Jig]:
    """Bridges with an opening for each height, mm: those that are `asked` for, or all."""
    profile, all_heights = table.profile, heights(table)
    if asked is not None:
        all_heights = tuple(one for one in all_heights if any(_serves(one, own) for own in asked))
    if not all_heights:
        return
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
        tuple(one for code, group in pairs for one in _bridge_figures(code, group)),
        (
            (
                "Stand the bridge across the cutter on what the piece will lie on, the table or a sled's base, "
                "machine unplugged; raise the cutter until its highest tooth just brushes the opening's roof as you "
                "turn it by hand, the bridge to and fro."
            ),
            said(
                "Cut the test piece, measure, put right what a height is over its opening ({most} at the most, or as"
                " its card tells), then the parts, all of one job at that setting.",
                most=shown(2 * PROVED, profile),
            ),
        ),
        (
            said(
                "Stand the bridge on the saw's table and measure each opening with a depth gauge against its "
                "figure, within {near}.",
                near=shown(PROVED, profile),
            ),
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
    """Each figure on a line over its own opening, a quarter of a foot past it on both sides."""
    for number, height in enumerate(group):
        left, y = _left(number), height.value + ROOF / 4
        ends = Point(left - FOOT / 4, y), Point(left + ARCH + FOOT / 4, y)
        yield line(code, *ends, figure(height.value, profile), "scale")


def _bridge_figures(code: str, group: tuple[Height, ...]) -> Iterator[Critical]:
    for number, height in enumerate(group):
        x = _left(number) + ARCH / 2
        yield distance(
            said("height for {jobs}", jobs=height.words),
            code,
            Point(x, 0),
            Point(x, height.value),
            "depth of the work",
        )


def stop_blocks(table: Table) -> Iterator[Jig]:
    """Blocks between rail and stop, for the first and the last pass of a lap: (width - cutter) / sin(its angle)."""
    profile, sizes = table.profile, table.sizes
    wide, high = profile.shop.groove_cutter, max(profile.jigs.strip, tidy(profile, highest_end(table) + BEARS))
    how = "(rail width + clearance - cutter) / sin(angle of the crossing)"
    blocks = [
        ("STOPS-LAP", translated("rail lap"), "rail", lap_of(sizes)),
        ("STOPS-BASE", translated("base lap"), "base-rail", base_lap(sizes)),
    ]  # fmt: skip
    long = [(2 * lap.half_width + lap.clearance - wide) / sin(sizes.field_angle) for *_, lap in blocks]
    pairs = [(block, length) for block, length in zip(blocks, long, strict=True) if length > 1.0]
    if not pairs:
        return
    note = said("between rail and stop, for a cutter {wide} wide", wide=shown(wide, profile))
    kinds = {kind for (_, _, kind, _), _ in pairs}
    yield Jig(
        "STOPS",
        "blocks for the width of laps",
        tuple(part.code for part in table.parts if part.kind in kinds),
        tuple(piece(profile, code, name, rectangle(0, 0, length, high), "gauge", notes=(note,))
              for (code, name, *_), length in pairs),
        tuple(line(code, Point(0, high / 2), Point(length, high / 2), name)
              for (code, name, *_), length in pairs if length > LONG_ENOUGH),
        tuple(distance(name, code, Point(0, 0), Point(length, 0), how) for (code, name, *_), length in pairs),
        (
            ("Stand the block on edge between the stop and the rail's end, level with the stop's outer side: there "
            "it meets the end itself, a tenon's too, never a shoulder. Set the stop so that the cutter's nearer side "
            "is as far from that end as the set-up's stop says: so the first pass is cut, the trench's near side."),
            ("Take the block away, the rail's end at the stop itself: so the last pass is cut, the far side. What "
            "stands between goes in the passes that the set-up tells."),
            ("The rail goes the same way round for both; the gauge is turned for slanting laps, the block not."),
        ),
        tuple(
            said("{name}: the rail lies in a lap cut in a test strip with {play} of play, both sides together.",
                 name=name, play=shown(lap.clearance, profile))
            for (_, name, _, lap), _ in pairs
        ),
        ("Unplugged while the stop is set; the block out of the way before the cutter runs.",),
    )  # fmt: skip


def highest_end(table: Table) -> float:
    """How high over the machine's table a rail's end begins, as it lies on the face that a lap is cut into, mm: under
    its tenon that face is cut away."""
    return max(
        (tenon.depth for part in table.parts for face in {lap.face for lap in part.cuts("lap")}
         for tenon in part.cuts("tenon") if tenon.face == face),
        default=0.0,
    )  # fmt: skip


LONG_ENOUGH = 60.0
"""A block longer than this has its name on it, mm."""
