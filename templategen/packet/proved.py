"""Proves a packet in full: its files against its record, and its record and lists against the profile kept in it.

The files are read and measured in `proof/`, which shares nothing with what writes. Here the table is worked out anew
from the profile, as it was for the packet, so that a record that agrees with wrong files is found out.
"""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace
from hashlib import sha256
from io import StringIO
from itertools import islice, zip_longest
from pathlib import Path
from typing import Any

from templategen.errors import TemplategenError
from templategen.output.gluing_json import gluing_json
from templategen.output.packet_json import (
    assembly_json,
    finding_json,
    joints_json,
    part_json,
    placed_json,
    table_json,
)
from templategen.packet import share_files as made
from templategen.packet import stages
from templategen.packet.labelled import joint_parts
from templategen.packet.make import PROFILE_FILE, begun
from templategen.packet.pipeline import Worked
from templategen.proof.difference import Difference, Proof
from templategen.proof.files import content
from templategen.proof.read_record import RECORD, read_record
from templategen.proof.run import prove
from templategen.shop.weigh import mass_kg
from templategen.table.profile.read import profile_from_text

Record = Mapping[str, Any]

SAME = 1e-6
"""Figures of the record that are one differ by no more: machines differ in the last digit of a sine."""

MOST = 12
"""So many differences of one kind are told."""

LISTED = (made.CUT_LISTS, made.BENCH_LISTS)
"""The lists that follow from the table alone."""


def proved(folder: Path) -> Proof:
    """The proof of the packet in `folder`, and of the packets in it where it is one of several tables.

    Raises:
        OutputError: no packet stands there, or its record can't be read.
    """
    proof = prove(folder)
    if proof.unread:
        return proof
    record = read_record(folder)
    if "packets" in record:
        return _joined(folder, record, proof)
    if "refit" in record:
        return proof
    found = [*proof.differences, *_against_profile(folder, record)]
    return replace(proof, differences=tuple(dict.fromkeys(found)))


def _joined(folder: Path, record: Record, proof: Proof) -> Proof:
    """The head of several packets: each is proved for itself, and its parts are those at the head."""
    found, work = list(proof.differences), Counter(proof.work)
    parts = []
    for entry in record["packets"]:
        label = str(entry["folder"])
        inner = folder / label
        if content(folder, f"{label}/{RECORD}") is None:
            found.append(Difference(f"{label}/{RECORD}", "", "is missing"))
            continue
        one = proved(inner)
        found += (replace(difference, file=f"{label}/{difference.file}") for difference in one.differences)
        work.update(one.work)
        if not one.unread:
            parts += joint_parts(label, read_record(inner))
    found += _unlike("parts", parts, record["parts"])
    return replace(proof, differences=tuple(dict.fromkeys(found)), work=dict(sorted(work.items())))


def _against_profile(folder: Path, record: Record) -> Iterator[Difference]:
    """Where record and lists aren't what the profile makes."""
    data = content(folder, PROFILE_FILE)
    if data is None:
        yield Difference(PROFILE_FILE, "", "is missing, so the record can't be held against it")
        return
    if sha256(data).hexdigest() != record["profile_sha256"]:
        yield Difference(PROFILE_FILE, "", "isn't the profile that the record was made from")
        return
    try:
        profile = profile_from_text(data.decode("utf-8", "replace"), str(record.get("profile", "")))
        worked = begun(profile, ("jigs", "lists"), tables=int(record.get("tables", 1)))
        yield from _of_the_table(worked, record)
        for stage in LISTED:
            for path, wanted in worked[stage].items():
                yield from _list(path, wanted, content(folder, path))
    except TemplategenError as trouble:
        yield Difference(PROFILE_FILE, "", f"makes no table: {trouble}")


def _of_the_table(worked: Worked, record: Record) -> Iterator[Difference]:
    """The record, share by share, held against what is worked out anew."""
    table, plan = worked[stages.TABLE], worked[stages.PLAN]
    jigs = worked[stages.JIGS].pieces if record.get("jigs") else ()
    wanted: dict[str, Any] = {
        "title": table.profile.title,
        "units": table.profile.units,
        "table": table_json(table, mass_kg(table)),
        "parts": [{**part_json(part, ()), "files": None} for part in (*table.parts, *jigs)],
        "placed": [placed_json(placed) for placed in table.placed],
        "joints": joints_json(table),
        "assembly": assembly_json(table, plan),
        "ring_closes": plan.ring,
        "gluing": gluing_json(worked[stages.GLUING]),
    }
    for key, value in wanted.items():
        there = record.get(key)
        if key == "parts":
            there = [{**part, "files": None} for part in record["parts"]]
        yield from islice(_unlike(key, value, there), MOST)
    yield from _findings(worked, record)


def _findings(worked: Worked, record: Record) -> Iterator[Difference]:
    """Every finding of the table stands in the record as it is found anew; others are of stock and jigs only."""
    told = list(record["findings"])
    for finding in [finding_json(one) for one in worked[stages.CHECKED]]:
        match = next((one for one in told if not any(_unlike("", finding, one))), None)
        if match is None:
            yield Difference(RECORD, f"findings, {finding['where']}", f"doesn't say: {finding['says']}")
        else:
            told.remove(match)
    settled = all(finding["level"] == "note" for finding in record["findings"])
    if record.get("settled") != settled:
        yield Difference(RECORD, "settled", "isn't what its findings say")


def _unlike(where: str, wanted: Any, there: Any) -> Iterator[Difference]:
    """Every place where two values differ, numbers by more than a rounding."""
    if isinstance(wanted, Mapping) and isinstance(there, Mapping):
        for key in dict.fromkeys((*wanted, *there)):
            yield from _unlike(f"{where}.{key}".strip("."), wanted.get(key), there.get(key))
    elif isinstance(wanted, list | tuple) and isinstance(there, list):
        if len(wanted) != len(there):
            yield Difference(RECORD, where, f"has {len(there)} entries, the profile makes {len(wanted)}")
        for place, (one, other) in enumerate(zip(wanted, there, strict=False)):
            named = one.get("code", place) if isinstance(one, Mapping) else place
            yield from _unlike(f"{where}.{named}", one, other)
    elif not _same(wanted, there):
        yield Difference(RECORD, where, f"is {str(there)[:60]}, the profile makes it {str(wanted)[:60]}")


def _same(one: Any, other: Any) -> bool:
    numbers = all(isinstance(value, int | float) and not isinstance(value, bool) for value in (one, other))
    return abs(one - other) <= SAME * max(1.0, abs(one)) if numbers else bool(one == other)


def _list(path: str, wanted: bytes, data: bytes | None) -> Iterator[Difference]:
    """The first row of a list that isn't as it is worked out anew."""
    if data is None or data == wanted:
        return
    if not path.endswith(".csv"):
        yield Difference(path, "", "isn't what the profile makes")
        return
    rows = [_rows(text) for text in (wanted, data)]
    for number, (one, other) in enumerate(zip_longest(*rows), 1):
        if one != other:
            cells = zip_longest(rows[0][0] if rows[0] else [], one or [], other or [], fillvalue="")
            head, true, said = next((cell for cell in cells if cell[1] != cell[2]), ("", "", ""))
            yield Difference(path, f"row {number}, {head}", f'says "{said[:60]}", the profile makes it "{true[:60]}"')
            return
    yield Difference(path, "", "isn't written as a list of ours")


def _rows(data: bytes) -> list[list[str]]:
    try:
        return list(csv.reader(StringIO(data.decode("utf-8", "replace"))))
    except csv.Error:
        return []
