"""`templategen start`: a profile to begin with."""

from pathlib import Path

import click

from templategen.catalogue import translated, worded
from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import say


@click.command(short_help="Write a commented starter profile.")
@click.argument("name")
@click.option("--from", "source", metavar="PROFILE", help="Copy a shipped profile; see templategen list profiles.")
@click.option(
    "--units", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Units of the starter."
)
@click.option("--workshop", is_flag=True, help="Write a workshop file: tools, stock, printers, rates.")
@click.option(
    "--shop",
    metavar="FILE",
    type=click.Path(),
    help='Leave tools, stock, printers and rates to this workshop file, or to "none".',
)
@click.option("--replace", is_flag=True, help="Write over a file that is there.")
@refusals_in_words
def start(name: str, source: str | None, units: str, workshop: bool, shop: str | None, replace: bool) -> None:
    """Writes NAME.toml in this folder: every key with its default and what it means.

    Where you have a workshop file of your own, or name one, only what is the table's is written.
    """
    import os

    from templategen.output.folder import write_file
    from templategen.packet.shipped import shipped_text
    from templategen.table.profile.read_workshop import NONE, own_file
    from templategen.table.profile.starter import OWN_SHOP, starter_text, workshop_text

    target = Path(name if name.endswith(".toml") else f"{name}.toml")
    if workshop and (source or shop):
        raise click.UsageError(translated("--workshop goes with neither --from nor --shop."))
    if source and shop:
        raise click.UsageError(
            translated("--shop doesn't go with --from: what ships has tools and stock of its own.")
        )
    own = own_file()
    if workshop:
        write_file(target, workshop_text(units).encode(), replace=replace)
        say(worded('wrote {target}; name it with --shop, or in a profile: shop = "{target}"', target=target))
        say(worded("kept as {own} it serves every table", own=own) if own else translated("it serves what names it"))
        return
    if shop and shop != NONE:
        shop = os.path.relpath(shop, target.parent)
    shop = shop or (OWN_SHOP if own and os.path.lexists(own) else "")
    text = shipped_text(source) if source else starter_text(target.stem, units, shop)
    write_file(target, text.encode(), replace=replace)
    say(worded("wrote {target}; next: templategen check {target}", target=target))
