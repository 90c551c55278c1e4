"""The table's year: what the gaps do between the driest and the wettest."""

from templategen.checks.describe import said
from templategen.checks.wording import format_size
from templategen.drawing.year_picture import Season, year_picture
from templategen.output.page.content import Grid, Section, Sheet
from templategen.packet.page.picture import picture
from templategen.packet.page.sizes import size
from templategen.table.assembly import Table
from templategen.table.seasons import board_swing, seasons_of

HELD = (
    "A slat pinned in the middle of its width grows and shrinks evenly to both sides and the gaps take all of it; one"
    " of two edges at an end is pinned off it and moves more on its wider side."
)


def year(table: Table) -> Section:
    """A picture and the figures it shows."""
    seasons, profile = seasons_in(table), table.profile
    units = profile.units
    rows = tuple(
        (one.name, f"{one.moisture:.1f} %", size(one.width, units), size(one.gap, units), size(one.rim, units))
        for one in seasons
    )
    grid = Grid(("when", "moisture", "slat width", "gap", "rim width"), rows, figures=(1, 2, 3, 4))
    low, high = profile.shop.humidity
    air = said(
        "Air of {low:g} to {high:g} % at {warmth}; boards sawn {sawn:word}.",
        low=low,
        high=high,
        warmth=format_size(profile.shop.temperature, "C", units),
        sawn=profile.shop.sawn,
    )
    words = (air, HELD, "Screening figures from mean movement, not a promise.")
    least = size(profile.limits.drain_gap[1], units)
    told = said(
        "two slats on their ends and the gap between them; dashed lines {least} apart: the least that drains",
        least=least,
    )
    shown = picture(lambda: year_picture(seasons, profile.limits.drain_gap[1], units), "year", told, True)
    return Section("year", "The table's year", (Sheet("gaps", "", words, (shown,), (grid,)),))


def seasons_in(table: Table) -> tuple[Season, ...]:
    """The driest, the day of building, the wettest."""
    times, swing = seasons_of(table.profile), board_swing(table.profile)
    width, gap, rim = table.spacing.width, table.spacing.gap, table.profile.top.rim_width
    changes = (
        ("driest", times.driest, swing.dry), ("as built", times.built, 0.0), ("wettest", times.wettest, swing.wet),
    )  # fmt: skip
    return tuple(
        Season(name, moisture, width * (1 + change), gap - width * change, rim * (1 + change))
        for name, moisture, change in changes
    )
