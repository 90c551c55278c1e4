"""Makes the packet of a re-fit: new templates for what is still to cut, the list, the picture, the record."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from dataclasses import replace
from hashlib import sha256
from math import degrees
from typing import TYPE_CHECKING, Any

from templategen.checks.finding import ORDER
from templategen.errors import Fault, OutputError
from templategen.fit.plan import Plan, plan_assembly
from templategen.packet.make import Packet, gathered, quiet
from templategen.packet.paper import NO_PAPER, templates_on_paper
from templategen.packet.part_files import PLAN_WEIGHT, part_sheet, two_formats
from templategen.packet.record import record
from templategen.packet.revision import REVISION, revision
from templategen.packet.stages import Tell
from templategen.shop.gluing.plan import gluing_plan
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile

if TYPE_CHECKING:
    from templategen.parts.part import Part
    from templategen.shop.refit.refit import Refit

SHARES = ("parts", "paper", "lists", "page")
"""What a re-fit makes; stock and jigs are the first packet's."""


def make_refit(
    profile: Profile,
    measured: str | os.PathLike[str] | None,
    progress: Tell | None = None,
    only: Iterable[str] | None = None,
) -> tuple[Packet, Refit]:
    """The packet for what is still to cut, from the file at `measured` and the profile's own [[measured]].

    Parts that stay as drawn have the files that `make` gives them; those drawn anew carry a revision of their own.
    `only` names the shares wanted: parts, paper, lists, page.

    Raises:
        OutputError: a share isn't known.
        ProfileError: what was measured can't be read.
        DesignError: no table comes of it.
    """
    from templategen.shop.refit.read import read_bench
    from templategen.shop.refit.refit import refit

    shares = _shares(only)
    tell = progress or quiet
    tell("table", 0.0)
    table = build_table(profile)
    bench = read_bench(table, measured)
    found = refit(table, bench)
    tell("parts", 0.2)
    again = revision_of(profile, bench.text, bool(bench.cut))
    parts = to_cut(found)
    files = dict(_parts(found, parts, again)) if "parts" in shares else {}
    tell("paper", 0.4)
    now = found.rebuilt.table
    paper = templates_on_paper(now, parts, again) if parts and "paper" in shares else NO_PAPER
    files.update(paper.files)
    files.update(_lists(found, again) if "lists" in shares else ())
    tell("packet.json", 0.9)
    findings = tuple(sorted(found.findings, key=lambda finding: ORDER[finding.level]))
    if "page" in shares:
        from templategen.packet.page.refit import refit_page

        files["index.html"] = refit_page(found, parts, again, findings, files)
    plan = _plan(table, now)
    told = record(now, plan, gluing_plan(now, plan), findings, files, paper)
    return gathered(now, findings, files, {**told, "refit": _told(found, again)}), found


def _shares(only: Iterable[str] | None) -> tuple[str, ...]:
    """The shares asked for."""
    wanted = SHARES if only is None else tuple(only)
    for name in wanted or ("nothing",):
        if name not in SHARES:
            raise OutputError(Fault("--only", f"{name} is no share of a re-fit", f"try {', '.join(SHARES)}"))
    return wanted


def revision_of(profile: Profile, text: str, cut: bool) -> str:
    """The profile's revision, or where something is cut a new one from the profile and what was measured."""
    if not cut:
        return revision(profile)
    return sha256(f"{profile.sha256}\n{text}".encode()).hexdigest()[:REVISION]


def to_cut(found: Refit) -> tuple[Part, ...]:
    """The parts still to cut, each with the number still wanted."""
    wanted = found.rebuilt.to_cut
    return tuple(replace(part, count=wanted[part.code]) for part in found.rebuilt.table.parts if part.code in wanted)


def _parts(found: Refit, parts: tuple[Part, ...], again: str) -> Iterator[tuple[str, bytes]]:
    profile = found.rebuilt.table.profile
    for part in parts:
        anew = found.rebuilt.was[part.code] != part.code or _other_mates(part, found.drawn.part(part.code))
        drawing = part_sheet(part, profile, again if anew else revision(profile))
        yield from two_formats(f"parts/{part.code}", drawing, profile)


def _other_mates(part: Part, first: Part) -> bool:
    """Whether a part that is as drawn now meets others, which its sheet tells."""
    return [f.mates for f in part.features] != [f.mates for f in first.features]


def _lists(found: Refit, again: str) -> Iterator[tuple[str, bytes]]:
    from templategen.drawing.refit_picture import refit_picture
    from templategen.output.svg import svg_text
    from templategen.output.table_csv import csv_bytes
    from templategen.shop.refit.listed import refit_list

    yield "lists/refit.csv", csv_bytes(*refit_list(found))
    yield "lists/refit.svg", svg_text(refit_picture(found, again), PLAN_WEIGHT).encode()


def _plan(drawn: Table, table: Table) -> Plan:
    """The drawing's order of assembly with the codes that the copies have now: they come together the same way."""
    plan = plan_assembly(drawn)
    steps = (
        replace(step, moves=tuple(replace(move, code=table.placed[move.index].code) for move in step.moves))
        for step in plan.steps
    )
    return replace(plan, steps=tuple(steps))


def _told(found: Refit, again: str) -> dict[str, Any]:
    """What the record says of the re-fit: lengths mm, angles degrees."""
    from templategen.output.packet_json import number, numbers

    closed = found.seated.closed
    limits = found.rebuilt.table.profile.limits
    return {
        "revision": again,
        "to_cut": dict(found.rebuilt.to_cut),
        "first_codes": dict(found.rebuilt.was),
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
