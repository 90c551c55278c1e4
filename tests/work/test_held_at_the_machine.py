"""What holds a piece, and what stands at the fence, told at each card as it is at the machine."""

from __future__ import annotations

import pytest

from templategen.geometry.edge import Arc
from templategen.jigs.rounding import BODY
from templategen.table.assembly import Table
from templategen.work.plan import WorkPlan
from tests.work.test_order import EASED, TABLES, made

STRIP = "STRIP-BASE"

CLAMP = 40.0
"""Length of plate that a clamp wants, mm."""


def rounded(table: Table) -> bool:
    """Whether it has pads with rounded ends."""
    return table.profile.base.end_round > 0 and any(part.kind == "foot" for part in table.parts)


@pytest.mark.parametrize("which", TABLES)
def test_pads_are_worked_on_the_end_of_a_strip_as_wide_as_they(which: str | int) -> None:
    """A pad is thinner than fences and bearings are deep: card, plan and template name the
    strip that it is taped to, which is of its width and longer than the plate; no card holds it between blocks."""
    table, plan = made(which)
    pads = [part for part in table.parts if part.kind == "foot" and part.size[0] < table.profile.shop.holding]
    for one in plan.operations:
        work = one.operation
        if work.set_up is None or (work.set_up.way == "by hand" and work.does == "round corner"):
            continue
        for part in pads:
            if part.code in work.set_up.codes and work.does in ("round corner", *EASED):
                (told,) = (line for line in work.cautions if part.code in line)
                assert STRIP in told and "block" not in told and "Blo" not in told, told
                assert next(piece.held for piece in work.pieces if piece.code == part.code) == "carrier"
                sawn = work.does == "round corner"
                bare = "Round both corners of one end" in told or "rund fräsen" in told
                arcs = any(isinstance(edge, Arc) for edge in part.outline.edges)
                assert bare == (not sawn and arcs and work.set_up.way != "by hand"), told
                assert any(f"{part.code}: pared, not sawn" in line for line in map(str, work.tells)) == sawn
                rail = next(rail for rail in table.parts if rail.kind == "base-rail")
                assert part.size[1] == pytest.approx(rail.size[1]), "the strip is as wide as a rail"
    for jig in (jig for jig in plan.jigs.jigs if jig.code == "ROUND" and pads):
        told = next(line for line in jig.use if STRIP in line)
        assert all(part.code in told for part in pads) and "behind it" in told
        plate, fence = (next(one.outline.bounds for one in jig.parts if one.code == f"ROUND-{name}")
                        for name in ("PLATE", "FENCE"))  # fmt: skip
        assert "fences hold the pads, clamps over the second" in told
        behind = plate.width - min(part.size[0] for part in pads)
        assert behind >= CLAMP and fence.width >= CLAMP, "no room for clamps over the second pad"
        assert any("fences, screwed under the plate" in line for line in jig.use)
        assert sum(part.count * part.size[0] for part in pads) > BODY, "too few to carry the plate"


@pytest.mark.parametrize("which", TABLES)
def test_the_strip_of_a_saw_comes_off_where_a_later_cut_is_told_from_its_fence(which: str | int) -> None:
    """The strip holds a slat off the fence by its own thickness, and off its stop by as much at 45°."""
    _, plan = made(which)
    on: tuple[str, ...] = ()
    for one in plan.operations:
        set_up = one.operation.set_up
        if set_up is None or one.operation.does not in ("crosscut", "mitre") or set_up.way not in ("auto", "machine"):
            continue
        strip = any(code.startswith("STOP-STRIP") for code in one.operation.jigs)
        told = [line for line in set_up.warnings if "off: told from the bare fence" in line]
        assert bool(told) == (not strip and set_up.needs == on and on != ()), (one.number, told)
        assert all(line in one.operation.tells for line in told)
        on = set_up.needs if strip else () if told else on


def strips_off(plan: WorkPlan) -> int:
    """How often a strip is told to come off."""
    return sum("bare fence" in line for one in plan.set_ups for line in one.warnings if "STOP-STRIP" in line)


def test_a_shipped_table_takes_the_strip_off_once() -> None:
    """The card after the strip's, where another angle is sawn without it."""
    assert strips_off(made("towpath-inch")[1]) == 1


@pytest.mark.parametrize("which", TABLES)
def test_short_pieces_along_a_fence_are_fed_and_off_a_strip_have_no_stop(which: str | int) -> None:
    """Between blocks of waste nothing travels along a fence; a line has no block to be taken away."""
    table, plan = made(which)
    short = {part.code for part in table.parts if part.size[0] < table.profile.shop.holding}
    for one in plan.set_ups:
        for line in (line for line in one.cautions if line.startswith("Under")):
            if one.operation in ("groove", "spline slot") and one.way in ("auto", "machine"):
                assert "Hold them between blocks" not in line, line
            lined = {
                code for cut in one.cuts if any(own.name == "apart" for own in cut.settings) for code in cut.codes
            }
            if any(f"{code} (" in line for code in lined & short):
                assert "loose block" not in line, (one.number, line)


@pytest.mark.parametrize("which", TABLES)
def test_the_scrap_rings_slips_stay_for_the_rim_and_come_off_after(which: str | int) -> None:
    """They lie under every piece at that fence: left there they turn the next angle too."""
    _, plan = made(which)
    does = [one.operation.does for one in plan.operations]
    begun = does.index("scrap ring") if "scrap ring" in does else len(does)
    sawn = [one.operation.set_up for one in plan.operations[begun:] if one.operation.set_up]
    ends = [one for one in sawn if one.operation in ("crosscut", "mitre") and one.way in ("auto", "machine")]
    if not ends:
        return
    first, *others = ends
    assert any("slips stay" in line for line in first.warnings)
    after = [one for one in others if one.needs == first.needs]
    assert [one.number for one in others if any("slips off" in line for line in one.warnings)] == [
        one.number for one in after[:1]
    ]


@pytest.mark.parametrize("which", TABLES)
def test_only_jigs_that_a_card_asks_for_are_named_on_it(which: str | int) -> None:
    """What carries an end over a cutter is the block or the long fence, as the card says, never both unasked."""
    _, plan = made(which)
    for one in (one for one in plan.set_ups if one.operation == "rebate"):
        for code in ("LAP-SLED", "END-SLED"):
            assert (code in one.jigs) == any(code in line for line in (*one.does, *one.warnings)), one.number


@pytest.mark.parametrize("which", TABLES)
def test_a_start_over_a_hole_is_tried_on_a_piece_with_mitred_ends(which: str | int) -> None:
    """No strip's end meets the blocks that a segment meets."""
    table, plan = made(which)
    for one in (one for one in plan.set_ups if one.operation in ("groove", "spline slot")):
        bored = any("first bore both ends" in line for line in one.warnings)
        ring = any(table.part(code).kind == "rim-segment" for code in one.codes)
        assert any("scrap ring" in line for line in one.warnings) == (bored and ring), one.number
