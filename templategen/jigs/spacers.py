"""Spacers for the gap between slats, and what that is for slats that have swollen or shrunk."""

from collections.abc import Iterator

from templategen.checks.describe import said
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.point import Point
from templategen.jigs.jig import Jig, has_any
from templategen.jigs.piece import distance, piece, shown
from templategen.table.assembly import Table
from templategen.table.seasons import seasons_of
from templategen.wood.movement import across_face, change

TONGUE = 45.0
"""Length of a spacer between two slats, mm."""

HEAD = 60.0
"""Width of a spacer's head, which lies across both slats, mm."""

HEAD_DEPTH = 25.0
"""Depth of the head, mm."""

PAIRS = 4
"""Spacers to make: two between each of two pairs of slats."""


def spacers(table: Table) -> Iterator[Jig]:
    """T-shaped spacers of the solved gap; what the gap is when slats are wider or narrower is told."""
    profile, gap = table.profile, table.spacing.gap
    yield Jig(
        "SPACERS",
        "slat spacers",
        tuple(part.code for part in table.parts if part.kind == "slat"),
        (piece(profile, "SPACER", "spacer", _tee(gap), "spacer", PAIRS),),
        (),
        (distance("gap as designed", "SPACER", Point(-gap / 2, -TONGUE / 2), Point(gap / 2, -TONGUE / 2),
                  "the solved gap"),),
        tuple(_use(table)),
        (
            said("A caliper across the tongue of each spacer: {gap}, all alike within {near}.",
                 gap=shown(gap, profile), near=shown(0.1, profile)),
            said("Lay one field dry, {slats} slats and spacers: the last gap must take a spacer without "
                 "force. What it is off, shared by the gaps, is the error of each.", slats=table.spacing.count),
        ),
        (
            "Cut narrow tongues on a wide board with a bandsaw or fine hand saw, never as strips on a table saw."
            if has_any(table, ("bandsaw", "table saw"))
            else "Cut narrow tongues on a wide board with a fine hand saw.",
        ),
    )  # fmt: skip


def grows(table: Table) -> float:
    """How much wider a slat is for each % of moisture that it holds more than as built, mm, reckoned
    as the table's year is."""
    seasons = seasons_of(table.profile)
    shrinkage = across_face(seasons.figures, table.profile.shop.sawn)
    moved = change(shrinkage, seasons.figures.fibre_saturation, seasons.built, seasons.built + 1)
    return table.spacing.width * seasons.factor * moved


def _tee(gap: float) -> Outline:
    """The tongue, `gap` wide below the head."""
    half, head = gap / 2, max(HEAD, 3 * gap) / 2
    return polygon(
        (
            (-half, -TONGUE), (half, -TONGUE), (half, 0), (head, 0),
            (head, HEAD_DEPTH), (-head, HEAD_DEPTH), (-head, 0), (-half, 0),
        )
    )  # fmt: skip


def _use(table: Table) -> Iterator[str]:
    profile, spacing = table.profile, table.spacing
    built = seasons_of(profile).built
    width, gap = shown(spacing.width, profile), shown(spacing.gap, profile)
    yield said(
        "Lay a day's slats side by side, ten or more, and measure across all: the sum by their number is their "
        "width today. {width} wide they take the spacers of {gap}; at another width each gap is {pitch} less that "
        "width, so the field is filled: card beside the spacer, or a spacer planed thinner.",
        width=width,
        gap=gap,
        pitch=shown(spacing.width + spacing.gap, profile),
    )
    yield said(
        "Slats ripped to {width} today take the spacers whatever a moisture meter says. At another moisture than "
        "{built:.1f} % they go on moving from there: rip them {grows} wider for each % more, narrower for each less.",
        width=width,
        built=built,
        grows=shown(grows(table), profile),
    )
    yield "Two spacers between each pair of slats, one near either end; slats stay dry in their grooves."
