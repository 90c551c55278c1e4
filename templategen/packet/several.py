"""Several profiles in one run: a packet for each, one stock and one set of lists for all.

Each profile's packet goes through the stages of any packet, but for the stock. That is laid out by the same stages
once more, with the orders of all in place of one.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from itertools import pairwise
from typing import Any

from templategen import __version__
from templategen.catalogue import fault_of, translated, worded
from templategen.checks.finding import Finding
from templategen.errors import Fault, OutputError, ProfileError
from templategen.packet import share_files as made
from templategen.packet import stages, table_stages
from templategen.packet.build import with_places
from templategen.packet.file_name import file_names
from templategen.packet.followed import boards_followed
from templategen.packet.labelled import joint_findings_of, joint_parts, joint_places
from templategen.packet.lay_out import LaidStock
from templategen.packet.make import Packet, packet_of
from templategen.packet.page.several import page_of_several
from templategen.packet.pipeline import Stage, Worked
from templategen.packet.record import files_record, stock_record
from templategen.packet.second_core import on_second_core
from templategen.packet.shared_stock import shared_stock
from templategen.packet.shares import chosen
from templategen.packet.stock_files import Routed
from templategen.packet.supply import Order
from templategen.shop.trial_wood import TrialWood
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

RESERVED = ("stock", "lists", "packet.json", "index.html")
"""Names at the head of the folder that no profile's packet may take."""

LONGEST_TITLE = 100
"""Characters of all titles together; longer ones are counted."""

STOCK_SHARE = 0.6
"""What of all the work is told as laying out the stock."""


@dataclass(frozen=True, slots=True)
class Packets:
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


def make_packets(
    profiles: Sequence[Profile],
    only: Iterable[str] | None = None,
    effort: float | None = None,
    progress: table_stages.Tell | None = None,
    tables: int = 1,
    second_core: bool = False,
) -> Packets:
    """The packets of all profiles, `tables` of each, their parts nested together on the stock of all; see
    `make_packet`.

    Codes of parts have the folder of their packet before them where parts of several tables meet.

    Raises:
        DesignError: a table can't be built.
        OutputError: a share isn't known, or there is no profile.
        ProfileError: two profiles of one name, told in different words, or stock that they describe differently.
    """
    _same_words(profiles)
    shares, tell = chosen(only), progress or table_stages.quiet
    elsewhere = LaidStock((), {}, (), (), tables=tables, elsewhere=True)
    own = {label: _own(profile, shares, elsewhere) for label, profile in _labelled(profiles).items()}
    joint = _joint(own, profiles, shares, effort, lambda what, done: tell(what, STOCK_SHARE * done))
    waiting = on_second_core(lambda: [_packet(one) for one in own.values()], second_core)
    laid = joint[stages.LAID]
    tell("parts", STOCK_SHARE)
    packets = dict(zip(own, waiting(), strict=True))
    table, found = joint[table_stages.TABLE], joint[stages.OF_STOCK]
    if laid:
        plans = {label: packet.record for label, packet in packets.items()}
        found = (*boards_followed(table, plans, laid), *found)
    files = {f"{label}/{path}": data for label, packet in packets.items() for path, data in packet.files.items()}
    shared: list[made.Files] = [joint[one] for one in (made.STOCK_FILES, made.CUT_LISTS, made.STOCK_LISTS)]
    files |= {path: data for one in shared for path, data in one.items()}
    digest = sha256("\n".join(profile.sha256 for profile in profiles).encode()).hexdigest()
    if "page" in shares:
        files["index.html"] = page_of_several(table, packets, found, laid, files, digest, joint[made.TEST_WOOD])
    told = _record(table, packets, digest, found, laid or elsewhere, files)
    tell("packet.json", 1.0)
    return Packets(packets, found, {"packet.json": _text(told), **files}, told)


def joint_work(profiles: Mapping[str, Profile], shares: tuple[str, ...], tables: int) -> Worked:
    """The stages of what the profiles have in common, each by the name of its folder."""
    elsewhere = LaidStock((), {}, (), (), tables=tables, elsewhere=True)
    own = {label: _own(profile, shares, elsewhere) for label, profile in profiles.items()}
    return _joint(own, list(profiles.values()), shares, None, table_stages.quiet)


def _own(profile: Profile, shares: tuple[str, ...], elsewhere: LaidStock) -> Worked:
    """The stages of one of the profiles, whose stock is laid out with that of the others."""
    apart: dict[Stage[Any], Any] = {stages.LAID: elsewhere, made.STOCK_LISTS: {}}
    return table_stages.begun(profile, shares, tables=elsewhere.tables).again(apart)


def _text(told: Mapping[str, Any]) -> bytes:
    from templategen.output.packet_json import dumps

    return dumps(told).encode()


