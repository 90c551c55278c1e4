"""What a packet planned: minutes by what is done, boards, offcuts, lengths."""

import tomllib
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from templategen.catalogue import fault_of, translated
from templategen.errors import Fault, OutputError
from templategen.job.minutes import Minutes, with_shares
from templategen.packet.proved import kept_profile
from templategen.packet.table_stages import PLAN, TABLE, begun
from templategen.proof.files import content
from templategen.proof.read_record import read_record
from templategen.table.profile.model import Profile
from templategen.work.operation import work_told
from templategen.work.plan import work_plan

ASSEMBLY = "assembly"
"""All its steps together: nobody looks at the clock between two."""

OFFCUTS = "lists/offcuts.toml"


def as_told(works: Iterable[str]) -> dict[str, str]:
    """What is done by the names that it has in the language that is spoken; where two would have one, by its own."""
    told: dict[str, str] = {}
    for one in works:
        name = work_told(one)
        told[one if name in told else name] = one
    return told


@dataclass(frozen=True, slots=True)
class Planned:
    """A packet as its maker meets it: `minutes` by what is done, with their shares by rate; `boards` that the layouts
    take, by name; `offcuts` as entries of stock, by name; overall `lengths` of parts as drawn, mm, by code."""

    profile: Profile
    name: str
    seal: str
    tables: int
    minutes: Mapping[str, Minutes]
    boards: Mapping[str, int]
    offcuts: Mapping[str, Mapping[str, Any]]
    lengths: Mapping[str, float]


def planned(folder: Path) -> Planned:
    """What the packet in `folder` planned, its plan worked out anew from the profile that it keeps.

    Raises:
        OutputError: no packet stands there, or it is one of several tables.
        ProfileError: its profile can't be read.
    """
    record = read_record(folder)
    if "packets" in record:
        remedy = translated("make each table's packet by itself, and tell what was done for each")
        raise OutputError(Fault(str(folder), translated("holds the packets of several tables"), remedy))
    if "plan" not in record:
        raise OutputError(fault_of(str(folder), "holds no plan of work", "name a packet that make has written"))
    profile, tables = kept_profile(folder, record), int(record.get("tables", 1))
    worked = begun(profile, tables=tables)
    plan = work_plan(with_shares(worked[TABLE]), worked[PLAN], tables)
    minutes: dict[str, Minutes] = {}
    for one in plan.operations:
        spent = one.operation.minutes
        if isinstance(spent, Minutes) and spent > 0:
            does = ASSEMBLY if one.operation.step else one.operation.does
            minutes[does] = minutes.get(does, Minutes(0.0, {})) + spent
    lengths = {part.code: part.outline.bounds.width for part in worked[TABLE].parts}
    boards = Counter(str(sheet["name"]) for sheet in record["stock"])
    return Planned(
        profile, folder.resolve().name, str(record["seal"])[:16], tables, minutes, boards, _offcuts(folder), lengths
    )


def _offcuts(folder: Path) -> Mapping[str, Mapping[str, Any]]:
    data = content(folder, OFFCUTS)
    try:
        entries = tomllib.loads((data or b"").decode("utf-8")).get("stock", [])
        return {str(entry["name"]): entry for entry in entries}
    except (ValueError, LookupError, TypeError) as trouble:
        raise OutputError(
            fault_of(f"{folder / OFFCUTS}", "can't be read ({trouble})", "make it anew", trouble=str(trouble)[:60])
        ) from None
