"""The mortise template: a window for the legs' mortises, set out from the rail's middle and led by its edges."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.errors import Fault
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.point import Point
from templategen.jigs.bush import (
    CAUTIONS,
    bit_figures,
    corners_left,
    faults_of,
    guide_of,
    proof_of_guide,
    refuse,
    seat,
    setting_steps,
)
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, hole, line, piece, point, shown
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

FENCE_PLAY = 0.2
"""Play between the fences and the rail, mm: the template must slide on without rattling (unverified)."""

FENCE = 35.0
"""Width of a fence, mm; fences are screwed on from above."""

PAST_MIDDLE = 40.0
"""Template beyond the rail's middle, mm."""

WALL = 8.0
"""Sheet left between the pole hole and the window, mm."""


def mortise_templates(table: Table) -> Iterator[Jig]:
    """A template for the mortises of the rails and one for the base rails', or one for both where they are alike.

    Raises:
        DesignError: the bit or the bush can't make them.
    """
    jobs: dict[tuple[float, ...], list[Part]] = {}
    for part in table.parts:
        if part.kind in ("rail", "base-rail"):
            job = _job(table.profile, part)
            jobs.setdefault(job.key, []).append(part)
    made = [_job(table.profile, parts[0], parts) for parts in jobs.values()]
    faults: list[Fault] = []
    for job in made:
        against = faults_of(table.profile, min(job.cut.width, job.cut.height))
        faults += against
        if not against:
            yield _jig(job, "MORTISE" if len(made) == 1 else f"MORTISE-{job.parts[0].code.partition('-')[0]}")
    refuse(faults)


@dataclass(frozen=True)
class _Job:
    """Mortises of one size and place. Frame: x along the rail from its middle, y across it."""

    profile: Profile
    parts: tuple[Part, ...]
    cut: Bounds
    depth: float
    width: float

    @property
    def key(self) -> tuple[float, ...]:
        """What makes two jobs one template; the depth is set on the router, so jobs of two depths are two."""
        return tuple(round(value, 4) for value in (*self.cut, self.depth, self.width))

    @property
    def window(self) -> Outline:
        """The opening for the bush."""
        return guide_of(self.profile).window(self.cut)

    @property
    def has_pin(self) -> bool:
        """Whether the pole hole can hold the template's middle."""
        hole_reach = self.profile.top.pole_hole / 2
        return hole_reach > 0 and self.window.bounds.left - hole_reach >= WALL

    @property
    def plate(self) -> Bounds:
        """The plate: carries the router's base wherever the bit stands, both fences, and the rail's middle."""
        base = seat(self.profile, self.cut)
        half = max(base.top, self.width / 2 + FENCE + 5)
        middle = self.profile.top.pole_hole / 2 + PAST_MIDDLE if self.has_pin else PAST_MIDDLE
        return Bounds(min(-middle, base.left), -half, base.right, half)


def _job(profile: Profile, part: Part, parts: Iterable[Part] = ()) -> _Job:
    """The mortise at positive x; the other one is cut with the template turned half round."""
    feature = next(f for f in part.cuts("mortise") if f.outline.bounds.centre.x > 0)
    width = part.outline.bounds.height
    return _Job(profile, tuple(parts) or (part,), feature.outline.bounds, feature.depth, width)


def _jig(job: _Job, code: str) -> Jig:
    profile, plate = job.profile, f"{code}-PLATE"
    return Jig(
        code,
        "template for the legs' mortises",
        tuple(part.code for part in job.parts),
        tuple(_pieces(job, code)),
        tuple(_scribes(job, plate)),
        (*_figures(job, plate), *bit_figures(profile, job.depth)),
        tuple(_use(job)),
        (
            *proof_of_guide(profile),
            said("Rout both mortises a millimetre deep in the first rail and measure edge to edge between them on "
                 "both sides: {apart}. A difference from side to side is the fences' lean.",
                 apart=shown(2 * job.cut.left, profile)),
        ),
        CAUTIONS,
    )  # fmt: skip


def _pieces(job: _Job, code: str) -> Iterator[Part]:
    profile, box = job.profile, job.plate
    pole = [hole(Point(0, 0), profile.top.pole_hole)] if job.has_pin else []
    notes = (said("fences below, {apart} apart", apart=shown(job.width + FENCE_PLAY, profile)),)
    yield piece(
        profile, f"{code}-PLATE", "plate with the window", rectangle(*box), "template", 1, (job.window, *pole),
        notes=notes,
    )  # fmt: skip
    yield piece(profile, f"{code}-FENCE", "fence, below the plate", rectangle(0, 0, box.width, FENCE), "template", 2)
    if job.has_pin:
        disc = hole(Point(0, 0), profile.top.pole_hole - FENCE_PLAY / 2)
        yield piece(profile, f"{code}-PLUG", "plug through plate and pole hole, two glued together", disc, "jig", 2)


def _scribes(job: _Job, plate: str) -> Iterator[Scribe]:
    box, at, half = job.plate, job.cut.centre, (job.width + FENCE_PLAY) / 2
    clear = job.profile.top.pole_hole / 2 if job.has_pin else 0.0
    yield line(plate, Point(0, clear), Point(0, box.top), "rail's middle", "witness")
    yield line(plate, Point(0, -clear), Point(0, box.bottom), "", "witness")
    for side in (1, -1):
        yield line(plate, Point(box.left, side * half), Point(box.right, side * half), "fence outside this line")
    yield line(plate, Point(at.x, job.window.bounds.top), Point(at.x, box.top), "leg's middle", "witness")
    yield line(plate, Point(at.x, job.window.bounds.bottom), Point(at.x, box.bottom), "", "witness")
    if not job.has_pin:
        yield point(plate, Point(0, 0), "table's axis")


def _figures(job: _Job, plate: str) -> Iterator[Critical]:
    window, at = job.window.bounds, job.cut.centre
    half = (job.width + FENCE_PLAY) / 2
    yield distance(
        "length of the window", plate, Point(window.left, at.y), Point(window.right, at.y), "mortise + 2 offset"
    )
    yield distance(
        "width of the window", plate, Point(at.x, window.bottom), Point(at.x, window.top), "mortise + 2 offset"
    )
    yield distance("rail's middle to the leg's middle", plate, Point(0, 0), at, "legs.centre_distance")
    yield distance("between the fences", plate, Point(at.x, -half), Point(at.x, half), "rail width + play")
    yield distance(
        "fence to the window", plate, Point(at.x, window.top), Point(at.x, half),
        "(rail width + play - mortise) / 2 - offset",
    )  # fmt: skip


def _use(job: _Job) -> Iterator[str]:
    profile = job.profile
    yield "Screw the fences to their lines with a rail between them and a strip of thin card beside it."
    yield said(
        "Knife the leg's middle across the face that the legs go into, {far} from the rail's; carry the template's"
        " line for it down the window's sides and lay it on the knifed one, on a test piece too.",
        far=shown(job.cut.centre.x, profile),
    )
    if job.has_pin:
        yield "With the pole hole bored first, the plug in it sets the middle; glue its two discs into one."
    yield from setting_steps(profile, job.depth)
    yield "Turn the template half round about the rail's middle for the other mortise: both then stand alike."
    deep, kinds = shown(job.depth, profile), {part.kind for part in job.parts}
    if len(kinds) > 1:
        yield said("Depth {deep}: rails from below, base rails from above.", deep=deep)
    else:
        yield said("Depth {deep}, from below." if "rail" in kinds else "Depth {deep}, from above.", deep=deep)
    yield corners_left(profile, translated("each mortise"))
