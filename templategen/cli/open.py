"""`templategen open`: the table in the browser beside its sizes."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from templategen.catalogue import translated, worded
from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import say
from templategen.cli.shop import with_shop

if TYPE_CHECKING:
    from templategen.live.server import Served


@click.command("open", short_help="Change a table in the browser and see it follow at once.")
@click.argument("profile", required=False, type=click.Path())
@click.option("--from", "source", metavar="PROFILE", help="Begin with a copy of a shipped profile.")
@click.option("--units", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Units of a new one.")
@click.option("--no-browser", is_flag=True, help="Print the address, and open nothing.")
@click.option("--share", is_flag=True, help="Let in devices in the house that type the code printed here.")
@with_shop
@refusals_in_words
def open_table(
    profile: str | None, source: str | None, units: str, no_browser: bool, share: bool, shop: str | None
) -> None:
    """Shows the table of PROFILE in the browser beside its sizes; what is changed there is written into the file.

    A PROFILE that isn't there is begun with every key at its default; without one the next free name in this folder
    is taken. Comments, order and arithmetic of the file stay, and an editor may change it meanwhile. Only this
    machine is answered unless you --share: then whoever has the code may change the table, over a network that
    others may listen to. Ends with Ctrl-C.

    \b
    Exit code 0: ended. 2: the profile can't be read, or a new one can't be written.
    """
    from templategen.live.server import serve

    path = Path(profile) if profile else _free()
    if not path.exists():
        _begin(path, source, units)

    def ready(served: Served) -> None:
        say(worded("{path} is open at {address}", path=path, address=served.address))
        say(translated("Ctrl-C ends it; what you changed stands in the file"))
        if served.shared:
            say(worded("in the house: {address}", address=served.shared))
        if not no_browser:
            click.launch(served.address)

    serve(path.resolve(), shop, share, ready, lambda code: say(worded("code for the next device: {code}", code=code)))


def _free() -> Path:
    """The first name that no file here has."""
    number = 1
    while (path := Path(f"table{f'-{number}' if number > 1 else ''}.toml")).exists():
        number += 1
    return path


def _begin(path: Path, source: str | None, units: str) -> None:
    from templategen.output.folder import write_file
    from templategen.packet.shipped import shipped_text
    from templategen.table.profile.starter import starter_text

    text = shipped_text(source) if source else starter_text(path.stem, units)
    write_file(path, text.encode())
    say(worded("wrote {path}: a new table", path=path))
