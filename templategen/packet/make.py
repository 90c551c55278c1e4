"""Makes a packet: has every stage worked out that its shares need, and gathers the files."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from templategen.checks.finding import Finding
from templategen.packet import share_files as made
from templategen.packet import stages
from templategen.packet.build import with_places
from templategen.packet.followed import PLAN_RECORD
from templategen.packet.page import sections
from templategen.packet.pipeline import Stage, Worked, stage
from templategen.packet.record import record
from templategen.packet.shares import chosen
from templategen.packet.table_stages import EXAMINED, LOST_SO_FAR, PLAN, PROFILE, TABLE, Tell, begun, quiet
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

PROFILE_FILE = "profile.toml"
"""The profile as it was when the packet was made, so that the packet can be proved against it."""

WORKSHOP_FILE = "workshop.toml"
"""The workshop file, where the profile leaned on one."""


def kept_files(profile: Profile) -> made.Files:
    """What the packet was made from, as it was."""
    kept = {PROFILE_FILE: profile.text, WORKSHOP_FILE: profile.workshop.text if profile.workshop else ""}
    return {path: text.encode() for path, text in kept.items() if text}


ALL_FILES: Stage[made.Files] = stage(
    "all files", lambda files, page, profile: files | ({"index.html": page} if page else {}) | kept_files(profile),
    made.FILES, sections.PAGE, PROFILE,
)  # fmt: skip
RECORD: Stage[Mapping[str, Any]] = stage(
    "packet.json", record, TABLE, PLAN, stages.GLUING, sections.FOUND, ALL_FILES, made.PAPER,
    stages.LAID, made.JIG_FILES, PLAN_RECORD,
)  # fmt: skip

ON_SECOND_CORE = (
    EXAMINED, made.PART_FILES, made.ROUTER_FILES, made.PAPER, stages.CLOSING, *sections.OF_THE_TABLE,
)  # fmt: skip
"""What a second core does while the first lays out the stock, draws it and the jigs and binds the book of parts:
about as much again. The order of assembly and the plan of work are worked out on both."""

IN_ORDER: tuple[tuple[str, float, Stage[Any]], ...] = (
    ("table", 0.0, TABLE),
    ("stock", stages.LAYING_OUT[0], stages.LAID),
    ("stock", stages.LAYING_OUT[1], made.STOCK_FILES),
    ("jigs", 0.4, made.JIG_FILES),
    ("jigs", 0.5, sections.JIG_SHEETS),
    ("parts", 0.55, made.BOOK),
    ("parts", 0.65, made.FILES),
    ("page", 0.9, sections.PAGE),
    ("packet.json", 0.95, RECORD),
)
"""What is told while each is worked out, and how much of all the work is done before it."""


@dataclass(frozen=True, slots=True)
class Packet:
    """What a maker holds: the table, what was found, and every file as bytes by its path in the folder."""

    table: Table
    findings: tuple[Finding, ...]
    files: Mapping[str, bytes]
    record: Mapping[str, Any]

    @property
    def exit_code(self) -> int:
        """0 when nothing is worse than a note, else 1."""
        return 1 if any(finding.level != "note" for finding in self.findings) else 0


def make_packet(
    profile: Profile,
    only: Iterable[str] | None = None,
    effort: float | None = None,
    progress: Tell | None = None,
    tables: int = 1,
    second_core: bool = False,
) -> Packet:
    """The packet for `profile`, in memory; `write_packet` puts it in a folder.

    `only` names the shares wanted (parts, stock, paper, jigs, lists, page), `effort` the seconds by the clock for
    nesting (none for a fixed amount of work, the same each time), `tables` how many are made at once. `progress` is
    told what is being made and how much is done, 0 to 1. With `second_core` proofs, parts, paper and the page's
    pictures are made in a copy of the process while the stock is laid out; not for programs that run threads.

    Raises:
        DesignError: the table can't be built.
        OutputError: a share isn't known.
        ProfileError: the paper can't take the templates.
    """
    worked = begun(profile, chosen(only), effort, progress, tables)
    with with_places(profile):
        return packet_of(worked, progress or quiet, second_core)


def packet_of(worked: Worked, tell: Tell, second_core: bool) -> Packet:
    """The packet, stage by stage; a drawing that fails is left out and told as a finding."""
    lost: list[Finding] = []
    worked = worked.again({LOST_SO_FAR: lost})
    worked.keep_lost(lost)
    table = worked[TABLE]
    worked.begin(ON_SECOND_CORE, second_core)
    for what, done, one in IN_ORDER:
        tell(what, done)
        worked[one]
    tell("packet.json", 1.0)
    return with_record(table, worked[sections.FOUND], worked[ALL_FILES], worked[RECORD])


def with_record(
    table: Table, findings: tuple[Finding, ...], files: Mapping[str, bytes], told: Mapping[str, Any]
) -> Packet:
    """A packet with its record as a file."""
    from templategen.output.packet_json import dumps

    return Packet(table, findings, {"packet.json": dumps(told).encode(), **files}, told)
