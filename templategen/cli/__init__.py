"""The commands. Only click is imported here; each command brings in what it needs when it runs."""

from __future__ import annotations

import click

from templategen import __version__
from templategen.cli.check import check
from templategen.cli.explain import explain
from templategen.cli.list import list_group
from templategen.cli.make import make
from templategen.cli.prove import prove
from templategen.cli.refit import refit
from templategen.cli.start import start


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="templategen")
def main() -> None:
    """Templates, cut lists and proofs of fit for round slatted outdoor tables in solid wood.

    Write a profile, check it, make the packet, cut.
    """


for command in (start, check, make, explain, refit, prove, list_group):
    main.add_command(command)
