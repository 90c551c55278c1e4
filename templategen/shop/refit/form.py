"""The form to fill in at the bench: the table's own parts, and what may be measured on each."""

from collections.abc import Iterator
from math import degrees

from templategen.catalogue import translated, worded
from templategen.parts.part import Part
from templategen.shop.refit.read import places
from templategen.shop.refit.sizes import SIZES, Size
from templategen.table.assembly import Table
from templategen.units import decimal_figure, trimmed

ABOUT = """\
# What is cut already, for: templategen refit PROFILE THIS_FILE -o FOLDER
# A bare number is in the units set here, angles are in degrees; in quotes a size has its own unit ("294.6 mm",
# "11-5/8 in", "15.02 deg") and may carry its accuracy ({example}). Leave out what you did not measure.
# Take the # away from what you fill in. The numbers shown are the drawing's.
"""
EXAMPLE = '"294.6 +- 0.1"'

CUT = """
# Cut, and as drawn as far as you know. Without places all of them.
# [[cut]]
# part = "{code}"
# places = [1]
"""
MEASURED = """
# Cut and measured: one entry for each piece; entries for the same piece are taken together.
# place: rim segments are numbered round the ring, anticlockwise seen from above, 1 on the first arm; other
# parts from 1. Left out it is the next piece that no entry has named. left and right are yours as you stand
# in the middle of the table and look at the piece.
# accuracy, angle_accuracy: how true you measured, one standard deviation, for all sizes of an entry; left out
# they are {length} and 0.05 deg.
"""


def form_text(table: Table) -> str:
    """The text of the form, every entry commented out, so that it says nothing as it is."""
    units = table.profile.units
    about = f'format = 1\nunits = "{units}"\n\n{worded(ABOUT, example=EXAMPLE)}'
    accuracy = "0.2" if units == "mm" else "0.008"
    body = "".join(_entry(table, part, units) for part in table.parts)
    cut, measured = worded(CUT, code=table.parts[0].code), worded(MEASURED, length=f"{accuracy} {units}")
    return about + cut + measured + body


def _entry(table: Table, part: Part, units: str) -> str:
    there = places(table, part)
    named = part.name
    if len(there) > 1:
        named = worded("{name}, places {places}", name=part.name, places=", ".join(map(str, there)))
    lines = ["", f"# {named}", "# [[measured]]", f'# part = "{part.code}"']
    if len(there) > 1:
        lines.append(f"# place = {there[0]}")
    lines += _sizes(table, part, units)
    return "\n".join(lines) + "\n"


def _sizes(table: Table, part: Part, units: str) -> Iterator[str]:
    for size in SIZES.get(part.kind, ()):
        if size.name.startswith("slot_") and table.profile.joints.spline == "none":
            continue
        if size.name.startswith("peg_") and table.profile.legs.top_joint != "draw-bored":
            continue
        yield f"# {f'{size.name} = {_shown(size, table, part, units)}':<28} # {translated(size.says)}"


def _shown(size: Size, table: Table, part: Part, units: str) -> str:
    drawn = size.drawn(table, part)
    if size.kind == "angle":
        return trimmed(degrees(drawn), 4)
    return decimal_figure(drawn, units, (3, 4))
