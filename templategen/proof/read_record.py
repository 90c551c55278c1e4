"""Reads packet.json and holds it against its schema, which ships with the package."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from templategen.errors import Fault, OutputError
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.vertex import Vertex

RECORD = "packet.json"
LARGEST = 200_000_000
"""A record of more bytes isn't read."""

Record = dict[str, Any]


def read_record(folder: Path) -> Record:
    """The record of the packet in `folder`.

    Raises:
        OutputError: no packet stands there, or its record can't be understood.
    """
    path = folder / RECORD
    if not path.is_file():
        raise OutputError(Fault(str(folder), f"holds no {RECORD}, so it isn't a packet", "give a packet's folder"))
    if path.stat().st_size > LARGEST:
        raise OutputError(Fault(str(path), "is too large for a packet's record"))
    try:
        record = json.loads(path.read_text(encoding="utf-8"), parse_constant=_refused)
    except (ValueError, RecursionError) as trouble:
        raise OutputError(Fault(str(path), f"isn't JSON as a packet has it ({trouble})")) from trouble
    if not isinstance(record, dict):
        raise OutputError(Fault(str(path), "isn't a packet's record"))
    return record


def against_schema(record: Record) -> str:
    """What the schema says against the record, "" for nothing."""
    import fastjsonschema

    try:
        _validator()(record)
    except fastjsonschema.JsonSchemaValueException as fault:
        return f"{'.'.join(str(step) for step in fault.path[1:])}: {fault.message.partition(' ')[2]}"
    return ""


@cache
def _validator() -> Any:
    import fastjsonschema

    schema = json.loads((Path(__file__).parent / "packet.schema.json").read_text(encoding="utf-8"))
    return fastjsonschema.compile(schema)


def _refused(word: str) -> float:
    raise ValueError(f"{word} is no number")


def outline_in(corners: list[list[float]]) -> Outline:
    """An outline as the record holds it."""
    return Outline(tuple(Vertex(*corner) for corner in corners))


def placement_in(entry: Record) -> Placement:
    """A placement as the record holds it, its turn in degrees."""
    from math import radians

    return Placement(entry["x"], entry["y"], radians(entry["turn"]), entry["turned_over"])
