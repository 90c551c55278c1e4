"""Clearances: reckoned for the year by hand, drawn into both mates, or as the maker sets them."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi

import pytest

from templategen.errors import ProfileError
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text
from templategen.table.profile.starter import starter_text
from tests.table.made import profile_of, table_of

AIR = {"shop.humidity": (40.0, 80.0), "shop.temperature": 20.0, "shop.build_moisture": 12.0}
"""Air whose wood settles at 16.04 % at its wettest, and a board at 12 %."""


def grows(shrinkage: float) -> float:
    """Growth of white oak from 12 to 16.04 %, as a share, times 1.2, on the straight line from green to ovendry."""
    size = [1 - shrinkage / 100 * (30 - at) / 30 for at in (12.0, 16.04)]
    return 1.2 * (size[1] / size[0] - 1)


@pytest.mark.parametrize(("sawn", "shrinkage"), [("plain", 10.5), ("quarter", 5.6), ("rift", 8.05)])
def test_what_is_reckoned_is_what_the_wood_grows(sawn: str, shrinkage: float) -> None:
    """Each clearance of a table in white oak is the growth that its own wood has no other room for."""
    sizes = {"top.rail_width": 84.0, "base.rail_width": 91.0, "legs.tenon": (38.0, 46.0, 24.0)}
    profile = replace(profile_of(AIR | sizes | {"shop.sawn": sawn}), wood="white oak")
    play = build_table(profile).sizes.clearances
    assert play.lap == pytest.approx(84 * grows(shrinkage), abs=2e-3)
    assert play.base_lap == pytest.approx(91 * grows(shrinkage), abs=2e-3)
    assert play.shoulder == pytest.approx(42 * grows(shrinkage), abs=2e-3)
    assert play.tenon == pytest.approx(46 * grows(10.5), abs=2e-3)
    assert play.slide == pytest.approx(0.2 + 12 * (grows(10.5) - grows(5.6)), abs=2e-3)
    assert play.glue == 0.1


def test_both_mates_are_drawn_with_it() -> None:
    """Trenches, tongues, mortises and shoulders of the parts measure what the clearances say."""
    set_to = {"lap": 1.7, "slide": 0.45, "tenon": 0.9, "shoulder": 0.8}
    table = table_of({f"joints.{name}_clearance": size for name, size in set_to.items()})
    low = table.part("RAIL-LOW")
    lap = next(feature for feature in low.features if feature.kind == "lap").outline
    along = [edge for edge in lap.edges if abs(edge.start.y) != abs(edge.end.y)]
    widths = [abs(p.x * cos(pi / 6) - p.y / 2) for p in (along[0].start,)]
    assert max(widths) >= (84 + 1.7) / 2 - 1e-9
    slat = table.part("SLAT-03")
    tongue = [feature for feature in slat.features if feature.kind == "tongue"]
    assert slat.thickness - tongue[0].depth - tongue[1].depth == pytest.approx(12 - 0.45)
    mortise = next(feature for feature in low.features if feature.kind == "mortise").outline.bounds
    assert (mortise.width, mortise.height) == pytest.approx((46.9, 38.1))
    tight = table_of({f"joints.{name}_clearance": size for name, size in (set_to | {"shoulder": 0.0}).items()})
    one, other = (whole.part("SLAT-03").body for whole in (table, tight))
    assert one is not None and other is not None
    assert other.bounds.width - one.bounds.width == pytest.approx(2 * 0.8 / cos(pi / 6))


def test_a_rail_tenon_is_glued_and_a_slat_slides() -> None:
    """Of the two that share a groove only the slat's tongue is thinner by the sliding clearance."""
    table = table_of({"joints.slide_clearance": 0.5})
    tenon = [feature for feature in table.part("RAIL-MID").features if feature.kind == "tenon"]
    assert 38 - tenon[0].depth - tenon[1].depth == pytest.approx(12 - 0.1)


def test_auto_is_a_word_of_the_profile() -> None:
    """Left out and "auto" are the same; arithmetic can't lean on what isn't known yet, and says so."""
    text = starter_text("terrace")
    assert profile_from_text(text, "a").joints == profile_from_text("format = 1", "a").joints
    assert 'lap_clearance = "auto"' in text
    with pytest.raises(ProfileError, match="lap_clearance"):
        profile_from_text('format = 1\n[joints]\nglue_clearance = "joints.lap_clearance / 2"', "a")
    half = profile_from_text(
        'format = 1\n[joints]\nlap_clearance = 0.5\nshoulder_clearance = "joints.lap_clearance / 2"', "a"
    )
    assert half.joints.shoulder_clearance == 0.25
