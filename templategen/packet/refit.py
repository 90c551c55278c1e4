"""Makes the packet of a re-fit: new templates for what is still to cut, the list, the picture, the record.

It goes by stages like any packet; stock, and jigs that measured sizes leave as they are, are the first packet's.
"""

import os
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from hashlib import sha256
from math import degrees
from operator import attrgetter
from typing import Any

from templategen.catalogue import translated
from templategen.checks.finding import Finding
from templategen.errors import Fault, TemplategenError
from templategen.fit.plan import Plan, plan_assembly
from templategen.output.packet_json import sealed
from templategen.packet.build import in_units, with_places
from templategen.packet.followed import followed, plan_record
from templategen.packet.jig_files import NO_JIG_FILES, JigFiles, jig_files
from templategen.packet.lists import cut_lists, work_lists
from templategen.packet.make import Packet, kept_files, with_record
from templategen.packet.page.refit import refit_page
from templategen.packet.paper import NO_PAPER, PaperFiles, templates_on_paper
from templategen.packet.part_files import PLAN_WEIGHT, book_files, sheet_files
from templategen.packet.pipeline import Stage, share, stage
from templategen.packet.record import record
from templategen.packet.refit_jigs import refit_jigs
from templategen.packet.router_files import files_of_parts
from templategen.packet.share_files import Files
from templategen.packet.shares import chosen
from templategen.packet.table_stages import PROFILE, TABLE, Tell, begun, gravest_first, quiet
from templategen.parts.part import Part
from templategen.parts.revision import REVISION
from templategen.shop.closing.study import wished
from templategen.shop.refit.read import Bench, read_bench
from templategen.shop.refit.refit import Refit, refit
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.work.plan import WorkPlan, work_plan

SHARES = ("parts", "paper", "jigs", "lists", "page")
"""What a re-fit makes."""

MEASURED_FILE = "measured.toml"
"""What was measured, as it was when the packet was made."""


def make_refit(
    profile: Profile,
    measured: str | os.PathLike[str] | None,
    progress: Tell | None = None,
    only: Iterable[str] | None = None,
) -> tuple[Packet, Refit]:
    """The packet for what is still to cut, from the file at `measured` and the profile's own [[measured]].

    Parts that stay as drawn have the files that `make` gives them; those drawn anew carry a revision of their own.
    `only` names the shares wanted: parts, paper, jigs, lists, page.

    Raises:
        OutputError: a share isn't known.
        ProfileError: what was measured can't be read.
        DesignError: no table comes of it.
    """
    tell = progress or quiet
    worked = begun(profile, chosen(only, SHARES)).again({MEASURED: measured})
    with with_places(profile):
        worked[TABLE]
    with _as_measured(profile, measured):
        for what, done, one in IN_ORDER:
            tell(what, done)
            worked[one]
    return with_record(worked[REFIT].rest.table, worked[FINDINGS], worked[ALL_FILES], worked[RECORD]), worked[REFIT]


@contextmanager
def _as_measured(profile: Profile, measured: str | os.PathLike[str] | None) -> Iterator[None]:
    """What is refused once the table itself was built comes of what was measured, so that file is told."""
    try:
        if measured is None:
            with with_places(profile):
                yield
        else:
            yield
    except TemplategenError as refusal:
        told = [
            one if one.file or measured is None else _of_measured(in_units(one, profile.units), measured)
            for one in refusal.faults
        ]
        raise type(refusal)(told) from None


def _of_measured(fault: Fault, measured: str | os.PathLike[str]) -> Fault:
    """A fault of sizes that were measured; the key that it would have in a profile is no place to look."""
    remedy = fault.remedy if fault.where == "measured" else translated("measure again, or cut that part anew")
    return Fault("measured" if fault.where == "measured" else "", fault.found, remedy, os.fspath(measured))


def revision_of(table: Table, bench: Bench) -> str:
    """The profile's revision, or where something is cut a new one from the profile and what was measured."""
    if not bench.cut:
        return table.profile.revision
    return sha256(f"{table.profile.sha256}\n{bench.text}".encode()).hexdigest()[:REVISION]


def to_cut(found: Refit) -> tuple[Part, ...]:
    """The parts still to cut, each with the number still wanted."""
    wanted = found.rest.to_cut
    return tuple(replace(part, count=wanted[part.code]) for part in found.rest.table.parts if part.code in wanted)


def _part_files(found: Refit, parts: tuple[Part, ...], order: Plan) -> Files:
    table = found.rest.table
    files: dict[str, bytes] = {}
    for part in parts:
        files.update(sheet_files(table, part, order))
    book = book_files(table, order, parts) if parts else {}
    return {**files, **book, **files_of_parts(table.profile, parts)}


def _lists(found: Refit, again: str, work: WorkPlan) -> Files:
    from templategen.drawing.refit_picture import refit_picture
    from templategen.output.svg import svg_text
    from templategen.output.table_csv import csv_bytes
    from templategen.shop.refit.listed import refit_list

    made = {**cut_lists(found.rest.rest, 1), **work_lists(found.rest.table, work)} if found.rest.to_cut else {}
    return {
        **made,
        "lists/refit.csv": csv_bytes(*refit_list(found)),
        "lists/refit.svg": svg_text(refit_picture(found, again), PLAN_WEIGHT).encode(),
    }


def _all_files(profile: Profile, bench: Bench, files: Files, page: bytes) -> Files:
    """The files, and what they were made from."""
    measured = {MEASURED_FILE: bench.text.encode()} if bench.text else {}
    return {**files, **({"index.html": page} if page else {}), **kept_files(profile), **measured}


