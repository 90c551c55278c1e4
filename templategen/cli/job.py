"""`templategen job`: what was done, and what the workshop learns from it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templategen.catalogue import figured, translated, worded
from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import say
from templategen.english import speak

if TYPE_CHECKING:
    from templategen.job.book import Booked
    from templategen.job.planned import Planned

AGAIN = "the same again would be planned with {after:.1f} hours, not {before:.1f}"

WROTE_FORM = "wrote {target}; fill it in, then: templategen job {folder} {target} --into SHOP"


@click.command(short_help="Keep what a job took: your pace, your boards, your offcuts.")
@click.argument("folder", metavar="PACKET", type=click.Path())
@click.argument("job", metavar="[JOB]", type=click.Path(), required=False)
@click.option("--into", metavar="SHOP", type=click.Path(), help="Workshop file to change; its comments stay.")
@click.option("--replace", is_flag=True, help="Write the form over a file that is there.")
@click.option("--json", "as_json", is_flag=True, help="Print for machines.")
@refusals_in_words
def job(folder: str, job: str | None, into: str | None, replace: bool, as_json: bool) -> None:
    """Writes a form beside PACKET that names all that was planned; filled in, it is read as JOB.

    Minutes correct the rates; lengths and moisture measured correct what is believed of your saw and your wood;
    boards used leave the rack, offcuts kept come on to it. Without --into it is only told what would change. The
    workshop file as it was stays beside it, with .before at the end of its name.

    \b
    Exit code 0: written, or told. 2: refused, and why; nothing is changed.
    """
    from templategen.job.planned import planned

    plan = planned(Path(folder))
    speak("british", language=plan.profile.words.language)
    if job is None:
        from templategen.job.form import form_text
        from templategen.output.folder import write_file

        home = Path(folder).resolve()
        target = Path(f"{plan.name}-job.toml") if home.parent == Path.cwd() else home.parent / f"{plan.name}-job.toml"
        write_file(target, form_text(plan).encode(), replace=replace)
        say(worded(WROTE_FORM, target=target, folder=folder))
        return
    found = _book(plan, job, into)
    if as_json:
        say(json.dumps({"lessons": [asdict(one) for one in found.lessons], "rack": found.rack}, ensure_ascii=False))
        return
    for line in _lines(plan, found):
        say(line)
    changed = worded("changed {into}; as it was: {into}.before", into=into)
    say(changed if into else translated("nothing is changed; --into SHOP puts it in"))


def _book(plan: Planned, job: str, into: str | None) -> Booked:
    """What the job changes, written where that was asked for."""
    from os.path import realpath

    from templategen.job.book import booked
    from templategen.job.read import read_job
    from templategen.output.folder import write_file
    from templategen.table.profile.read_workshop import own_file, read_workshop, workshop_from_text

    told, own = read_job(job, plan), into or own_file()
    shop = read_workshop(own) if into or (own and Path(own).exists()) else workshop_from_text("format = 1\n", "")
    found = booked(plan, told, shop)
    if into:
        write_file(Path(f"{into}.before"), Path(into).read_bytes(), replace=True)
        write_file(Path(realpath(into)), found.text.encode(), replace=True)
    return found


def learnt_lines(found: Booked) -> Iterator[str]:
    """What a job teaches, a line for each key and each kind of board."""
    from templategen.units import trimmed

    for one in found.lessons:
        before = translated("not set") if one.before is None else trimmed(one.before, 3)
        yield f"{one.key}: {before} -> {trimmed(one.after, 3)} ({one.why})"
    yield from found.rack


def _lines(plan: Planned, found: Booked) -> Iterator[str]:
    from templategen.job.learn import predicted_hours

    yield from learnt_lines(found)
    rates = {one.key.removeprefix("rates."): one.after for one in found.lessons if one.key.startswith("rates.")}
    if rates:
        longer = {name: after / getattr(plan.profile.rates, name) for name, after in rates.items()}
        before, after = (predicted_hours(plan.minutes, changes) for changes in ({}, longer))
        yield figured(worded(AGAIN, after=after, before=before))
    if not found.lessons and not found.rack:
        yield translated("it teaches nothing")
