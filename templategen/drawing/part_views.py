"""Everything a page shows of one part: its views with sizes, its joints close to, its place, and its look."""

from dataclasses import dataclass

from templategen.catalogue import worded
from templategen.drawing.drawing import Drawing
from templategen.drawing.hidden import Subject, pictured
from templategen.drawing.joint_details import part_details
from templategen.drawing.joint_letters import Pointed
from templategen.drawing.part_sheet import FaceView, face_views
from templategen.drawing.place_in_table import place_drawing
from templategen.drawing.projection import FROM_ABOVE, FROM_BELOW
from templategen.drawing.soles import soled, with_channels
from templategen.geometry.overrun import OVERRUN
from templategen.kept.keep import kept
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.view.facets import part_facets
from templategen.view.sight import Body


@dataclass(frozen=True, slots=True)
class PartViews:
    """Drawings of one part: `faces` true size, the top first; `details` in millimetres about each joint; `place` in
    the table's plan; `looks` from above and, where its underside is worked, from below."""

    faces: tuple[FaceView, ...]
    details: tuple[Drawing, ...]
    place: Drawing
    looks: tuple[Drawing, ...]


def part_views(table: Table, part: Part, by: float = OVERRUN, pointed: tuple[Pointed, ...] = ()) -> PartViews:
    """The views of a part of the table, figures in the profile's units, with its joints `pointed` at."""
    shown = with_channels(table)
    faces = face_views(part, by, table.profile.units, table.profile.dxf.units, pointed)
    return PartViews(
        tuple(soled(table, part, faces)),
        part_details(shown, shown.part(part.code)),
        place_drawing(table, part.code),
        part_looks(shown.part(part.code)),
    )


ABOVE, BELOW = "{code} from above", "{code} from below"


@kept
def part_looks(part: Part) -> tuple[Drawing, ...]:
    """The part by itself, lying on its bottom face."""
    sights = [(ABOVE, FROM_ABOVE)]
    if part.features_on("bottom"):
        sights.append((BELOW, FROM_BELOW))
    subjects = [Subject(Body(part_facets(part)), part.code)]
    return tuple(Drawing(worded(title, code=part.code), pictured(subjects, sight).marks) for title, sight in sights)
