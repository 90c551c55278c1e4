"""Proves a packet in full: its files against its record, and its record and lists against the profile kept in it.

The files are read and measured in `proof/`, which shares nothing with what writes. Here the table is worked out anew
from the profile, as it was for the packet, so that a record that agrees with wrong files is found out.
"""

import csv
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import AbstractContextManager
from dataclasses import replace
from hashlib import sha256
from io import StringIO
from itertools import islice, zip_longest
from pathlib import Path
from typing import Any

from templategen import __version__
from templategen.catalogue import translated, worded
from templategen.english import spoken_in
from templategen.errors import TemplategenError
from templategen.packet import customer
from templategen.packet import share_files as made
from templategen.packet.labelled import joint_parts
from templategen.packet.make import PROFILE_FILE, WORKSHOP_FILE
from templategen.packet.part_files import BOOK
from templategen.packet.pipeline import Worked
from templategen.packet.refit import MEASURED_FILE, make_refit
from templategen.packet.several import joint_work
from templategen.packet.table_stages import begun
from templategen.packet.worked_anew import MOST, customer_sheet_of, of_the_stock, of_the_table, stock_lists_of, unlike
from templategen.proof.bench.boards import joint_board_differences
from templategen.proof.customer import html_differences, pdf_differences
from templategen.proof.difference import Difference, Outcome
from templategen.proof.files import content
from templategen.proof.read_record import RECORD, read_record
from templategen.proof.run import prove
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from templategen.table.profile.read_workshop import workshop_from_text

Record = Mapping[str, Any]

LISTED = (made.CUT_LISTS, made.BENCH_LISTS)
"""The lists that follow from the table alone."""

APART = {"files", "paper", "seal"}
"""Shares of a re-fit's record that its files are measured by."""

OTHER_VERSION = (
    "was made by {age} of templategen ({made_by}, this is {version}), so its files are measured by its record alone. "
    "Prove it with the version that made it, or make it anew from its profile with this one"
)


def proved(folder: Path) -> Outcome:
    """The proof of the packet in `folder`, and of the packets in it where it is one of several tables.

    Raises:
        OutputError: no packet stands there, or its record can't be read.
    """
    with in_its_words(folder):
        return _proved(folder)


def in_its_words(folder: Path) -> AbstractContextManager[None]:
    """Meanwhile all is told in the language that the profile kept in the packet asks for; of several, the last's."""
    whose = PROFILE_FILE if (folder / PROFILE_FILE).exists() else f"*/{PROFILE_FILE}"
    homes = (path.parent for path in sorted(folder.glob(whose), reverse=True))
    kept = (content(home, path) for home in homes for path in (PROFILE_FILE, WORKSHOP_FILE))
    return spoken_in(*(data.decode("utf-8", "replace") for data in kept if data))


def _proved(folder: Path) -> Outcome:
    proof = prove(folder)
    record = read_record(folder)
    other = tuple(_of_another_version(record))
    if proof.unread:
        return replace(proof, differences=(*other, *proof.differences))
    if "packets" in record:
        return _joined(folder, record, proof)
    found = [*other, *proof.differences, *(() if other else _against_profile(folder, record))]
    return replace(proof, differences=tuple(dict.fromkeys(found)))


def _of_another_version(record: Record) -> Iterator[Difference]:
    """That another version of the program made the packet: the same profile may make another table now."""
    made_by = str(record.get("templategen", ""))
    if made_by == __version__:
        return
    age = translated("an older version" if _numbers(made_by) < _numbers(__version__) else "another version")
    says = worded(OTHER_VERSION, age=age, made_by=made_by or translated("unnamed"), version=__version__)
    yield Difference(RECORD, "", says)


def _numbers(version: str) -> tuple[int, ...]:
    parts = version[:20].split(".")
    return tuple(int(part) for part in parts if part.isdecimal())


def _joined(folder: Path, record: Record, proof: Outcome) -> Outcome:
    """The head of several packets: each is proved for itself, and its parts are those at the head."""
    found, work = list(proof.differences), Counter(proof.work)
    parts, inners = [], {}
    for entry in record["packets"]:
        label = str(entry["folder"])
        inner = folder / label
        if content(folder, f"{label}/{RECORD}") is None:
            found.append(Difference(f"{label}/{RECORD}", "", translated("is missing")))
            continue
        one = proved(inner)
        found += (replace(difference, file=f"{label}/{difference.file}") for difference in one.differences)
        work.update(one.work)
        if not one.unread:
            inners[label] = read_record(inner)
            parts += joint_parts(label, inners[label])
    found += unlike("parts", parts, record["parts"])
    found += joint_board_differences(record, inners) if len(inners) == len(record["packets"]) else ()
    if not found:
        found += _joint_stock(folder, record)
    return replace(proof, differences=tuple(dict.fromkeys(found)), work=dict(sorted(work.items())))


def _joint_stock(folder: Path, record: Record) -> Iterator[Difference]:
    """Where stock and lists of all aren't what their profiles make together."""
    try:
        profiles = {entry["folder"]: kept_profile(folder / entry["folder"], entry) for entry in record["packets"]}
        worked = joint_work(profiles, _shares(record), int(record.get("tables", 1)))
        yield from of_the_stock(worked, record)
        yield from _of_the_lists(folder, (worked[made.CUT_LISTS], stock_lists_of(worked, record)))
    except TemplategenError as trouble:
        yield Difference(
            RECORD, "packets", worded("their profiles make no stock for all: {trouble}", trouble=trouble)
        )


