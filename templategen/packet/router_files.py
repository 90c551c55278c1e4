"""Files for a routing machine: one for each clamping of each part, cut once more by the proof before it goes out."""

from collections.abc import Iterable
from functools import partial

from templategen.errors import Fault, GeometryError
from templategen.packet.lost import or_lost
from templategen.parts.part import Part
from templategen.parts.revision import part_revision
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile


def router_files(table: Table, tables: int) -> dict[str, bytes]:
    """The files of every part of a table, by path."""
    return files_of_parts(table.profile, table.parts, tables)


def files_of_parts(profile: Profile, parts: Iterable[Part], tables: int = 1) -> dict[str, bytes]:
    """The files of these parts, by path; those that don't come to the part are left out and told."""
    files: dict[str, bytes] = {}
    for part in parts:
        files.update(or_lost(f"router/{part.code}", partial(clamping_files, profile, part, tables), {}))
    return files


def clamping_files(profile: Profile, part: Part, tables: int = 1) -> dict[str, bytes]:
    """The files of one part.

    Raises:
        GeometryError: what they cut isn't the part.
    """
    from templategen.drawing.clamping_sheet import clamping_drawing
    from templategen.output.dxf import dxf_bytes
    from templategen.output.packet_json import part_json
    from templategen.proof.recorded import Recorded
    from templategen.proof.router import router_differences
    from templategen.router.clamping import clampings

    files = {
        f"router/{part.code}-{one.face}.dxf": dxf_bytes(
            clamping_drawing(one, profile, part_revision(part), tables), profile.dxf.version, profile.dxf.units
        )
        for one in clampings(part, profile)
    }
    wrong = next(router_differences(Recorded(part_json(part, ())), files), None)
    if wrong is not None:
        raise GeometryError(Fault(wrong.where, wrong.says))
    return files
