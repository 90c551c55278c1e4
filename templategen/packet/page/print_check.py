"""How to print true to size, with rulers to measure this page's own prints by."""

from collections.abc import Iterable, Iterator

from templategen.catalogue import translated
from templategen.output.page.content import Grid, Section, Sheet
from templategen.packet.page.glossary import glossary
from templategen.packet.page.links import links
from templategen.packet.paper import PaperFiles

LONG = 100
"""Length of the rulers, mm."""


AT_FULL_SIZE = (
    "Print at 100 %, never fitted to the page, in the order below. Measure the square and both diagonals of the test "
    "sheet before you print more; it says which corrections go into the table's profile."
)
THIS_PAGE = "The rulers below measure 100 mm (3.937 in) on a print of this page. On a screen they need not."
EVERY_PAGE = (
    "On every page of a template: measure its rulers both ways, lay the crosses on each other, then measure the "
    "whole length before anything is stuck on wood."
)

KINDS = {
    "parts/": "full-size drawings of the parts",
    "router/": "parts on a routing machine, clamping by clamping",
    "stock/": "stock, laid out", "jigs/": "jigs, gauges, templates",
    "paper/": "templates on paper", "lists/": "lists for the bench and for spreadsheets",
    "drawings/": "the whole table", "customer/": "the sheet for whoever gets the table",
    "packet.json": "everything, for machines",
}  # fmt: skip
"""What a packet holds, by how the paths begin."""


def printing(paper: PaperFiles) -> Section:
    """What to print in which order and on how many sheets, rulers, and links to all paper."""
    told = paper.record or {"print": []}
    order = [file["path"] for file in told["print"]]
    rows = tuple((str(place), file["path"], str(file["pages"])) for place, file in enumerate(told["print"], start=1))
    grids = (Grid(("print", "file", "sheets"), rows, figures=(2,)),) if rows else ()
    paths = (*order, *sorted(path for path in paper.files if path not in order))
    words = (AT_FULL_SIZE, THIS_PAGE, EVERY_PAGE)
    rulers = f'<div class="rulers view">{_ruler(upright=False)}{_ruler(upright=True)}</div>'
    return Section(
        "printing", "Printing and checking",
        (Sheet("rulers", "True to size", words, grids=grids, raw=rulers, links=links(*paths)),),
    )  # fmt: skip


def _ruler(upright: bool) -> str:
    """A ruler of 100 mm with a division for each 10 mm, drawn in millimetres."""
    marks = "".join(_marks(upright))
    numbers = "".join(
        f'<text x="{3 if upright else 10 + at}" y="{111 - at if upright else 4}" text-anchor="middle">{at}</text>'
        for at in range(0, LONG + 1, 50)
    )
    box, size = ("0 0 14 120", "up") if upright else ("0 0 120 14", "")
    words = translated("ruler of 100 mm, upright" if upright else "ruler of 100 mm, level")
    return (
        f'<svg class="ruler {size}" viewBox="{box}" role="img" aria-label="{words}">'
        f'<path class="measure" d="{"M9 10V110" if upright else "M10 9H110"}"/><path d="{marks}"/>{numbers}</svg>'
    )


def _marks(upright: bool) -> Iterator[str]:
    for at in range(0, LONG + 1, 10):
        length = 4 if at % 50 == 0 else 2.5
        yield f"M9 {110 - at}h{-length}" if upright else f"M{10 + at} 9v{-length}"


def files(made: Iterable[str]) -> Section:
    """Every file made beside the page, and what its words mean."""
    there = sorted(made)
    rows = []
    for start, words in KINDS.items():
        paths = [path for path in there if path.startswith(start)]
        if paths:
            rows.append((start, translated(words), str(len(paths))))
    grid = Grid(("folder", "what it holds", "files"), tuple(rows), figures=(2,))
    tops = links(*(path for path in there if path.startswith(("lists/", "drawings/", "customer/"))))
    every = Sheet("all", "", grids=(grid,), links=(*tops, *links("packet.json")))
    return Section("files", "Files and words", (every, glossary()), pairs=True)
