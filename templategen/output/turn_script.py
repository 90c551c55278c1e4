"""The script that turns the table on a page: no library, no network, a few kilobytes."""

from __future__ import annotations

from importlib.resources import files


def turn_script() -> str:
    """The script's text; it defines `turnTable(canvas, scene)`, where `scene` is what `drawing/scene.py` gives."""
    return files("templategen.output").joinpath("turn.js").read_text(encoding="utf-8")
