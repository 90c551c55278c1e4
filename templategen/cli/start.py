"""`templategen start`: a profile to begin with."""

from __future__ import annotations

from pathlib import Path

import click

from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import say


@click.command(short_help="Write a commented starter profile.")
@click.argument("name")
@click.option("--from", "source", metavar="PROFILE", help="Copy a shipped profile; see templategen list profiles.")
@click.option(
    "--units", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Units of the starter."
)
@click.option("--replace", is_flag=True, help="Write over a file that is there.")
@refusals_in_words
def start(name: str, source: str | None, units: str, replace: bool) -> None:
    """Writes NAME.toml in this folder: every key with its default and what it means."""
    from templategen.output.folder import write_file
    from templategen.packet.shipped import shipped_text
    from templategen.table.profile.starter import starter_text

    target = Path(name if name.endswith(".toml") else f"{name}.toml")
    text = shipped_text(source) if source else starter_text(target.stem, units)
    write_file(target, text.encode(), replace=replace)
    say(f"wrote {target}; next: templategen check {target}")
