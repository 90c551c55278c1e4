"""The order of the plan: what would meet wood that is gone already, or spoil what is done, comes first."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest

from templategen.errors import DesignError
from templategen.fit.plan import plan_assembly
from templategen.shop.set_ups.set_up import SetUp
from templategen.table.assembly import Table, build_table
from templategen.work.plan import WorkPlan, work_plan
from tests.proof.shops import profile_in_a_shop
from tests.table.made import table_of

EASED = ("round-over", "chamfer", "bead")

JOINTS = ("groove", "shoulder", "rebate", "nib", "lap")

FACES = ("top", "bottom")

BY_HAND = {
    "shop.machines": (),
    "shop.hand_tools": ("marking knife", "jointer plane", "block plane", "shoulder plane", "router plane",
                        "tenon saw", "rip saw", "bow saw", "spokeshave", "plough plane", "brace", "chisels"),
}  # fmt: skip

TABLES = ("towpath-dining", "towpath-side", "towpath-hex", "towpath-inch", "by hand", 3, 11)


@cache
def made(which: str | int) -> tuple[Table, WorkPlan]:
    """A shipped table, one without machines, or one of chance in a shop of chance, with its plan."""
    if isinstance(which, int):
        table = _of_chance(which)
    else:
        table = table_of(BY_HAND) if which == "by hand" else table_of(name=which)
    return table, work_plan(table, plan_assembly(table))


def _of_chance(seed: int) -> Table:
    """The first table from a seed on that can be built."""
    while True:
        try:
            return build_table(profile_in_a_shop(seed, stocked=False))
        except DesignError:
            seed += 1


def on(plan: WorkPlan, code: str) -> Iterator[SetUp]:
    """The set-ups that a part passes through, in order."""
    return (one for one in plan.set_ups if code in one.codes)


@pytest.mark.parametrize("which", TABLES)
def test_edges_are_eased_while_they_are_whole(which: str | int) -> None:
    """A bearing meets neither groove nor tenon where the joints that follow go as deep as the edge: rails, segments
    and legs have their long arrises eased before anything is cut there."""
    table, plan = made(which)
    seen = 0
    for part in table.parts:
        if part.kind not in ("rail", "rim-segment", "leg"):
            continue
        found = list(on(plan, part.code))
        shallow = min((cut.depth for kind in ("tenon", "lap") for cut in part.cuts(kind)), default=99.0)
        for place, one in enumerate(found):
            if one.operation in EASED and max(setting.figure.value for setting in one.settings) <= shallow:
                assert not {before.operation for before in found[:place]}.intersection(JOINTS), (
                    part.code,
                    one.number,
                )
                seen += 1
    assert seen or not any(cut.kind in EASED for part in table.parts for cut in part.features)


@pytest.mark.parametrize("which", TABLES)
def test_laps_come_after_all_that_wants_a_whole_rail(which: str | int) -> None:
    """Holes, grooves and mortises are cut while a rail is whole, laps while its ends are; a neck of less than half
    its thickness, as three rails leave it, is told as it is made."""
    table, plan = made(which)
    for part in table.parts:
        if not part.cuts("lap"):
            continue
        done = [one.operation for one in on(plan, part.code)]
        laps = [place for place, name in enumerate(done) if name == "lap"]
        before = [
            place for place, name in enumerate(done) if name in ("bore", "groove", "peg bore", "mortise", "drain")
        ]
        after = [place for place, name in enumerate(done) if name in ("shoulder", "rebate", "round corner", "relief")]
        assert max(before, default=-1) < min(laps) and max(laps) < min(after, default=99), part.code
        told = [words for one in on(plan, part.code) if one.operation == "lap" for words in one.warnings]
        faces = [max((cut.depth for cut in part.cuts("lap") if cut.face == face), default=0) for face in FACES]
        is_thin = part.thickness - sum(faces) < 0.45 * part.thickness
        assert any("stay in its middle" in words for words in told) == is_thin, part.code
        assert is_thin or table.sizes.rails == 2


@pytest.mark.parametrize("which", TABLES)
def test_a_sawn_edge_is_fair_before_anything_runs_on_it(which: str | int) -> None:
    """A bearing or a guide's fence copies what a bandsaw leaves."""
    rounds = [one for one in made(which)[1].set_ups if one.operation == "saw round" and "bandsaw" in one.needs]
    assert all(any("sand the sawn edge fair" in words for words in one.does) for one in rounds)


def test_the_rounding_template_takes_two_bits() -> None:
    """A bit in a bush has no bearing: what it doesn't reach is left to a second one, and there is no window."""
    jigs = {jig.code: jig for jig in made("towpath-dining")[1].jigs.jigs}
    told = jigs["ROUND"]
    assert any("a second bit, a flush bit" in words and "33 mm" in words for words in told.use)
    assert not any("window" in words for words in (*told.use, *told.cautions))
    corner = jigs["LEG-CORNER"].use
    assert any("from end to end of the whole blank" in words for words in corner)
