"""The commands. Only click is imported here; each command brings in what it needs when it runs."""

import os
from collections.abc import Callable
from typing import Any, TypeVar

import click

from templategen import __version__
from templategen.cli.check import check
from templategen.cli.explain import explain
from templategen.cli.help import help_in_words
from templategen.cli.job import job
from templategen.cli.list import list_group
from templategen.cli.make import make
from templategen.cli.open import open_table
from templategen.cli.prove import prove
from templategen.cli.refit import refit
from templategen.cli.refuse import refuse_output
from templategen.cli.say import plain
from templategen.cli.start import start
from templategen.cli.suit import suit

T = TypeVar("T")

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
"""Some hundred unknowns take one thread 3 ms; several wait for each other for longer where others have work, too."""


class PlainGroup(click.Group):
    """Commands whose complaints of options and names are words only, whatever was typed."""

    def main(self, *args: Any, **kwargs: Any) -> Any:
        """Runs a command line; help that can't be printed is said."""
        try:
            return super().main(*args, **kwargs)
        except OSError as problem:
            raise SystemExit(refuse_output(problem)) from None

    def make_context(self, *args: Any, **kwargs: Any) -> click.Context:
        """The context of a command line."""
        return _plainly(lambda: super(PlainGroup, self).make_context(*args, **kwargs))

    def invoke(self, ctx: click.Context) -> Any:
        """Runs the command that the line names."""
        return _plainly(lambda: super(PlainGroup, self).invoke(ctx))


def _plainly(act: Callable[[], T]) -> T:
    try:
        return act()
    except click.ClickException as complaint:
        vars(complaint)["message"] = plain(complaint.message)
        raise


@click.group(cls=PlainGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="templategen")
def main() -> None:
    """Templates, cut lists and proofs of fit for round slatted outdoor tables in solid wood.

    Write a profile, check it, make the packet, cut.

    \b
    Exit code 0: nothing worse than a note. 1: a finding to settle, a file that differs.
    2: refused, and why; nothing is written. 3: a mistake of ours, with a report to send; nothing is written.
    Or standard output can't be written, which is said. 130: interrupted.
    """


for command in (open_table, start, check, make, explain, suit, refit, job, prove, list_group):
    main.add_command(command)

help_in_words(main)
