"""Copies measured unlike each other: what is still to cut must go together with every one of them."""

from __future__ import annotations

from itertools import permutations

import pytest

from templategen.table.profile.model import Profile
from tests.shop.test_refit import DINING, measured, refitted


def profile_after(*entries: tuple[str, int, str, float]) -> Profile:
    """The profile once single sizes of copies are known."""
    text = "".join(measured(code, place, **{name: value}) for code, place, name, value in entries)
    return refitted(text).rebuilt.table.profile


SLOT = DINING.profile.joints.spline_thickness
GLUE = DINING.profile.joints.glue_clearance


@pytest.mark.parametrize("order", [*permutations((0.2, -0.3, 0.5))])
def test_a_mate_still_to_cut_enters_the_narrowest(order: tuple[float, ...]) -> None:
    """Of three slots measured the narrowest decides, wherever in the ring it is."""
    found = profile_after(*(("RIM-A", 1 + 2 * i, "slot_width", SLOT + off) for i, off in enumerate(order)))
    assert found.joints.spline_thickness == pytest.approx(SLOT - 0.3)


@pytest.mark.parametrize("order", [*permutations((0.2, -0.3, 0.5))])
def test_an_opening_still_to_cut_takes_the_thickest(order: tuple[float, ...]) -> None:
    """Of three splines measured the thickest decides."""
    entries = (("SPLINE", 1 + i, "thickness", SLOT - GLUE + off) for i, off in enumerate(order))
    assert profile_after(*entries).joints.spline_thickness == pytest.approx(SLOT + 0.5)


def test_tongues_and_tenons_are_told_from_grooves_and_mortises() -> None:
    """What is inside counts by its thickest, what is outside by its narrowest and shallowest; of both at once, what
    is cut into wood decides."""
    tongue, slide = DINING.profile.joints.tongue, DINING.sizes.clearances.slide
    thick = (("SLAT-03", 1, "tongue_thickness", tongue - slide + 0.1),
             ("SLAT-04", 1, "tongue_thickness", tongue - slide - 0.4))  # fmt: skip
    assert profile_after(*thick).joints.tongue == pytest.approx(tongue + 0.1)
    grooves = (("RIM-A", 1, "groove_width", tongue - 0.2), ("RIM-B", 2, "groove_width", tongue + 0.3))
    assert profile_after(*grooves).joints.tongue == pytest.approx(tongue - 0.2)
    assert profile_after(*thick, *grooves).joints.tongue == pytest.approx(tongue - 0.2)
    deep = DINING.profile.joints.groove_depth
    found = profile_after(("RIM-A", 1, "groove_depth", deep + 0.7), ("RAIL-LOW", 1, "groove_depth", deep - 0.6))
    assert found.joints.groove_depth == pytest.approx(deep - 0.6)


def test_each_side_of_a_tenon_follows_its_own_side_of_the_mortises() -> None:
    """Thickness, width and length by the least of theirs, none by another's."""
    thick, wide, long = DINING.profile.legs.tenon
    found = profile_after(
        ("RAIL-LOW", 1, "mortise_thickness", thick + GLUE + 0.3),
        ("RAIL-MID", 1, "mortise_thickness", thick + GLUE - 0.2),
        ("RAIL-LOW", 1, "mortise_depth", long + 0.2), ("RAIL-MID", 1, "mortise_depth", long + 0.9),
    )  # fmt: skip
    end = DINING.profile.joints.end_clearance
    assert found.legs.tenon == pytest.approx((thick - 0.2, wide, long + 0.2 - end))