def _same_words(profiles: Sequence[Profile]) -> None:
    """Lists and page are of all tables, and can be told in one language alone."""
    faults = [
        Fault(
            f"words.{name}",
            worded('"{here}" here and "{there}" in {other}', here=here, there=there, other=first.name),
            translated("tables of one packet are told in the same words: give all the same, or make them apart"),
            profile.file_of("words"),
            profile.line_of(f"words.{name}"),
        )
        for first, profile in pairwise(profiles)
        for name in ("language", "english")
        for here, there in [(getattr(profile.words, name), getattr(first.words, name))]
        if here != there
    ]
    if faults:
        raise ProfileError(faults)


def _labelled(profiles: Sequence[Profile]) -> dict[str, Profile]:
    """The profiles by the folder of each, named after it."""
    if not profiles:
        raise OutputError(fault_of("", "no profile is given", "name one or more"))
    seen: dict[str, Profile] = {}
    for profile in profiles:
        other = seen.setdefault(profile.name.casefold(), profile)
        if other is not profile:
            same = other.sha256 == profile.sha256
            found = worded(
                '"{name}" is given twice' if same else '"{name}" has the name of another profile', name=profile.name
            )
            raise ProfileError(
                Fault("", found, translated("use --count for more of one table, or rename a file"), profile.file)
            )
    names = file_names([*RESERVED, *(f"{profile.name} " for profile in profiles)])
    return {names[f"{profile.name} "]: profile for profile in profiles}


def _packet(worked: Worked) -> Packet:
    with with_places(worked[table_stages.PROFILE]):
        return packet_of(worked, table_stages.quiet, False)


def _joint(
    own: Mapping[str, Worked],
    profiles: Sequence[Profile],
    shares: tuple[str, ...],
    effort: float | None,
    tell: table_stages.Tell,
) -> Worked:
    """The stages of what all have in common. Its table is the first one with the parts of all, in the first one's
    units."""
    stock = shared_stock(profiles)
    orders = tuple(_order(label, worked) for label, worked in own.items())
    first = orders[0].table
    parts = tuple(replace(part, code=order.code(part.code)) for order in orders for part in order.table.parts)
    table = replace(first, profile=replace(first.profile, stock=stock, title=_title(profiles)), parts=parts)
    routed = _routed(orders, [worked[made.ROUTED] for worked in own.values()])
    known: dict[Stage[Any], Any] = {
        table_stages.TABLE: table,
        stages.ORDERS: orders,
        made.ROUTED: routed,
        made.TEST_WOOD: _test_wood(orders, list(own.values())) if {"lists", "page"}.intersection(shares) else (),
    }
    return table_stages.begun(table.profile, shares, effort, tell, orders[0].tables).again(known)


def _order(label: str, worked: Worked) -> Order:
    """A profile's tables, and the pieces of their jigs where jigs are made."""
    with with_places(worked[table_stages.PROFILE]):
        (order,) = worked[stages.ORDERS]
    return replace(order, label=label)


def _title(profiles: Sequence[Profile]) -> str:
    titles = " + ".join(profile.title for profile in profiles)
    return titles if len(titles) <= LONGEST_TITLE else f"{profiles[0].title} + {len(profiles) - 1} more"


def _routed(orders: Sequence[Order], known: Sequence[Routed]) -> Routed:
    """What sheets for a routing machine must know of all parts, and every bit."""
    both = list(zip(orders, known, strict=True))
    parts = {order.code(code): part for order, one in both for code, part in one.parts.items()}
    clean = {order.code(code): edges for order, one in both for code, edges in one.clean.items()}
    bits = tuple(dict.fromkeys(bit for one in known for bit in one.bits))
    return replace(known[0], parts=parts, bits=bits, clean=clean)


def _test_wood(orders: Sequence[Order], own: Sequence[Worked]) -> tuple[TrialWood, ...]:
    """The test strips of all tables, each under the code of its own."""
    strips = ((order, strip) for order, worked in zip(orders, own, strict=True) for strip in worked[made.TEST_WOOD])
    return tuple(replace(strip, code=order.code(strip.code)) for order, strip in strips)


def _record(
    table: Table,
    packets: Mapping[str, Packet],
    digest: str,
    findings: Sequence[Finding],
    laid: LaidStock,
    files: Mapping[str, bytes],
) -> dict[str, Any]:
    """The record at the head of the folder: what a packet's own record holds, for all, and where each packet is."""
    from templategen.output.packet_json import finding_json, sealed

    told: dict[str, Any] = {
        "format": 1,
        "title": table.profile.title,
        "profile_sha256": digest,
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
    told["findings"] = [finding_json(finding, table.profile.units) for finding in findings]
    for label, packet in packets.items():
        told["findings"] += joint_findings_of(label, packet.record["findings"])
    return sealed({**told, **stock_record(table, laid, files), "paper": None, "files": files_record(files)})


def _packet_record(label: str, packet: Packet) -> dict[str, Any]:
    kept = ("title", "profile", "profile_sha256", "settled", "table")
    return {"folder": label, "record": f"{label}/packet.json", **{key: packet.record[key] for key in kept}}
