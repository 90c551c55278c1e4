"""Plans of work as they are written, for the bench to follow, and every way of falsifying a figure in one."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from templategen.fit.plan import Closing, plan_assembly
from templategen.output.packet_json import assembly_json, part_json
from templategen.output.plan_json import plan_json
from templategen.proof.bench.follow import bench_differences
from templategen.proof.bench.safe import DRIVEN
from templategen.table.assembly import Table
from templategen.work.plan import work_plan

Record = dict[str, Any]

WRONG = 0.5
"""By how much a figure is falsified: mm, degrees or, for counts, one."""


def written(table: Table, way: Closing = "stop", tables: int = 1) -> Record:
    """What a packet's record holds that the bench reads, boards aside."""
    assembly = plan_assembly(table, (way,))
    told = {
        "parts": [part_json(part, ()) for part in table.parts],
        "assembly": assembly_json(table, assembly),
        "plan": plan_json(work_plan(table, assembly, tables), table.profile),
        "stock": [],
    }
    found: Record = json.loads(json.dumps(told))
    return found


def faults(record: Record) -> list[str]:
    """Where following the plan goes wrong."""
    return [str(one) for one in bench_differences(record)]


def alone(record: Record, codes: set[str]) -> Record:
    """The same plan for a few parts alone; operations keep their places."""
    told: Record = json.loads(json.dumps(record))
    told["parts"] = [part for part in told["parts"] if part["code"] in codes]
    for one in told["plan"]["operations"]:
        one["pieces"] = [piece for piece in one["pieces"] if piece["code"] in codes]
        cuts = one.get("set_up", {}).get("cuts", [])
        for cut in cuts:
            cut["lays"] = [lay for lay in cut["lays"] if lay["code"] in codes]
        cuts[:] = [cut for cut in cuts if cut["lays"]]
        if not cuts:
            one.pop("set_up", None)
    return told


def without_steps(record: Record) -> Record:
    """Parts alone, which nobody puts together."""
    record["assembly"] = []
    for one in record["plan"]["operations"]:
        one.pop("step", None)
    return record


def falsified(record: Record) -> Iterator[str]:
    """Makes every figure by which something is made wrong in turn, tells its name, and puts it right again."""
    for one in record["plan"]["operations"]:
        name = f"{one['number']} {one['operation']}"
        for entry, key, says in _figures(one):
            was = entry[key]
            entry[key] = was + (1 if isinstance(was, int) or _is_count(entry) else WRONG)
            yield f"{name}: {says} {was} as {entry[key]}"
            entry[key] = was


def _is_count(entry: Any) -> bool:
    return isinstance(entry, dict) and entry.get("unit") == ""


def _figures(one: Record) -> Iterator[tuple[Any, Any, str]]:
    yield from ((one, key, key) for key in ("number", "minutes"))
    for piece in one["pieces"]:
        yield from ((piece, key, f"{piece['code']} {key}") for key in ("count", "holds"))
        for size in ("before", "after"):
            yield from ((piece[size], which, f"{piece['code']} {size}") for which in range(3) if piece[size])
    set_up = one.get("set_up", {})
    for entry in (set_up, *set_up.get("cuts", ())):
        codes = dict.fromkeys(lay["code"] for lay in entry.get("lays", ()))
        for setting in entry.get("settings", ()):
            if not _is_buried(one, setting) and setting["name"] not in ("apart", "channel"):  # to a line; no feature
                yield setting, "value", f"{' '.join(codes)} {setting['name']}".strip()
        yield from ((lay, "pieces", f"{lay['code']} pieces") for lay in entry.get("lays", ()))


def _is_buried(one: Record, setting: Record) -> bool:
    """A cutter that reaches past the end of its rebate: how much of it runs in the fence makes no odds. Nor does how
    far past a foot an arris is eased of which relief leaves nothing."""
    if setting["quantity"] == "base.foot_length" and one["operation"] == "chamfer":
        return True
    if setting["name"] != "cutter" or one["operation"] != "rebate" or one["set_up"]["cutter"] in DRIVEN:
        return False
    (fence,) = [other["value"] for other in one["set_up"]["settings"] if other["name"] == "fence"]
    return bool(setting["value"] >= fence - 1e-9)
