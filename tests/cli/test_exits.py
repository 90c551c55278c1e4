"""How commands end: what a shell, a pipe and a full disk see of them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from templategen.cli import main
from templategen.packet.shipped import shipped_text

TEMPLATEGEN = f'"{sys.executable}" -m templategen'


@pytest.fixture
def side(tmp_path: Path) -> Path:
    """A profile in a folder of its own."""
    path = tmp_path / "side.toml"
    path.write_text(shipped_text("towpath-side").replace("Towpath side table", "Стол у воды"), encoding="utf-8")
    return path


def run(line: str, folder: Path, **more: str) -> tuple[int, str, str]:
    """A line of shell in `folder`: exit code, output, complaints."""
    world = {**os.environ, "PYTHONPATH": os.getcwd(), **more}
    done = subprocess.run(["bash", "-c", line], cwd=folder, env=world, capture_output=True, timeout=120, check=False)
    return done.returncode, done.stdout.decode(), done.stderr.decode()


SHELL = pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")


@SHELL
@pytest.mark.parametrize(
    "command", ["check side.toml", "list woods --json", "explain side.toml", "--help", "make -h"]
)
def test_output_that_cannot_be_written_is_said(command: str, side: Path) -> None:
    """A full disk under standard output is one sentence and exit code 3."""
    code, _, said = run(f"{TEMPLATEGEN} {command} > /dev/full", side.parent)
    assert code == 3 and said.count("\n") == 1 and "no space left" in said


@pytest.mark.wide
@SHELL
def test_a_packet_is_there_though_it_cannot_be_told(side: Path) -> None:
    """The packet stands whole, and nothing claims the contrary."""
    code, _, said = run(f"{TEMPLATEGEN} make side.toml -o packet --only parts > /dev/full", side.parent)
    assert code == 3 and "nothing was written" not in said
    assert (side.parent / "packet" / "packet.json").is_file()


@pytest.mark.wide
@SHELL
@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("check side.toml | head -1; exit ${PIPESTATUS[0]}", 0),
        ("explain side.toml | head -1; exit ${PIPESTATUS[0]}", 0),
        ("check side.toml >&-", 0),
        ("check side.toml 2>&-", 0),
        ("check none.toml 2>&-", 2),
        ("check none.toml >&- 2>&- <&-", 2),
        ("make side.toml -o packet --only parts 2>&-", 0),
        ("check side.toml", 0),
    ],
)
def test_a_reader_that_leaves_changes_no_exit_code(line: str, expected: int, side: Path) -> None:
    """Closed or abandoned, the streams cost their words and nothing else."""
    code, _, said = run(f"{TEMPLATEGEN} {line}", side.parent)
    assert (code, said) == (expected, "")


@pytest.mark.wide
@SHELL
@pytest.mark.parametrize("world", [{"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_colour_is_left_out_where_it_is_not_wanted(world: dict[str, str], side: Path) -> None:
    """On a terminal there is colour, unless the environment says no."""
    if subprocess.run(["which", "script"], capture_output=True, check=False).returncode:
        pytest.skip("needs a terminal to be had")
    line = f"script -qc '{TEMPLATEGEN} check side.toml' /dev/null"
    assert "\x1b" in run(line, side.parent, TERM="xterm")[1]
    assert "\x1b" not in run(line, side.parent, **{"TERM": "xterm", **world})[1]


HOSTILE = "\x1b[2J\x1b]0;owned\x07\x9b31m"


@pytest.mark.parametrize(
    "line", [["check", f"{HOSTILE}.toml"], [HOSTILE], ["check", f"--{HOSTILE}", "a"], ["make", "--count", HOSTILE],
             ["prove", HOSTILE], ["start", "a", "--from", HOSTILE], ["start", f"{HOSTILE}/a"], ["list", HOSTILE]]
)  # fmt: skip
def test_no_escape_code_reaches_the_terminal(
    line: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Names and options are told with their control characters written out."""
    monkeypatch.chdir(tmp_path)
    result = CliRunner().invoke(main, line)
    assert result.exit_code == 2
    assert not set(result.output) & set("\x1b\x07\x9b")


def failing(*_: object, **__: object) -> None:
    """Stands for a mistake of ours."""
    raise ZeroDivisionError("a \x1b[31mslat")


def test_a_mistake_of_ours_is_one_sentence_and_a_report(side: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Exit code 3; the report tells where it arose, from what; the packet is as it was."""
    monkeypatch.chdir(side.parent)
    line = ["make", "side.toml", "-o", "packet", "--only", "parts"]
    assert CliRunner().invoke(main, line).exit_code == 0
    before = (side.parent / "packet/packet.json").read_bytes()
    monkeypatch.setattr("templategen.packet.make.packet_of", failing)
    monkeypatch.setattr(sys, "argv", ["templategen", *line])
    for _ in range(2):
        result = CliRunner().invoke(main, line)
        assert result.exit_code == 3
        assert result.output.count("\n") == 1 and "mistake in templategen" in result.output
    report = next(side.parent.glob("templategen-report-*.txt")).read_text(encoding="utf-8")
    assert "failing" in report and "'--only' 'parts'" in report and "Стол у воды" in report
    assert len(list(side.parent.iterdir())) == 3
    assert (side.parent / "packet/packet.json").read_bytes() == before


def test_a_mistake_is_told_where_no_report_can_be_written(side: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a place for the report the sentence itself says what and where; for machines it is JSON, too."""
    monkeypatch.setattr("templategen.cli.unforeseen._written", lambda *_: False)
    monkeypatch.setattr("templategen.packet.table_stages.begun", failing)
    result = CliRunner().invoke(main, ["check", str(side), "--json"])
    assert result.exit_code == 3 and "\x1b" not in result.output
    assert "ZeroDivisionError: a \\x1b[31mslat at test_exits.py" in result.stderr and '"exit": 3' in result.stdout
