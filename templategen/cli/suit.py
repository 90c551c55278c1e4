"""`templategen suit`: tables near the one asked that are better to build."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from templategen.cli.log import log_wanted, with_log
from templategen.cli.make import Progress
from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import has_terminal, say
from templategen.cli.shop import with_shop

if TYPE_CHECKING:
    from templategen.suit.proposal import Proposal
    from templategen.table.profile.model import Profile


@click.command(short_help="Find tables near the one asked that are cheaper, lighter or quicker to build.")
@click.argument("profile", type=click.Path())
@click.option(
    "-o", "--output", "folder", metavar="FOLDER", type=click.Path(),
    help="A new folder for a profile of each proposal, its plan, and the frontier as a picture.",
)  # fmt: skip
@click.option(
    "--most", metavar="NUMBER", type=click.IntRange(1, 20), default=5, show_default=True, help="Proposals at most."
)
@click.option("--one-more", is_flag=True, help="Also tell which one board more would make the table cheaper.")
@click.option("--json", "as_json", is_flag=True, help="Print the proposals for machines.")
@with_shop
@with_log
@refusals_in_words
def suit(profile: str, folder: str | None, most: int, one_more: bool, as_json: bool, shop: str | None) -> None:
    """Varies the sizes that [suit] of PROFILE names and proposes the tables that no other one found beats both in
    nearness to yours and in what counts; each is built, checked and laid out as `make` would.

    \b
    Exit code 0: there are proposals. 1: none is better than the table asked.
    2: the profile can't be read, or names nothing that may change.
    """
    from templategen.errors import Fault, OutputError, ProfileError
    from templategen.suit.judge import proposals
    from templategen.suit.proposal import one_more as more_of
    from templategen.suit.proposal import proposal
    from templategen.suit.search import search
    from templategen.suit.variant import asked
    from templategen.table.profile.read import read_profile

    read = read_profile(profile, shop)
    if not read.suit.variations:
        sizes = "[1250, 1400]" if read.units == "mm" else "[49, 55]"
        remedy = f'add [suit] with the sizes that may change, such as "top.diameter" = {sizes}'
        raise ProfileError(Fault("suit", "names nothing that may change", remedy, read.file))
    if folder is not None and Path(folder).exists():
        raise OutputError(Fault(folder, "is there already", "name a new folder"))
    with Progress(quiet=as_json or log_wanted() or not has_terminal()) as progress:
        own = proposal(read, asked(read))
        good = search(read, own.cost if own.holds else None, lambda done: progress.tell("tables", 0.6 * done))
        found = proposals(read, own, good, most, lambda done: progress.tell("layouts", 0.6 + 0.4 * done))
    rack = dict(more_of(read, own)) if one_more else {}
    if folder is not None:
        from templategen.output.folder import write_folder
        from templategen.suit.files import files_of

        write_folder(Path(folder), files_of(read, own, found, folder))
    if as_json:
        told = {"asked": _told(own), "proposals": [_told(one) for one in found], "one_more": rack}
        say(json.dumps(told, ensure_ascii=False, indent=1))
    else:
        for line in (*_lines(read, own, found), *_rack_lines(rack, own)):
            say(line)
    raise SystemExit(0 if found else 1)


def _told(one: Proposal) -> dict[str, Any]:
    return {
        "changes": dict(one.changes), "distance": one.distance, "cost": one.cost, "boards": one.boards,
        "to_buy": one.bought, "rack_mm2": round(one.rack), "notes": len(one.findings), "against": one.against,
        "hours": round(one.hours, 1), "mass_kg": one.mass, "set_ups": one.set_ups, "holds": one.holds,
    }  # fmt: skip


def _lines(profile: Profile, own: Proposal, found: Sequence[Proposal]) -> Iterator[str]:
    heads = f"{'cost':>9} {'boards':>6} {'to buy':>6} {'hours':>6} {'kg':>6} {'set-ups':>7} {'notes':>5}"
    yield f"{'':6} {heads}  changes"
    for name, one in (("asked", own), *((str(number), one) for number, one in enumerate(found, 1))):
        most = f"{one.cost:9.2f} {one.boards:6} {one.bought:6} {one.hours:6.0f} {one.mass:6.1f} {one.set_ups:7}"
        figures = f"{most} {sum(finding.level == 'note' for finding in one.findings):5}"
        changes = ", ".join(f"{path} = {value}" for path, value in one.changes)
        yield f"{name:6} {figures}  {changes or own.against}".rstrip()
    if not found:
        yield f"no table within these ranges is better by {profile.suit.counts[0]} and holds"
        if not own.holds and not own.short:
            yield "none that was tried is free of such findings: let the sizes that they name change, too"


def _rack_lines(rack: dict[str, float], own: Proposal) -> Iterator[str]:
    for name, saved in rack.items():
        if own.short:
            yield f"one {name} more: everything finds room, for {saved:g}"
        elif saved > 0:
            yield f"one {name} more: {saved:g} less"
    if rack and not own.short and max(rack.values()) <= 0:
        yield "no single board more would make the table cheaper"
