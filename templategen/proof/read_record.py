"""Reads packet.json, and holds it against its seal."""

import json
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from templategen.catalogue import translated, worded
from templategen.errors import Fault, OutputError
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import Vertex
from templategen.proof.difference import Difference

RECORD = "packet.json"
LARGEST = 100_000_000
"""A record of more bytes isn't read."""

LONGEST_NUMBER, FURTHEST = 15, 1e15
"""Digits of a whole number, and the largest number, that a record may hold."""

Record = dict[str, Any]


def read_record(folder: Path) -> Record:
    """The record of the packet in `folder`.

    Raises:
        OutputError: no packet stands there, or its record can't be understood.
    """
    path = folder / RECORD
    if not path.is_file():
        found = (
            worded("holds no {record}, so it isn't a packet", record=RECORD)
            if folder.is_dir()
            else translated("is no folder")
        )
        raise OutputError(Fault(str(folder), found, translated("give the folder that make wrote with -o")))
    if path.stat().st_size > LARGEST:
        raise OutputError(Fault(str(path), translated("is too large for a packet's record")))
    try:
        record = json.loads(
            path.read_text(encoding="utf-8"), parse_constant=_refused, parse_int=_whole, parse_float=_number
        )
    except (ValueError, RecursionError, OSError) as trouble:
        raise OutputError(
            Fault(str(path), worded("isn't JSON as a packet has it ({trouble})", trouble=trouble))
        ) from trouble
    if not isinstance(record, dict):
        raise OutputError(Fault(str(path), translated("isn't a packet's record")))
    return record


def broken_seal(record: Record) -> list[Difference]:
    """What the seal says: a digest over all the rest, keys in order of their letters, no blanks, UTF-8."""
    plain = {key: value for key, value in record.items() if key != "seal"}
    text = json.dumps(plain, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    if record.get("seal") == sha256(text.encode("utf-8", "replace")).hexdigest():
        return []
    return [Difference(RECORD, "", translated("was altered since it was written, or was never sealed"))]


def _refused(word: str) -> float:
    raise ValueError(worded("{word} is no number", word=word))


def _whole(digits: str) -> int:
    if len(digits) > LONGEST_NUMBER:
        raise ValueError(translated("a number beyond any table"))
    return int(digits)


def _number(digits: str) -> float:
    value = float(digits)
    if abs(value) > FURTHEST or len(digits) > 2 * LONGEST_NUMBER:
        raise ValueError(translated("a number beyond any table"))
    return value


def outline_in(corners: list[list[float]]) -> Outline:
    """An outline as the record holds it."""
    return Outline(tuple(Vertex(*corner) for corner in corners))


def placement_in(entry: Record) -> Placement:
    """A placement as the record holds it, its turn in degrees."""
    from math import radians

    return Placement(entry["x"], entry["y"], radians(entry["turn"]), entry["turned_over"])


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
