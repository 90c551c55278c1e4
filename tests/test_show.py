"""What a notebook shows."""

from __future__ import annotations

import subprocess
import sys
import xml.etree.ElementTree as ET
from dataclasses import replace

import templategen
from templategen.geometry.placement import Placement
from templategen.nesting.stock import Laid, Layout, Piece, Sheet
from templategen.packet.lay_out import lay_out
from templategen.packet.shipped import shipped_text

SIDE = templategen.profile_from_text(shipped_text("towpath-side"), "towpath-side")


def test_a_table_a_part_and_a_drawing_show_themselves() -> None:
    """Each gives one whole SVG element with a picture in it, and the same inside a figure with a caption."""
    table = templategen.build_table(SIDE)
    from templategen.drawing.plan import plan_drawing

    for thing in (table, table.parts[0], plan_drawing(table)):
        root = ET.fromstring(thing._repr_svg_())  # type: ignore[attr-defined]
        assert root.tag.endswith("svg")
        assert len(list(root.iter("{http://www.w3.org/2000/svg}path"))) > 0
        figure = ET.fromstring(thing._repr_html_())  # type: ignore[attr-defined]
        assert figure.tag == "figure"


def test_captions_are_text() -> None:
    """A title of markup stays text in the caption."""
    hostile = replace(SIDE, title="<b>bold</b> & </figure>")
    figure = ET.fromstring(templategen.build_table(hostile)._repr_html_())  # type: ignore[attr-defined]
    caption = figure.find("figcaption")
    assert caption is not None and caption.text is not None
    assert caption.text.startswith("<b>bold</b> & </figure>")


def test_laid_stock_shows_every_sheet() -> None:
    """A figure for each piece of stock."""
    laid = lay_out(templategen.build_table(SIDE), seconds=0.5)
    shown = ET.fromstring(f"<div>{laid._repr_html_()}</div>")  # type: ignore[attr-defined]
    assert len(shown.findall("figure")) == len(laid.sheets)


def test_a_bare_layout_lists_its_sheets() -> None:
    """A layout, which knows no outlines, names what lies on each piece and what found no place."""
    sheet = Sheet(Piece("board <1>", 900, 90), 1, (Laid("LEG", Placement()), Laid("FOOT", Placement())))
    shown = ET.fromstring(f"<div>{Layout((sheet,), {'RAIL': 2})._repr_html_()}</div>")  # type: ignore[attr-defined]
    assert [cell.text for cell in shown.iter("td")] == ["board <1> 1", "LEG, FOOT"]
    assert shown.findtext("p") == "No place for 2 x RAIL"


def test_importing_the_package_brings_no_drawings_in() -> None:
    """Until one of its functions is asked for the package costs no more than itself."""
    asked = "import sys, templategen; print([name for name in sys.modules if name.startswith('templategen.')])"
    assert subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True).stdout == "[]\n"
