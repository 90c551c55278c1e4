"""Pictures for a notebook: a table, a part, a drawing or a layout shows itself.

The rooms import downwards only, so a table knows nothing of drawings. This file stands above all rooms; `attach`
gives the classes the two methods that notebooks ask for. The package does so by itself when one of its functions is
first asked for (`import templategen`); who imports from the rooms alone calls `templategen.show.attach()` once.
"""

from collections.abc import Callable
from html import escape
from typing import Any

from templategen.drawing.drawing import Drawing
from templategen.nesting.stock import Layout
from templategen.packet.lay_out import LaidSheet, LaidStock
from templategen.parts.part import Part
from templategen.table.assembly import Table


def svg_of(thing: Table | Part | Drawing | LaidSheet) -> str:
    """The picture as an SVG document that stands alone.

    A table is seen from above, a part by itself, a drawing and a laid sheet as they are.
    """
    from templategen.output.svg_inline import inline_svg
    from templategen.output.svg_style import alone_style

    return inline_svg(drawing_of(thing), "picture", style=alone_style())


def drawing_of(thing: Table | Part | Drawing | LaidSheet) -> Drawing:
    """What stands for the thing on paper."""
    if isinstance(thing, Drawing):
        return thing
    if isinstance(thing, LaidSheet):
        return _sheet(thing)
    if isinstance(thing, Part):
        from templategen.drawing.part_views import part_looks

        return part_looks(thing)[0]
    from templategen.drawing.exploded import finished_drawing

    return finished_drawing(thing)


def _sheet(laid: LaidSheet) -> Drawing:
    from templategen.drawing.stock_sheet import stock_drawing

    items = {item.code: item for item in laid.supply.items}
    return stock_drawing(laid.sheet, items, laid.supply.wood, cuts=laid.cuts, offcuts=laid.offcuts)


def html_of(thing: Table | Part | Drawing | LaidSheet | LaidStock | Layout) -> str:
    """The picture with a caption; every sheet of a laid stock; a bare layout, which knows no outlines, as a list."""
    if isinstance(thing, LaidStock):
        return "".join(html_of(sheet) for sheet in thing.sheets) + _missing(thing.unplaced)
    if isinstance(thing, Layout):
        return _listed(thing) + _missing(thing.unplaced)
    return f"<figure>{svg_of(thing)}<figcaption>{escape(_caption(thing))}</figcaption></figure>"


def _caption(thing: Table | Part | Drawing | LaidSheet) -> str:
    if isinstance(thing, Table):
        return f"{thing.profile.title}: {len(thing.parts)} kinds of part, {len(thing.placed)} pieces"
    if isinstance(thing, Part):
        length, width, thickness = (f"{size:g}" for size in map(_two, thing.size))
        return f"{thing.code}, {thing.name}: {thing.count} of {thing.wood}, {length} x {width} x {thickness} mm"
    if isinstance(thing, Drawing):
        return thing.title
    return f"{thing.sheet.piece.name} {thing.sheet.number}"


def _two(value: float) -> float:
    return round(value, 2)


def _listed(layout: Layout) -> str:
    rows = "".join(
        f"<tr><td>{escape(sheet.piece.name)} {sheet.number}</td>"
        f"<td>{escape(', '.join(laid.code for laid in sheet.laid))}</td></tr>"
        for sheet in layout.sheets
    )
    return f"<table><tr><th>stock</th><th>parts on it</th></tr>{rows}</table>"


def _missing(unplaced: dict[str, int]) -> str:
    if not unplaced:
        return ""
    names = ", ".join(f"{count} x {code}" for code, count in sorted(unplaced.items()))
    return f"<p>No place for {escape(names)}</p>"


def attach() -> None:
    """Gives the classes `_repr_svg_` and `_repr_html_`; doing so twice changes nothing."""
    pictured: tuple[type, ...] = (Table, Part, Drawing, LaidSheet)
    for kind in (*pictured, LaidStock, Layout):
        _give(kind, "_repr_html_", html_of)
    for kind in pictured:
        _give(kind, "_repr_svg_", svg_of)


def _give(kind: type, name: str, show: Callable[[Any], str]) -> None:
    def shown(self: Any) -> str:
        return show(self)

    shown.__name__ = name
    shown.__doc__ = "The picture that a notebook shows."
    setattr(kind, name, shown)
