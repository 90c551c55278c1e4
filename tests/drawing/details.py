"""Details of the joints of a table."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.drawing.drawing import Drawing
from templategen.drawing.joint_details import detail
from templategen.table.assembly import Table


def all_details(table: Table) -> Iterator[Drawing]:
    """One for each kind of joint between each two kinds of part."""
    kinds = {
        (joint.kind, *sorted(table.part(code).kind for code in joint.parts)): joint for joint in table.joints[::-1]
    }
    yield from (detail(table, joint, joint.parts[0]) for joint in kinds.values())
