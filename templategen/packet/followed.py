"""The plan of work as it is written, and what the bench finds that follows it before anything is."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import islice
from typing import Any

from templategen.checks.finding import Finding
from templategen.fit.plan import Plan
from templategen.packet.lay_out import LaidStock
from templategen.packet.pipeline import Stage, stage
from templategen.packet.stages import LAID, WORK
from templategen.packet.table_stages import PLAN, PROFILE, TABLE
from templategen.proof.difference import Difference
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.work.plan import WorkPlan

MOST = 6
"""So many places are told."""


def followed(
    table: Table, plan: Plan, told: Mapping[str, Any], laid: LaidStock | None, to_cut: Mapping[str, int] | None = None
) -> tuple[Finding, ...]:
    """A stop for each place where following the plan goes wrong; of a re-fit only what is `to_cut` is made."""
    from templategen.output.packet_json import assembly_json, part_json
    from templategen.packet.record import stock_record
    from templategen.proof.bench.follow import bench_differences

    record = {
        "parts": [part_json(part, ()) for part in table.parts],
        "assembly": assembly_json(table, plan),
        "plan": told,
        **({} if to_cut is None else {"refit": {"to_cut": dict(to_cut)}}),
        **(stock_record(table, laid, {}) if laid else {"stock": []}),
    }
    return tuple(_stops(islice(bench_differences(record), MOST)))


def boards_followed(table: Table, packets: Mapping[str, Mapping[str, Any]], laid: LaidStock) -> tuple[Finding, ...]:
    """A stop for each place where the boards that several tables share don't give what their plans begin with."""
    from templategen.packet.record import stock_record
    from templategen.proof.bench.boards import joint_board_differences

    woods = [{"code": part.code, "wood": part.wood} for part in table.parts]
    record = {"parts": woods, **stock_record(table, laid, {})}
    return tuple(_stops(islice(joint_board_differences(record, packets), MOST)))


def _stops(found: Iterable[Difference]) -> Iterator[Finding]:
    for difference in found:
        fields = {"place": difference.where, "found": difference.says}
        yield Finding("plan-goes-wrong", "stop", "plan of work", 1.0, (None, 0.0), fields)


def plan_record(work: WorkPlan, profile: Profile) -> dict[str, Any]:
    from templategen.output.plan_json import plan_json

    return plan_json(work, profile)


PLAN_RECORD: Stage[Mapping[str, Any]] = stage("plan of work told", plan_record, WORK, PROFILE)
FOLLOWED: Stage[tuple[Finding, ...]] = stage("plan of work followed", followed, TABLE, PLAN, PLAN_RECORD, LAID)
