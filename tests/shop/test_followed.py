"""What a maker does by the letter: proofs that can fail, levels that a cutter reaches, pins told alike, jigs once."""

from __future__ import annotations

import re
from math import ceil, cos, hypot, pi, radians, sin

import pytest

from templategen.fit.plan import plan_assembly
from templategen.jigs.jig import jigs_that_go
from templategen.jigs.story_stick import marks_of
from templategen.jigs.tear_out import tear_out
from templategen.shop.buy_list import buy_list
from templategen.shop.hardware import hardware
from templategen.shop.pins import pins_of
from templategen.shop.set_ups.run import set_ups
from templategen.shop.set_ups.set_up import Check
from templategen.shop.set_ups.words import checks
from templategen.work.jigs import BY
from templategen.work.plan import work_plan
from tests.random_profiles import tables
from tests.table.made import table_of


def laid(angle: float, out: float) -> tuple[float, float]:
    """Two scraps cut at an angle, one turned over, cut ends together: how far the second's edge falls off the line
    of the first's, and the distance across, measured so far out along both. The second is the first mirrored in the
    cut."""
    line = (-sin(angle), -cos(angle))
    along = (-1.0, 0.0)
    share = 2 * (along[0] * line[0] + along[1] * line[1])
    other = (share * line[0] - along[0], share * line[1] - along[1])
    return abs(out * other[1]), hypot(out * (other[0] - along[0]), out * (other[1] - along[1]))


def trials() -> list[tuple[float, float, Check]]:
    """Every angle that test pieces prove, how far out along them, 300 mm or 12 in, and what proves it."""
    found = []
    for table in (table_of(), *tables(range(1, 9))):
        for one in set_ups(table):
            for check in one.proof.checks:
                if check.wanted and check.wanted.figure.quantity.endswith(".trial"):
                    out = 304.8 if table.profile.units == "in" else 300.0
                    found.append((radians(one.value("angle")), out, check))
    return found


@pytest.mark.wide
def test_test_pieces_show_an_angle_that_is_off() -> None:
    """What test pieces should show is what two mirrored scraps show, and a tenth of a degree off shows as more than
    half a millimetre: the tolerance told is what the maker can see."""
    seen = trials()
    assert len(seen) > 20
    for angle, out, check in seen:
        wanted = check.wanted
        assert wanted is not None
        place = 0 if angle <= radians(30) + 1e-9 else 1
        assert wanted.figure.value == pytest.approx(laid(angle, out)[place], abs=1e-6)
        off = abs(laid(angle + radians(0.1), out)[place] - wanted.figure.value)
        assert check.tolerance.figure.value == pytest.approx(off, rel=0.01)
        assert off > 0.5


def test_what_is_wanted_is_told() -> None:
    """The list tells the figure beside what it may be off by."""
    told = [checks(one) for one in set_ups(table_of()) if any(check.wanted for check in one.proof.checks)]
    wanted = re.compile(
        r"(stands off it by|across is|groove, by calipers|mortise by hand|corner to the cut): [\d.]+ mm \(±"
    )
    assert len(told) > 4 and all(wanted.search(words) for words in told)


@pytest.mark.parametrize("reach", ((40.0, 8.0, 25.0), (30.0, 4.0, 60.0), (9.0, 3.0, 9.0)))
def test_no_cutter_goes_deeper_than_it_reaches(reach: tuple[float, float, float]) -> None:
    """Every cut goes down in the fewest levels that its tool's pass allows; what none reaches is cut by hand."""
    deep, once, bit = reach
    table = table_of({"shop.groove_reach": (deep, once), "shop.bit_length": bit})
    by_hand = 0
    for one in set_ups(table):
        if one.operation not in ("lap", "groove", "spline slot", "rebate"):
            continue
        height, levels = one.value("height"), one.setting("levels")
        if levels is None:
            by_hand += 1
            assert height > min(deep, bit) and one.way == "by hand"
            assert any("by hand" in words for words in one.warnings)
            continue
        most, a_pass = (deep, once) if one.cutter == "groove cutter" else (bit, 3.0)
        assert height <= most and levels.figure.value == ceil(height / a_pass - 1e-6)
    assert bool(by_hand) == (deep < 10)


def test_story_sticks_mark_both_sides_of_every_trench() -> None:
    """A trench at 60 degrees has its two sides at four places, two on each edge of the rail; each rail of three has
    both trenches' sides or their ends, in the rail's own frame, and no mark is left to a square."""
    table = table_of()
    for part in (part for part in table.parts if part.kind == "rail"):
        half = part.blank.bounds.top
        wide = max(f.outline.bounds.right for f in part.features if f.kind == "lap") * sin(pi / 3) - half * cos(
            pi / 3
        )
        far, near = ((wide + sign * half * cos(pi / 3)) / sin(pi / 3) for sign in (1, -1))
        marks = {word: place for place, words in marks_of(part) for word in words.split(", ") if "lap" in word}
        assert len(marks) == 8 and "lap" not in marks
        pairs = [(marks[f"lap {letter} lower"], marks[f"lap {letter} upper"]) for letter in "stuv"]
        wanted = [(-far, -near), (-near, -far), (near, far), (far, near)]
        for found, place in zip(sorted(pairs), sorted(wanted), strict=True):
            assert found == pytest.approx(place, abs=0.01), part.code


def test_pins_are_told_alike() -> None:
    """The plan of work and the hardware list say the same of pins, and that one end may slide: its slot is cut
    before the slat goes in."""
    table = table_of()
    work = work_plan(table, plan_assembly(table))
    gluing, pins_ = work.gluing, pins_of(table)
    told, does = list(pins_.tells(table.profile.units)), [one.operation.does for one in work.operations]
    assert sum(set(told) <= set(one.operation.tells) for one in work.operations) == 1
    assert does.index("pin slot") < does.index("dry fit") < does.index("bore and pin")
    (pins,) = [one for one in hardware(table, gluing) if one.item == "slat pins"]
    assert pins.use in told and pins.amount == 2 * sum(part.count for part in table.parts if part.kind == "slat")


def test_jigs_are_bought_once() -> None:
    """Four tables need four times the parts and one set of jigs."""
    table = table_of()
    jigs = [part for jig in jigs_that_go(table, BY)[0] for part in jig.parts]
    header, rows = buy_list(table, {}, [*table.parts, *jigs], 4)
    counts = {row[0]: int(row[header.index("pieces")]) for row in rows}
    assert all(counts[part.code] == part.count for part in jigs)
    assert all(counts[part.code] == 4 * part.count for part in table.parts)


def test_nothing_climbs_without_a_guide() -> None:
    """A round-over's bit is led by its bearing alone, so nobody is told to climb with it."""
    (jig,) = tear_out(table_of())
    (words,) = [words for words in jig.use if words.startswith("Round-overs")]
    assert "never climb" in words


def test_splines_are_sawn_in_the_ring() -> None:
    """Sawing round has no pivot for a spline: it lies in the glued ring, and is told by where it was glued in."""
    for one in set_ups(table_of()):
        for cut in one.cuts:
            if one.operation == "saw round" and cut.codes[0].startswith("SPLINE"):
                assert [setting.name for setting in cut.settings] == ["inset"]