def _shares(record: Record) -> tuple[str, ...]:
    """What is worked out anew: lists, jigs and paper where they were made; jigs count among what is bought."""
    made_jigs = record.get("jigs") or any("jigs/" in entry["path"] for entry in record["files"])
    has_book = any(entry["path"] == BOOK for entry in record["files"])
    asked = {"jigs": made_jigs, "lists": True, "paper": record.get("paper"), "parts": has_book}
    return tuple(share for share, wanted in asked.items() if wanted)


def kept_profile(folder: Path, record: Record) -> Profile:
    """The profile that the packet keeps, with the workshop file where its own hash isn't the record's."""
    data, shop = (content(folder, path) or b"" for path in (PROFILE_FILE, WORKSHOP_FILE))
    text, name = data.decode("utf-8", "replace"), str(record.get("profile", ""))
    if not shop or sha256(data).hexdigest() == record["profile_sha256"]:
        return profile_from_text(text, name)
    workshop = workshop_from_text(shop.decode("utf-8", "replace"), WORKSHOP_FILE)
    return profile_from_text(text, name, workshop=workshop)


def _against_profile(folder: Path, record: Record) -> Iterator[Difference]:
    """Where record and lists aren't what the profile, and what was measured, make."""
    data = content(folder, PROFILE_FILE)
    if data is None:
        yield Difference(PROFILE_FILE, "", translated("is missing, so the record can't be held against it"))
        return
    try:
        profile = kept_profile(folder, record)
        if profile.sha256 != record["profile_sha256"]:
            yield Difference(PROFILE_FILE, "", translated("isn't the profile that the record was made from"))
            return
        against = _of_the_refit if "refit" in record else _of_the_packet
        yield from against(folder, record, profile)
    except TemplategenError as trouble:
        yield Difference(PROFILE_FILE, "", worded("makes no table: {trouble}", trouble=trouble))


def _of_the_packet(folder: Path, record: Record, profile: Profile) -> Iterator[Difference]:
    worked = begun(profile, _shares(record), tables=int(record.get("tables", 1)))
    yield from of_the_table(worked, record)
    yield from of_the_stock(worked, record)
    yield from _of_the_lists(folder, (*(worked[stage] for stage in LISTED), stock_lists_of(worked, record)))
    yield from islice(unlike("paper", worked[made.PAPER].record, record.get("paper")), MOST)
    for files in (worked[made.PAPER].files, worked[made.JIG_FILES].files):
        for path, data in files.items():
            yield from paper_unlike(path, data, content(folder, path))
    for path, data in worked[made.BOOK].items():
        if content(folder, path) not in (None, data):
            yield Difference(path, "", translated("isn't the book of part sheets that the profile makes"))
    yield from _of_the_customer(folder, worked, record)


def _of_the_customer(folder: Path, worked: Worked, record: Record) -> Iterator[Difference]:
    """Where the customer's sheet doesn't say what it would say if it were made anew."""
    readers = {customer.PAGE: html_differences, customer.PAPER: pdf_differences}
    there = {path: data for path in readers if (data := content(folder, path))}
    lines = list(customer_sheet_of(worked, record).lines) if there else []
    for path, data in there.items():
        yield from readers[path](path, data, lines)


def _of_the_refit(folder: Path, record: Record, profile: Profile) -> Iterator[Difference]:
    """Where the record of a re-fit and its lists aren't what profile and measures make."""
    measured = folder / MEASURED_FILE
    only = ("lists", "jigs") if record.get("jigs") else ("lists",)
    packet, _ = make_refit(profile, measured if measured.exists() else None, only=only)
    for key in sorted(set(packet.record) - APART):
        told = [one[key] if key != "parts" else [_unfiled(part) for part in one[key]]
                for one in (packet.record, {key: None, **record})]  # fmt: skip
        yield from islice(unlike(key, *told), MOST)
    lists = {path: data for path, data in packet.files.items() if path.startswith("lists/")}
    yield from _of_the_lists(folder, (lists,))


def _unfiled(part: Record) -> dict[str, Any]:
    return {**part, "files": None}


def _of_the_lists(folder: Path, wanted: Iterable[Mapping[str, bytes]]) -> Iterator[Difference]:
    for lists in wanted:
        for path, data in lists.items():
            yield from list_unlike(path, data, content(folder, path))


def list_unlike(path: str, wanted: bytes, data: bytes | None) -> list[Difference]:
    """The first row of a list that isn't as it is worked out anew."""
    if data is None or data == wanted:
        return []
    if not path.endswith(".csv"):
        return [Difference(path, "", translated("isn't what the profile makes"))]
    rows = [_rows(text) for text in (wanted, data)]
    for number, (one, other) in enumerate(zip_longest(*rows), 1):
        if one != other:
            cells = zip_longest(rows[0][0] if rows[0] else [], one or [], other or [], fillvalue="")
            head, true, said = next((cell for cell in cells if cell[1] != cell[2]), ("", "", ""))
            says = worded('says "{other}", the profile makes it "{line}"', other=said[:60], line=true[:60])
            return [Difference(path, worded("row {number}, {head}", number=number, head=head), says)]
    return [Difference(path, "", translated("isn't written as a list of ours"))]


def paper_unlike(path: str, wanted: bytes, data: bytes | None) -> Iterator[Difference]:
    """A file of pages that isn't as it is made anew: what is measured of it is right, but a hatch, a frame, a ruler
    or a word isn't."""
    if path.endswith(".pdf") and data is not None and data != wanted:
        yield Difference(
            path, "", translated("isn't the paper that the profile makes: print it from a packet made anew")
        )


def _rows(data: bytes) -> list[list[str]]:
    try:
        return list(csv.reader(StringIO(data.decode("utf-8", "replace"))))
    except csv.Error:
        return []
