"""The share of lists: what is cut, how machines are set, whether the ring closes, what is bought."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.packet.lay_out import LaidStock
from templategen.packet.offcut_list import offcut_list
from templategen.table.assembly import Table


def closing_files(table: Table) -> Iterator[tuple[str, bytes]]:
    """Whether the ring will close: the list and its picture."""
    from templategen.drawing.closing_picture import closing_picture
    from templategen.output.svg import svg_text
    from templategen.output.table_csv import csv_bytes
    from templategen.shop.closing.listed import closing_list
    from templategen.shop.closing.study import closing_study

    profile, study = table.profile, closing_study(table.sizes)
    yield "lists/closing.csv", csv_bytes(*closing_list(study, profile.units))
    yield "lists/closing.svg", svg_text(closing_picture(study, profile.title, profile.units)).encode()


def list_files(table: Table, laid: LaidStock | None) -> Iterator[tuple[str, bytes]]:
    """Cut list, set-ups, offcuts, buy list."""
    from templategen.output.table_csv import csv_bytes
    from templategen.shop.buy_list import buy_list
    from templategen.shop.cut_list import cut_list
    from templategen.shop.set_ups.rows import set_up_list

    assert laid is not None
    yield "lists/cut-list.csv", csv_bytes(*cut_list(table, laid.tables))
    yield "lists/set-ups.csv", csv_bytes(*set_up_list(table, laid.tables))
    yield "lists/offcuts.toml", offcut_list(table, laid).encode()
    yield "lists/buy-list.csv", csv_bytes(*buy_list(table, laid.used, laid.unserved, laid.tables))
