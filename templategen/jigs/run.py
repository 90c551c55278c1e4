"""Every jig there is for a table, in the order of the work."""

from collections.abc import Callable, Iterable

from templategen.errors import DesignError, Fault
from templategen.jigs.angle_gauge import bevel_gauge, slat_gauge
from templategen.jigs.assembly_board import assembly_board
from templategen.jigs.bore_block import bore_block, draw_block, end_block
from templategen.jigs.caul import cauls
from templategen.jigs.edge_template import groove_templates, slot_templates
from templategen.jigs.jig import Jig
from templategen.jigs.leg_corner import leg_corners
from templategen.jigs.mitre_gauge import mitre_gauge
from templategen.jigs.mortise_template import mortise_templates
from templategen.jigs.pivot import pivot
from templategen.jigs.rounding import rounding_templates
from templategen.jigs.setup_block import height_bridges, stop_blocks
from templategen.jigs.spacers import spacers
from templategen.jigs.stop_strip import stop_strip
from templategen.jigs.story_stick import story_sticks
from templategen.jigs.tear_out import tear_out
from templategen.jigs.tracing import tracing_patterns
from templategen.jigs.trammel import trammel
from templategen.jigs.trial_piece import trial_lap, trial_tenon
from templategen.jigs.wedge_board import wedge_board
from templategen.table.assembly import Table

Builder = Callable[[Table], Iterable[Jig]]
"""One kind of jig: none, one or several for a table."""

SAWING_AND_MEASURING: tuple[Builder, ...] = (
    tracing_patterns,
    pivot,
    trammel,
    tear_out,
    mitre_gauge,
    slat_gauge,
    bevel_gauge,
    stop_strip,
    spacers,
    story_sticks,
)
"""Round cuts, angles, lengths and spacing."""

ROUTING_AND_GLUING: tuple[Builder, ...] = (
    mortise_templates,
    slot_templates,
    groove_templates,
    rounding_templates,
    bore_block,
    end_block,
    draw_block,
    leg_corners,
    height_bridges,
    stop_blocks,
    trial_tenon,
    trial_lap,
    cauls,
    wedge_board,
    assembly_board,
)
"""Templates for router and bush, cauls, boards and set-up blocks."""


BUILDERS = (*SAWING_AND_MEASURING, *ROUTING_AND_GLUING)


def jigs_that_go(table: Table, builders: Iterable[Builder] = BUILDERS) -> tuple[tuple[Jig, ...], tuple[Fault, ...]]:
    """The jigs that the shop's tools can make, and why the others can't be made: the table itself can be built."""
    jigs: list[Jig] = []
    faults: list[Fault] = []
    for build in builders:
        try:
            jigs.extend(build(table))
        except DesignError as refusal:
            faults.extend(refusal.faults)
    return tuple(jigs), tuple(dict.fromkeys(faults))
