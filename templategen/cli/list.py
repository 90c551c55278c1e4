"""`templategen list`: what ships."""

import json
from collections.abc import Iterable, Sequence

import click

from templategen.catalogue import column, translated
from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import say

PROFILES = ("profile", "title")

WOODS = ("wood", "radial_%", "tangential_%", "density_kg_m3", "durability", "figures")

PAPERS = ("paper", "width_mm", "height_mm")

AS_JSON = click.option("--json", "as_json", is_flag=True, help="Print for machines.")


@click.group("list", short_help="List shipped profiles, woods and papers.", invoke_without_command=True)
@click.pass_context
def list_group(context: click.Context) -> None:
    """Lists what ships with templategen."""
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


def _tell(header: Sequence[str], rows: Iterable[Sequence[object]], as_json: bool) -> None:
    """A plain table, or a list of objects; first what a profile names, which stays."""
    rows = [list(row) for row in rows]
    if as_json:
        say(json.dumps([dict(zip(header, row, strict=True)) for row in rows], ensure_ascii=False, indent=1))
        return
    told = ([str(name), *(translated(str(cell)) for cell in cells)] for name, *cells in rows)
    lines = [list(map(column, header)), *told]
    widths = [max(len(line[i]) for line in lines) for i in range(len(header))]
    for line in lines:
        say("  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip())


@list_group.command("profiles", short_help="Shipped profiles.")
@AS_JSON
@refusals_in_words
def profiles(as_json: bool) -> None:
    """Lists the shipped profiles; `templategen start NAME --from PROFILE` copies one."""
    from templategen.packet.shipped import shipped_titles

    _tell(PROFILES, shipped_titles(), as_json)


@list_group.command("woods", short_help="Built-in woods and their figures.")
@AS_JSON
@refusals_in_words
def woods(as_json: bool) -> None:
    """Lists the built-in woods: shrinkage in % green to ovendry, density in kg/m3 at 12 % moisture.

    Means of small clear pieces; single boards differ by 15 to 20 %. A [woods.NAME] table in a profile adds more.
    """
    from templategen.wood.species import SPECIES

    rows = ((s.name, s.radial, s.tangential, s.density, s.durability, s.status) for s in SPECIES.values())
    _tell(WOODS, rows, as_json)


@list_group.command("papers", short_help="Paper sizes by name.")
@AS_JSON
@refusals_in_words
def papers(as_json: bool) -> None:
    """Lists the paper sizes that paper.size knows, in mm."""
    from templategen.paper.grid import SIZES

    _tell(PAPERS, ((name, *size) for name, size in SIZES.items()), as_json)
