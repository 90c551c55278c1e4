"""Jigs of random tables and tools, and their sheets read back by libraries that didn't write them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import islice
from pathlib import Path
from random import Random
from typing import Any

import shapely
from shapely.affinity import translate

from templategen.drawing.jig_sheet import jig_sheet
from templategen.errors import DesignError
from templategen.jigs.jig import Jig
from templategen.output.dxf import dxf_bytes
from templategen.output.svg import svg_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from tests.gdal import layered
from tests.random_profiles import profile_text


def tooled(seed: int) -> str:
    """A random table in a random shop."""
    rng = Random(seed * 7 + 1)
    width, depth = rng.uniform(300, 700), rng.uniform(300, 600)
    place = rng.choice(
        ("[0, 0]", f'["{width * rng.uniform(0.4, 0.8):.1f} mm", "{depth * rng.uniform(0.4, 0.6):.1f} mm"]')
    )
    lines = [
        "[shop]",
        f'bandsaw_blade = ["{rng.uniform(6, 25):.1f} mm", "{rng.uniform(0.6, 1.8):.2f} mm"]',
        f'bandsaw_table = ["{width:.1f} mm", "{depth:.1f} mm"]',
        f'router_bit = "{rng.choice((6, 8, 12))} mm"',
        "[jigs]",
        f'pin = "{rng.choice((5, 6, 8))} mm"',
        f'blade_place = {place}',
        f'trammel_bit = "{rng.choice((8, 12, 12.7, 16))} mm"',
        f'leave = "{rng.choice((0, 1, 1.5))} mm"',
    ]  # fmt: skip
    return profile_text(seed) + "\n".join(lines) + "\n"


def tables(seeds: range, sawn: bool = False, most: int = 4) -> Iterator[Table]:
    """The first tables among the seeds that can be built; only round ones where they must be."""
    return islice(_tables(seeds, sawn), most)


def _tables(seeds: range, sawn: bool) -> Iterator[Table]:
    for seed in seeds:
        table = _table(seed)
        if table is not None and (table.sizes.is_sawn or not sawn):
            yield table


@cache
def _table(seed: int) -> Table | None:
    """The table of a seed, None where it can't be built."""
    try:
        return build_table(profile_from_text(tooled(seed), f"random-{seed}"))
    except DesignError:
        return None


@dataclass(frozen=True)
class Written:
    """A jig's sheet as GDAL reads its DXF: shapes with their layers, and where each piece's origin lies."""

    shapes: tuple[tuple[str, Any], ...]
    sites: dict[str, tuple[float, float]]

    def outline(self, jig: Jig, code: str) -> Any:
        """The one cut outline that lies where the piece does, in the piece's own frame."""
        box = next(part for part in jig.parts if part.code == code).outline.bounds
        found = []
        for name, shape in self.shapes:
            if name == "THROUGH_OUTSIDE":
                own = self._own(code, shape)
                if max(abs(a - b) for a, b in zip(own.bounds, box, strict=True)) < 0.02:
                    found.append(own)
        assert len(found) == 1, (code, len(found))
        return found[0]

    def on(self, jig: Jig, code: str, layer: str) -> list[Any]:
        """What lies on the piece on a layer, in the piece's own frame."""
        wood = shapely.box(*self.outline(jig, code).bounds).buffer(0.05)
        own = (self._own(code, shape) for name, shape in self.shapes if name == layer)
        return [shape for shape in own if wood.covers(shape)]

    def _own(self, code: str, shape: Any) -> Any:
        x, y = self.sites[code]
        return translate(shape, -x, -y)


def written(jig: Jig, table: Table, folder: Path) -> Written:
    """The jig's sheet, written as DXF and read again by GDAL."""
    sheet = jig_sheet(jig, "random", units=table.profile.units)
    path = folder / f"{jig.code}.dxf"
    path.write_bytes(dxf_bytes(sheet.drawing, "R2000"))
    shapes = tuple((name, _closed(shape)) for name, shape in layered(path, 0.1))
    return Written(shapes, {code: (at.x, at.y) for code, at in sheet.sites.items()})


def _closed(shape: Any) -> Any:
    """A ring as the polygon in it: GDAL gives circles as lines."""
    ring = shape.geom_type == "LineString" and shape.is_ring
    return shapely.Polygon(shape) if ring else shape


def svg_lines(jig: Jig, table: Table, folder: Path, layer: str) -> list[tuple[complex, complex]]:
    """Ends of the single lines of a layer of the jig's SVG, y up, as a path library reads them."""
    import re

    import svgpathtools

    sheet = jig_sheet(jig, "random", units=table.profile.units)
    text = svg_text(sheet.drawing)
    group = re.search(rf'<g [^>]*data-layer="{layer}".*?</g>', text, re.DOTALL)
    assert group is not None
    paths = [svgpathtools.parse_path(d) for d in re.findall(r' d="([^"]+)"', group[0])]
    return [(path[0].start.conjugate(), path[0].end.conjugate()) for path in paths if len(path) == 1]


def middle(shape: Any) -> tuple[float, float]:
    """The middle of a shape's box: the centre of what is round."""
    left, low, right, high = shape.bounds
    return (left + right) / 2, (low + high) / 2
