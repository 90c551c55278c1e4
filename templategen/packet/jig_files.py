"""The share of jigs: a sheet for each, and its paper."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from templategen.catalogue import translated
from templategen.jigs.jig import Jig
from templategen.kept.keep import kept
from templategen.packet.jigs import JigPlan
from templategen.packet.lost import or_lost
from templategen.packet.part_files import two_formats
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.choices import Machine, Units
from templategen.table.profile.model import Profile
from templategen.table.profile.model_of_shop import Dxf, Paper

Drawn = tuple[Mapping[str, "Point"], dict[str, bytes], Mapping[str, Any]]
"""Where the pieces of a jig lie on its sheet, its files, and what the record tells of its paper."""

if TYPE_CHECKING:
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
        drawn = or_lost(f"jigs/{jig.code}", partial(_drawn, table.profile, jig), None)
        if drawn is None:
            continue
        sites, made, paper = drawn
        files.update(made)
        for part in jig.parts:
            homes[part.code] = list(made)
        told.append({**jig_record(jig, sites, sorted(made)), "paper": paper})
    return JigFiles(files, told, tuple(part for part in plan.pieces if part.code in homes), homes)


def _drawn(profile: Profile, jig: Jig) -> Drawn:
    return _sheets(
        jig,
        profile.title,
        profile.shop.router_bit / 2,
        profile.units,
        profile.dxf,
        profile.paper,
        profile.shop.machines,
    )


@kept
def _sheets(
    jig: Jig, title: str, by: float, units: Units, dxf: Dxf, paper: Paper, machines: tuple[Machine, ...]
) -> Drawn:
    """A jig's sheet with where its pieces lie on it, its paper, and what the record tells of that."""
    from templategen.drawing.jig_sheet import drawn_pieces, jig_sheet
    from templategen.drawing.jig_template import jig_templates
    from templategen.output.pdf import tiled_pdf_of
    from templategen.packet.paper import heading, pages_record
    from templategen.paper.imposition import impose

    drawn = drawn_pieces(jig, by, units, dxf.units)
    sheet = jig_sheet(jig, title, jig.revision, by, units, drawn, machines)
    files = dict(two_formats(f"jigs/{jig.code}", sheet.drawing, dxf))
    path = f"jigs/{jig.code}.pdf"
    imposed, _ = impose(jig_templates(jig, units, drawn), paper)
    files[path] = tiled_pdf_of([(one.tiled, heading(one, title, units)) for one in imposed], jig.code)
    return sheet.sites, files, pages_record(path, [one.tiled for one in imposed])


def jig_record(jig: Jig, sites: Mapping[str, Point], files: Sequence[str]) -> Mapping[str, Any]:
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
        "use": list(jig.told),
        "proof": list(jig.proof),
        "cautions": [translated(line) for line in jig.cautions],
        "files": list(files),
    }
