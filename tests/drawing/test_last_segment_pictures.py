"""Pictures of a ring that its last segment closes: what presses it before that is there, how that is scribed."""

from __future__ import annotations

from math import hypot

import pytest
from shapely.geometry import Polygon

from templategen.drawing.drawing import Drawing, Shape, Stroke, Words
from templategen.drawing.jig_marks import JIG, JIG_EDGE
from templategen.drawing.last_segment import drawn_up, scribed_over
from templategen.drawing.layer import Layer
from templategen.drawing.machine_marks import CUTTER, WASTE, WOOD
from templategen.fit.plan import plan_assembly
from templategen.jigs.caul import Caul
from templategen.packet.page.steps import steps
from templategen.packet.page.work import SCRIBING, address_of
from templategen.shop.closing.study import closing_study
from templategen.work.closing import SCRIBE
from templategen.work.plan import work_plan
from tests.table.made import table_of


def shapes(drawing: Drawing, layer: Layer) -> list[Shape]:
    """The shapes on a layer."""
    return [mark for mark in drawing.marks if isinstance(mark, Shape) and mark.layer == layer]


@pytest.mark.parametrize("name", ["towpath-side", "towpath-dining", "towpath-hex"])
def test_a_band_presses_cauls_at_every_corner_of_a_filled_ring(name: str) -> None:
    """One segment's place is filled, that of the last as the plan shows it; a caul sits at each joint, its own too,
    and the band runs along all backs."""
    table = table_of(name=name)
    sizes, ring = (
        table.sizes,
        [at for at, one in enumerate(table.placed) if table.part(one.code).kind == "rim-segment"],
    )
    drawing, caul = drawn_up(table, ring[2]), Caul(sizes)
    assert len(shapes(drawing, WOOD)) == sizes.segments - 1 and len(shapes(drawing, WASTE)) == 1
    assert len(shapes(drawing, JIG)) == sizes.segments
    band = [mark.edge for mark in drawing.marks if isinstance(mark, Stroke) and mark.layer == CUTTER]
    assert sum(edge.length for edge in band) == pytest.approx(caul.around)
    ends = {(round(edge.start.x, 3), round(edge.start.y, 3)) for edge in band}
    backs = {(round(p.x, 3), round(p.y, 3)) for mark in shapes(drawing, JIG) for p in mark.outline.points
             if hypot(p.x, p.y) > caul.corner + caul.back - 1e-6}  # fmt: skip
    assert ends == backs
    (filled,) = shapes(drawing, WASTE)
    told = next(mark for mark in drawing.marks if isinstance(mark, Words) and mark.text == "FILLER")
    for last in ring:
        (filled,) = shapes(drawn_up(table, last), WASTE)
        at, middle = table.placed[last].at, Polygon([*filled.outline.points]).centroid
        assert (
            abs(at.x * middle.y - at.y * middle.x) < 1e-6 * hypot(at.x, at.y) ** 2
            and at.x * middle.x + at.y * middle.y > 0
        )
    assert told.text


@pytest.mark.parametrize("name", ["towpath-side", "towpath-hex"])
def test_the_line_joins_both_corners_of_the_neighbours_end(name: str) -> None:
    """The piece lies with its inner edge on both inner corners; the small square stands at the corners that the line
    joins, and what lies past it goes."""
    drawing = scribed_over(table_of(name=name))
    left, right = sorted(shapes(drawing, WOOD), key=lambda mark: mark.outline.bounds.centre.x)
    (piece,) = shapes(drawing, JIG)
    (line,) = [mark.edge for mark in drawing.marks if isinstance(mark, Stroke) and mark.layer == CUTTER]
    near = lambda point, outline: min(point.distance(corner) for corner in outline.points)  # noqa: E731
    assert near(line.start, right.outline) < 1e-6 and near(line.end, right.outline) < 1e-6
    corners = piece.outline.points
    assert sum(near(corner, left.outline) < 1e-6 for corner in corners) == 2
    squares = [mark.outline.bounds for mark in shapes(drawing, JIG_EDGE) if mark.outline != piece.outline]
    assert {round(box.left, 3) for box in squares} == {round(line.start.x, 3), round(line.end.x, 3)}
    (gone,) = shapes(drawing, WASTE)
    assert gone.outline.bounds.right == pytest.approx(piece.outline.bounds.right)


def test_scribing_has_a_sheet_between_both_steps() -> None:
    """Its words and its picture before the step that closes the ring, the ring drawn up on the one before it."""
    table = table_of(name="towpath-side")
    assembly = plan_assembly(table, ("measure",))
    plan = work_plan(table, assembly)
    section = steps(table, assembly, plan, closing_study(table.sizes, 200, taken="measure"))
    names = [sheet.name for sheet in section.sheets]
    at = names.index(SCRIBING)
    done = next(one for one in plan.operations if one.operation.does == SCRIBE)
    assert address_of(done) == f"together-{SCRIBING}"
    before, own, after = section.sheets[at - 1 : at + 2]
    assert len(before.pictures) == 2 and len(own.pictures) == 1 and len(after.pictures) == 1
    assert "RIM-B" in own.words[1] and after.title.endswith(f"(plan: {done.number + 5})")
