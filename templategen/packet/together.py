"""Several profiles in one run: a packet for each, one stock and one set of lists for all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from templategen import __version__
from templategen.checks.finding import Finding
from templategen.errors import Fault, OutputError, ProfileError
from templategen.packet.beside import beside
from templategen.packet.build import with_places
from templategen.packet.file_name import file_names
from templategen.packet.jigs import of_the_sheet, planned
from templategen.packet.joint_stock import joint_stock
from templategen.packet.labelled import joint_findings_of, joint_parts, joint_places
from templategen.packet.lay_out import LaidStock, joint_findings, lay_out_together
from templategen.packet.make import Packet, Progress, make_packet, nesting_now
from templategen.packet.offcut_list import offcut_list
from templategen.packet.record import files_record, stock_record, with_page
from templategen.packet.shares import chosen
from templategen.packet.stock_files import routed_parts, stock_files
from templategen.packet.supply import Order
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile

if TYPE_CHECKING:
    from templategen.drawing.machining import Routed

RESERVED = ("stock", "lists", "packet.json", "index.html")
"""Names at the head of the folder that no profile's packet may take."""

LONGEST_TITLE = 100
"""Characters of all titles together; longer ones are counted."""

STOCK_SHARE = 0.6
"""What of all the work is told as laying out the stock."""


@dataclass(frozen=True, slots=True)
class Together:
    """What a maker holds of several tables: each one's packet under its folder's name, and all files."""

    packets: Mapping[str, Packet]
    findings: tuple[Finding, ...]
    files: Mapping[str, bytes]
    record: Mapping[str, Any]

    @property
    def exit_code(self) -> int:
        """0 when nothing is worse than a note in any of them, else 1."""
        worse = any(finding.level != "note" for finding in self.findings)
        return 1 if worse or any(packet.exit_code for packet in self.packets.values()) else 0


def make_together(
    profiles: Sequence[Profile],
    only: Iterable[str] | None = None,
    effort: float | None = None,
    progress: Progress | None = None,
    tables: int = 1,
    second_core: bool = False,
) -> Together:
    """The packets of all profiles, `tables` of each, their parts nested together on the stock of all; see
    `make_packet`.

    Codes of parts have the folder of their packet before them where parts of several tables meet.

    Raises:
        DesignError: a table can't be built.
        OutputError: a share isn't known, or there is no profile.
        ProfileError: two profiles of one name, or stock that they describe differently.
    """
    shares = chosen(only)
    tell = progress or (lambda _what, _share: None)
    labels, stock = _labels(profiles), joint_stock(profiles)
    orders = [_order(profile, tables, label, shares) for label, profile in zip(labels, profiles, strict=True)]
    elsewhere = LaidStock((), {}, (), (), tables=tables)
    making = beside(lambda: [_packet(order, shares, elsewhere) for order in orders], second_core)
    laid = None
    if {"stock", "lists"} & set(shares):
        laid = lay_out_together(
            orders, stock, effort, lambda share, best: tell(nesting_now(best), STOCK_SHARE * share)
        )
    tell("parts", STOCK_SHARE)
    packets = dict(zip(labels, making(), strict=True))
    table = _all_parts(orders, replace(orders[0].table.profile, stock=stock, title=_title(profiles)))
    findings = joint_findings(orders, stock, laid) if laid else ()
    files = {f"{label}/{path}": data for label, packet in packets.items() for path, data in packet.files.items()}
    files |= dict(_joint_files(table, orders, shares, laid)) if laid else {}
    told, text = _record(table, packets, profiles, findings, laid or elsewhere, files)
    if "page" in shares:
        from templategen.packet.page.all_tables import page_of_all

        files["index.html"] = page_of_all(table, packets, findings, laid, told)
        told, text = with_page(told, files)
    tell("packet.json", 1.0)
    return Together(packets, findings, {"packet.json": text.encode(), **files}, told)


def _labels(profiles: Sequence[Profile]) -> list[str]:
    """A folder for each profile, named after it."""
    if not profiles:
        raise OutputError(Fault("", "no profile is given", "name one or more"))
    seen: dict[str, Profile] = {}
    for profile in profiles:
        other = seen.setdefault(profile.name.casefold(), profile)
        if other is not profile:
            same = "is given twice" if other.sha256 == profile.sha256 else "has the name of another profile"
            found = f'"{profile.name}" {same}'
            raise ProfileError(Fault("", found, "use --count for more of one table, or rename a file", profile.file))
    names = file_names([*RESERVED, *(f"{profile.name} " for profile in profiles)])
    return [names[f"{profile.name} "] for profile in profiles]


