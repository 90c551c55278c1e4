"""The jigs of a packet: a sheet for each, and its paper."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from templategen.checks.finding import Finding, Level
from templategen.errors import Fault
from templategen.jigs.jig import Jig
from templategen.jigs.run import jigs_that_go
from templategen.parts.part import Part
from templategen.table.assembly import Table

if TYPE_CHECKING:
    from templategen.drawing.drawing import Mark
    from templategen.geometry.point import Point


@dataclass(frozen=True, slots=True)
class JigShare:
    """The files by path, what the record tells of each jig, the pieces, and on which files each piece is."""

    files: Mapping[str, bytes]
    told: Sequence[Mapping[str, Any]]
    parts: tuple[Part, ...]
    homes: Mapping[str, Sequence[str]] = field(default_factory=dict)


def planned(table: Table) -> tuple[tuple[Jig, ...], tuple[Finding, ...]]:
    """The table's jigs, and a finding for each that can't be made with the shop's tools: a caution where the maker
    wrote that tool down, a note where its size is assumed."""
    jigs, faults = jigs_that_go(table)
    return jigs, tuple(_left_out(table, fault) for fault in faults)


def _left_out(table: Table, fault: Fault) -> Finding:
    level: Level = "caution" if table.profile.line_of(fault.where) else "note"
    says = f"a jig is left out: {fault.found}; {fault.remedy}"
    return Finding(level, fault.where, says, 1.0, (0.0, 0.0), "jigs")


def pieces_of(jigs: Sequence[Jig]) -> tuple[Part, ...]:
    """The pieces of all jigs, in order."""
    return tuple(part for jig in jigs for part in jig.parts)


def of_the_sheet(table: Table, jigs: Sequence[Jig]) -> tuple[Part, ...]:
    """The pieces that come out of the jigs' sheet; test pieces of the table's own wood come out of offcuts."""
    sheet = table.profile.jigs
    return tuple(part for part in pieces_of(jigs) if (part.wood, part.thickness) == (sheet.wood, sheet.thickness))


def make_jigs(table: Table, jigs: Sequence[Jig], revision: str) -> JigShare:
    """Every file of the jigs.

    Raises:
        OutputError: a piece can't be drawn or the paper can't take it.
    """
    files: dict[str, bytes] = {}
    told: list[Mapping[str, Any]] = []
    homes: dict[str, list[str]] = {}
    for jig in jigs:
        sites, made = _drawn(table, jig, revision)
        files.update(made)
        for part in jig.parts:
            homes[part.code] = list(made)
        told.append(_told(jig, sites, sorted(made)))
    return JigShare(files, told, pieces_of(jigs), homes)


def _drawn(table: Table, jig: Jig, revision: str) -> tuple[Mapping[str, Point], dict[str, bytes]]:
    """A jig's sheet with where its pieces lie on it, and its paper."""
    from templategen.drawing.jig_sheet import drawn_pieces, jig_sheet
    from templategen.output.dxf import dxf_bytes
    from templategen.output.svg import svg_text

    profile = table.profile
    by, dxf = profile.shop.router_bit / 2, profile.dxf
    drawn = drawn_pieces(jig, by, profile.units)
    sheet = jig_sheet(jig, profile.title, revision, by, profile.units, drawn)
    files = {f"jigs/{jig.code}.dxf": dxf_bytes(sheet.drawing, dxf.version, dxf.units)}
    files[f"jigs/{jig.code}.svg"] = svg_text(sheet.drawing).encode()
    files[f"jigs/{jig.code}.pdf"] = _paper(table, jig, revision, drawn)
    return sheet.sites, files


def _paper(table: Table, jig: Jig, revision: str, drawn: Mapping[str, tuple[Mark, ...]]) -> bytes:
    """The pieces of one jig on as few sheets as can be."""
    from templategen.drawing.jig_template import jig_templates
    from templategen.output.gather import gather_and_part
    from templategen.output.pdf import spread_pdf
    from templategen.packet.paper import heading

    gathered, _ = gather_and_part(jig_templates(jig, table.profile.units, drawn), table.profile.paper)
    return spread_pdf([(one.spread, heading(one, table, revision)) for one in gathered], jig.code)


def _told(jig: Jig, sites: Mapping[str, Point], files: Sequence[str]) -> Mapping[str, Any]:
    """A jig as the record tells it; `at` is where a piece's own origin lies on the jig's sheet."""
    from templategen.output.packet_json import number, numbers

    return {
        "code": jig.code,
        "name": jig.name,
        "serves": list(jig.serves),
        "pieces": [{"code": part.code, "count": part.count, "at": numbers(sites[part.code])} for part in jig.parts],
        "figures": [
            {
                "name": figure.name,
                "value": number(figure.value),
                "unit": figure.unit,
                "part": figure.part,
                "span": [numbers(end) for end in figure.span] if figure.span else None,
                "how": figure.how,
            }
            for figure in jig.figures
        ],
        "use": list(jig.use),
        "proof": list(jig.proof),
        "cautions": list(jig.cautions),
        "files": list(files),
    }
