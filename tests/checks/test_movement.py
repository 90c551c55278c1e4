"""The table's year against figures worked by hand from published coefficients."""

from __future__ import annotations

from math import atan, cos, degrees, pi, tan

import pytest

from templategen.checks.finding import Finding
from templategen.checks.movement import drawn_back, mitre_opening, mitre_turn, movement_findings
from templategen.table.profile.model import Profile
from templategen.table.seasons import Seasons, Swing, seasons_of
from templategen.wood.species import SPECIES
from tests.table.made import TIGHT, profile_of, table_of

AIR = {"shop.humidity": (40.0, 80.0), "shop.temperature": 20.0, "shop.build_moisture": 12.0}
"""Air whose wood settles at 7.72 and 16.04 %, and a board at 12 %."""

WIDTH = TIGHT | {"slats.hold": "width"}
"""Seven slats of 58 mm with gaps of 7.375 mm, as worked by hand, in tight joints."""

OAK = 0.00376
"""Tangential change of white oak for each 1 % moisture, as published."""


def found(changes: dict[str, object], says: str) -> Finding:
    """The one finding of the dining table, with changes, whose words hold `says`."""
    return next(f for f in movement_findings(table_of(WIDTH | changes)) if says in f.says)


def oak(changes: dict[str, object], says: str) -> Finding:
    """The same for white oak in known air."""
    from dataclasses import replace

    from templategen.table.assembly import build_table

    profile = replace(profile_of(AIR | WIDTH | changes), wood="white oak")
    return next(f for f in movement_findings(build_table(profile)) if says in f.says)


def test_the_year_in_moisture() -> None:
    """Wood is reckoned from the moisture written down, or else from half way between driest and wettest."""
    written = seasons_of(profile_of(AIR))
    assert (written.driest, written.built, written.wettest) == pytest.approx((7.72, 12.0, 16.04), abs=0.006)
    middle = seasons_of(profile_of(AIR | {"shop.build_moisture": 0.0}))
    assert middle.built == pytest.approx((7.72 + 16.04) / 2, abs=0.006)


@pytest.mark.parametrize(("sawn", "published"), [("plain", 0.00376), ("quarter", 0.00194)])
def test_gaps_of_oak_slats(sawn: str, published: float) -> None:
    """Gaps follow g - w C (M - M_built) k, plain sawn by the tangential and quarter sawn by the radial figure."""
    gap = 7.375
    wet = gap - 58 * published * (16.04 - 12) * 1.2
    dry = gap - 58 * published * (7.72 - 12) * 1.2
    assert oak({"shop.sawn": sawn}, "at the wettest").measured == pytest.approx(wet, abs=0.02)
    assert oak({"shop.sawn": sawn}, "at the driest").measured == pytest.approx(dry, abs=0.02)


def test_a_gap_that_closes_is_a_stop() -> None:
    """Slats that touch when wet are a stop, a gap that water no longer leaves through is a caution."""
    wide = {"slats.width": 110.0, "slats.gap": 4.0, "slats.hold": "gap"}
    tight = oak(wide, "gap between slats at the wettest")
    assert tight.level == "caution" and 0 < tight.measured < 3
    closed = oak(wide | {"shop.build_moisture": 6.0}, "gap between slats at the wettest")
    assert closed.level == "stop" and closed.measured < 0
    assert "slats of" in closed.why


def test_the_gap_that_would_do() -> None:
    """Built with a gap from the range told, slats drain and catch no finger all year; the range is 4 mm less the
    swing."""
    caught = found({}, "finger")
    assert (caught.level, caught.wanted) == ("caution", (3.0, 7.0))
    good = found({"slats.gap": 4.5, "slats.hold": "gap"}, "gap between slats at the driest")
    assert good.level == "note" and good.measured < 7
    assert "3.9 mm to 6.1 mm" in caught.why


@pytest.mark.parametrize(("shrinkage", "grows"), [(10.5, 2.7), (5.6, 1.4)])
def test_a_lap_of_oak(shrinkage: float, grows: float) -> None:
    """A rail of white oak 90 mm wide grows 2.7 mm plain sawn, 1.4 mm quarter sawn, from 10 to 18 %."""
    year = Seasons(8, 10, 18, 1.0, SPECIES["white oak"])
    assert 90 * year.swing(shrinkage).wet == pytest.approx(grows, abs=0.05)


def test_tight_laps() -> None:
    """A lap is pressed by what its rail grows past the play, as % of the width; more play lets it be."""
    grows = 84 * OAK * (16.04 - 12) * 1.2
    pressed = oak({}, "rails in their laps")
    assert pressed.measured == pytest.approx(100 * (grows - 0.1) / 84, abs=0.03)
    assert oak({"joints.lap_clearance": 0.8}, "rails in their laps").measured == pytest.approx(
        100 * (grows - 0.8) / 84, abs=0.03
    )
    assert oak({"joints.lap_clearance": None}, "rails in their laps").measured == 0
    assert oak({"limits.squeeze": (1.0, 1.5)}, "rails in their laps").level == "stop"


