"""The share of lists: what is cut, how machines are set, whether the ring closes, how it is glued, what is bought."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from templategen.packet.lay_out import LaidStock
from templategen.packet.lost import or_lost
from templategen.packet.offcut_list import offcut_list
from templategen.packet.trial_offcuts import strips_sawn
from templategen.shop.closing.study import ClosingStudy
from templategen.shop.hardware import Wanted
from templategen.shop.listing import Cell
from templategen.table.assembly import Table
from templategen.work.plan import WorkPlan

if TYPE_CHECKING:
    from templategen.output.table_csv import Cell
    from templategen.shop.trial_wood import TrialWood
    from templategen.work.price import Price


def cut_lists(table: Table, tables: int) -> dict[str, bytes]:
    """The cut list for so many tables."""
    from templategen.shop.cut_list import cut_list

    return _csv({"cut-list": cut_list(table, tables)})


def bench_lists(
    table: Table,
    hardware: tuple[Wanted, ...],
    closing: ClosingStudy,
    work: WorkPlan,
) -> dict[str, bytes]:
    """What is read from the plan of work; hardware; whether the ring will close, with its picture."""
    from templategen.drawing.closing_picture import closing_picture
    from templategen.output.svg import svg_text
    from templategen.shop.closing.listed import closing_list
    from templategen.shop.hardware import hardware_list

    profile = table.profile
    picture = or_lost(
        "lists/closing.svg", lambda: svg_text(closing_picture(closing, profile.title, profile.units)).encode(), b""
    )
    lists = _csv({"closing": closing_list(closing, profile.units), "hardware": hardware_list(hardware)})
    return {**lists, **work_lists(table, work), **({"lists/closing.svg": picture} if picture else {})}


def work_lists(table: Table, work: WorkPlan) -> dict[str, bytes]:
    """Plan of work, and read from it set-ups, test strips, gluing plan, marks and labels."""
    from templategen.output.pdf_labels import labels_pdf
    from templategen.shop.gluing.listed import gluing_list, marks_list
    from templategen.shop.set_ups.rows import set_up_list
    from templategen.shop.trial_wood import trial_wood, trial_wood_list
    from templategen.work.labels import label_list, labels_of
    from templategen.work.plan import plan_list
    from templategen.work.tools import tool_list, tools_of

    profile, labels = table.profile, labels_of(table, work)
    lists = {
        "plan": plan_list(work),
        "set-ups": set_up_list(work.set_ups, table),
        "gluing": gluing_list(work.gluing, profile.units),
        "marks": marks_list(work.gluing),
        "labels": label_list(labels),
        "tools": tool_list(tools_of(table, work)),
        "test-wood": trial_wood_list(trial_wood(table, work.set_ups), profile.units),
    }
    printed = or_lost("lists/labels.pdf", lambda: labels_pdf(labels, profile.paper, profile.title), b"")
    return {**_csv(lists), **({"lists/labels.pdf": printed} if printed else {})}


def stock_lists(table: Table, laid: LaidStock | None, strips: tuple[TrialWood, ...]) -> dict[str, bytes]:
    """What belongs to the stock: what to buy, boards by volume, and what is left as stock for the next profile."""
    from templategen.shop.boards import boards_list
    from templategen.shop.buy_list import buy_list

    assert laid is not None, "lists are made once the stock is laid out"
    sawn = strips_sawn(table.profile.shop, table.profile.stock, laid, strips)
    lists = {
        "buy-list": buy_list(table, laid.used, laid.unserved, laid.tables, sawn.boards, sawn.unserved),
        "boards": boards_list(table, laid.used, laid.tables),
    }
    return {**_csv(lists), "lists/offcuts.toml": offcut_list(table, sawn.left).encode()}


def price_lists(table: Table, laid: LaidStock | None, wanted: tuple[Wanted, ...], work: WorkPlan) -> dict[str, bytes]:
    """What the tables cost, where an hour has a rate and the stock is their own."""
    from templategen.work.price import price_list

    price = price_of_tables(table, laid, wanted, work)
    return _csv({"price": price_list(price)}) if price else {}


def price_of_tables(table: Table, laid: LaidStock | None, wanted: tuple[Wanted, ...], work: WorkPlan) -> Price | None:
    """The price, where it can be told."""
    from templategen.shop.trial_wood import trial_wood
    from templategen.work.price import price_of

    rates, stock = table.profile.rates, table.profile.stock
    if laid is None or laid.elsewhere or not rates.hourly:
        return None
    sawn = strips_sawn(table.profile.shop, stock, laid, trial_wood(table, work.set_ups))
    return price_of(rates, stock, laid.used, wanted, work, sawn.boards, sawn.unserved)


def _csv(lists: Mapping[str, tuple[Sequence[str], Sequence[Sequence[Cell]]]]) -> dict[str, bytes]:
    from templategen.output.table_csv import csv_bytes

    return {f"lists/{name}.csv": csv_bytes(*rows) for name, rows in lists.items()}
