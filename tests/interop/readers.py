"""Other people's readers of our files, and what each says the layers of a file measure."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import warnings
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from math import hypot, pi
from pathlib import Path
from xml.etree import ElementTree

from tests.gdal import layered

SCRIPT = Path(__file__).parent / "read.cjs"
Steps = Iterator[tuple[float, float | None]]
"""Length and, of arcs, radius of each step of a path."""

MODULES = ("dxf-parser", "dxf", "svg-path-properties")


@dataclass
class Layer:
    """Length of all lines, area of closed ones counted with their sign taken away from the sum, radii of arcs."""

    length: float = 0.0
    area: float = 0.0
    radii: set[float] = field(default_factory=set)


@dataclass
class Seen:
    """What a reader saw: layers by name, and the unit as $INSUNITS has it (None where it doesn't say)."""

    layers: dict[str, Layer]
    unit: int | None = None


@cache
def node_modules() -> str | None:
    """Where the JavaScript readers are, None where they or node are missing."""
    if shutil.which("node") is None:
        return None
    for folder in os.environ.get("NODE_PATH", "").split(os.pathsep):
        if folder and all((Path(folder) / name).is_dir() for name in MODULES):
            return folder
    return None


def by_javascript(files: Sequence[Path]) -> dict[str, dict[str, Seen]]:
    """Reader -> file -> what it saw."""
    run = subprocess.run(["node", str(SCRIPT), *map(str, files)], capture_output=True, check=True, env={**os.environ})
    told = json.loads(run.stdout)
    return {
        reader: {
            file: Seen(
                {name: Layer(one["length"], one["area"], set(one["radii"])) for name, one in seen["layers"].items()},
                seen["unit"],
            )
            for file, seen in files.items()
        }
        for reader, files in told.items()
    }


def by_gdal(file: Path) -> Seen:
    """GDAL, which steps arcs finely: lengths, no radii, no unit."""
    import shapely

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        read = layered(file, 0.05)
    layers: dict[str, Layer] = defaultdict(Layer)
    for name, geometry in read:
        layer = layers[name]
        for line in shapely.get_parts(geometry):
            layer.length += float(shapely.length(line))
    return Seen(dict(layers))


def by_svgpathtools(file: Path) -> Seen:
    """svgpathtools, path by path; the groups are found by a plain XML reader."""
    from svgpathtools import Arc, parse_path

    def steps(text: str) -> Steps:
        for step in parse_path(text):
            yield step.length(error=1e-9), abs(step.radius.real) if isinstance(step, Arc) else None

    return _svg(file, steps)


def by_svgelements(file: Path) -> Seen:
    """svgelements, the same way."""
    from svgelements import Arc
    from svgelements import Path as Walk

    def steps(text: str) -> Steps:
        for step in Walk(text):
            yield _length(step), float(step.rx) if isinstance(step, Arc) else None

    return _svg(file, steps)


def _length(step: object) -> float:
    from svgelements import Arc, Move

    if isinstance(step, Move):
        return 0.0
    if isinstance(step, Arc):
        return abs(float(step.sweep)) * float(step.rx)
    return hypot(step.end.x - step.start.x, step.end.y - step.start.y)  # type: ignore[attr-defined]


def _svg(file: Path, steps: Callable[[str], Steps]) -> Seen:
    layers: dict[str, Layer] = defaultdict(Layer)
    for group in ElementTree.parse(file).getroot().iter("{http://www.w3.org/2000/svg}g"):
        name = group.get("data-layer")
        for element in group if name else ():
            layer = layers[str(name)]
            if element.tag.endswith("circle"):
                radius = float(element.attrib["r"])
                layer.length += 2 * pi * radius
                layer.radii.add(round(radius, 4))
            elif element.tag.endswith("path"):
                for length, radius in steps(element.attrib["d"]):
                    layer.length += length
                    if radius is not None:
                        layer.radii.add(round(radius, 4))
    return Seen(dict(layers))
