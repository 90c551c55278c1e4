"""The lists of gluing and buying: gluing plan, marks, boards, hardware."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.fit.plan import Plan
from templategen.packet.lay_out import LaidStock
from templategen.table.assembly import Table


def bench_lists(table: Table, laid: LaidStock, plan: Plan) -> Iterator[tuple[str, bytes]]:
    """Path and bytes of each."""
    from templategen.output.table_csv import csv_bytes
    from templategen.shop.boards import boards_list
    from templategen.shop.gluing.listed import gluing_list, marks_list
    from templategen.shop.gluing.plan import gluing_plan
    from templategen.shop.hardware import hardware, hardware_list

    gluing = gluing_plan(table, plan)
    yield "lists/gluing.csv", csv_bytes(*gluing_list(gluing))
    yield "lists/marks.csv", csv_bytes(*marks_list(gluing))
    yield "lists/boards.csv", csv_bytes(*boards_list(table, laid.used, laid.tables))
    yield "lists/hardware.csv", csv_bytes(*hardware_list(hardware(table, gluing, laid.tables)))
