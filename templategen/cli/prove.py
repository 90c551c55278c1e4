"""`templategen prove`: do the files measure what the record says?"""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click

from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import plain, say

if TYPE_CHECKING:
    from templategen.proof.difference import Outcome

ON = {"top": "{count} on top", "bottom": "{count} on bottom", "edge": "{count} on edge", "end": "{count} on end"}


@click.command(short_help="Read a written packet back and measure it.")
@click.argument("folder", type=click.Path())
@click.option("--json", "as_json", is_flag=True, help="Print the outcome for machines.")
@refusals_in_words
def prove(folder: str, as_json: bool) -> None:
    """Reads every file of the packet in FOLDER back, by other means than it was written by, and measures it.

    Held against packet.json: each file's bytes, the outlines and the work on every face of every part and jig, what
    lies on the stock, the lines on paper, the sizes listed, the page. The record itself is held against its seal, its
    schema and itself, and against the table that its profile makes anew. What was measured is told by kind of work
    and of face.

    \b
    Exit code 0: every file is as the record says. 1: a file differs. 2: no packet there.
    """
    from templategen.packet.proved import in_its_words
    from templategen.packet.proved import proved as prove_packet

    with in_its_words(Path(folder)):
        proof = prove_packet(Path(folder))
        _tell(proof, as_json)
    raise SystemExit(0 if proof.true else 1)


def _tell(proof: Outcome, as_json: bool) -> None:
    """Prints the outcome."""
    from templategen.catalogue import translated
    from templategen.checks.describe import said

    if as_json:
        differences = [{"file": one.file, "where": one.where, "says": one.says} for one in proof.differences]
        told = {"true": proof.true, "files": proof.files, "measured": dict(proof.measured)}
        told |= {"work": by_kind(proof.work), "differences": differences}
        say(json.dumps(told, ensure_ascii=False))
    else:
        for difference in proof.differences:
            say(click.style(translated("differs"), fg="red") + f" {plain(str(difference))}")
        for how, count in proof.measured.items():
            line = said(
                "{count:# file} proved {how:word}" if proof.true else "{count:# file} read {how:word}",
                count=count,
                how=how,
            )
            say(line)
        for kind, faces in by_kind(proof.work).items():
            on = ", ".join(said(ON[face], count=count) for face, count in faces.items())
            say(said("{kind:word}: {on} measured", kind=kind, on=on))
        say(_sum(proof))


def _sum(proof: Outcome) -> str:
    from templategen.checks.describe import said

    if proof.true:
        return said("{count:# file}, all as the record says", count=proof.files)
    return said("{count:# difference}", count=len(proof.differences))


def by_kind(work: Mapping[tuple[str, str], int]) -> dict[str, dict[str, int]]:
    """How often work was measured, by kind and then by kind of face."""
    told: dict[str, dict[str, int]] = {}
    for (kind, face), count in work.items():
        told.setdefault(kind, {})[face] = count
    return told
