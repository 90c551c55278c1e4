"""`templategen suit`: tables near the one asked that are better to build."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from templategen.catalogue import fault_of, figured, translated, worded
from templategen.cli.log import log_wanted, with_log
from templategen.cli.make import Progress
from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import has_terminal, say
from templategen.cli.shop import with_shop

if TYPE_CHECKING:
    from templategen.suit.proposal import Proposal
    from templategen.suit.variant import Variant
    from templategen.table.profile.model import Profile

ROOMY = "{name}: with one more of {board} everything finds room, for {cost:.2f}"
CHEAPER = "{name}: with one more of {board} it costs {less:.2f} less, for {cost:.2f}"
NO_ROOMIER = "{name}: no single board more would give everything room"
NO_CHEAPER = "{name}: no single board more would make it cheaper"

SOME, REASONS = 8, 3
"""Where there are no proposals so many variants are asked what stands against them, and so many reasons told."""


@click.command(short_help="Find tables near the one asked that are cheaper, lighter or quicker to build.")
@click.argument("profile", type=click.Path())
@click.option(
    "-o", "--output", "folder", metavar="FOLDER", type=click.Path(),
    help="A new folder for a profile of each proposal, its plan, and the frontier as a picture.",
)  # fmt: skip
@click.option(
    "--most", metavar="NUMBER", type=click.IntRange(1, 20), default=5, show_default=True, help="Proposals at most."
)
@click.option(
    "--boards", metavar="FILE", type=click.Path(),
    help="Of the [[stock]] of this file, such as lists/offcuts.toml of a packet; of the profile's own only what is "
    "thicker than all there.",
)  # fmt: skip
@click.option("--largest", is_flag=True, help="The largest table that the boards make, before what else counts.")
@click.option("--one-more", is_flag=True, help="Tell of each table which board more would make it cheaper.")
@click.option("--json", "as_json", is_flag=True, help="Print the proposals for machines.")
@with_shop
@with_log
@refusals_in_words
def suit(
    profile: str,
    folder: str | None,
    most: int,
    boards: str | None,
    largest: bool,
    one_more: bool,
    as_json: bool,
    shop: str | None,
) -> None:
    """Varies the sizes that [suit] of PROFILE names and proposes the tables that no other one found beats both in
    nearness to yours and in what counts; each is built, checked and laid out as `make` would.

    \b
    Exit code 0: there are proposals. 1: none is better than the table asked.
    2: the profile can't be read, or names nothing that may change.
    """
    from templategen.errors import Fault, OutputError, ProfileError
    from templategen.kept.keep import keeping
    from templategen.packet.table_stages import speak_as
    from templategen.suit.judge import proposals
    from templategen.suit.of_boards import for_the_largest, of_boards
    from templategen.suit.proposal import one_more as more_of
    from templategen.suit.proposal import proposal
    from templategen.suit.search import search
    from templategen.suit.variant import asked
    from templategen.table.profile.read import read_profile

    read = read_profile(profile, shop)
    speak_as(read)
    read = of_boards(read, boards) if boards is not None else read
    read = for_the_largest(read) if largest else read
    if not read.suit.variations:
        sizes = "[1250, 1400]" if read.units == "mm" else "[49, 55]"
        remedy = worded('add [suit] with the sizes that may change, such as "top.diameter" = {sizes}', sizes=sizes)
        raise ProfileError(Fault("suit", translated("names nothing that may change"), remedy, read.file))
    if folder is not None and Path(folder).exists():
        raise OutputError(fault_of(folder, "is there already", "name a new folder"))
    with keeping(), Progress(quiet=as_json or log_wanted() or not has_terminal()) as progress:
        own = proposal(read, asked(read))
        good = search(read, own.cost if own.holds else None, lambda done: progress.tell("tables", 0.6 * done))
        found = proposals(read, own, good, most, lambda done: progress.tell("layouts", 0.6 + 0.4 * done))
        more = {one.variant: dict(more_of(one)) for one in ((own, *found) if one_more else ())}
    if folder is not None:
        from templategen.output.folder import write_folder
        from templategen.suit.files import files_of

        write_folder(Path(folder), files_of(read, own, found, folder))
    if as_json:
        told = {"asked": _as_json(own, more), "proposals": [_as_json(one, more) for one in found]}
        say(json.dumps(told, ensure_ascii=False, indent=1))
    else:
        for line in (*_lines(read, own, found), *_more_lines(own, found, more)):
            say(line)
    raise SystemExit(0 if found else 1)


def _as_json(one: Proposal, more: Mapping[Variant, Mapping[str, float]]) -> dict[str, Any]:
    stock = {"cost": one.cost, "boards": one.boards, "to_buy": one.bought, "rack_mm2": round(one.rack)}
    return {
        "changes": dict(one.changes), "distance": one.distance, **(dict.fromkeys(stock) if one.short else stock),
        "notes": len(one.findings), "against": one.against, "hours": round(one.hours, 1),
        "mass_kg": one.mass, "set_ups": one.set_ups, "holds": one.holds, "one_more": more.get(one.variant, {}),
    }  # fmt: skip


def _lines(profile: Profile, own: Proposal, found: Sequence[Proposal]) -> Iterator[str]:
    from templategen.checks.describe import said
    from templategen.suit.figures import UNITS, WORDS, figure, in_words, name_of

    units = profile.units
    mass = UNITS["mass"][units == "in"]
    heads = [*map(translated, ("cost", "boards", "to buy", "hours")), mass, *map(translated, ("set-ups", "notes"))]
    wide = [max(len(head), least) for head, least in zip(heads, (9, 6, 6, 6, 6, 7, 5), strict=True)]
    rows = [("", heads, translated("changes"))]
    for name, one in ((translated("asked"), own), *((str(number), one) for number, one in enumerate(found, 1))):
        stock = ["-"] * 3 if one.short else [f"{one.cost:.2f}", str(one.boards), str(one.bought)]
        most = [*stock, f"{one.hours:.0f}", f"{figure(one, 'mass', units):.1f}", str(one.set_ups)]
        figures = [*most, str(sum(finding.level == "note" for finding in one.findings))]
        rows.append((name, [*map(figured, figures)], in_words(one.changes, units) or own.against))
    for name, cells, told in rows:
        columns = " ".join(f"{cell:>{width}}" for cell, width in zip(cells, wide, strict=True))
        yield f"{name:6} {columns}  {told}".rstrip()
    if found:
        paths = dict.fromkeys(path for one in found for path, _ in one.changes if name_of(path) != path)
        if paths:
            keys = ", ".join(worded("{name} is {path}", name=name_of(path), path=path) for path in paths)
            yield worded("in the profile: {keys}", keys=keys)
        return
    yield said(
        "no table within these ranges is better by {count:word} and holds", count=WORDS[profile.suit.counts[0]]
    )
    yield from _reasons(profile)
    if not own.holds and not own.short:
        yield translated("let the sizes that they name change, too")


def _reasons(profile: Profile) -> Iterator[str]:
    """What stands against some of the variants, the nearest first, each reason once."""
    from templategen.suit.figures import in_words
    from templategen.suit.quick import Reckoner
    from templategen.suit.variant import changes, distance, evenly_spread

    reckon, told = Reckoner(profile), dict[str, str]()
    for variant in sorted(evenly_spread(profile, SOME), key=lambda one: distance(profile, one)):
        why = reckon.told(variant)
        if isinstance(why, str):
            told.setdefault(why, f"{in_words(changes(profile, variant), profile.units)}: {why}")
    yield from list(told.values())[:REASONS]


def _more_lines(
    own: Proposal, found: Sequence[Proposal], more: Mapping[Variant, Mapping[str, float]]
) -> Iterator[str]:
    from templategen.checks.describe import said

    for name, one in ((translated("asked"), own), *((str(number), one) for number, one in enumerate(found, 1))):
        if one.variant not in more:
            continue
        for board, cost in more[one.variant].items():
            told = ROOMY if one.short else CHEAPER
            yield said(told, name=name, board=board, less=one.cost - cost, cost=cost)
        if not more[one.variant]:
            yield said(NO_ROOMIER if one.short else NO_CHEAPER, name=name)
