"""Making and re-fitting where the maker keeps things: nothing of theirs is lost."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner

from templategen.cli import main
from templategen.packet.shipped import shipped_text


def run(*words: str) -> tuple[int, str]:
    """The command's exit code and all that it says."""
    outcome = CliRunner().invoke(main, words)
    assert outcome.exception is None or isinstance(outcome.exception, SystemExit), outcome.exception
    return outcome.exit_code, outcome.output


def test_a_profile_in_the_packets_folder_stays(tmp_path: Path) -> None:
    """A packet made anew leaves profiles, measurements and photographs in its folder; none may be its input."""
    own = tmp_path / "own"
    first = tmp_path / "mine.toml"
    first.write_text(shipped_text("towpath-side"))
    assert run("make", str(first), "--only", "lists", "-o", str(own))[0] == 0
    mine = {
        "mine.toml": shipped_text("towpath-side").encode(),
        "bench.toml": b"format = 1\n",
        "knot.jpg": b"\xff",
    }
    for name, data in mine.items():
        (own / name).write_bytes(data)
    for words in (("make", str(own / "mine.toml")), ("refit", str(first), str(own / "bench.toml"))):
        code, said = run(*words, "--only", "lists", "-o", str(own))
        assert code == 2 and words[-1].rpartition("/")[2] in said
    assert run("make", str(first), "--only", "lists", "-o", str(own))[0] == 0
    assert {name: (own / name).read_bytes() for name in mine} == mine
    assert run("make", str(first), "--only", "lists", "-o", str(own))[0] == 0
    (own / "lists/cut-list.csv").write_bytes(b"ticked")
    code, said = run("make", str(first), "--only", "lists", "-o", str(own))
    assert code == 2 and "lists/cut-list.csv changed" in said
    assert (own / "lists/cut-list.csv").read_bytes() == b"ticked"
