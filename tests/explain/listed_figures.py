"""The figures of the cut list by the names of their quantities."""

from collections.abc import Iterator

from templategen.explain.parts import work_name
from templategen.parts.work import works
from templategen.shop.cut_list import SIZES, end_angles
from templategen.table.assembly import Table


def cut_list_figures(table: Table) -> Iterator[tuple[str, float]]:
    """Every number of the cut list of one table: the quantity that explains it, and its value as listed from."""
    for part in table.parts:
        name = f"part.{part.code}"
        yield f"{name}.count", float(part.count)
        yield from zip((f"{name}.{size}" for size in SIZES), part.size, strict=True)
        for number, angle in enumerate(end_angles(part), 1):
            yield f"{name}.end_angle_{number}", angle
        for work in works(part):
            yield f"{work_name(part.code, work)}.count", float(work.count)
            if work.depth is not None:
                yield f"{work_name(part.code, work)}.depth", work.depth
