"""Drawings of the whole table: plan, section, pulled apart, from below."""

from templategen.catalogue import translated
from templategen.drawing.exploded import exploded_drawing, finished_drawing
from templategen.drawing.projection import FROM_BELOW
from templategen.drawing.section import section_drawing
from templategen.drawing.soles import with_channels
from templategen.drawing.toned_plan import joined_plan
from templategen.fit.plan import Plan
from templategen.output.page.content import Section, Sheet
from templategen.packet.page.links import links
from templategen.packet.page.picture import picture
from templategen.shop.gluing.marks import marks_of
from templategen.table.assembly import Table

TURN = """<div class="turn" hidden><canvas tabindex="0" role="img" aria-label="{}"></canvas>\
<label>{} <input type="range" min="0" max="100" value="0" data-apart></label>\
<label>{} <input type="range" min="0" max="360" value="30" data-about></label></div>"""
"""The turning picture; a script draws it, and shows it where there is one."""

TURNED = ("the table, to be turned by dragging or by the arrow keys", "pulled apart", "turn")
"""What it says."""


def drawings(table: Table, plan: Plan) -> Section:
    """The sheets."""
    letters = {number: mark.letter for number, mark in marks_of(table, plan).items()}
    above = picture(
        lambda: joined_plan(table, letters),
        "plan",
        "from above; thin: where eased edges end; dashed: tongues, tenons and splines inside the wood; slats are"
        " named by their number alone; (A): letter of a joint",
        True,
    )
    cut = picture(
        lambda: section_drawing(with_channels(table)),
        "section",
        "section through the axis along the first arm; hatched: wood that is cut, thin: what stands beyond",
        True,
    )
    apart = picture(
        lambda: exploded_drawing(table, plan), "apart", "each part pulled out the way it goes in", True, True
    )
    below = picture(lambda: finished_drawing(with_channels(table), FROM_BELOW), "below", "from below", True, True)
    return Section(
        "drawings",
        "Drawings",
        (
            Sheet("plan", "Plan", pictures=(above,), links=links("drawings/plan.dxf", "paper/whole-table/plan.pdf")),
            Sheet("section", "Section", pictures=(cut,), links=links("drawings/elevation.dxf")),
            Sheet("apart", "Pulled apart", pictures=(apart,), raw=TURN.format(*map(translated, TURNED))),
            Sheet("below", "From below", pictures=(below,)),
        ),
    )