def assembly_now(found: Refit) -> Plan:
    """The drawing's order of assembly with the codes that the copies have now: they come together the same way."""
    plan, placed = plan_assembly(found.drawn, wished(found.drawn)), found.rest.table.placed
    steps = (
        replace(step, moves=tuple(replace(move, code=placed[move.index].code) for move in step.moves))
        for step in plan.steps
    )
    return replace(plan, steps=tuple(steps))


def _record(
    found: Refit, plan: Plan, again: str, findings: tuple[Finding, ...], files: Files, paper: PaperFiles,
    jigs: JigFiles, work: WorkPlan, told_of_plan: Mapping[str, Any],
) -> Mapping[str, Any]:  # fmt: skip
    table = found.rest.table
    told = record(table, plan, work.gluing, findings, files, paper, jigs=jigs, plan_record=told_of_plan)
    return sealed({**told, "refit": _refit_record(found, again)})


def _refit_record(found: Refit, again: str) -> dict[str, Any]:
    """What the record says of the re-fit: lengths mm, angles degrees."""
    from templategen.output.packet_json import number, numbers

    closed = found.seated.closed
    limits = found.rest.table.profile.limits
    return {
        "revision": again,
        "to_cut": dict(found.rest.to_cut),
        "first_codes": dict(found.rest.was),
        "cut": [{"code": code, "place": place} for code, place in sorted(found.settled.cut)],
        "recut": [{"code": code, "place": place} for code, place in found.recut],
        "limit": number(limits.joint_gap),
        "gaps": numbers(closed.gaps),
        "open": ["outside" if j.wedge > 0 else "inside" if j.wedge < 0 else "" for j in closed.joints],
        "steps": numbers(joint.slide for joint in closed.joints),
        "slides": numbers(found.seated.slides),
        "gap_known_to": number(found.sure),
        "segments": [
            {
                "length": number(piece.length),
                "left_angle": number(degrees(piece.left)),
                "right_angle": number(degrees(piece.right)),
                "width": number(piece.width),
                "cut": piece.cut,
            }
            for piece in closed.pieces
        ],
        "shoulders": [{"code": one.copy[0], "arm": one.arm + 1, "gap": number(one.gap)} for one in found.shoulders],
    }


MEASURED: Stage[str | os.PathLike[str] | None] = Stage("file of what was measured")
BENCH = stage("what was measured", read_bench, TABLE, MEASURED)
REFIT = stage("re-fit", refit, TABLE, BENCH)
AGAIN = stage("revision", revision_of, TABLE, BENCH)
TO_CUT = stage("parts to cut", to_cut, REFIT)
ORDER_NOW = stage("order of assembly", assembly_now, REFIT)
WORK = stage(
    "plan of work", lambda found, order: work_plan(found.rest.table, order, rest=found.rest), REFIT, ORDER_NOW
)
NOW = stage("table now", attrgetter("rest.table"), REFIT)
PLAN_RECORD = stage("plan of work told", plan_record, WORK, stage("profile now", attrgetter("profile"), NOW))
FOLLOWED = stage(
    "plan of work followed",
    lambda found, order, told: followed(found.rest.table, order, told, None, found.rest.to_cut),
    REFIT, ORDER_NOW, PLAN_RECORD,
)  # fmt: skip
FINDINGS = stage("findings", gravest_first, stage("findings measured", attrgetter("findings"), REFIT), FOLLOWED)
PART_FILES: Stage[Files] = share("parts drawn", "parts", _part_files, REFIT, TO_CUT, ORDER_NOW, without={})
PAPER = share(
    "paper", "paper",
    lambda found, parts, order: templates_on_paper(found.rest.table, parts, order) if parts else NO_PAPER,
    REFIT, TO_CUT, ORDER_NOW, without=NO_PAPER,
)  # fmt: skip
LISTS: Stage[Files] = share("lists", "lists", _lists, REFIT, AGAIN, WORK, without={})
JIGS = stage("jigs made anew", refit_jigs, REFIT, WORK)
JIG_FILES = share(
    "jigs drawn", "jigs", jig_files, NOW, stage("jigs to draw", attrgetter("plan"), JIGS), without=NO_JIG_FILES
)
FILES: Stage[Files] = stage(
    "files", lambda parts, paper, jigs, lists: {**parts, **paper.files, **jigs.files, **lists},
    PART_FILES, PAPER, JIG_FILES, LISTS,
)  # fmt: skip
PAGE = share("page", "page", refit_page, REFIT, TO_CUT, AGAIN, FINDINGS, FILES, PAPER, JIGS, WORK, without=b"")
ALL_FILES = stage("all files", _all_files, PROFILE, BENCH, FILES, PAGE)
RECORD = stage(
    "packet.json", _record, REFIT, ORDER_NOW, AGAIN, FINDINGS, ALL_FILES, PAPER, JIG_FILES, WORK, PLAN_RECORD
)

IN_ORDER: tuple[tuple[str, float, Stage[Any]], ...] = (
    ("table", 0.0, REFIT), ("parts", 0.2, PART_FILES), ("paper", 0.4, PAPER), ("jigs", 0.6, JIG_FILES),
    ("page", 0.7, PAGE), ("packet.json", 0.9, RECORD),
)  # fmt: skip
"""What is told while each is worked out, and how much of all the work is done before it."""
