"""`templategen refit`: new templates for what is still to cut."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templategen.catalogue import translated, worded
from templategen.cli.log import log_wanted, with_log
from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import has_terminal, say
from templategen.cli.shop import with_shop

if TYPE_CHECKING:
    from templategen.shop.refit.refit import Refit

WROTE_FORM = "wrote {target}; fill it in, then: templategen refit {profile} {target} -o FOLDER"


@click.command(short_help="New templates for the parts not yet cut, from sizes measured on those that are.")
@click.argument("profile", type=click.Path())
@click.argument("measured", type=click.Path(), required=False)
@click.option(
    "-o",
    "--output",
    "folder",
    metavar="FOLDER",
    type=click.Path(),
    help="Folder to write; an earlier packet there is replaced as a whole.",
)
@click.option(
    "--only", metavar="SHARES", multiple=True,
    help="Only these, by commas or one after another: parts, paper, jigs, lists, page.",
)  # fmt: skip
@click.option("--form", is_flag=True, help="Write a form to fill in at the bench as MEASURED, and nothing else.")
@click.option("--replace", is_flag=True, help="Write the form over a file that is there.")
@click.option("--json", "as_json", is_flag=True, help="Print the packet's record for machines.")
@with_shop
@with_log
@refusals_in_words
def refit(
    profile: str,
    measured: str | None,
    folder: str | None,
    only: tuple[str, ...],
    form: bool,
    replace: bool,
    as_json: bool,
    shop: str | None,
) -> None:
    """Re-fits the parts of PROFILE that are not yet cut to those that are, as MEASURED tells.

    MEASURED names the parts already cut and what you measured on them; --form writes one to fill in. Entries
    [[measured]] of the profile count too. The ring is closed by least squares: lengths and angles of the segments
    still to cut, how far each piece slides, what gap is left at each mitre. Slats follow the shoulders, splines and
    tenons the grooves.

    \b
    Exit code 0: the ring closes within limits.joint_gap, nothing worse than a note. 1: written, with a finding to
    settle: a part to recut, a contradiction.
    2: the profile or MEASURED can't be read or the table can't be built; nothing is written.
    """
    if form:
        if given := [
            name
            for name, value in (("-o", folder), ("--only", only or None), ("--json", as_json or None))
            if value is not None
        ]:
            raise click.UsageError(
                worded("{option} doesn't go with --form; the form is written to MEASURED.", option=given[0])
            )
        _write_form(profile, measured, replace, shop)
        return
    if folder is None:
        raise click.UsageError(worded("Missing option {option}.", option="'-o' / '--output'"))
    from templategen.cli.make import Progress, shares_of
    from templategen.cli.report import finding_lines, written_lines
    from templategen.kept.keep import keeping
    from templategen.output.folder import check_target
    from templategen.packet.refit import make_refit
    from templategen.packet.write import write_packet
    from templategen.table.profile.read import read_profile

    read = read_profile(profile, shop)
    own = [read.workshop.file] if read.workshop else []
    check_target(Path(folder), [profile, *([measured] if measured else []), *own])
    with keeping(), Progress(quiet=as_json or log_wanted() or not has_terminal()) as progress:
        packet, found = make_refit(read, measured, progress.tell, shares_of(only))
    written = write_packet(packet, Path(folder))
    if as_json:
        told = {**packet.record, "exit": packet.exit_code, "folder": str(written)}
        say(json.dumps(told, ensure_ascii=False))
    else:
        lines = (*_ring_lines(found), *finding_lines(packet.findings, read.units))
        for line in (*lines, *written_lines(packet.files, written, packet.findings)):
            say(line)
    raise SystemExit(packet.exit_code)


def _ring_lines(found: Refit) -> Iterator[str]:
    """The re-fit in a few lines."""
    from templategen.checks.describe import said

    profile, rebuilt, closed = found.drawn.profile, found.rebuilt, found.seated.closed
    yield click.style(said("{title}, re-fitted", title=profile.title), bold=True)
    cut, wanted = len(found.settled.cut), sum(rebuilt.to_cut.values())
    yield said("{cut} parts cut, {wanted} to cut", cut=cut, wanted=wanted)
    new = [f"{rebuilt.to_cut[code]} x {code}" for code in rebuilt.new]
    yield said("drawn anew: {new:all}", new=new) if new else translated("nothing drawn anew")
    if cut:
        yield said(
            "widest gap in the ring {gap:size}, largest step {step:size}",
            profile.units, gap=closed.widest, step=closed.step,
        )  # fmt: skip


def _write_form(profile: str, measured: str | None, replace: bool, shop: str | None) -> None:
    from templategen.output.folder import write_file
    from templategen.packet.build import built
    from templategen.shop.refit.form import form_text

    table = built(profile, shop)
    target = Path(measured if measured is not None else f"{table.profile.name}-measured.toml")
    write_file(target, form_text(table).encode(), replace=replace)
    say(worded(WROTE_FORM, target=target, profile=profile))
