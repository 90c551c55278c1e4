"""`templategen prove`: do the files measure what the record says?"""

import json
from collections.abc import Mapping
from pathlib import Path

import click

from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import plain, say


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
    from templategen.packet.proved import proved as prove_packet

    proof = prove_packet(Path(folder))
    if as_json:
        differences = [{"file": one.file, "where": one.where, "says": one.says} for one in proof.differences]
        told = {"true": proof.true, "files": proof.files, "measured": dict(proof.measured)}
        told |= {"work": by_kind(proof.work), "differences": differences}
        say(json.dumps(told, ensure_ascii=False))
    else:
        for difference in proof.differences:
            say(click.style("differs", fg="red") + f" {plain(str(difference))}")
        for how, count in proof.measured.items():
            say(f"{count} files proved {how}" if proof.true else f"{count} files read {how}")
        for kind, faces in by_kind(proof.work).items():
            say(f"{kind}: " + ", ".join(f"{count} on {face}" for face, count in faces.items()) + " measured")
        say(f"{proof.files} files, all as the record says" if proof.true else f"{len(proof.differences)} differences")
    raise SystemExit(0 if proof.true else 1)


def by_kind(work: Mapping[tuple[str, str], int]) -> dict[str, dict[str, int]]:
    """How often work was measured, by kind and then by kind of face."""
    told: dict[str, dict[str, int]] = {}
    for (kind, face), count in work.items():
        told.setdefault(kind, {})[face] = count
    return told
