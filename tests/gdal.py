"""GDAL as a reader of our DXF: how finely arcs are stepped is set in the one way that holds for a process."""

from __future__ import annotations

from pathlib import Path
from typing import Any


def layered(path: Path, step: float = 0.01) -> list[tuple[str, Any]]:
    """Layer and shapely geometry of each entity, arcs stepped by so many degrees.

    The step is a configuration of the process: it outranks the environment and what an earlier test set.
    """
    import pyogrio
    import shapely

    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": f"{step:g}", "DXF_ENCODING": "UTF-8"})
    meta, _, shapes, columns = pyogrio.raw.read(path, CLOSED_LINE_AS_POLYGON="YES")
    names = columns[list(meta["fields"]).index("Layer")]
    return list(zip(map(str, names), shapely.from_wkb(shapes), strict=True))


def lettered(path: Path) -> list[str]:
    """The words of each entity that has any."""
    import pyogrio

    pyogrio.set_gdal_config_options({"DXF_ENCODING": "UTF-8"})
    meta, _, _, columns = pyogrio.raw.read(path, read_geometry=False)
    return [str(words) for words in columns[list(meta["fields"]).index("Text")] if words]
