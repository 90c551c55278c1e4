"""The table's year: what the gaps do between the driest and the wettest."""

from __future__ import annotations

from templategen.drawing.year_picture import Season, year_picture
from templategen.output.page.content import Grid, Section, Sheet
from templategen.packet.page.picture import picture
from templategen.packet.page.shown import Shown
from templategen.table.seasons import board_swing, seasons_of

HELD = "Each slat is pinned in its middle, so it grows and shrinks evenly to both sides and the gap takes all of it."


def year(made: Shown) -> Section:
    """A picture and the figures it shows."""
    seasons = seasons_in(made)
    profile = made.table.profile
    drawing = year_picture(seasons, profile.limits.drain_gap[1], profile.units)
    rows = tuple(
        (one.name, f"{one.moisture:.1f} %", made.size(one.width), made.size(one.gap), made.size(one.rim))
        for one in seasons
    )
    grid = Grid(("when", "moisture", "slat width", "gap", "rim width"), rows, figures=(1, 2, 3, 4))
    low, high = profile.shop.humidity
    air = f"Air of {low:g} to {high:g} % at {profile.shop.temperature:g} degrees; boards sawn {profile.shop.sawn}."
    words = (air, HELD, "Screening figures from mean movement, not a promise.")
    least = made.size(profile.limits.drain_gap[1])
    told = f"two slats on their ends and the gap between them; dashed lines {least} apart: the least that drains"
    shown = picture(drawing, "year", told, True)
    return Section("year", "The table's year", (Sheet("gaps", "", words, (shown,), (grid,)),))


def seasons_in(made: Shown) -> tuple[Season, ...]:
    """The driest, the day of building, the wettest."""
    table = made.table
    times, swing = seasons_of(table.profile), board_swing(table.profile)
    width, gap, rim = table.spacing.width, table.spacing.gap, table.profile.top.rim_width
    changes = (
        ("driest", times.driest, swing.dry), ("as built", times.built, 0.0), ("wettest", times.wettest, swing.wet),
    )  # fmt: skip
    return tuple(
        Season(name, moisture, width * (1 + change), gap - width * change, rim * (1 + change))
        for name, moisture, change in changes
    )