def _built(profile: Profile) -> Table:
    with with_places(profile):
        return build_table(profile)


def _order(profile: Profile, tables: int, label: str, shares: Sequence[str]) -> Order:
    """A profile's tables, and the pieces of their jigs where jigs are made."""
    table = _built(profile)
    with with_places(profile):
        jigs = planned(table)[0] if "jigs" in shares else ()
    return Order(table, tables, label, of_the_sheet(table, jigs))


def _packet(order: Order, shares: Sequence[str], elsewhere: LaidStock) -> Packet:
    with with_places(order.table.profile):
        return make_packet(order.table.profile, shares, tables=order.tables, elsewhere=elsewhere)


def _title(profiles: Sequence[Profile]) -> str:
    titles = " + ".join(profile.title for profile in profiles)
    return titles if len(titles) <= LONGEST_TITLE else f"{profiles[0].title} + {len(profiles) - 1} more"


def _all_parts(orders: Sequence[Order], profile: Profile) -> Table:
    """The first table with the parts of all, for lists and stock sheets; in the first one's units."""
    parts = (replace(part, code=order.code(part.code)) for order in orders for part in order.table.parts)
    return replace(orders[0].table, profile=profile, parts=tuple(parts))


def _routed(orders: Sequence[Order]) -> Routed:
    """What sheets for a routing machine must know of all parts, the largest bit taken."""
    from templategen.drawing.machining import Routed

    known = [(order, routed_parts(order.table)) for order in orders]
    parts = {order.code(code): part for order, one in known for code, part in one.parts.items()}
    clean = {order.code(code): edges for order, one in known for code, edges in one.clean.items()}
    return Routed(parts, max(one.bit for _, one in known), clean)


def _joint_files(
    table: Table, orders: Sequence[Order], shares: Sequence[str], laid: LaidStock
) -> Iterator[tuple[str, bytes]]:
    from templategen.output.table_csv import csv_bytes
    from templategen.shop.buy_list import buy_list
    from templategen.shop.cut_list import cut_list

    if "stock" in shares:
        yield from stock_files(table, laid, lambda _table: _routed(orders))
    if "lists" in shares:
        yield "lists/cut-list.csv", csv_bytes(*cut_list(table, laid.tables))
        yield "lists/buy-list.csv", csv_bytes(*buy_list(table, laid.used, laid.unserved, laid.tables))
        yield "lists/offcuts.toml", offcut_list(table, laid).encode()


def _record(
    table: Table,
    packets: Mapping[str, Packet],
    profiles: Sequence[Profile],
    findings: Sequence[Finding],
    laid: LaidStock,
    files: Mapping[str, bytes],
) -> tuple[dict[str, Any], str]:
    """The record at the head of the folder: what a packet's own record holds, for all, and where each packet is."""
    from templategen.output.packet_json import dumps, finding_json

    told: dict[str, Any] = {
        "format": 1,
        "title": table.profile.title,
        "profile_sha256": sha256("\n".join(profile.sha256 for profile in profiles).encode()).hexdigest(),
        "templategen": __version__,
        "units": table.profile.units,
        "settled": all(f.level == "note" for f in findings) and all(p.record["settled"] for p in packets.values()),
        "packets": [_packet_record(label, packet) for label, packet in packets.items()],
        "parts": [part for label, packet in packets.items() for part in joint_parts(label, packet.record)],
        "placed": [],
        "joints": [],
        "assembly": [],
    }
    for label, packet in packets.items():
        for key, more in joint_places(label, packet.record, len(told["placed"]), len(told["assembly"])).items():
            told[key] += more
    told["findings"] = [finding_json(finding) for finding in findings]
    for label, packet in packets.items():
        told["findings"] += joint_findings_of(label, packet.record["findings"])
    told |= {**stock_record(table, laid, files), "paper": None, "files": files_record(files)}
    return told, dumps(told)


def _packet_record(label: str, packet: Packet) -> dict[str, Any]:
    kept = ("title", "profile", "profile_sha256", "settled", "table")
    return {"folder": label, "record": f"{label}/packet.json", **{key: packet.record[key] for key in kept}}
