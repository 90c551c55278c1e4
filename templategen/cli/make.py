"""`templategen make`: the packet."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templategen.catalogue import worded
from templategen.cli.log import log_wanted, with_log
from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import has_terminal, say
from templategen.cli.shop import with_shop, workshop_lines

if TYPE_CHECKING:
    from collections.abc import Sequence

    from templategen.packet.make import Packet
    from templategen.packet.several import Packets
    from templategen.table.profile.model import Profile


@click.command(short_help="Make the packet: page, templates, layouts, jigs, lists.")
@click.argument("profiles", metavar="PROFILE...", nargs=-1, required=True, type=click.Path())
@click.option(
    "-o",
    "--output",
    "folder",
    metavar="FOLDER",
    type=click.Path(),
    required=True,
    help="Folder to write; an earlier packet there is replaced as a whole.",
)
@click.option(
    "--only", metavar="SHARES", multiple=True,
    help="Only these, by commas or one after another: parts, stock, paper, jigs, lists, page, customer.",
)  # fmt: skip
@click.option(
    "--effort",
    metavar="SECONDS",
    type=click.FloatRange(0, 86400),
    help="Nest by the clock for so long; layouts may then differ from run to run. Without it the work is fixed and "
    "the layout the same each time.",
)
@click.option(
    "--count",
    "tables",
    metavar="TABLES",
    type=click.IntRange(1, 1000),
    default=1,
    help="How many tables of each profile to make at once: nested together, listed together.",
)
@click.option(
    "--job", metavar="JOB", type=click.Path(),
    help="What an earlier packet took, as templategen job has it written down: rates, errors, moisture and rack are "
    "reckoned as it leaves them, and no workshop file is changed.",
)  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the packet's record for machines.")
@with_shop
@with_log
@refusals_in_words
def make(
    profiles: tuple[str, ...],
    folder: str,
    only: tuple[str, ...],
    effort: float | None,
    tables: int,
    job: str | None,
    as_json: bool,
    shop: str | None,
) -> None:
    """Makes every file that the table of PROFILE needs and writes them to a folder.

    Of several profiles the folder holds a packet for each, and one stock and one set of lists for all: their parts
    are nested together. The folder is written beside and swapped in, so it is whole or as it was. A packet with
    findings to settle is written all the same and says so. What an earlier run made of the same sizes is taken from
    the cache folder; TEMPLATEGEN_CACHE names another one, and none keeps nothing.

    \b
    Exit code 0: nothing worse than a note. 1: written, with a finding to settle.
    2: the profile can't be read or the table can't be built; nothing is written.
    """
    from templategen.kept.keep import keeping
    from templategen.output.folder import check_target
    from templategen.packet.make import make_packet
    from templategen.packet.several import make_packets
    from templategen.packet.write import write_packet
    from templategen.table.profile.read import read_profile

    read = [read_profile(profile, shop) for profile in profiles]
    inputs = [*profiles, *([job] if job else []), *(one.workshop.file for one in read if one.workshop)]
    check_target(Path(folder), inputs)
    read, learnt = _after_job(read, job) if job else (read, [])
    packet: Packet | Packets
    with keeping(), Progress(quiet=as_json or log_wanted() or not has_terminal()) as progress:
        if len(read) == 1:
            packet = make_packet(read[0], shares_of(only), effort, progress.tell, tables, second_core=True)
        else:
            packet = make_packets(read, shares_of(only), effort, progress.tell, tables, second_core=True)
    written = write_packet(packet, Path(folder))
    if as_json:
        told = {**packet.record, "exit": packet.exit_code, "folder": str(written)}
        say(json.dumps(told, ensure_ascii=False))
    else:
        for line in learnt:
            say(line)
        _report(packet, written)
    raise SystemExit(packet.exit_code)


def shares_of(only: Sequence[str]) -> list[str] | None:
    """What `--only` names each time it stands; None where it doesn't."""
    return [share.strip() for names in only for share in names.split(",")] if only else None


def _after_job(read: Sequence[Profile], job: str) -> tuple[list[Profile], list[str]]:
    """The profiles as they are read when a job is known, and in lines what it taught."""
    from templategen.cli.job import learnt_lines
    from templategen.job.next import after_job

    found = [after_job(profile, job) for profile in read]
    lines = [worded("from {job}: {line}", job=job, line=line) for line in learnt_lines(found[0].booked)]
    for one in found:
        if one.unheeded:
            keys = ", ".join(one.unheeded)
            lines.append(worded("{file} sets {keys} itself, which wins", file=one.profile.file, keys=keys))
    return [one.profile for one in found], lines or [worded("{job} teaches nothing", job=job)]


def _report(packet: Packet | Packets, written: Path) -> None:
    """Each table with its findings and paper, then what all have in common."""
    from templategen.checks.describe import said
    from templategen.cli.report import (
        finding_lines,
        paper_lines,
        price_lines,
        stock_lines,
        table_lines,
        written_lines,
    )

    single = {} if hasattr(packet, "packets") else {"": packet}
    own = getattr(packet, "packets", single)
    found = [finding for one in own.values() for finding in one.findings]
    for one in own.values():
        profile = one.table.profile
        for line in (*table_lines(one.table), *workshop_lines(profile), *finding_lines(one.findings, profile.units)):
            say(line)
        for line in paper_lines(one.record["paper"]):
            say(line)
    if not single:
        found += packet.findings
        for line in finding_lines(packet.findings, packet.record["units"]):
            say(line)
    for line in stock_lines(packet.record["stock_bound"], packet.record["stock"]):
        say(line)
    for words in dict.fromkeys(one.says for one in found if one.kind == "no-stock"):
        say(words)
    for line in price_lines(packet.files):
        say(line)
    for line in written_lines(packet.files, written, found):
        say(line)
    if "index.html" in packet.files:
        page = str(written / "index.html")
        say(said("open {page} first: findings, then the plan of work with all that it needs", page=page))


class Progress:
    """A bar on standard error while a packet is being made, on a terminal only."""

    def __init__(self, quiet: bool) -> None:
        self.bar = None if quiet else click.progressbar(length=100, file=sys.stderr, show_eta=False)
        self.done = 0

    def __enter__(self) -> Progress:
        if self.bar is not None:
            self.bar.__enter__()
        return self

    def __exit__(self, *_: object) -> None:
        if self.bar is not None:
            self.bar.render_finish()

    def tell(self, what: str, share: float) -> None:
        """Says what is being made, and how far all is."""
        if self.bar is None:
            return
        self.bar.label = f"{what:<11}"
        step = round(share * 100) - self.done
        self.done += step
        self.bar.update(step)