@pytest.mark.parametrize(("segments", "opens"), [(6, 2.0), (8, 1.5), (12, 1.0), (16, 0.8)])
def test_mitres_as_worked(segments: int, opens: float) -> None:
    """A rim 100 mm wide that moves by 2 % opens each mitre by the worked figures, growing or shrinking."""
    mitre = pi / segments
    for change in (0.02, -0.02):
        assert mitre_opening(mitre, 100 / cos(mitre), change) == pytest.approx(opens, abs=0.06)


def test_a_ring_opens_by_its_share_of_a_whole_turn() -> None:
    """All joints of a ring of many segments open together by 360 degrees times the movement."""
    assert degrees(2 * 48 * -mitre_turn(pi / 48, 0.02)) == pytest.approx(360 * 0.02, rel=0.03)
    assert tan(pi / 8 + mitre_turn(pi / 8, 0.02)) == pytest.approx(tan(pi / 8) / 1.02)


def test_tongues_left() -> None:
    """The outermost slats across lie between two segments, all slats along between a rail and the ring."""
    table = table_of(TIGHT)
    rail, rim = 42 * 0.01, 121 * 0.01
    assert drawn_back(table, Swing(-0.01, 0.02)) == pytest.approx(2 * rim, abs=1e-9)
    inner = table_of(TIGHT | {"slats.run": "along"})
    assert drawn_back(inner, Swing(-0.01, 0.02)) == pytest.approx(rail + rim, abs=1e-9)
    assert drawn_back(table, Swing(0.0, 0.02)) == 0


def test_short_tongues_are_found() -> None:
    """A tongue that dries out of its groove is a stop at the groove's depth."""
    finding = found({"joints.groove_depth": 6.0}, "slat tongue")
    assert (finding.level, finding.where) == ("stop", "joints.groove_depth")


def test_movement_factor() -> None:
    """Twice the safety factor is twice the movement."""
    says = "play at the slats' shoulders"
    single, double = (found({"limits.movement_factor": k}, says).wanted[0] for k in (1.0, 2.0))
    assert single is not None and double == pytest.approx(2 * single, abs=2e-3)


def test_pressed_shoulders_and_tongues_are_cautions() -> None:
    """A maker who sets no play is told what the year does; what is left to be reckoned is drawn and only noted."""
    for says, key in (("slats' shoulders", "shoulder_clearance"), ("slats' tongues", "slide_clearance")):
        tight, drawn = found({}, says), found({f"joints.{key}": None}, says)
        assert (tight.level, tight.where) == ("caution", f"joints.{key}")
        assert drawn.level == "note" and drawn.wanted[0] is not None and drawn.measured >= drawn.wanted[0] - 1e-3
        assert found({f"joints.{key}": drawn.measured}, says).level == "note"


def test_still_air_moves_nothing() -> None:
    """Wood built at the moisture of air that never changes keeps its gaps and mitres."""
    profile: Profile = profile_of({"shop.humidity": (64.999, 65.001), "shop.temperature": 20.0})
    still = {"shop.humidity": profile.shop.humidity, "shop.temperature": 20.0}
    assert found(still, "gap between slats at the wettest").measured == pytest.approx(7.375, abs=1e-3)
    assert found(still, "opening of each mitre").measured == pytest.approx(0, abs=1e-3)


def grown(shrinkage: float, built: float, moisture: float) -> float:
    """Change of a size of white oak from `built` to `moisture` %, on the straight line from green to ovendry, times
    1.2."""
    size = [1 - shrinkage / 100 * (30 - at) / 30 for at in (built, moisture)]
    return 1.2 * (size[1] / size[0] - 1)


def test_play_of_dry_tongues() -> None:
    """A tongue needs two tenths to slide and what its rings' two directions may grow apart; with that it only
    informs."""
    year = seasons_of(profile_of(AIR))
    apart = 12 * (grown(10.5, year.built, year.wettest) - grown(5.6, year.built, year.wettest))
    note = oak({}, "play of the slats' tongues")
    assert note.wanted == (pytest.approx(0.2 + apart, abs=0.011), None)
    assert (note.level, note.measured) == ("caution", 0.1)
    assert oak({"joints.slide_clearance": None}, "play of the slats' tongues").measured == pytest.approx(0.2 + apart)
    assert oak({"joints.slide_clearance": 0.2 + apart}, "play of the slats' tongues").level == "note"


@pytest.mark.parametrize("built", [8.5, 15.5])
def test_mitres_open_inside_when_dry_and_outside_when_wet(built: float) -> None:
    """The opening told is the larger of the two, each of its own season, by the turn of both mitres."""
    note = oak({"shop.build_moisture": built}, "opening of each mitre")
    year = seasons_of(profile_of(AIR | {"shop.build_moisture": built}))
    wall = 670 - 549 / cos(pi / 12)
    opens = []
    for moisture in (year.driest, year.wettest):
        change = grown(10.5, built, moisture)
        opens.append(2 * abs(degrees(pi / 12) - degrees(atan(tan(pi / 12) / (1 + change)))) * wall)
    inside, outside = (value * pi / 180 for value in opens)
    assert note.measured == pytest.approx(max(inside, outside), rel=1e-6)
    assert f"{inside:.1f}".rstrip("0").rstrip(".") + " mm inside" in note.why
    assert f"{outside:.1f}".rstrip("0").rstrip(".") + " mm outside" in note.why
