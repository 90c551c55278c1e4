"""The share of jigs: a sheet for each, and its paper."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from templategen.jigs.jig import Jig
from templategen.packet.jigs import JigPlan
from templategen.packet.lost import or_lost
from templategen.packet.part_files import two_formats
from templategen.parts.part import Part
from templategen.table.assembly import Table

if TYPE_CHECKING:
    from templategen.drawing.drawing import Mark
    from templategen.geometry.point import Point


@dataclass(frozen=True, slots=True)
class JigFiles:
    """The files by path, what the record tells of each jig, the pieces, and on which files each piece is."""

    files: Mapping[str, bytes]
    record: Sequence[Mapping[str, Any]]
    parts: tuple[Part, ...]
    homes: Mapping[str, Sequence[str]]


NO_JIG_FILES = JigFiles({}, (), (), {})


def jig_files(table: Table, plan: JigPlan) -> JigFiles:
    """Every file of the jigs.

    Raises:
        OutputError: a piece can't be drawn or the paper can't take it.
    """
    files: dict[str, bytes] = {}
    told: list[Mapping[str, Any]] = []
    homes: dict[str, list[str]] = {}
    for jig in plan.jigs:
        drawn = or_lost(f"jigs/{jig.code}", partial(_drawn, table, jig), None)
        if drawn is None:
            continue
        sites, made, paper = drawn
        files.update(made)
        for part in jig.parts:
            homes[part.code] = list(made)
        told.append({**jig_told(jig, sites, sorted(made)), "paper": paper})
    return JigFiles(files, told, tuple(part for part in plan.pieces if part.code in homes), homes)


def _drawn(table: Table, jig: Jig) -> tuple[Mapping[str, Point], dict[str, bytes], Mapping[str, Any]]:
    """A jig's sheet with where its pieces lie on it, its paper, and what the record tells of that."""
    from templategen.drawing.jig_sheet import drawn_pieces, jig_sheet

    profile = table.profile
    by = profile.shop.router_bit / 2
    drawn = drawn_pieces(jig, by, profile.units, profile.dxf.units)
    sheet = jig_sheet(jig, profile.title, jig.revision, by, profile.units, drawn)
    files = dict(two_formats(f"jigs/{jig.code}", sheet.drawing, profile))
    path = f"jigs/{jig.code}.pdf"
    files[path], told = _paper(table, jig, drawn, path)
    return sheet.sites, files, told


def _paper(
    table: Table, jig: Jig, drawn: Mapping[str, tuple[Mark, ...]], path: str
) -> tuple[bytes, Mapping[str, Any]]:
    """The pieces of one jig on as few sheets as can be."""
    from templategen.drawing.jig_template import jig_templates
    from templategen.output.pdf import tiled_pdf_of
    from templategen.packet.paper import heading, pages_told
    from templategen.paper.imposition import impose

    imposed, _ = impose(jig_templates(jig, table.profile.units, drawn), table.profile.paper)
    data = tiled_pdf_of([(one.tiled, heading(one, table)) for one in imposed], jig.code)
    return data, pages_told(path, [one.tiled for one in imposed])


def jig_told(jig: Jig, sites: Mapping[str, Point], files: Sequence[str]) -> Mapping[str, Any]:
    """A jig as the record tells it; `at` is where a piece's own origin lies on the jig's sheet."""
    from templategen.output.packet_json import number, numbers

    return {
        "code": jig.code,
        "name": jig.name,
        "revision": jig.revision,
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
