"""Holds a record against its schema, which ships with the package."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from templategen.proof.read_record import Record


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
