"""Spacers for the gap between slats: as designed, and as it must be for slats that have swollen or shrunk."""

from collections.abc import Iterator
from itertools import pairwise
from math import ceil, floor

from templategen.checks.describe import said
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.point import Point
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, figure, line, piece, shown
from templategen.table.assembly import Table
from templategen.table.seasons import seasons_of
from templategen.wood.movement import across_face, change

TONGUE = 45.0
"""Length of a spacer between two slats, mm."""

HEAD = 60.0
"""Width of a spacer's head, which lies across both slats, mm."""

HEAD_DEPTH = 25.0
"""Depth of the head, mm."""

STEP = 35.0
"""Length of one step of the day gauge, mm."""

LEAST = 0.5
"""No step is narrower than this, mm."""

PAIRS = 4
"""Spacers to make: two between each of two pairs of slats."""


def spacers(table: Table) -> Iterator[Jig]:
    """T-shaped spacers of the solved gap, and a stepped gauge by how wide the slats are on the day."""
    profile, gap = table.profile, table.spacing.gap
    steps = day_gaps(table)
    blocks = [piece(profile, "SPACER", "spacer", _tee(gap), "spacer", PAIRS)]
    scribes: list[Scribe] = []
    figures = [distance("gap as designed", "SPACER", Point(-gap / 2, -TONGUE / 2), Point(gap / 2, -TONGUE / 2),
                        "the solved gap")]  # fmt: skip
    if steps:
        blocks.append(piece(profile, "SPACER-DAY", "stepped spacer by the slats' width", _stairs(steps), "spacer"))
        for number, (slat, width) in enumerate(steps):
            low, high = Point(number * STEP, 0), Point(number * STEP, width)
            middle = Point((number + 0.5) * STEP, 0)
            scribes.append(line("SPACER-DAY", middle, middle.plus(Point(0, width)), figure(slat, profile), "scale"))
            name = said("gap for slats {wide} wide", wide=shown(slat, profile))
            figures.append(Critical(name, width, "mm", "SPACER-DAY", (low, high), "pitch - the slat's width"))
    yield Jig(
        "SPACERS",
        "slat spacers",
        tuple(part.code for part in table.parts if part.kind == "slat"),
        tuple(blocks),
        tuple(scribes),
        tuple(figures),
        tuple(_use(table)),
        (
            said("A caliper across the tongue of each spacer: {gap}, all alike within {near}.",
                 gap=shown(gap, profile), near=shown(0.1, profile)),
            said("Lay one field dry, {slats} slats and spacers: the last gap must take a spacer without "
                 "force. What it is off, shared by the gaps, is the error of each.", slats=table.spacing.count),
        ),
        ("Cut narrow tongues on a wide board with a bandsaw or fine hand saw, never as strips on a table saw.",),
    )  # fmt: skip


def day_gaps(table: Table) -> tuple[tuple[float, float], ...]:
    """The slat's width at each whole % of moisture of the year, narrowest first, and the gap beside it: pitch stays,
    so every field is filled whenever its slats were cut."""
    profile, seasons = table.profile, seasons_of(table.profile)
    shrinkage = across_face(seasons.figures, profile.shop.sawn)
    low, high = floor(min(seasons.driest, seasons.built)), ceil(max(seasons.wettest, seasons.built))
    found: list[tuple[float, float]] = []
    for moisture in range(low, high + 1):
        grown = table.spacing.width * change(shrinkage, seasons.figures.fibre_saturation, seasons.built, moisture)
        width = table.spacing.gap - grown
        if width >= LEAST and (not found or found[-1][1] - width > 1e-9):
            found.append((table.spacing.width + grown, width))
    return tuple(found)


def _tee(gap: float) -> Outline:
    """The tongue, `gap` wide below the head."""
    half, head = gap / 2, max(HEAD, 3 * gap) / 2
    return polygon(
        (
            (-half, -TONGUE), (half, -TONGUE), (half, 0), (head, 0),
            (head, HEAD_DEPTH), (-head, HEAD_DEPTH), (-head, 0), (-half, 0),
        )
    )  # fmt: skip


def _stairs(steps: tuple[tuple[float, float], ...]) -> Outline:
    """Steps from the widest at the left; the straight lower edge lies against one slat."""
    top = [(0.0, steps[0][1])]
    for number, (before, after) in enumerate(pairwise(steps), 1):
        top += [(number * STEP, before[1]), (number * STEP, after[1])]
    top.append((len(steps) * STEP, steps[-1][1]))
    return polygon(((0, 0), (len(steps) * STEP, 0), *reversed(top)))


def _use(table: Table) -> Iterator[str]:
    profile, spacing = table.profile, table.spacing
    built = seasons_of(profile).built
    width, gap = shown(spacing.width, profile), shown(spacing.gap, profile)
    yield said(
        "Lay a day's slats side by side, ten or more, and measure across all: the sum by their number is their "
        "width today. {width} wide they take the spacers of {gap}; at another width set each gap by the step of the "
        "gauge that is marked with it: width and gap together stay {pitch}, so the field is filled.",
        width=width,
        gap=gap,
        pitch=shown(spacing.width + spacing.gap, profile),
    )
    yield said(
        "Slats ripped to {width} today take the spacers whatever a moisture meter says. At another moisture than "
        "{built:.1f} % they go on moving from there: rip them to the width that the gauge's scale gives them, wider "
        "when they are wetter.",
        width=width,
        built=built,
    )
    yield "Two spacers between each pair of slats, one near either end; slats stay dry in their grooves."
